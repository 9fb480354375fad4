//! The numbers by which a value is told, each with its unit: what can be moved.

use super::Scale;
use longodds_sim::{
    quantity::{Dimension, Show, parse},
    scenario::Input,
    text::{Leaf, Part, Told},
};

/// A number of a value that can be moved.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Handle {
    /// Its path from the field on; empty: the value itself.
    pub(crate) path: String,
    /// What it is (`low`); empty: the value itself.
    pub(crate) name: &'static str,
    /// As it is written.
    pub(crate) text: String,
    /// What it comes to, in SI units.
    pub(crate) value: f64,
    /// What it is counted from, in SI units: 0 but for a standard deviation, which
    /// is from the mean on.
    pub(crate) from: f64,
    /// The unit it is written in.
    pub(crate) scale: Scale,
}

impl Handle {
    /// The value of an input that nobody wrote, in the reader's unit.
    pub(crate) fn of(input: &Input, show: Show) -> Self {
        let value = input.distribution.quantile(0.5);
        let scale = Scale::of("", input.dimension, show);
        Self { path: String::new(), name: "", text: scale.text(value), value, from: 0.0, scale }
    }

    /// Whether it moves along where the whole value is moved.
    pub(crate) fn is_place(&self) -> bool {
        !matches!(self.name, "sd" | "sigma_log" | "shape")
    }
}

/// The numbers of a leaf that can be moved; none where it is told otherwise.
pub(crate) fn handles(leaf: &Leaf<'_>, input: &Input, show: Show) -> Vec<Handle> {
    let one = |path: &str, name, text: &str, dimension: Dimension| {
        let value = parse(text, dimension).ok()?;
        let scale = Scale::of(text, dimension, show);
        let (path, text) = (path.to_owned(), text.to_owned());
        Some(Handle { path, name, text, value, from: 0.0, scale })
    };
    let found: Option<Vec<Handle>> = match &leaf.told {
        Told::Value(text) => one("", "", text, input.dimension).map(|handle| vec![handle]),
        Told::Spread { parts, .. } => parts
            .iter()
            .map(|Part { path, name, text, dimension }| one(path, name, text, *dimension))
            .collect(),
        Told::Nothing | Told::More => None,
    };
    let mut found = found.unwrap_or_default();
    let mean = found.iter().find(|handle| handle.name == "mean").map(|handle| handle.value);
    for handle in found.iter_mut().filter(|handle| handle.name == "sd") {
        handle.from = mean.unwrap_or(0.0);
    }
    found
}
