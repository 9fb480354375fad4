//! The text of a part.

use super::{Origin, Part, Side, entry};
use crate::{
    diagnostic::{Diagnostic, Severity},
    note::Kind as Known,
    text::{
        Group, Row, Sort,
        reader::Reader,
        row::{text, word},
        yaml::{self, Node, Value},
    },
};
use std::path::Path;

/// The key that names a part.
pub(crate) const LIKE: &str = "like";

/// Words for how well its figures are known.
const KINDS: [(&str, Known); 4] = [
    ("read", Known::Read),
    ("second_hand", Known::SecondHand),
    ("common_practice", Known::Practice),
    ("from_memory", Known::Memory),
];

/// What holds where a part of one's own names no source.
const NO_SOURCE: &str = "the part names none";

pub(crate) fn like_row(side: Side) -> Row {
    let (example, doc) = match side {
        Side::Object => (
            "plywood_12mm_8x4",
            "A part of the shelf, or of the folder `parts` beside the claim; keys beside it stand in the place of its own.",
        ),
        Side::Target => (
            "shop_front",
            "A part of the shelf, or of the folder `parts` beside the claim; keys beside it stand in the place of its own, of faces and solids by their names.",
        ),
    };
    text(LIKE, example, doc).may("all is told here")
}

/// The rows of a part.
fn language(side: Side, claim: &Group) -> Group {
    let mut rows = vec![
        text("about", "A brick", "What it is, in a line."),
        text("source", "weighed", "Where its figures are from.").may("not told"),
        word("kind", &KINDS, "How well they are known, the weakest of them.").may("`from_memory`"),
    ];
    rows.extend(claim.row(side.key()).cloned());
    Group::new("A part of a shelf.", rows)
}

/// A part as it was read.
pub(super) struct Reading {
    pub(super) part: Part,
    /// What it holds for its side; `None` where something is wrong with it.
    pub(super) inner: Option<Node>,
    pub(super) problems: Vec<Diagnostic>,
}

/// Reads a part whose places begin at `base`.
pub(super) fn read(
    side: Side,
    name: &str,
    origin: Origin,
    text: String,
    base: usize,
    claim: &Group,
) -> Reading {
    let mut part = Part {
        side,
        name: name.to_owned(),
        origin,
        about: String::new(),
        source: NO_SOURCE.to_owned(),
        kind: Known::Memory,
        text,
        keys: Vec::new(),
        base,
    };
    let moved = |mut problem: Diagnostic| {
        if let Some((span, _)) = &mut problem.label {
            *span = span.start + base..span.end + base;
        }
        problem
    };
    let root = match yaml::tree(&part.text, Sort::Part) {
        Ok(root) => root,
        Err(problem) => {
            return Reading { part, inner: None, problems: vec![moved(problem)] };
        }
    };
    let (group, mut reader) = (language(side, claim), Reader::new(Sort::Part, Path::new("")));
    let inner = head(&mut reader, &root, &group, &mut part);
    let fine = reader.problems.iter().all(|one| one.severity == Severity::Warning);
    let inner = inner.filter(|_| fine).map(|mut inner| {
        shift(&mut inner, base);
        inner
    });
    Reading { part, inner, problems: reader.problems.into_iter().map(moved).collect() }
}

/// What a part says of itself; hands on what it holds for its side.
fn head(reader: &mut Reader<'_>, root: &Node, group: &Group, part: &mut Part) -> Option<Node> {
    let (side, other) = (part.side, part.side.other());
    let table = reader.group(root, &(0..0), "", group, &[other.key()])?;
    if let Some((about, _)) = reader.text_of(&table, "about", "a line of words") {
        about.clone_into(&mut part.about);
    }
    if table.get("source").is_some()
        && let Some((source, _)) = reader.text_of(&table, "source", "words")
    {
        source.clone_into(&mut part.source);
    }
    if let Some(kind) = reader.word_of(&table, "kind", "how well its figures are known", &KINDS) {
        part.kind = kind;
    }
    if let Some((key, _)) = table.get(other.key()) {
        let message = format!("this part is {}, not {}", other.noun(), side.noun());
        reader.report(
            Diagnostic::error("part::side", message)
                .at(key.span.clone(), format!("not `{}`", side.key()))
                .help(format!("its place is in `parts/{}`", other.folder())),
        );
        return None;
    }
    let (key, node) = reader.entry(&table, side.key())?;
    if !matches!(node.value, Value::Map(_)) {
        reader.opened(&table, key, node)?;
    }
    if let Some((like, _)) = entry(node, LIKE) {
        reader.report(
            Diagnostic::error("part::like", "a part is like no other part")
                .at(like.span.clone(), "only a claim takes a part")
                .help("write out what it has: `longodds parts NAME` prints a part of the shelf"),
        );
    }
    Some(node.clone())
}

/// Moves all places of a node.
fn shift(node: &mut Node, by: usize) {
    for span in [&mut node.span, &mut node.whole] {
        *span = span.start + by..span.end + by;
    }
    match &mut node.value {
        Value::List(items) => items.iter_mut().for_each(|item| shift(item, by)),
        Value::Map(entries) => {
            for (key, item) in entries {
                key.span = key.span.start + by..key.span.end + by;
                shift(item, by);
            }
        }
        Value::Empty | Value::Text(_) => {}
    }
}

/// Whether a part has a key in its side's group.
pub(super) fn has(text: &str, side: Side, key: &str) -> bool {
    let root = yaml::tree(text, Sort::Part).ok();
    let inner = root.as_ref().and_then(|root| entry(root, side.key()));
    inner.is_some_and(|(_, node)| entry(node, key).is_some())
}
