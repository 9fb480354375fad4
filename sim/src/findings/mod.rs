//! The result of a run as one serialisable, versioned record.
//!
//! Everything a chart or a sentence needs is in here, in SI units, with the
//! scenario's text and the seed: charts and the page are drawn from findings
//! alone and never simulate.

mod answers;
mod build;
mod by_face;
mod comparison;
mod contacts;
mod doubt;
mod ground;
mod hurt;
mod kind;
mod models;
mod next;
mod paths;
mod record;
mod story;
mod summary;
mod sweeps;
mod words;

pub use self::{
    build::{Origin, findings},
    comparison::*,
    kind::{Kind, Share},
    record::*,
    summary::{Summary, in_words, show, summary, weakest, why_at_most},
    sweeps::*,
    words::gate_in_words,
};

/// Version of the record's layout; raised when a field changes its meaning.
pub const VERSION: u32 = 1;

/// What [`Chance::method`] says of a count of independent draws.
pub const PLAIN: &str = "plain sampling";
