//! Why a distribution could not be made.

use std::fmt;

/// Why a distribution could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum DistributionError {
    /// A parameter is NaN or infinite.
    NotFinite,
    /// A parameter that must be > 0 is not.
    NotPositive {
        /// Which one.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// The ends are not in rising order.
    Order,
    /// Too few values.
    TooFew {
        /// How many are needed.
        needed: usize,
        /// How many were given.
        given: usize,
    },
    /// There are not as many weights as values.
    Lengths {
        /// Number of values.
        values: usize,
        /// Number of weights.
        weights: usize,
    },
    /// A weight is negative or not finite, or all are zero.
    Weights,
    /// Less than 1e-12 of the probability lies between the bounds.
    NothingLeft,
}

impl fmt::Display for DistributionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite => f.write_str("a value is not a finite number"),
            Self::NotPositive { what, value } => {
                write!(f, "the {what} must be greater than 0, not {value}")
            }
            Self::Order => f.write_str("the values are not in rising order"),
            Self::TooFew { needed, given } => {
                write!(f, "at least {needed} values are needed, not {given}")
            }
            Self::Lengths { values, weights } => {
                write!(f, "there are {values} values but {weights} weights")
            }
            Self::Weights => f.write_str("weights must be 0 or more, and not all 0"),
            Self::NothingLeft => f.write_str("practically nothing lies between the bounds"),
        }
    }
}

impl std::error::Error for DistributionError {}

/// Refuses NaN and infinities.
pub(super) fn finite(values: &[f64]) -> Result<(), DistributionError> {
    if values.iter().all(|v| v.is_finite()) { Ok(()) } else { Err(DistributionError::NotFinite) }
}

/// Refuses what is not finite and > 0.
pub(super) fn positive(what: &'static str, value: f64) -> Result<(), DistributionError> {
    finite(&[value])?;
    if value > 0.0 { Ok(()) } else { Err(DistributionError::NotPositive { what, value }) }
}
