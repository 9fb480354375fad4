//! What is made from a language and kept beside the demos is what it is now.

use super::{Language, scenarios};
use crate::{
    rig,
    scenario::{
        self,
        parts::{Part, Side, shelf},
    },
    text::leaves,
};
use std::{env, fs};

/// Whether what is no longer so is to be written.
#[expect(clippy::disallowed_methods, reason = "no part of a run: who asks keeps the files")]
fn writes() -> bool {
    env::var("LONGODDS_LANGUAGE").is_ok_and(|value| value == "write")
}

/// `LONGODDS_LANGUAGE=write` writes what is no longer so.
fn is_kept(file: &str, begin: &str, end: &str, made: &str) {
    let path = scenarios().join(file);
    let found = fs::read_to_string(&path).unwrap_or_default();
    let from = found.find(begin).map_or(0, |at| at + begin.len());
    let to = if end.is_empty() { found.len() } else { from + found[from..].find(end).unwrap() };
    if found[from..to] == *made {
        return;
    }
    if writes() {
        fs::write(&path, format!("{}{made}{}", &found[..from], &found[to..])).unwrap();
    } else {
        panic!("{file}: LONGODDS_LANGUAGE=write cargo test --workspace --lib text:: makes it anew");
    }
}

#[test]
fn schemas_and_reference_are_current() {
    is_kept("scenario.schema.json", "", "", &format!("{:#}\n", scenario::schema()));
    is_kept("rig.schema.json", "", "", &format!("{:#}\n", rig::schema()));
    let marks = |what: &str| (format!("<!-- {what} -->\n"), format!("<!-- end of {what} -->"));
    for (what, made) in [("scenario keys", scenario::reference()), ("rig keys", rig::reference())] {
        let (begin, end) = marks(what);
        is_kept("README.md", &begin, &end, &format!("\n{made}"));
    }
}

/// The parts of the shelf with what their figures are from, in Markdown.
fn parts() -> String {
    let mut page = String::new();
    for side in Side::ALL {
        let heading = side.folder();
        page += &format!(
            "\n## {}{}\n\n| part | what it is | its figures | kind |\n|---|---|---|---|\n",
            heading[..1].to_uppercase(),
            &heading[1..]
        );
        for part in shelf(side) {
            let Part { name, about, source, kind, .. } = part;
            let cell = |words: &str| words.replace('|', "\\|");
            page += &format!(
                "| `{name}` | {} | {} | {} |\n",
                cell(&about),
                cell(&source),
                kind.words()
            );
        }
    }
    page + "\n"
}

#[test]
fn the_page_of_parts_is_current() {
    is_kept("parts/README.md", "<!-- parts -->\n", "<!-- end of parts -->", &parts());
}

#[test]
fn every_key_stands_in_the_reference_with_its_line() {
    for (language, page) in Language::all().iter().zip([scenario::reference(), rig::reference()]) {
        for spot in super::made::spots(&language.group) {
            let line = page.lines().find(|line| {
                line.starts_with(&format!("| `{}` | {} |", spot.row.name, spot.row.doc))
            });
            assert!(line.is_some(), "{}", spot.name());
        }
    }
}

#[test]
fn every_row_says_what_it_is() {
    fn look(group: &super::Group) {
        for row in &group.rows {
            let good = row.doc.ends_with(['.', '?']) && !row.doc.contains('\n');
            assert!(good, "`{}`: {}", row.name, row.doc);
            row.kind.group().into_iter().for_each(look);
        }
    }
    Language::all().iter().for_each(|language| look(&language.group));
}

/// Cut out and put back, every value of every demo is the same text; and what
/// the reader takes for an input stands among the leaves.
#[test]
fn every_leaf_of_a_demo_is_found_at_its_place() {
    let language = &Language::all()[0];
    let mut seen = 0;
    for entry in fs::read_dir(scenarios()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "yaml") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let all = leaves(&text, language.sort, &language.group).unwrap();
        for leaf in all.iter().filter(|leaf| leaf.place.is_some()) {
            let place = leaf.place.clone().unwrap();
            let value = &text[place.clone()];
            // Alone it reads as YAML, and so does the text with it written anew.
            let block = value.contains('\n') && !value.starts_with(['{', '[', '"']);
            assert!(block || serde_yaml::from_str::<serde_json::Value>(value).is_ok(), "{value}");
            assert!(!value.ends_with([' ', '\n', ',']), "{}: {value:?}", leaf.path);
            let open = value.matches(['{', '[']).count();
            assert_eq!(open, value.matches(['}', ']']).count(), "{}: {value}", leaf.path);
            assert!(
                leaf.group.start <= place.start && leaf.group.end >= place.end,
                "{}",
                leaf.path
            );
            seen += 1;
        }
        let scenario = scenario::parse(&text, &scenarios()).unwrap();
        for input in scenario.inputs.list().iter().filter(|input| !input.assumed) {
            let known = |path: &str| all.iter().any(|leaf| leaf.path == path);
            let above = input.name.rsplit_once('.').map_or("", |(above, _)| above);
            assert!(
                known(&input.name) || known(above) || !input.written.is_empty(),
                "{} of {}",
                input.name,
                path.display()
            );
        }
    }
    assert!(seen > 200, "{seen}");
}
