//! The house is built one way: imports run down the list, never up.

use std::{
    fs,
    path::{Path, PathBuf},
};

/// The modules of the engine from the bottom up: each uses only those before
/// it. A new module gets its place here.
const ORDER: &[&str] = &[
    "math",
    "note",
    "lane",
    "body",
    "world",
    "aero",
    "flight",
    "diagnostic",
    "quantity",
    "words",
    "uncertain",
    "sampling",
    "text",
    "threshold",
    "rig",
    "scenario",
    "release",
    "contact",
    "barrier",
    "harm",
    "chain",
    "estimate",
    "drivers",
    "engine",
    "sweep",
    "compare",
    "exclusion",
    "study",
    "trials",
    "findings",
    "filming",
    "answer",
];

/// Where the engine's modules are: `flight` is its lowest part, in a crate of
/// its own.
const ENGINE: [&str; 2] = ["flight/src", "sim/src"];

#[test]
fn imports_inside_the_engine_go_one_way() {
    let mut wrong = Vec::new();
    let paths = ENGINE.map(|src| (src, sources(&root().join(src))));
    for (src, path) in paths.iter().flat_map(|(src, paths)| paths.iter().map(move |p| (src, p))) {
        let relative = path.strip_prefix(root().join(src)).unwrap().with_extension("");
        let module = relative.iter().next().unwrap().to_str().unwrap().to_owned();
        if module == "lib" {
            continue;
        }
        let own = place(&module);
        for used in used_modules(&code_of(path)) {
            if used != module && place(&used) > own {
                wrong.push(format!("{} uses {used}", relative.display()));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn every_module_of_the_engine_has_its_place() {
    let lib: String =
        ENGINE.map(|src| fs::read_to_string(root().join(src).join("lib.rs")).unwrap()).concat();
    let modules: Vec<&str> = lib
        .lines()
        .filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod "))
        .map(|name| name.trim_end_matches(';'))
        .collect();
    assert!(modules.len() > 5);
    for module in modules {
        place(module);
    }
}

/// The engine knows neither the charts nor the program, the charts not the
/// program; only the program prints, exits, reads and writes files and knows about
/// arguments, and only the live page knows of a network.
#[test]
fn the_crates_know_only_those_below_them() {
    const PROGRAM: [&str; 4] = ["clap", "annotate_snippets", "anstream", "indicatif"];
    const NETWORK: [&str; 4] = ["longodds_live", "hyper", "tokio", "std::net"];
    let lower: [(&str, &[&[&str]]); 4] = [
        (
            "flight/src",
            &[&["longodds_sim", "longodds_reports", "rayon", "serde", "rand"], &PROGRAM, &NETWORK],
        ),
        ("sim/src", &[&["longodds_reports"], &PROGRAM, &NETWORK]),
        ("reports/src", &[&["rayon"], &PROGRAM, &NETWORK]),
        // It reads and writes by what the program brings.
        ("live/src", &[&["std::fs", "tempfile"], &PROGRAM]),
    ];
    let mut wrong = Vec::new();
    for (folder, forbidden) in lower {
        for path in sources(&root().join(folder)) {
            let text = code_of(&path);
            for name in forbidden.iter().copied().flatten() {
                if text.contains(&format!("{name}::")) {
                    wrong.push(format!("{} uses {name}", path.display()));
                }
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// The YAML crate's ways change: one module knows it.
#[test]
fn one_module_knows_the_yaml_crate() {
    let src = root().join("sim/src");
    let users: Vec<String> = sources(&src)
        .into_iter()
        .filter(|path| code_of(path).contains("serde_yaml::"))
        .map(|path| path.strip_prefix(&src).unwrap().display().to_string())
        .collect();
    assert_eq!(users, ["text/yaml.rs"]);
}

#[test]
fn used_modules_are_found_in_every_form() {
    let text = "use crate::{\n  a::{B, c::D},\n  e,\n};\nlet x = crate::f::g(crate::h);";
    assert_eq!(used_modules(text), ["a", "e", "f", "h"]);
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn place(module: &str) -> usize {
    let found = ORDER.iter().position(|name| *name == module);
    assert!(found.is_some(), "give `{module}` its place in ORDER");
    found.unwrap()
}

/// Every Rust source below a folder, sorted.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// The code of a file without its tests, which may lean on anything; a link in
/// a comment is no import.
fn code_of(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let inner = path.strip_prefix(root()).unwrap_or(path);
    let tested = inner.iter().any(|part| part == "tests.rs" || part == "tests");
    let end = text.find("#[cfg(test)]\nmod ").unwrap_or(text.len());
    let code = text[..if tested { 0 } else { end }].lines();
    let code = code.filter(|line| !line.trim_start().starts_with("//"));
    code.collect::<Vec<_>>().join("\n")
}

/// The first path segment after every `crate::`, in `use crate::{...}` too.
fn used_modules(text: &str) -> Vec<String> {
    let word = |s: &str| -> String {
        s.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
    };
    let mut found = Vec::new();
    for rest in text.split("crate::").skip(1) {
        match rest.strip_prefix('{') {
            None => found.push(word(rest)),
            Some(group) => found.extend(members(group).iter().map(|member| word(member))),
        }
    }
    // A type or a constant of the crate's root is no module.
    found.retain(|name| name.starts_with(|c: char| c.is_lowercase()));
    found
}

/// The members of a brace group, whose opening brace has been read.
fn members(group: &str) -> Vec<&str> {
    let (mut depth, mut start, mut found) = (0_usize, 0, Vec::new());
    for (i, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => {
                found.push(&group[start..i]);
                break;
            }
            '}' => depth -= 1,
            ',' if depth == 0 => {
                found.push(&group[start..i]);
                start = i + 1;
            }
            _ => {}
        }
    }
    found
}
