//! The leaves of a text: every key it has or could have, and where.

use super::{
    Sort,
    row::{Group, Kind, Row},
    told::Told,
    yaml::{self, Node, Value},
};
use crate::diagnostic::{Diagnostic, Span};

/// A key of a text that holds no keys of its own, or that holds nothing yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Leaf<'l> {
    /// Its path, such as `release.launched.speed`; of a point, with its axis.
    pub path: String,
    /// Its row in the language.
    pub row: &'l Row,
    /// What may stand there.
    pub kind: &'l Kind,
    /// Where its value stands, whole; `None`: it is not written.
    pub place: Option<Span>,
    /// Where the group stands whose key it is: there it would be written.
    pub group: Span,
    /// What a part has there, where the text has nothing; of a text alone, none.
    pub of_part: Option<String>,
    /// What is written there, in its parts.
    pub told: Told,
}

/// The leaves of a text, in the order of the language. What is not understood is
/// passed over.
///
/// # Errors
///
/// If the text is no YAML.
pub fn leaves<'l>(
    text: &str,
    sort: Sort,
    language: &'l Group,
) -> Result<Vec<Leaf<'l>>, Diagnostic> {
    Ok(of(&yaml::tree(text, sort)?, language))
}

/// The leaves of a tree.
pub(crate) fn of<'l>(root: &Node, language: &'l Group) -> Vec<Leaf<'l>> {
    let mut found = Vec::new();
    walk(root, "", language, &mut found);
    found
}

fn walk<'l>(node: &Node, path: &str, group: &'l Group, found: &mut Vec<Leaf<'l>>) {
    let Value::Map(entries) = &node.value else { return };
    for row in &group.rows {
        let path =
            if path.is_empty() { row.name.to_owned() } else { format!("{path}.{}", row.name) };
        let entry = entries.iter().find(|(key, _)| key.name == row.name);
        match entry {
            Some((_, value)) => under(value, path, row, &row.kind, &node.whole, found),
            None => {
                let group = node.whole.clone();
                let told = Told::Nothing;
                let (place, of_part) = (None, None);
                found.push(Leaf { path, row, kind: &row.kind, place, group, of_part, told });
            }
        }
    }
}

fn under<'l>(
    node: &Node,
    path: String,
    row: &'l Row,
    kind: &'l Kind,
    group: &Span,
    found: &mut Vec<Leaf<'l>>,
) {
    match (kind, &node.value) {
        (Kind::Group(inner), Value::Map(_)) => walk(node, &path, inner, found),
        (Kind::Names(inner), Value::Map(entries)) => {
            for (key, value) in entries {
                walk(value, &format!("{path}.{}", key.name), inner, found);
            }
        }
        (Kind::Tuple(kinds), Value::List(items)) => {
            for ((name, kind), item) in kinds.iter().zip(items) {
                under(item, format!("{path}.{name}"), row, kind, &node.whole, found);
            }
        }
        (Kind::Either(kinds), value) => {
            // A group's own keys tell it from a number that is spread.
            let groups = kinds.iter().filter(|kind| matches!(kind, Kind::Group(_)));
            let kind = groups.chain(kinds).find(|kind| fits(kind, value)).unwrap_or(kind);
            match kind {
                Kind::Either(_) => found.push(leaf(node, path, row, kind, group)),
                kind => under(node, path, row, kind, group, found),
            }
        }
        _ => found.push(leaf(node, path, row, kind, group)),
    }
}

fn leaf<'l>(node: &Node, path: String, row: &'l Row, kind: &'l Kind, group: &Span) -> Leaf<'l> {
    let (place, told) = (Some(node.whole.clone()), Told::of(node, kind));
    Leaf { path, row, kind, place, group: group.clone(), of_part: None, told }
}

/// Whether a value has the outer form of a kind. A number that is spread has
/// that of a group, but none of its keys.
fn fits(kind: &Kind, value: &Value) -> bool {
    match (kind, value) {
        (Kind::Group(group), Value::Map(entries)) => {
            entries.iter().any(|(key, _)| group.row(&key.name).is_some())
        }
        (Kind::Number(_) | Kind::Names(_), Value::Map(_)) => true,
        (Kind::Tuple(_) | Kind::List(_), Value::List(_)) | (Kind::Nothing, Value::Empty) => true,
        (Kind::Words(words), Value::Text(text)) => words.contains(text),
        (
            Kind::Number(_) | Kind::Value(_) | Kind::Whole(_) | Kind::Text | Kind::Flag,
            Value::Text(_),
        ) => true,
        _ => false,
    }
}
