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
use crate::note::{Kind, Note, Subject};
pub use crate::scenario::library::criteria::{CRITERIA, Criterion, HEAD_KIND, Quantity, criterion};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "harm", claims: "What injures a person" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "harm",
    how: "a published criterion on what arrives",
    source: "the criterion's own (some from memory)",
    kind: Kind::Memory,
    range: "a screening number for keeping people away",
    leaves_out: "who is struck where; below it is not safe",
};

/// Stands beside every number of this module, word for word.
pub const CAUTION: &str = "Screening value only. It does not clear any stunt, demonstration or \
    test with people in the line of fire. Below the number is not \"safe\": eyes, throat, children \
    and sharp or pointed objects are injured far below it.";

/// How well a criterion of this name is known here; `None` for a threshold that
/// the scenario tells.
#[must_use]
pub fn kind(name: &str) -> Option<Kind> {
    match criterion(name) {
        Some(known) => Some(known.mark),
        None => (name == "head_hic").then_some(HEAD_KIND),
    }
}
