use super::*;
use crate::scenario::{Scenario, parse};

use std::{collections::BTreeSet, fs, path::Path};

const OBJECT: &str = "plywood_12mm_8x4";
const TARGET: &str = "shop_front";

fn read(text: &str) -> Scenario {
    parse(text, Path::new("")).unwrap_or_else(|problems| panic!("{problems:#?}\n{text}"))
}

fn started(object: &str, target: &str) -> String {
    starter(Starter { object, target }).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn names(side: Side) -> Vec<String> {
    shelf(side).into_iter().map(|part| part.name).collect()
}

#[test]
fn every_file_of_the_shelf_is_on_it() {
    for (side, least) in [(Side::Object, 40), (Side::Target, 20)] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/scenario/parts").join(side.folder());
        let files: BTreeSet<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        let shelf: BTreeSet<String> = names(side).into_iter().collect();
        assert_eq!(files, shelf);
        assert!(shelf.len() >= least);
    }
}

#[test]
fn every_part_says_what_it_is_and_where_its_figures_are_from() {
    for part in Side::ALL.into_iter().flat_map(shelf) {
        assert!((3..80).contains(&part.about.len()) && !part.about.ends_with('.'), "{}", part.about);
        assert!(part.source.len() > 15, "{}: {}", part.name, part.source);
        assert!(part.text.contains("\nkind: "), "{}", part.name);
    }
}

/// Every object at a target and every target under two objects: understood without
/// a doubt.
#[test]
fn every_part_makes_a_claim_without_a_doubt() {
    let objects = names(Side::Object).into_iter().map(|object| (object, TARGET.to_owned()));
    let under = |object: &'static str| {
        names(Side::Target).into_iter().map(move |target| (object.to_owned(), target))
    };
    let mut wrong = Vec::new();
    for (object, target) in objects.chain(under("brick")).chain(under(OBJECT)) {
        let text = started(&object, &target);
        assert!(text.lines().count() < 15, "{text}");
        match parse(&text, Path::new("")) {
            Ok(scenario) if scenario.warnings.is_empty() => {}
            Ok(scenario) => wrong.push(format!("{object}, {target}: {:#?}\n{text}", scenario.warnings)),
            Err(problems) => wrong.push(format!("{object}, {target}: {problems:#?}\n{text}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
