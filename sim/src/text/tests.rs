//! The laws of a language: table, reader, schema and reference say the same.

mod defaults;
mod kept;
mod made;
mod rows;
mod schema;
mod sorts;

use super::{
    Group, Sort, leaves,
    yaml::{self, Node, Value},
};
use crate::{
    diagnostic::{Diagnostic, Span},
    rig, scenario,
};
use std::path::{Path, PathBuf};

/// A language with its reader.
struct Language {
    sort: Sort,
    group: Group,
}

impl Language {
    fn all() -> [Self; 2] {
        [
            Self { sort: Sort::Scenario, group: scenario::language() },
            Self { sort: Sort::Rig, group: rig::language() },
        ]
    }

    /// The errors of a text.
    fn problems(&self, text: &str) -> Vec<Diagnostic> {
        match self.sort {
            Sort::Rig => rig::parse(text).err(),
            _ => scenario::parse(text, &scenarios()).err(),
        }
        .unwrap_or_default()
    }

    fn schema(&self) -> serde_json::Value {
        if self.sort == Sort::Rig { rig::schema() } else { scenario::schema() }
    }

    /// From the last key of a path to the end of its value.
    fn place_of_entry(&self, text: &str, path: &[String]) -> Span {
        entry_of(&yaml::tree(text, self.sort).unwrap(), path, 0..text.len())
    }

    /// Where the value of a path stands.
    fn place(&self, text: &str, path: &str) -> Span {
        let found = leaves(text, self.sort, &self.group).unwrap();
        let leaf = found.into_iter().find(|leaf| leaf.path == path);
        leaf.and_then(|leaf| leaf.place).unwrap_or_else(|| panic!("{path} is no leaf of {text}"))
    }
}

/// From the key of a path (the last that is one) to the end of its value.
fn entry_of(node: &Node, path: &[String], above: Span) -> Span {
    let Some((name, rest)) = path.split_first() else { return above };
    match &node.value {
        Value::Map(entries) => {
            let (key, value) = entries.iter().find(|(key, _)| key.name == *name).unwrap();
            entry_of(value, rest, key.span.start..value.whole.end.max(key.span.end))
        }
        _ => above,
    }
}

/// The errors that point into a place.
fn inside(problems: &[Diagnostic], place: &Span) -> Vec<Diagnostic> {
    let within = |span: &Span| span.start >= place.start && span.end <= place.end;
    let here = |one: &&Diagnostic| one.label.as_ref().is_some_and(|(span, _)| within(span));
    problems.iter().filter(here).cloned().collect()
}

fn scenarios() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios")
}
