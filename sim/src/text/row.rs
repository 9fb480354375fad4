//! The table of a language: a row for each key.
//!
//! A language is one [`Group`] of rows; a row may hold a group of its own. The
//! reader follows the rows down the text, and the schema, the reference and the
//! leaves of a text are made from the same rows.

use super::what::What;
use crate::quantity::{Dimension, Show, format, significant};

/// A group of keys.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What it tells.
    pub about: &'static str,
    /// Its keys, in the order in which they are best written.
    pub rows: Vec<Row>,
    /// Sets of keys of which one has to be there, and no more than one.
    pub choices: Vec<Vec<&'static str>>,
    /// The key that stands for those that have to be there: what it names has them.
    pub stands_in: Option<&'static str>,
}

/// A key.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The key as it is written.
    pub name: &'static str,
    /// What may stand under it.
    pub kind: Kind,
    /// What holds where it is not written.
    pub unwritten: Unwritten,
    /// What it means, in a line.
    pub doc: &'static str,
    /// How it is written, for example; empty: as its dimension is.
    pub(crate) example: &'static str,
}

/// What may stand under a key.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// A number that may be spread.
    Number(What),
    /// A number in one value.
    Value(What),
    /// A whole number.
    Whole(What),
    /// Any words.
    Text,
    /// One of a few words.
    Words(Vec<String>),
    /// `true` or `false`.
    Flag,
    /// Nothing at all.
    Nothing,
    /// Keys of its own.
    Group(Group),
    /// Names of the user's, each with these keys.
    Names(Group),
    /// So many things in a list, each with its name.
    Tuple(Vec<(&'static str, Kind)>),
    /// Any number of things of one kind in a list.
    List(Box<Kind>),
    /// One of several.
    Either(Vec<Kind>),
}

/// What holds where a key is not written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unwritten {
    /// It has to be written.
    Needed,
    /// This value, in SI units.
    Value(f64),
    /// An unknown within this range, in SI units; `ratio`: by its logarithm.
    Open {
        /// Its ends.
        range: [f64; 2],
        /// Whether all ratios are alike rather than all values.
        ratio: bool,
    },
    /// What the words say.
    Words(&'static str),
}

impl Group {
    pub(crate) fn new(about: &'static str, rows: Vec<Row>) -> Self {
        Self { about, rows, choices: Vec::new(), stands_in: None }
    }

    /// A group in which one of its keys is chosen.
    pub(crate) fn choice(about: &'static str, rows: Vec<Row>) -> Self {
        let rows: Vec<Row> = rows.into_iter().map(|row| row.may("")).collect();
        let all = rows.iter().map(|row| row.name).collect();
        Self { about, rows, choices: vec![all], stands_in: None }
    }

    /// The same with a choice among some of its keys.
    pub(crate) fn choose(mut self, names: &[&'static str]) -> Self {
        for row in self.rows.iter_mut().filter(|row| names.contains(&row.name)) {
            row.unwritten = Unwritten::Words("");
        }
        self.choices.push(names.to_vec());
        self
    }

    /// The same with a key, one of its own, that stands for those that it needs.
    pub(crate) fn or_by(self, name: &'static str) -> Self {
        Self { stands_in: Some(name), ..self }
    }

    /// The same with more keys.
    pub(crate) fn and(mut self, rows: Vec<Row>) -> Self {
        self.rows.extend(rows);
        self
    }

    /// The row of a key.
    #[must_use]
    pub fn row(&self, name: &str) -> Option<&Row> {
        self.rows.iter().find(|row| row.name == name)
    }

    /// Its keys.
    pub(crate) fn names(&self) -> impl Iterator<Item = &'static str> {
        self.rows.iter().map(|row| row.name)
    }
}

impl Row {
    pub(crate) fn new(name: &'static str, kind: Kind, doc: &'static str) -> Self {
        Self { name, kind, unwritten: Unwritten::Needed, doc, example: "" }
    }

    /// It may be left out: then this value holds, in SI units.
    pub(crate) fn or(self, value: f64) -> Self {
        Self { unwritten: Unwritten::Value(value), ..self }
    }

    /// It may be left out: then it is an unknown within a range.
    pub(crate) fn open(self, range: [f64; 2], ratio: bool) -> Self {
        Self { unwritten: Unwritten::Open { range, ratio }, ..self }
    }

    /// It may be left out: then these words hold.
    pub(crate) fn may(self, words: &'static str) -> Self {
        match self.unwritten {
            Unwritten::Needed => Self { unwritten: Unwritten::Words(words), ..self },
            _ => self,
        }
    }

    /// How it is written, for example.
    pub(crate) fn like(self, example: &'static str) -> Self {
        Self { example, ..self }
    }

    /// Whether it has to be written.
    #[must_use]
    pub(crate) fn is_needed(&self) -> bool {
        self.unwritten == Unwritten::Needed
    }

    /// What it means, its bounds, and what holds where it is not written.
    #[must_use]
    pub fn described(&self) -> String {
        let what = self.kind.what();
        let limits = what.map_or_else(String::new, |what| what.limits());
        let unwritten = self.unwritten.words(what.map(|what| what.dimension));
        let more: Vec<String> = [limits, unwritten].into_iter().filter(|w| !w.is_empty()).collect();
        match more.join("; ") {
            more if more.is_empty() => self.doc.to_owned(),
            more => format!("{} ({more})", self.doc),
        }
    }

    /// What its number measures, and within which bounds; a pure number where it
    /// holds none.
    pub(crate) fn what(&self) -> What {
        self.kind.what().unwrap_or(What::any(Dimension::Number))
    }

    /// How it is written, for example.
    #[must_use]
    pub fn example(&self) -> &'static str {
        match self.kind.what() {
            Some(what) if self.example.is_empty() => what.example(),
            _ => self.example,
        }
    }
}

impl Unwritten {
    /// In words; empty where there is nothing to say.
    pub(crate) fn words(&self, dimension: Option<Dimension>) -> String {
        match (*self, dimension) {
            (Self::Needed, _) => "needed".to_owned(),
            (Self::Words(words), _) => words.to_owned(),
            (Self::Value(value), Some(dimension)) => format(value, dimension, Show::Si),
            (Self::Value(value), None) => significant(value, 6),
            (Self::Open { range: [low, high], .. }, _) => {
                format!("unknown, {} to {}", significant(low, 3), significant(high, 3))
            }
        }
    }
}

impl Kind {
    /// What its number measures, and within which bounds.
    #[must_use]
    pub fn what(&self) -> Option<What> {
        match self {
            Self::Number(what) | Self::Value(what) | Self::Whole(what) => Some(*what),
            Self::Either(kinds) => kinds.iter().find_map(Self::what),
            Self::Tuple(kinds) => kinds.iter().find_map(|(_, kind)| kind.what()),
            _ => None,
        }
    }

    /// Its own keys, or those of each of its names.
    #[must_use]
    pub fn group(&self) -> Option<&Group> {
        match self {
            Self::Group(group) | Self::Names(group) => Some(group),
            Self::Either(kinds) => kinds.iter().find_map(Self::group),
            Self::List(kind) => kind.group(),
            _ => None,
        }
    }

    /// Words out of a reader's list of them.
    pub(crate) fn words<T>(list: &[(&str, T)]) -> Self {
        Self::Words(list.iter().map(|(word, _)| (*word).to_owned()).collect())
    }

    pub(crate) fn names<'w>(names: impl IntoIterator<Item = &'w str>) -> Self {
        Self::Words(names.into_iter().map(str::to_owned).collect())
    }
}

/// A number that may be spread.
pub(crate) fn number(name: &'static str, what: What, doc: &'static str) -> Row {
    Row::new(name, Kind::Number(what), doc)
}

/// A number in one value.
pub(crate) fn value(name: &'static str, what: What, doc: &'static str) -> Row {
    Row::new(name, Kind::Value(what), doc)
}

/// Words, such as `example`.
pub(crate) fn text(name: &'static str, example: &'static str, doc: &'static str) -> Row {
    Row::new(name, Kind::Text, doc).like(example)
}

/// One of a few words.
pub(crate) fn word<T>(name: &'static str, words: &[(&str, T)], doc: &'static str) -> Row {
    Row::new(name, Kind::words(words), doc).like("")
}

/// `true` or `false`; `false` where it is not written.
pub(crate) fn flag(name: &'static str, doc: &'static str) -> Row {
    Row::new(name, Kind::Flag, doc).may("`false`")
}

/// Keys of its own.
pub(crate) fn sub(name: &'static str, group: Group) -> Row {
    let doc = group.about;
    Row::new(name, Kind::Group(group), doc)
}

/// Numbers along x, y and z.
pub(crate) fn point(name: &'static str, what: What, doc: &'static str) -> Row {
    let axes = ["x", "y", "z"].map(|axis| (axis, Kind::Number(what)));
    Row::new(name, Kind::Tuple(axes.into()), doc)
}
