//! The longodds engine: everything that computes.
//!
//! One sentence: a scenario text becomes checked SI data, data becomes draws,
//! each draw flies once through a chain of gates, outcomes become findings.
//! The modules stand in that order, and imports run only backwards along it.
//!
//! ```
#![doc = include_str!("../examples/ask.rs")]
//! ```
//!
//! A claim can be put together in code as well ([`scenario::Draft`]), and a
//! single draw be followed from its random numbers to what became of it
//! ([`engine::fly_one`]).
//!
//! All quantities are `f64` in SI base or coherent derived units (m, kg, s,
//! rad, m/s, N, J, Pa). Other units exist in [`quantity`] only. The crate
//! prints nothing, writes nothing, and reads only the files a scenario names.

pub use longodds_flight::{aero, body, flight, lane, math, note, world};

pub mod answer;
pub mod barrier;
pub mod chain;
pub mod compare;
pub mod contact;
pub mod diagnostic;
pub mod drivers;
pub mod engine;
pub mod estimate;
pub mod exclusion;
pub mod filming;
pub mod findings;
pub mod harm;
pub mod quantity;
pub mod release;
pub mod rig;
pub mod sampling;
pub mod scenario;
pub mod study;
pub mod sweep;
pub mod text;
pub mod threshold;
pub mod trials;
pub mod uncertain;
pub mod words;
