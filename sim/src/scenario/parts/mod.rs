//! Parts that a claim takes from a shelf: `object: {like: brick}`.
//!
//! A part is a small text of its own: what it is, where its figures are from, and
//! the keys of an `object` or a `target` as a claim would have them. It is put into
//! the tree of the claim before anything is checked, so that there is one path of
//! checks, and what a number is called does not tell where it was typed. What a
//! claim writes beside `like` stands in the place of the part's, key by key.
//!
//! Places in a part count on from the end of the claim's text: that is how a problem
//! knows which text it is in.

mod find;
mod merge;
mod shelf;
mod starter;
#[cfg(test)]
mod tests;
mod text;

pub(crate) use self::{
    find::find,
    text::{LIKE, like_row},
};
pub use self::{
    shelf::shelf,
    starter::{Starter, in_claims, starter},
};

use self::text::Reading;
use crate::{
    diagnostic::{Diagnostic, Span},
    note::Kind,
    text::{
        Group, Leaf, Sort, leaf,
        yaml::{self, Key, Node, Value},
    },
};

/// The group of a claim that a part fills.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// What flies.
    Object,
    /// What has to be hit.
    Target,
}

impl Side {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Object, Self::Target];

    /// Its key in a claim, and in a part.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Object => "object",
            Self::Target => "target",
        }
    }

    /// The same with its article.
    #[must_use]
    pub fn noun(self) -> &'static str {
        match self {
            Self::Object => "an object",
            Self::Target => "a target",
        }
    }

    /// The folder that its parts are in.
    #[must_use]
    pub fn folder(self) -> &'static str {
        match self {
            Self::Object => "objects",
            Self::Target => "targets",
        }
    }

    fn other(self) -> Self {
        match self {
            Self::Object => Self::Target,
            Self::Target => Self::Object,
        }
    }
}

/// Where a part stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// On the shelf of the program.
    Shelf,
    /// In a file beside the claim.
    Own {
        /// Its name, from the claim's folder.
        file: String,
        /// Whether the shelf has one of this name, which it takes the place of.
        hides: bool,
    },
}

/// A part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is a part for.
    pub side: Side,
    /// Its name, as after `like`.
    pub name: String,
    /// Where it stood.
    pub origin: Origin,
    /// What it is, in a line.
    pub about: String,
    /// Where its figures are from.
    pub source: String,
    /// The weakest kind of its sources.
    pub kind: Kind,
    /// Its text.
    pub text: String,
    /// The keys of the claim that have their values from it.
    pub keys: Vec<String>,
    /// Where its places begin.
    base: usize,
}

impl Part {
    /// Whether an input of this name has its number from this part.
    #[must_use]
    pub fn tells(&self, input: &str) -> bool {
        let below = |key: &str| {
            input.strip_prefix(key).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        // A strength as told is an input by another name.
        let strength = |key: &str| {
            let told = [".energy", ".speed"].into_iter().find_map(|end| key.strip_suffix(end));
            told.is_some_and(|barrier| input.strip_prefix(barrier) == Some(".median"))
        };
        let under = |key: &String| below(key) || strength(key);
        self.keys.iter().any(under)
    }

    /// Its file, from the claim's folder; `None`: it is on the shelf.
    #[must_use]
    pub fn own_file(&self) -> Option<&str> {
        match &self.origin {
            Origin::Shelf => None,
            Origin::Own { file, .. } => Some(file),
        }
    }

    /// What to call its text in a message.
    #[must_use]
    pub fn file(&self) -> String {
        match &self.origin {
            Origin::Shelf => format!("the shelf's {}/{}.yaml", self.side.folder(), self.name),
            Origin::Own { file, .. } => file.clone(),
        }
    }

    fn holds(&self, place: &Span) -> bool {
        (self.base..=self.base + self.text.len()).contains(&place.start)
    }

    fn here(&self, place: &Span) -> Span {
        let at = |end: usize| end.saturating_sub(self.base).min(self.text.len());
        at(place.start)..at(place.end)
    }
}

/// What is found under a name: where, and its text; `None`: nothing.
pub(crate) type Found = Result<Option<(Origin, String)>, String>;

/// A tree with the parts that it names put in.
pub(crate) struct Taken {
    pub(crate) root: Node,
    pub(crate) parts: Vec<Part>,
    pub(crate) problems: Vec<Diagnostic>,
    /// Groups whose part could not be taken.
    pub(crate) lost: Vec<&'static str>,
}

impl Taken {
    /// A problem with its place in the text that it is in.
    pub(crate) fn placed(&self, mut problem: Diagnostic) -> Diagnostic {
        let Some((place, found)) = problem.label.take() else { return problem };
        match self.parts.iter().find(|part| part.holds(&place)) {
            Some(part) => problem.at(part.here(&place), found).within(&part.file(), &part.text),
            None => problem.at(place, found),
        }
    }
}

/// Puts the parts that a tree names into it. `end`: where the tree's own text ends.
pub(crate) fn taken(
    root: Node,
    end: usize,
    language: &Group,
    find: &dyn Fn(Side, &str) -> Found,
) -> Taken {
    let mut taken = Taken { root, parts: Vec::new(), problems: Vec::new(), lost: Vec::new() };
    let mut base = end + 1;
    for side in Side::ALL {
        let Some((_, node)) = entry(&taken.root, side.key()) else { continue };
        let Some((key, like)) = entry(node, LIKE) else { continue };
        let (at, like) = (key.span.clone(), like.clone());
        let place = if matches!(like.value, Value::Text(_)) { like.span.clone() } else { at };
        match one(side, &like, base, language, find) {
            Ok(Reading { part, inner, problems }) => {
                base += part.text.len() + 1;
                match inner {
                    Some(inner) => put(&mut taken.root, side, inner, language),
                    None => taken.lost.push(side.key()),
                }
                taken.parts.push(part);
                taken.problems.extend(problems.into_iter().map(|problem| match problem.label {
                    None => problem.at(place.clone(), "taken here"),
                    Some(_) => problem,
                }));
            }
            Err(problem) => {
                taken.problems.push(problem.at(place, "taken here"));
                taken.lost.push(side.key());
            }
        }
    }
    let leaves = leaf::of(&taken.root, language);
    for part in &mut taken.parts {
        let own = leaves.iter().filter(|leaf| leaf.place.as_ref().is_some_and(|at| part.holds(at)));
        part.keys = own.map(|leaf| leaf.path.clone()).collect();
    }
    taken
}

/// The part that is named.
fn one(
    side: Side,
    like: &Node,
    base: usize,
    language: &Group,
    find: &dyn Fn(Side, &str) -> Found,
) -> Result<Reading, Diagnostic> {
    let Value::Text(name) = &like.value else {
        let message = "expected the name of a part";
        return Err(Diagnostic::error("scenario::shape", message)
            .help("write, for example, `like: brick`; `longodds parts` lists them"));
    };
    match find(side, name) {
        Ok(Some((origin, found))) => Ok(text::read(side, name, origin, found, base, language)),
        Ok(None) => Err(shelf::unknown(side, name)),
        Err(why) => Err(Diagnostic::error("part::file", why)),
    }
}

/// Puts what a part holds under the claim's own keys.
fn put(root: &mut Node, side: Side, inner: Node, language: &Group) {
    let (Value::Map(entries), Some(row)) = (&mut root.value, language.row(side.key())) else {
        return;
    };
    if let Some((_, own)) = entries.iter_mut().find(|(key, _)| key.name == side.key()) {
        *own = merge::merged(own, inner, &row.kind);
    }
}

fn entry<'n>(node: &'n Node, name: &str) -> Option<&'n (Key, Node)> {
    match &node.value {
        Value::Map(entries) => entries.iter().find(|(key, _)| key.name == name),
        _ => None,
    }
}

/// The leaves of a text and of the parts that it names.
pub(crate) fn leaves<'l>(
    text: &str,
    language: &'l Group,
    find: &dyn Fn(Side, &str) -> Found,
) -> Result<Vec<Leaf<'l>>, Diagnostic> {
    let root = yaml::tree(text, Sort::Scenario)?;
    let with = taken(root, text.len(), language, find);
    let group_of = |path: &str| {
        let side = path.split('.').next().unwrap_or_default();
        entry(&with.root, side).map_or(0..text.len(), |(_, node)| node.whole.clone())
    };
    let own = |mut leaf: Leaf<'l>| {
        if let Some(at) = leaf.place.take_if(|at| at.start > text.len()) {
            let part = with.parts.iter().find(|part| part.holds(&at));
            leaf.of_part = part.map(|part| part.text[part.here(&at)].to_owned());
        }
        if leaf.group.start > text.len() {
            leaf.group = group_of(&leaf.path);
        }
        leaf
    };
    Ok(leaf::of(&with.root, language).into_iter().map(own).collect())
}
