//! Reading groups of keys, and collecting what is wrong with them.

use super::{
    Sort,
    what::What,
    yaml::{Key, Node, Value},
};
use crate::{
    diagnostic::{Diagnostic, Severity, Span},
    quantity::{Dimension, Show, format, read, significant},
    sampling::slot_of,
    uncertain::{Distribution, Input, InputId},
};
use std::path::Path;

/// Collects inputs and problems. What could not be read becomes NaN, so that
/// checking goes on; a scenario with problems is never handed out.
pub(crate) struct Reader<'a> {
    /// Where relative file names start from.
    pub(crate) folder: &'a Path,
    /// What is read.
    sort: Sort,
    pub(crate) problems: Vec<Diagnostic>,
    pub(crate) inputs: Vec<Input>,
    /// Where each input stands; an assumed one, where it is missing.
    pub(crate) places: Vec<Span>,
}

/// A group of keys.
pub(crate) struct Table<'n> {
    /// The key it hangs on.
    pub(crate) at: Span,
    /// Its path, empty for the whole scenario.
    pub(crate) path: String,
    entries: &'n [(Key, Node)],
    sort: Sort,
    /// Keys that are not known here, and have been reported.
    strange: Vec<&'n str>,
}

impl<'n> Table<'n> {
    /// The entry of this key.
    pub(crate) fn get(&self, name: &str) -> Option<&'n (Key, Node)> {
        self.entries.iter().find(|(key, _)| key.name == name)
    }

    /// All entries, in order.
    pub(crate) fn entries(&self) -> &'n [(Key, Node)] {
        self.entries
    }

    /// The path of one of its keys.
    pub(crate) fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }

    /// What to call it in a message.
    fn called(&self) -> String {
        if self.path.is_empty() {
            format!("the {}", self.sort.noun())
        } else {
            format!("`{}`", self.path)
        }
    }
}

impl<'a> Reader<'a> {
    pub(crate) fn new(sort: Sort, folder: &'a Path) -> Self {
        Self { folder, sort, problems: Vec::new(), inputs: Vec::new(), places: Vec::new() }
    }

    pub(crate) fn report(&mut self, problem: Diagnostic) {
        self.problems.push(problem);
    }

    /// Whether nothing so far stands in the way of a scenario.
    pub(crate) fn is_clean(&self) -> bool {
        self.problems.iter().all(|problem| problem.severity == Severity::Warning)
    }

    /// A group of any keys.
    pub(crate) fn open_table<'n>(
        &mut self,
        node: &'n Node,
        at: &Span,
        path: &str,
    ) -> Option<Table<'n>> {
        match &node.value {
            Value::Map(entries) => {
                let (at, path, sort) = (at.clone(), path.to_owned(), self.sort);
                Some(Table { at, path, entries, sort, strange: Vec::new() })
            }
            _ => {
                let what = if path.is_empty() {
                    format!("a {}", self.sort.noun())
                } else {
                    format!("`{path}`")
                };
                self.report(
                    Diagnostic::error("scenario::shape", format!("{what} is a group of keys"))
                        .at(pointed(node, at), format!("found {}", node.kind())),
                );
                None
            }
        }
    }

    /// A group of known keys; every other key is an error.
    pub(crate) fn table<'n>(
        &mut self,
        node: &'n Node,
        at: &Span,
        path: &str,
        known: &[&str],
    ) -> Option<Table<'n>> {
        let mut table = self.open_table(node, at, path)?;
        for (key, _) in table.entries {
            if !known.contains(&key.name.as_str()) {
                self.unknown(&table, key, known);
                table.strange.push(&key.name);
            }
        }
        Some(table)
    }

    fn unknown(&mut self, table: &Table<'_>, key: &Key, known: &[&str]) {
        let message = format!("{} has no key `{}`", table.called(), key.name);
        let help = match nearest(&key.name, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("its keys are: {}", known.join(", ")),
        };
        self.report(
            Diagnostic::error("scenario::unknown_key", message)
                .at(key.span.clone(), "not known here")
                .help(help),
        );
    }

    /// The entry of a key that must be there.
    pub(crate) fn required<'n>(
        &mut self,
        table: &Table<'n>,
        name: &str,
        example: &str,
    ) -> Option<&'n (Key, Node)> {
        let found = table.get(name);
        if found.is_none() {
            self.missing(table, name, example);
        }
        found
    }

    /// A key is missing, unless it is there and misspelt.
    pub(crate) fn missing(&mut self, table: &Table<'_>, name: &str, example: &str) {
        if table.strange.iter().any(|strange| nearest(strange, [name].into_iter()).is_some()) {
            return;
        }
        self.report(
            Diagnostic::error("scenario::missing", format!("{} needs `{name}`", table.called()))
                .at(table.at.clone(), format!("`{name}` is missing"))
                .help(format!("write, for example, `{name}: {example}`")),
        );
    }

    /// The one key of a group that may hold one of several; the others are
    /// reported.
    pub(crate) fn one_of<'n>(
        &mut self,
        table: &Table<'n>,
        choices: &[&str],
    ) -> Option<&'n (Key, Node)> {
        let mut found =
            table.entries.iter().filter(|(key, _)| choices.contains(&key.name.as_str()));
        let list = choices.join(", ");
        let Some(first) = found.next() else {
            // A key that nobody knows has been reported: not twice.
            if table.strange.is_empty() {
                let message = format!("{} needs one of its keys", table.called());
                self.report(
                    Diagnostic::error("scenario::missing", message)
                        .at(table.at.clone(), "nothing chosen")
                        .help(format!("choose one of: {list}")),
                );
            }
            return None;
        };
        for (key, _) in found {
            let message = format!("{} holds two alternatives", table.called());
            self.report(
                Diagnostic::error("scenario::alternatives", message)
                    .at(key.span.clone(), format!("`{}` is already there", first.0.name))
                    .help(format!("keep one of: {list}")),
            );
        }
        Some(first)
    }

    /// One of two keys that exclude each other in a group with other keys too.
    pub(crate) fn one_of_two<'n>(
        &mut self,
        table: &Table<'n>,
        first: &str,
        second: &str,
    ) -> Option<&'n (Key, Node)> {
        match (table.get(first), table.get(second)) {
            (Some(_), Some((key, _))) => {
                let message = format!("{} holds two alternatives", table.called());
                self.report(
                    Diagnostic::error("scenario::alternatives", message)
                        .at(key.span.clone(), format!("`{first}` is already there"))
                        .help(format!("keep `{first}` or `{second}`")),
                );
                None
            }
            (None, None) if !table.strange.is_empty() => None,
            (None, None) => {
                let message = format!("{} needs `{first}` or `{second}`", table.called());
                self.report(
                    Diagnostic::error("scenario::missing", message)
                        .at(table.at.clone(), "neither is there"),
                );
                None
            }
            (one, other) => one.or(other),
        }
    }

    /// The text of a node that is a single value.
    pub(crate) fn text<'n>(&mut self, node: &'n Node, at: &Span, what: &str) -> Option<&'n str> {
        match &node.value {
            Value::Text(text) => Some(text),
            _ => {
                self.report(
                    Diagnostic::error("scenario::shape", format!("expected {what}"))
                        .at(pointed(node, at), format!("found {}", node.kind())),
                );
                None
            }
        }
    }

    /// One of a few words.
    pub(crate) fn word<T: Copy>(
        &mut self,
        node: &Node,
        at: &Span,
        what: &str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let text = self.text(node, at, what)?;
        let found = words.iter().find(|(word, _)| *word == text);
        if found.is_none() {
            let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let help = match nearest(text, list.iter().copied()) {
                Some(near) => format!("did you mean `{near}`? choose one of: {}", list.join(", ")),
                None => format!("choose one of: {}", list.join(", ")),
            };
            self.report(
                Diagnostic::error("scenario::word", format!("expected {what}, found `{text}`"))
                    .at(node.span.clone(), "not one of the words known here")
                    .help(help),
            );
        }
        found.map(|(_, value)| *value)
    }

    /// `true` or `false`; `false` where the key is missing.
    pub(crate) fn flag(&mut self, table: &Table<'_>, name: &str) -> bool {
        let words = [("true", true), ("false", false)];
        table.get(name).is_some_and(|(key, node)| {
            self.word(node, &key.span, "`true` or `false`", &words).unwrap_or(false)
        })
    }

    /// A list of exactly so many nodes.
    pub(crate) fn list<'n>(
        &mut self,
        node: &'n Node,
        at: &Span,
        length: usize,
        example: &str,
    ) -> Option<&'n [Node]> {
        let found = match &node.value {
            Value::List(items) if items.len() == length => return Some(items),
            Value::List(items) => format!("found {}", items.len()),
            _ => format!("found {}", node.kind()),
        };
        self.report(
            Diagnostic::error("scenario::shape", format!("expected a list of {length}"))
                .at(pointed(node, at), found)
                .help(format!("write, for example, `{example}`")),
        );
        None
    }

    /// A plain quantity within its bounds.
    pub(crate) fn value(&mut self, node: &Node, at: &Span, what: What) -> Option<f64> {
        let text =
            self.text(node, at, &format!("{} in one value", what.dimension.with_article()))?;
        match read(text, node.span.clone(), what.dimension) {
            Ok(value) => match what.objection(value) {
                None => Some(value),
                Some(must) => {
                    self.report(
                        Diagnostic::error("scenario::range", format!("`{text}` is out of range"))
                            .at(node.span.clone(), must),
                    );
                    None
                }
            },
            Err(problem) => {
                self.report(problem);
                None
            }
        }
    }

    /// A plain quantity under a key that must be there.
    pub(crate) fn value_of(&mut self, table: &Table<'_>, name: &str, what: What) -> Option<f64> {
        let (key, node) = self.required(table, name, what.example())?;
        self.value(node, &key.span, what)
    }

    /// Adds an input.
    pub(crate) fn add(&mut self, input: Input, place: Span) -> InputId {
        self.inputs.push(input);
        self.places.push(place);
        InputId(self.inputs.len() - 1)
    }

    /// Adds an input that the user did not write.
    pub(crate) fn assume(
        &mut self,
        name: String,
        dimension: Dimension,
        distribution: Distribution,
        place: Span,
    ) -> InputId {
        let written = format(distribution.quantile(0.5), dimension, Show::Si);
        self.assume_as(name, dimension, distribution, &written, place)
    }

    /// The same in words of its own.
    pub(crate) fn assume_as(
        &mut self,
        name: String,
        dimension: Dimension,
        distribution: Distribution,
        written: &str,
        place: Span,
    ) -> InputId {
        let (slot, written) = (slot_of(&name), written.to_owned());
        let input =
            Input { name, dimension, distribution, slot, unknown: false, assumed: true, written };
        self.add(input, place)
    }

    /// A pure number as told, or an unknown one within the range that is assumed for
    /// it: by its logarithm, if it is a `ratio`.
    pub(crate) fn open(
        &mut self,
        table: &Table<'_>,
        name: &str,
        what: What,
        [low, high]: [f64; 2],
        ratio: bool,
    ) -> InputId {
        if table.get(name).is_some() {
            return self.number(table, name, what);
        }
        let spread = if ratio { Distribution::log_uniform } else { Distribution::uniform };
        let name = table.path_of(name);
        let shown = |end: f64| significant(end, 2);
        let input = Input {
            slot: slot_of(&name),
            name,
            dimension: what.dimension,
            distribution: spread(low, high)
                .unwrap_or_else(|_| Distribution::fixed(f64::midpoint(low, high))),
            unknown: true,
            assumed: true,
            written: format!("anything between {} and {}", shown(low), shown(high)),
        };
        self.add(input, table.at.clone())
    }

    /// The value in the middle of an input; NaN if it could not be read.
    pub(crate) fn middle(&self, id: InputId) -> f64 {
        self.inputs[id.0].distribution.quantile(0.5)
    }

    /// The place of an input.
    pub(crate) fn place(&self, id: InputId) -> Span {
        self.places[id.0].clone()
    }
}

/// A single value is pointed at itself; a group or a list has no useful place
/// of its own, so its key is.
pub(crate) fn pointed(node: &Node, at: &Span) -> Span {
    match node.value {
        Value::Text(_) => node.span.clone(),
        Value::Empty | Value::List(_) | Value::Map(_) => at.clone(),
    }
}

/// The likeliest meaning of a misspelt word.
pub(crate) fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let likeness = |other: &&str| strsim::jaro_winkler(&word.to_lowercase(), other);
    known
        .map(|other| (likeness(&other), other))
        .filter(|(likeness, _)| *likeness > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, other)| other)
}
