//! The result of a run as one serialisable, versioned record.
//!
//! Everything a chart or a sentence needs is in here, as numbers in SI units,
//! with the scenario's text and the seed: charts and the page are drawn from
//! findings alone and never simulate, and sentences are made by `answer`.

mod answers;
mod build;
mod by_face;
mod cautions;
mod comparison;
mod contacts;
mod find;
mod ground;
mod hurt;
mod kind;
mod models;
mod paths;
mod record;
mod set_up;
mod sweeps;
mod way;
mod words;

pub(crate) use self::{build::chance as counted_chance, words::meaning};
pub use self::{
    build::{Origin, Things, findings, sketch, things},
    comparison::*,
    find::find,
    ground::MOVED,
    kind::{Kind, Share},
    models::{every_note, subjects},
    record::*,
    set_up::{Blows, Launch, SetUp, Start, in_vacuum, set_up},
    sweeps::*,
};

/// Version of the record's layout; raised when a field changes its meaning.
pub const VERSION: u32 = 2;
