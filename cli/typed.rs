//! Quantities on the command line: what clap calls to read them.

use longodds_sim::quantity::{Dimension, QuantityError, Show, parse};

/// A quantity as typed.
#[derive(Clone, Debug)]
pub(crate) struct Typed {
    /// SI value.
    pub(crate) value: f64,
    /// As typed.
    pub(crate) text: String,
}

fn read(text: &str, wanted: Dimension) -> Result<Typed, String> {
    let value = parse(text, wanted).map_err(|error: QuantityError| {
        format!("expected {}: {}", wanted.with_article(), error.help(wanted))
    })?;
    if value > 0.0 {
        Ok(Typed { value, text: text.to_owned() })
    } else {
        Err("must be above zero".to_owned())
    }
}

pub(crate) fn length(text: &str) -> Result<Typed, String> {
    read(text, Dimension::Length)
}

pub(crate) fn speed(text: &str) -> Result<Typed, String> {
    read(text, Dimension::Speed)
}

pub(crate) fn frequency(text: &str) -> Result<Typed, String> {
    read(text, Dimension::Frequency)
}

pub(crate) fn time(text: &str) -> Result<Typed, String> {
    read(text, Dimension::Time)
}

/// A share between 0 and 1, both excluded: `5 %` or `0.05`.
pub(crate) fn share(text: &str) -> Result<f64, String> {
    let value = parse(text, Dimension::Ratio)
        .map_err(|error| format!("expected a share: {}", error.help(Dimension::Ratio)))?;
    if value > 0.0 && value < 1.0 { Ok(value) } else { Err("must lie between 0 and 1".into()) }
}

/// A weight between 0 and 1, both included.
pub(crate) fn weight(text: &str) -> Result<f64, String> {
    let value = parse(text, Dimension::Ratio)
        .map_err(|error| format!("expected a weight: {}", error.help(Dimension::Ratio)))?;
    if (0.0..=1.0).contains(&value) { Ok(value) } else { Err("must lie between 0 and 1".into()) }
}

/// A signed length.
pub(crate) fn offset(text: &str) -> Result<Typed, String> {
    let value = parse(text, Dimension::Length)
        .map_err(|error| format!("expected a length: {}", error.help(Dimension::Length)))?;
    Ok(Typed { value, text: text.to_owned() })
}

/// An angle, any sign.
pub(crate) fn angle(text: &str) -> Result<Typed, String> {
    let value = parse(text, Dimension::Angle)
        .map_err(|error| format!("expected an angle: {}", error.help(Dimension::Angle)))?;
    Ok(Typed { value, text: text.to_owned() })
}

/// Imperial if any of the texts is in feet, inches, yards or miles.
pub(crate) fn units_of<'a>(texts: impl Iterator<Item = &'a Typed>) -> Show {
    const IMPERIAL: [&str; 12] =
        ["ft", "foot", "feet", "in", "inch", "inches", "yd", "yard", "yards", "mi", "mph", "ft/s"];
    let mut units = texts.flat_map(|typed| {
        typed.text.split(|c: char| c.is_whitespace() || c.is_ascii_digit() || c == '.')
    });
    if units.any(|unit| IMPERIAL.contains(&unit)) { Show::Imperial } else { Show::Si }
}

/// `si` or `imperial`, on the command line.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub(crate) enum Units {
    /// Metres, kilograms, metres per second.
    Si,
    /// Feet, pounds, miles per hour.
    Imperial,
}

impl From<Units> for Show {
    fn from(units: Units) -> Self {
        match units {
            Units::Si => Self::Si,
            Units::Imperial => Self::Imperial,
        }
    }
}
