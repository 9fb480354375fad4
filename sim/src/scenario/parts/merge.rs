//! What a claim writes beside `like`, put in the place of what the part has.
//!
//! It goes down the rows of the language: groups key by key, names name by name. A
//! number, a word, a list stands whole in the other's place; of alternatives the
//! claim's own counts, and takes the other with it.

use crate::text::{
    Group, Kind,
    yaml::{Key, Node, Value},
};

/// The claim's own node with what only the part has. Its places are the claim's
/// own; what is taken from the part keeps the part's.
pub(super) fn merged(own: &Node, part: Node, kind: &Kind) -> Node {
    let (Value::Map(mine), Value::Map(theirs)) = (&own.value, part.value) else {
        return own.clone();
    };
    let entries = match kind {
        Kind::Group(group) => keys(mine, theirs, group),
        Kind::Names(group) => names(mine, theirs, &Kind::Group(group.clone())),
        Kind::Either(kinds) => {
            let groups = kinds.iter().filter_map(|kind| match kind {
                Kind::Group(group) => Some(group),
                _ => None,
            });
            match groups.into_iter().find(|group| same_way(mine, &theirs, group)) {
                Some(group) => keys(mine, theirs, group),
                None => return own.clone(),
            }
        }
        _ => return own.clone(),
    };
    Node { value: Value::Map(entries), ..own.clone() }
}

/// The part's entries in their order, then the claim's others.
fn keys(mine: &[(Key, Node)], theirs: Vec<(Key, Node)>, group: &Group) -> Vec<(Key, Node)> {
    let mut all = Vec::new();
    for (key, node) in theirs {
        match find(mine, &key.name) {
            Some((own_key, own)) => {
                let node = match group.row(&key.name) {
                    Some(row) => merged(own, node, &row.kind),
                    None => own.clone(),
                };
                all.push((own_key.clone(), node));
            }
            None if ousted(mine, &key.name, group) => {}
            None => all.push((key, node)),
        }
    }
    rest(mine, all)
}

fn names(mine: &[(Key, Node)], theirs: Vec<(Key, Node)>, kind: &Kind) -> Vec<(Key, Node)> {
    let all = theirs.into_iter().map(|(key, node)| match find(mine, &key.name) {
        Some((own_key, own)) => (own_key.clone(), merged(own, node, kind)),
        None => (key, node),
    });
    let all = all.collect();
    rest(mine, all)
}

fn rest(mine: &[(Key, Node)], mut all: Vec<(Key, Node)>) -> Vec<(Key, Node)> {
    for (key, node) in mine {
        if find(&all, &key.name).is_none() {
            all.push((key.clone(), node.clone()));
        }
    }
    all
}

fn find<'n>(entries: &'n [(Key, Node)], name: &str) -> Option<&'n (Key, Node)> {
    entries.iter().find(|(key, _)| key.name == name)
}

/// Whether the claim has another alternative to a key of the part.
fn ousted(mine: &[(Key, Node)], name: &str, group: &Group) -> bool {
    let has = |other: &str| other != name && find(mine, other).is_some();
    let chosen = group.choices.iter().filter(|choice| choice.contains(&name));
    // A face is round or rectangular, and its rows do not say so.
    let outline = group.row("facing").is_some()
        && match name {
            "diameter" => has("width") || has("height"),
            "width" | "height" => has("diameter"),
            _ => false,
        };
    outline || chosen.flatten().any(|other| has(other))
}

/// Whether both are told by the same alternatives of a group, and so belong
/// together.
fn same_way(mine: &[(Key, Node)], theirs: &[(Key, Node)], group: &Group) -> bool {
    let known =
        |entries: &[(Key, Node)]| entries.iter().any(|(key, _)| group.row(&key.name).is_some());
    let mut names = group.choices.iter().flatten();
    known(mine)
        && known(theirs)
        && names.all(|name| find(mine, name).is_some() == find(theirs, name).is_some())
}
