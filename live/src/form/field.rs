//! A field: a key of the language that the claim has or could have.

use super::spread::{self, Handle};
use longodds_sim::{
    quantity::{Dimension, Show},
    scenario::{Input, Scenario},
    text::{Group, Kind, Leaf, Told},
    uncertain::Distribution,
    words::Voice,
};

/// How well a number is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// One value.
    Fixed,
    /// Another from one event to the next.
    Varies,
    /// One value that nobody knows.
    Unknown,
    /// Nobody wrote it: the program takes one.
    Assumed,
    /// It is no number.
    Word,
}

impl State {
    /// As the client has it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Fixed => "fixed",
            Self::Varies => "varies",
            Self::Unknown => "unknown",
            Self::Assumed => "assumed",
            Self::Word => "word",
        }
    }
}

/// A key that the claim has or could have.
#[derive(Debug)]
pub(crate) struct Field<'s> {
    pub(crate) leaf: Leaf<'s>,
    /// What it became, where it is a number that was read or assumed.
    pub(crate) input: Option<&'s Input>,
    pub(crate) state: State,
    /// Its value as text on one line; `None`: it stands over several.
    pub(crate) source: Option<String>,
    /// Units of display.
    pub(crate) show: Show,
}

impl Field<'_> {
    pub(crate) fn path(&self) -> &str {
        &self.leaf.path
    }

    pub(crate) fn is_written(&self) -> bool {
        self.leaf.place.is_some()
    }

    /// Its value in the reader's units: the middle, and where nine in ten lie.
    pub(crate) fn spoken(&self, voice: Voice) -> String {
        let Some(input) = self.input else { return String::new() };
        let [low, middle, high] =
            self.quantiles().map(|value| voice.quantity(value, input.dimension));
        if input.distribution.is_fixed() { middle } else { format!("{middle} ({low} to {high})") }
    }

    /// 5, 50 and 95 %, in SI units; zeros for what is no number.
    pub(crate) fn quantiles(&self) -> [f64; 3] {
        self.input.map_or([0.0; 3], |input| {
            [0.05, 0.5, 0.95].map(|share| input.distribution.quantile(share))
        })
    }

    /// What its number measures.
    pub(crate) fn dimension(&self) -> Dimension {
        self.input.map_or(Dimension::Number, |input| input.dimension)
    }

    /// Least and greatest value that it may have, in SI units.
    pub(crate) fn bounds(&self) -> [f64; 2] {
        self.leaf.kind.what().map_or([f64::MIN, f64::MAX], |what| {
            let (least, most) = what.bounds();
            [least, most]
        })
    }

    /// The numbers that move along where its value is moved as a whole; where it is
    /// not written, the value that holds.
    pub(crate) fn places(&self) -> Vec<Handle> {
        match self.input {
            Some(input) if !self.is_written() => vec![Handle::of(input, self.show)],
            _ => self.handles().into_iter().filter(Handle::is_place).collect(),
        }
    }

    /// The numbers of its value that can be moved one by one.
    pub(crate) fn handles(&self) -> Vec<Handle> {
        self.input.map_or_else(Vec::new, |input| spread::handles(&self.leaf, input, self.show))
    }
}

/// Every field of a claim, in the order of the language; of keys that exclude
/// each other only the one that is written.
pub(crate) fn fields<'s>(scenario: &'s Scenario, language: &'s Group) -> Vec<Field<'s>> {
    let all = scenario.leaves(language);
    let told = |leaf: &Leaf<'_>| leaf.place.is_some() || leaf.of_part.is_some();
    let written: Vec<String> =
        all.iter().filter(|leaf| told(leaf)).map(|leaf| leaf.path.clone()).collect();
    let offered = |leaf: &Leaf<'_>| told(leaf) || !excluded(&leaf.path, language, &written);
    all.into_iter().filter(offered).map(|leaf| field(leaf, scenario)).collect()
}

fn field<'s>(leaf: Leaf<'s>, scenario: &'s Scenario) -> Field<'s> {
    let input = scenario.inputs.find(&leaf.path).map(|id| scenario.inputs.get(id));
    let state = match (input, &leaf.kind) {
        (Some(input), _) if input.assumed => State::Assumed,
        (Some(input), _) if input.distribution.is_fixed() => State::Fixed,
        (Some(input), _) if input.unknown => State::Unknown,
        (Some(Input { distribution: Distribution::Fixed(_), .. }), _) => State::Fixed,
        (Some(_), _) => State::Varies,
        (None, Kind::Value(_) | Kind::Whole(_)) if leaf.place.is_some() => State::Fixed,
        (None, _) => State::Word,
    };
    let source = match &leaf.told {
        _ if leaf.of_part.is_some() => leaf.of_part.clone(),
        Told::Value(text) => Some(text.split_whitespace().collect::<Vec<_>>().join(" ")),
        _ => leaf.place.as_ref().map(|place| scenario.text[place.clone()].trim().to_owned()),
    };
    let source = source.filter(|text| !text.contains('\n'));
    Field { leaf, input, state, source, show: scenario.show }
}

/// Whether another key is written in the place of this one.
fn excluded(path: &str, language: &Group, written: &[String]) -> bool {
    let (parent, name) = path.rsplit_once('.').unwrap_or(("", path));
    let Some(group) = group_at(language, parent) else { return false };
    let is_written = |other: &&str| {
        let other =
            if parent.is_empty() { (*other).to_owned() } else { format!("{parent}.{other}") };
        written.iter().any(|path| {
            path.strip_prefix(&other).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        })
    };
    let chosen = |names: &&Vec<&str>| names.contains(&name);
    group.choices.iter().filter(chosen).any(|names| names.iter().any(is_written))
}

/// The group of keys at a path.
fn group_at<'l>(language: &'l Group, path: &str) -> Option<&'l Group> {
    let mut group = language;
    let mut names = path.split('.').filter(|name| !name.is_empty());
    while let Some(name) = names.next() {
        let kind = &group.row(name)?.kind;
        if matches!(kind, Kind::Names(_)) {
            names.next()?;
        }
        group = kind.group()?;
    }
    Some(group)
}
