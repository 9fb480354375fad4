//! Reading groups of keys along the rows of a language, and collecting what is
//! wrong with them.

use super::{
    Sort,
    deeper::deeper,
    nearest::nearest,
    row::{Group, Kind, Row, Unwritten},
    what::What,
    yaml::{Key, Node, Value},
};
use crate::{
    diagnostic::{Diagnostic, Severity, Span},
    quantity::{Dimension, Show, format, read},
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
    /// Groups of which a part is missing: what it would have told is not asked for.
    pub(crate) lost: Vec<&'static str>,
}

/// A group of keys.
pub(crate) struct Table<'n> {
    /// The key it hangs on.
    pub(crate) at: Span,
    /// Its path, empty for the whole scenario.
    pub(crate) path: String,
    entries: &'n [(Key, Node)],
    /// The rows of its keys; of a group of names, of each of them.
    pub(crate) group: &'n Group,
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

    /// The row of a key.
    ///
    /// # Panics
    ///
    /// If the language has no such key here: a reader that asks for one is wrong,
    /// and every key of the language is read in a test.
    #[expect(clippy::panic, reason = "a slip of ours, whatever the text")]
    pub(crate) fn row(&self, name: &str) -> &'n Row {
        let row = self.group.row(name);
        row.unwrap_or_else(|| panic!("`{name}` has no row in \"{}\"", self.group.about))
    }

    /// The group of a key that is not written: all that it holds is as where
    /// nothing is written.
    pub(crate) fn empty(&self, name: &str) -> Self {
        let group = self.row(name).kind.group().unwrap_or(self.group);
        let (at, path, sort) = (self.at.clone(), self.path_of(name), self.sort);
        Self { at, path, entries: &[], group, sort, strange: Vec::new() }
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
        let (problems, inputs, places, lost) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { folder, sort, problems, inputs, places, lost }
    }

    pub(crate) fn report(&mut self, problem: Diagnostic) {
        self.problems.push(problem);
    }

    /// Whether nothing so far stands in the way of a scenario.
    pub(crate) fn is_clean(&self) -> bool {
        self.problems.iter().all(|problem| problem.severity == Severity::Warning)
    }

    /// The whole text.
    pub(crate) fn root<'n>(&mut self, node: &'n Node, language: &'n Group) -> Option<Table<'n>> {
        self.group(node, &(0..0), "", language, &[])
    }

    /// A group of names of the user's, each with these keys.
    pub(crate) fn open_names<'n>(
        &mut self,
        node: &'n Node,
        at: &Span,
        path: &str,
        group: &'n Group,
    ) -> Option<Table<'n>> {
        match &node.value {
            Value::Map(entries) => {
                let (at, path, sort) = (at.clone(), path.to_owned(), self.sort);
                Some(Table { at, path, entries, group, sort, strange: Vec::new() })
            }
            _ => {
                let what = match path {
                    "" => format!("a {}", self.sort.noun()),
                    path => format!("`{path}`"),
                };
                self.report(
                    Diagnostic::error("scenario::shape", format!("{what} is a group of keys"))
                        .at(pointed(node, at), format!("found {}", node.kind())),
                );
                None
            }
        }
    }

    /// A group of known keys; every other key is an error, but for those that
    /// get an answer of their own.
    pub(crate) fn group<'n>(
        &mut self,
        node: &'n Node,
        at: &Span,
        path: &str,
        group: &'n Group,
        answered: &[&str],
    ) -> Option<Table<'n>> {
        let mut table = self.open_names(node, at, path, group)?;
        for (key, _) in table.entries {
            if group.row(&key.name).is_none() && !answered.contains(&key.name.as_str()) {
                self.unknown(&table, key);
                table.strange.push(&key.name);
            }
        }
        Some(table)
    }

    /// The group under a key of one; nothing where it is not written.
    pub(crate) fn open<'n>(&mut self, table: &Table<'n>, name: &str) -> Option<Table<'n>> {
        let (key, node) = self.entry(table, name)?;
        self.opened(table, key, node)
    }

    /// The same once more, its strange keys reported before.
    pub(crate) fn again<'n>(&mut self, table: &Table<'n>, name: &str) -> Option<Table<'n>> {
        let (key, node) = table.get(name)?;
        self.open_names(node, &key.span, &table.path_of(name), table.row(name).kind.group()?)
    }

    /// The group of an entry that was found.
    pub(crate) fn opened<'n>(
        &mut self,
        table: &Table<'n>,
        key: &Key,
        node: &'n Node,
    ) -> Option<Table<'n>> {
        let row = table.row(&key.name);
        let group = row.kind.group()?;
        let path = table.path_of(&key.name);
        match row.kind {
            Kind::Names(_) => self.open_names(node, &key.span, &path, group),
            _ => self.group(node, &key.span, &path, group, &[]),
        }
    }

    fn unknown(&mut self, table: &Table<'_>, key: &Key) {
        let message = format!("{} has no key `{}`", table.called(), key.name);
        let belongs = deeper(table.group, table.entries, &key.name);
        let help = match (nearest(&key.name, table.group.names()), belongs) {
            (_, Some(path)) => {
                format!("`{}` belongs further in, to `{}`", key.name, table.path_of(&path))
            }
            (Some(near), None) => format!("did you mean `{near}`?"),
            (None, None) => {
                let known: Vec<&str> = table.group.names().collect();
                format!("its keys are: {}", known.join(", "))
            }
        };
        self.report(
            Diagnostic::error("scenario::unknown_key", message)
                .at(key.span.clone(), "not known here")
                .help(help),
        );
    }

    /// The entry of a key; it is reported if it is missing and must not be.
    pub(crate) fn entry<'n>(&mut self, table: &Table<'n>, name: &str) -> Option<&'n (Key, Node)> {
        let found = table.get(name);
        if found.is_none() && table.row(name).is_needed() {
            self.missing(table, name);
        }
        found
    }

    /// A key is missing, unless it is there and misspelt.
    pub(crate) fn missing(&mut self, table: &Table<'_>, name: &str) {
        if self.lost.contains(&table.path.as_str()) {
            return;
        }
        if table.strange.iter().any(|strange| nearest(strange, [name].into_iter()).is_some()) {
            return;
        }
        let example = table.row(name).example();
        self.report(
            Diagnostic::error("scenario::missing", format!("{} needs `{name}`", table.called()))
                .at(table.at.clone(), format!("`{name}` is missing"))
                .help(format!("write, for example, `{name}: {example}`")),
        );
    }

    /// The one key of a group that holds one of several; the others are
    /// reported.
    pub(crate) fn chosen<'n>(&mut self, table: &Table<'n>) -> Option<&'n (Key, Node)> {
        let choices = table.group.choices.first()?;
        let two = |words: &str| format!("{words} {}", either(choices));
        let mut found =
            table.entries.iter().filter(|(key, _)| choices.contains(&key.name.as_str()));
        let Some(first) = found.next() else {
            // A key that nobody knows has been reported: not twice.
            if table.strange.is_empty() && !self.lost.contains(&table.path.as_str()) {
                let few = choices.len() == 2;
                let needs = if few { either(choices) } else { "one of its keys".to_owned() };
                let message = format!("{} needs {needs}", table.called());
                let label = if few { "neither is there" } else { "nothing chosen" };
                self.report(
                    Diagnostic::error("scenario::missing", message)
                        .at(table.at.clone(), label)
                        .help(two(if few { "write" } else { "choose" })),
                );
            }
            return None;
        };
        for (key, _) in found {
            let message = format!("{} holds two alternatives", table.called());
            self.report(
                Diagnostic::error("scenario::alternatives", message)
                    .at(key.span.clone(), format!("`{}` is already there", first.0.name))
                    .help(two("keep")),
            );
        }
        Some(first)
    }

    /// The one key of a choice, with the group under it.
    pub(crate) fn chosen_group<'n>(&mut self, table: &Table<'n>) -> Option<(&'n Key, Table<'n>)> {
        let (key, node) = self.chosen(table)?;
        Some((key, self.opened(table, key, node)?))
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

    /// The words under a key, and where they stand.
    pub(crate) fn text_of<'n>(
        &mut self,
        table: &Table<'n>,
        name: &str,
        what: &str,
    ) -> Option<(&'n str, Span)> {
        let (key, node) = self.entry(table, name)?;
        Some((self.text(node, &key.span, what)?, node.span.clone()))
    }

    /// The text under a key, if it is written.
    pub(crate) fn told_text<'n>(
        &mut self,
        table: &Table<'n>,
        name: &str,
        what: &str,
    ) -> Option<(&'n str, Span)> {
        table.get(name).and_then(|_| self.text_of(table, name, what))
    }

    /// The word under a key.
    pub(crate) fn word_of<T: Clone>(
        &mut self,
        table: &Table<'_>,
        name: &str,
        what: &str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let (key, node) = self.entry(table, name)?;
        self.word(node, &key.span, what, words)
    }

    /// One of a few words.
    pub(crate) fn word<T: Clone>(
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
        found.map(|(_, value)| value.clone())
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

    /// The plain quantity under a key, or its usual value; nothing where it is
    /// wrong, or where it may be left out and is.
    pub(crate) fn value_of(&mut self, table: &Table<'_>, name: &str) -> Option<f64> {
        let row = table.row(name);
        let Some((key, node)) = self.entry(table, name) else {
            return match row.unwritten {
                Unwritten::Value(usual) => Some(usual),
                _ => None,
            };
        };
        let value = self.value(node, &key.span, row.what())?;
        if matches!(row.kind, Kind::Whole(_)) && value.fract() > 0.0 {
            self.report(
                Diagnostic::error("rig::count", format!("`{name}` is a whole number"))
                    .at(node.span.clone(), "not whole"),
            );
            return None;
        }
        Some(value)
    }

    /// The same of a key that has to be written here.
    pub(crate) fn needed_value(&mut self, table: &Table<'_>, name: &str) -> Option<f64> {
        if table.get(name).is_none() {
            self.missing(table, name);
        }
        self.value_of(table, name)
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

/// "`a` or `b`", "one of: a, b, c".
fn either(names: &[&str]) -> String {
    match names {
        [one, other] => format!("`{one}` or `{other}`"),
        more => format!("one of: {}", more.join(", ")),
    }
}
