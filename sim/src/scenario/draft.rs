//! A scenario put together in code.

use super::{Gate, Scenario, parse};
use crate::diagnostic::Diagnostic;
use std::{fmt, path::Path};

/// A scenario put together in code: the keys and values that a file would
/// have, read by the same reader, with the same checks and errors.
///
/// Its text, for those errors to point into, is what it displays as.
///
/// ```
/// use longodds_sim::scenario::{Draft, Gate};
/// let scenario = Draft::new("A dropped spanner lands on the workbench.")
///     .with("object.shape.rod.length", "25 cm")
///     .with("object.shape.rod.diameter", "20 mm")
///     .with("object.mass.between", ["0.4 kg", "0.5 kg"])
///     .with("release.dropped.height", "6 m")
///     .with("release.dropped.nose_up.range", ["-90 deg", "90 deg"])
///     .with("target.stands.at.normal.mean", "0 m")
///     .with("target.stands.at.normal.sd", "0.5 m")
///     .with("target.faces.bench.centre", ["0 m", "0 m", "0.9 m"])
///     .with("target.faces.bench.rake", "90 deg")
///     .with("target.faces.bench.width", "0.6 m")
///     .with("target.faces.bench.height", "0.6 m")
///     .with("target.faces.bench.aim", true)
///     .chain(&[Gate::Released, Gate::Reaches, Gate::Strikes])
///     .check();
/// assert_eq!(scenario.map_err(|problems| problems[0].to_string()).unwrap().chain.len(), 3);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Draft(Said);

impl Draft {
    /// With the claim in words and nothing else.
    #[must_use]
    pub fn new(claim: &str) -> Self {
        Self(Said::Group(Vec::new())).with("claim", claim)
    }

    /// Says what stands at a key, `from.group.to.key`; what was said there
    /// before is forgotten.
    #[must_use]
    pub fn with(mut self, key: &str, value: impl Into<Said>) -> Self {
        let mut at = &mut self.0;
        for name in key.split('.') {
            at = at.entry(name);
        }
        *at = value.into();
        self
    }

    /// The gates of the claim, in order.
    #[must_use]
    pub fn chain(self, gates: &[Gate]) -> Self {
        let gates: Vec<Said> = gates.iter().map(|gate| gate.name().into()).collect();
        self.with("chain", Said::List(gates))
    }

    /// Reads and checks it, as [`parse`] does a file.
    ///
    /// # Errors
    /// As [`parse`], with places in the draft's text.
    pub fn check(&self) -> Result<Scenario, Vec<Diagnostic>> {
        parse(&self.to_string(), Path::new(""))
    }
}

impl fmt::Display for Draft {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Said::Group(entries) => entries.iter().try_for_each(|(key, value)| {
                quoted(f, key)?;
                writeln!(f, ": {value}")
            }),
            other => other.fmt(f),
        }
    }
}

/// What a key of a [`Draft`] holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// Words, a name, or a quantity with its unit.
    Words(String),
    /// A number or a truth value as it is.
    Bare(String),
    /// Several, in order.
    List(Vec<Said>),
    /// Keys and what they hold.
    Group(Vec<(String, Said)>),
}

impl Said {
    /// The entry of this name; makes a group of what is none.
    fn entry(&mut self, name: &str) -> &mut Self {
        if !matches!(self, Self::Group(_)) {
            *self = Self::Group(Vec::new());
        }
        let Self::Group(entries) = self else { return self };
        let place = entries.iter().position(|(key, _)| key == name).unwrap_or_else(|| {
            entries.push((name.to_owned(), Self::Group(Vec::new())));
            entries.len() - 1
        });
        &mut entries[place].1
    }
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut between = "";
        let mut comma = || std::mem::replace(&mut between, ", ");
        match self {
            Self::Words(words) => quoted(f, words),
            Self::Bare(value) => f.write_str(value),
            Self::List(items) => {
                f.write_str("[")?;
                items.iter().try_for_each(|item| write!(f, "{}{item}", comma()))?;
                f.write_str("]")
            }
            Self::Group(entries) => {
                f.write_str("{")?;
                for (key, value) in entries {
                    f.write_str(comma())?;
                    quoted(f, key)?;
                    write!(f, ": {value}")?;
                }
                f.write_str("}")
            }
        }
    }
}

fn quoted(f: &mut fmt::Formatter<'_>, words: &str) -> fmt::Result {
    write!(f, "{}", serde_json::Value::from(words))
}

impl From<&str> for Said {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

impl From<f64> for Said {
    fn from(value: f64) -> Self {
        Self::Bare(value.to_string())
    }
}

impl From<bool> for Said {
    fn from(value: bool) -> Self {
        Self::Bare(value.to_string())
    }
}

impl<T: Into<Self>, const N: usize> From<[T; N]> for Said {
    fn from(items: [T; N]) -> Self {
        Self::List(items.into_iter().map(Into::into).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dropped() -> Draft {
        Draft::new("A ball \"drops\" on a mat.")
            .with("object.shape.sphere.diameter", "70 mm")
            .with("object.mass", "0.2 kg")
            .with("release.dropped.height", "2 m")
            .with("target.stands.at", "0 m")
            .with("target.faces.mat.centre", ["0 m", "0 m", "0.1 m"])
            .with("target.faces.mat.rake", "90 deg")
            .with("target.faces.mat.width", "1 m")
            .with("target.faces.mat.height", "1 m")
            .with("target.faces.mat.aim", true)
            .chain(&[Gate::Released, Gate::Reaches, Gate::Strikes])
    }

    #[test]
    fn a_draft_is_the_scenario_that_its_text_is() {
        let scenario = dropped().check().unwrap();
        assert_eq!(scenario.claim, "A ball \"drops\" on a mat.");
        let mass = scenario.inputs.find("object.mass").unwrap();
        assert!((scenario.inputs.get(mass).distribution.mean() - 0.2).abs() < 1e-15);
        let spread = dropped().with("object.mass.between", ["0.1 kg", "0.3 kg"]).check().unwrap();
        let mass = spread.inputs.find("object.mass").unwrap();
        assert!(!spread.inputs.get(mass).distribution.is_fixed());
    }

    #[test]
    fn what_is_wrong_is_told_as_of_a_file() {
        let draft =
            dropped().with("object.mass", "2 furlong").with("target.faces.mat.widht", "1 m");
        let problems = draft.check().unwrap_err();
        let file = parse(&draft.to_string(), Path::new("")).unwrap_err();
        assert_eq!(problems.len(), 2);
        assert_eq!(format!("{problems:?}"), format!("{file:?}"));
        assert!(problems.iter().all(|problem| problem.label.is_some()));
    }
}
