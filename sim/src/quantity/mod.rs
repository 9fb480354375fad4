//! Numbers with units, as people write them, to and from SI.
//!
//! The only place where units other than SI exist. People write `40 mph`,
//! `8 ft 6 in` and `12 degC`; the engine sees 17.8816 m/s, 2.5908 m and
//! 285.15 K. [`parse()`] and [`read()`] go one way, [`format()`] and [`axis`] the
//! other.

mod dimension;
mod read;
mod units;
mod write;

pub use self::{
    dimension::Dimension,
    read::{QuantityError, parse, read},
    units::accepted,
    write::{Axis, axis, format, significant},
};

use serde::{Deserialize, Serialize};

/// How results are displayed. Inputs carry their own units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Show {
    /// Metres, kilograms, metres per second, joules.
    #[default]
    Si,
    /// Feet and inches, pounds, miles per hour, foot-pounds.
    Imperial,
}
