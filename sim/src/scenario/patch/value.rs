//! A value as it can stand in a text without meaning anything else there.

use super::place::Spot;
use crate::{
    diagnostic::Span,
    text::{
        Sort,
        yaml::{self, Node, Value},
    },
};

/// The text with a value at a spot, and where the value stands; as it was typed,
/// or in quotation marks where it would be taken for something else. `None`: it
/// cannot stand there.
pub(super) fn written(text: &str, tree: &Node, spot: &Spot, value: &str) -> Option<(String, Span)> {
    let is_whole = value.starts_with(['{', '[', '"', '\'']);
    let quoted = (!is_whole).then(|| serde_json::Value::from(value).to_string());
    let rest = others(tree, &spot.replaced);
    std::iter::once(value.to_owned()).chain(quoted).find_map(|written| {
        let Span { start, end } = spot.replaced.clone();
        let head = format!("{}{}", &text[..start], spot.before);
        let place = head.len()..head.len() + written.len();
        let added = place.start - spot.before.len()..place.end + spot.after.len();
        let text = format!("{head}{written}{}{}", spot.after, &text[end..]);
        let again = yaml::tree(&text, Sort::Scenario).ok()?;
        let same = others(&again, &added) == rest;
        (same && (is_whole || reads(&again, &place, value))).then_some((text, place))
    })
}

/// Every scalar of a tree that stands outside a place, with the path to it.
fn others(tree: &Node, place: &Span) -> Vec<(String, String)> {
    let mut found = Vec::new();
    gather(tree, "", place, &mut found);
    found.sort();
    found
}

fn gather(node: &Node, path: &str, place: &Span, found: &mut Vec<(String, String)>) {
    let inside = |span: &Span| span.start >= place.start && span.end <= place.end;
    if !place.is_empty() && inside(&node.whole) {
        return;
    }
    match &node.value {
        Value::Empty if node.whole.start == place.start => {}
        Value::Empty => found.push((path.to_owned(), String::new())),
        Value::Text(text) => found.push((path.to_owned(), text.clone())),
        Value::List(items) => {
            for (i, item) in items.iter().enumerate() {
                gather(item, &format!("{path}/{i}"), place, found);
            }
        }
        Value::Map(entries) => {
            for (key, item) in entries {
                gather(item, &format!("{path}/{}", key.name), place, found);
            }
        }
    }
}

/// Whether the scalar at a place reads as this value.
fn reads(node: &Node, place: &Span, value: &str) -> bool {
    match &node.value {
        Value::Text(text) => node.whole == *place && text == value,
        Value::Empty => false,
        Value::List(items) => items.iter().any(|item| reads(item, place, value)),
        Value::Map(entries) => entries.iter().any(|(_, item)| reads(item, place, value)),
    }
}
