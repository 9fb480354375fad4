//! How many shots, and what may be said after them.
//!
//! [`demonstration`]: so many shots without (or with at most k) events.
//! [`compare`]: two arrangements. [`sequential`]: stop as soon as it is decided.
//! An event is what the plan is about (usually: it went through). At what speed
//! half of the shots go through is asked in [`threshold`](crate::threshold).

pub mod compare;
pub mod cost;
pub mod demonstration;
pub mod judgement;
pub mod sequential;

use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "plans", claims: "How many shots show what" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "plan of shots",
    how: "binomial bounds, sequential tests, thresholds",
    source: "held against a reference library",
    kind: Kind::Library,
    range: "independent shots",
    leaves_out: "",
};
