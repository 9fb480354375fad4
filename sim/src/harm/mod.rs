//! Published injury criteria on what arrives.
//!
//! These are population screening numbers of public safety standards, most of
//! them from tests with cadavers of adult men, animals or dummies. They sort
//! claims into classes and keep people out of the way; they clear nothing. Every
//! output that shows one shows [`CAUTION`] beside it.
//!
//! Chest deflection (the viscous criterion, limit 1.0 m/s) needs a dummy's
//! measured history and is never made up here.

pub mod blunt;
pub mod energy;
pub mod head;
mod reading;
pub mod skin;

pub use self::reading::{Reading, read};
pub use crate::scenario::library::{
    Mark,
    criteria::{CRITERIA, Criterion, Quantity, criterion},
};

/// Stands beside every number of this module, word for word.
pub const CAUTION: &str = "Screening value only. It does not clear any stunt, demonstration or \
    test with people in the line of fire. Below the number is not \"safe\": eyes, throat, children \
    and sharp or pointed objects are injured far below it.";
