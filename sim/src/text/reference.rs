//! A language as a reference to read, in Markdown.

use super::row::{Group, Kind, Row};
use std::fmt::Write;

/// Every key, group by group: what it means, what it takes, and what holds where
/// it is not written.
pub(crate) fn reference(noun: &str, language: &Group) -> String {
    let mut page = Page { text: String::new(), told: Vec::new() };
    page.section("", noun, language);
    page.text
}

struct Page {
    text: String,
    /// Groups that were told, with their paths.
    told: Vec<(Group, String)>,
}

impl Page {
    fn section(&mut self, path: &str, title: &str, group: &Group) {
        let title = if path.is_empty() { title.to_owned() } else { format!("`{path}`") };
        let _ = writeln!(self.text, "### {title}\n\n{}\n", group.about);
        for names in &group.choices {
            let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
            let _ = writeln!(self.text, "One, and one only, of {}.\n", names.join(", "));
        }
        if let Some(name) = group.stands_in {
            let _ = writeln!(self.text, "With `{name}`, what the part has need not be written.\n");
        }
        self.rows(path, group.rows.iter());
        self.inner(path, group);
    }

    fn rows<'r>(&mut self, path: &str, rows: impl Iterator<Item = &'r Row>) {
        self.text.push_str("| key | what it is | takes | where not written |\n|---|---|---|---|\n");
        for row in rows {
            let takes = self.takes(&join(path, row.name), &row.kind);
            let unwritten = row.unwritten.words(row.kind.what().map(|what| what.dimension));
            let unwritten = if row.is_needed() { "(needed)" } else { &unwritten };
            let _ = writeln!(
                self.text,
                "| `{}` | {} | {} | {unwritten} |",
                row.name,
                row.doc,
                takes.replace('|', "\\|"),
            );
        }
        self.text.push('\n');
    }

    /// The groups under the keys of a group; what all alternatives of a choice
    /// share is told once.
    fn inner(&mut self, path: &str, group: &Group) {
        let alternatives: Vec<&Group> = group
            .choices
            .iter()
            .flatten()
            .filter_map(|name| group.row(name))
            .filter_map(|row| row.kind.group())
            .collect();
        let shared: Vec<Row> = match alternatives.as_slice() {
            [first, others @ ..] if others.len() > 1 => first
                .rows
                .iter()
                .filter(|row| others.iter().all(|other| other.rows.contains(row)))
                .cloned()
                .collect(),
            _ => Vec::new(),
        };
        if !shared.is_empty() {
            let _ = writeln!(self.text, "### every `{path}`\n\nAll of them have:\n");
            self.rows(&join(path, "…"), shared.iter());
            for row in &shared {
                self.below(&join(path, &format!("….{}", row.name)), &row.kind);
            }
        }
        for row in &group.rows {
            let path = join(path, row.name);
            match row.kind.group() {
                Some(inner) if alternatives.contains(&inner) && !shared.is_empty() => {
                    let rows = inner.rows.iter().filter(|row| !shared.contains(row)).cloned();
                    let mut own = Group { rows: rows.collect(), ..inner.clone() };
                    let rows = own.rows.clone();
                    let has = |name: &&str| rows.iter().any(|row| row.name == *name);
                    own.choices.retain(|names| names.iter().all(has));
                    if !own.rows.is_empty() {
                        self.section(&path, "", &own);
                    }
                }
                _ => self.below(&path, &row.kind),
            }
        }
    }

    fn below(&mut self, path: &str, kind: &Kind) {
        let Some(group) = kind.group() else { return };
        if group.rows.is_empty() || self.told.iter().any(|(told, _)| told == group) {
            return;
        }
        self.told.push((group.clone(), path.to_owned()));
        let path =
            if matches!(kind, Kind::Names(_)) { join(path, "NAME") } else { path.to_owned() };
        self.section(&path, "", group);
    }

    fn takes(&self, path: &str, kind: &Kind) -> String {
        let inner = |kind: &Kind| self.takes(path, kind);
        match kind {
            Kind::Number(what) | Kind::Value(what) | Kind::Whole(what) => {
                let one = match kind {
                    Kind::Number(_) => what.dimension.name().to_owned(),
                    Kind::Value(_) => format!("one {}", what.dimension.name()),
                    _ => "whole number".to_owned(),
                };
                match what.limits() {
                    limits if limits.is_empty() => one,
                    limits => format!("{one}, {limits}"),
                }
            }
            Kind::Text => "words".to_owned(),
            Kind::Words(words) => {
                words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
            }
            Kind::Flag => "`true`, `false`".to_owned(),
            Kind::Nothing => "nothing".to_owned(),
            Kind::Group(group) if group.rows.is_empty() => "no keys".to_owned(),
            Kind::Group(group) => match self.told.iter().find(|(told, _)| told == group) {
                Some((_, place)) if place != path => format!("keys, as `{place}`"),
                _ => "keys, see below".to_owned(),
            },
            Kind::Names(_) => "names of your own, each with keys, see below".to_owned(),
            Kind::Tuple(kinds) => {
                let kinds: Vec<String> =
                    kinds.iter().map(|(name, kind)| format!("{name}: {}", inner(kind))).collect();
                format!("\\[{}\\]", kinds.join("; "))
            }
            Kind::List(kind) => format!("a list of {}", inner(kind)),
            Kind::Either(kinds) => kinds.iter().map(inner).collect::<Vec<_>>().join("; or "),
        }
    }
}

fn join(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}
