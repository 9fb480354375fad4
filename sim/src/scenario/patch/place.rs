//! Where in a text a value goes.

use crate::{
    diagnostic::Span,
    text::{
        Group, Kind, Leaf,
        yaml::{Node, Value},
    },
};

/// Where a value goes, and what is written round it there.
pub(super) struct Spot {
    /// What it takes the place of.
    pub(super) replaced: Span,
    /// Written before it.
    pub(super) before: String,
    /// Written behind it.
    pub(super) after: String,
    /// Whether something stands there.
    pub(super) was: bool,
}

/// Where the value of a path goes: in the place of what is written, or as a new
/// key at the head of the group that it belongs to.
pub(super) fn find(text: &str, tree: &Node, all: &[Leaf<'_>], path: &str) -> Option<Spot> {
    if let Some(leaf) = all.iter().find(|leaf| leaf.path == path)
        && let Some(place) = leaf.place.clone()
    {
        return Some(instead(place));
    }
    if let Some(node) = written(tree, path) {
        return Some(instead(node.whole.clone()));
    }
    let leaf = all.iter().find(|leaf| leaf.path == path || below(leaf, path))?;
    let rest: Vec<&str> =
        path[leaf.path.len()..].split('.').filter(|key| !key.is_empty()).collect();
    let names: Vec<&str> = std::iter::once(leaf.row.name).chain(rest).collect();
    head(text, &leaf.group, &names)
}

/// The same of a key that a part has: beside what is written nearest above it.
pub(super) fn beside(text: &str, tree: &Node, with_parts: &[Leaf<'_>], path: &str) -> Option<Spot> {
    let above = |leaf: &Leaf<'_>| {
        path == leaf.path || path.starts_with(&format!("{}.", leaf.path)) || below(leaf, path)
    };
    with_parts.iter().find(|leaf| leaf.of_part.is_some() && above(leaf) || below(leaf, path))?;
    let names: Vec<&str> = path.split('.').collect();
    (1..names.len()).rev().find_map(|count| {
        let group = written(tree, &names[..count].join("."))?;
        matches!(group.value, Value::Map(_)).then(|| head(text, &group.whole, &names[count..]))?
    })
}

/// A new key at the head of a group, with the keys down to its value.
fn head(text: &str, group: &Span, names: &[&str]) -> Option<Spot> {
    let (name, rest) = names.split_first()?;
    let open: String = rest.iter().map(|key| format!("{{{key}: ")).collect();
    let (at, after) = if text[group.start..].starts_with('{') {
        let empty = text[group.start + 1..].trim_start().starts_with('}');
        (group.start + 1, if empty { "" } else { ", " }.to_owned())
    } else {
        let line = text[..group.start].rfind('\n').map_or(0, |at| at + 1);
        let indent: String =
            text[line..group.start].chars().filter(|c| *c != '\u{feff}').map(|_| ' ').collect();
        (group.start, format!("\n{indent}"))
    };
    Some(Spot {
        replaced: at..at,
        before: format!("{name}: {open}"),
        after: format!("{}{after}", "}".repeat(rest.len())),
        was: false,
    })
}

fn instead(replaced: Span) -> Spot {
    let before = if replaced.is_empty() { " " } else { "" }.to_owned();
    Spot { replaced, after: before.clone(), before, was: true }
}

/// The node that is written at a path.
pub(super) fn written<'n>(tree: &'n Node, path: &str) -> Option<&'n Node> {
    path.split('.').try_fold(tree, |node, name| match &node.value {
        Value::Map(entries) => {
            entries.iter().find(|(key, _)| key.name == name).map(|(_, node)| node)
        }
        Value::List(items) => {
            let axis = ["x", "y", "z"].iter().position(|axis| *axis == name)?;
            items.get(axis)
        }
        Value::Text(_) | Value::Empty => None,
    })
}

/// Whether a path leads to a key of what could be written at a leaf.
pub(super) fn below(leaf: &Leaf<'_>, path: &str) -> bool {
    let rest = path.strip_prefix(leaf.path.as_str()).and_then(|rest| rest.strip_prefix('.'));
    leaf.place.is_none() && rest.is_some_and(|rest| leads(leaf.kind, rest))
}

fn leads(kind: &Kind, rest: &str) -> bool {
    let (name, more) = rest.split_once('.').map_or((rest, None), |(name, more)| (name, Some(more)));
    let row = |group: &Group| {
        let row = group.row(name);
        row.is_some_and(|row| more.is_none_or(|more| leads(&row.kind, more)))
    };
    match kind {
        Kind::Group(group) => row(group),
        Kind::Names(group) => more.is_some_and(|more| leads(&Kind::Group(group.clone()), more)),
        Kind::Either(kinds) => kinds.iter().any(|kind| leads(kind, rest)),
        _ => false,
    }
}
