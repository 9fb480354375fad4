//! What the house is built on: where it comes from, and under what terms.

use serde_json::Value;
use std::process::Command;

/// Terms that ask for no more than that their text goes along.
const TERMS: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Crates that must not come back: kept up by nobody, or with a name that was
/// once handed on with something else inside.
const BANNED: &[(&str, &str)] = &[
    ("serde_yaml", "archived by its maker; `serde-saphyr` reads YAML here"),
    ("ttf-parser", "no longer maintained; `skrifa` reads the font"),
];

fn packages() -> Vec<Value> {
    let host = "x86_64-unknown-linux-gnu";
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--format-version", "1", "--filter-platform", host])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found: Value = serde_json::from_slice(&output.stdout).unwrap();
    found["packages"].as_array().unwrap().clone()
}

/// Whether terms as crates write them leave a way that asks for nothing more.
fn is_free(terms: &str) -> bool {
    let one_of = |terms: &str| terms.split(" OR ").any(|one| TERMS.contains(&one.trim()));
    let terms = terms.replace('/', " OR ");
    terms.split(" AND ").all(|all| one_of(all.trim_matches(['(', ')'])))
}

#[test]
fn every_crate_comes_from_the_registry_under_free_terms() {
    let mut wrong = Vec::new();
    for package in packages() {
        let text = |key: &str| package[key].as_str().unwrap_or_default().to_owned();
        let (name, terms, source) = (text("name"), text("license"), text("source"));
        let registry = source == "registry+https://github.com/rust-lang/crates.io-index";
        if !registry && !name.starts_with("longodds") {
            wrong.push(format!("{name} comes from `{source}`"));
        }
        if !is_free(&terms) {
            wrong.push(format!("{name} is under `{terms}`"));
        }
        wrong.extend(
            BANNED
                .iter()
                .filter(|(banned, _)| *banned == name)
                .map(|(_, why)| format!("{name}: {why}")),
        );
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn terms_are_read_as_they_are_meant() {
    for free in ["MIT/Apache-2.0", "(MIT OR GPL-3.0) AND Unicode-3.0", "Zlib OR GPL-3.0"] {
        assert!(is_free(free), "{free}");
    }
    for not in ["", "GPL-3.0", "MIT AND GPL-3.0", "(Apache-2.0 OR MIT) AND (GPL-2.0 OR MPL-2.0)"] {
        assert!(!is_free(not), "{not}");
    }
}
