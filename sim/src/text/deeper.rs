//! Where a key that stands one or more levels too high belongs.

use super::{
    row::{Group, Kind},
    yaml::{Key, Node, Value},
};

/// The path, under a group as it is written, of the first group that knows this key.
pub(super) fn deeper(group: &Group, entries: &[(Key, Node)], name: &str) -> Option<String> {
    entries.iter().find_map(|(key, node)| {
        let kind = &group.row(&key.name)?.kind;
        let path = match (kind, &node.value) {
            (Kind::Names(inner), Value::Map(names)) => names.iter().find_map(|(key, node)| {
                within(inner, node, name).map(|path| format!("{}{path}", key.name))
            })?,
            _ => {
                return within(kind.group()?, node, name).map(|path| format!("{}{path}", key.name));
            }
        };
        Some(format!("{}.{path}", key.name))
    })
}

/// The same in one group: nothing if it is this one, or a dot and the path to it.
fn within(group: &Group, node: &Node, name: &str) -> Option<String> {
    let Value::Map(entries) = &node.value else { return None };
    if group.row(name).is_some() {
        return Some(String::new());
    }
    deeper(group, entries, name).map(|path| format!(".{path}"))
}
