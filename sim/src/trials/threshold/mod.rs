//! At what level half of the shots have the event: threshold tests.
//!
//! Model: `P(event | x) = Phi((x - mu)/sigma)`, `x` the logarithm of a speed
//! or an energy (or the level itself, where a table does it so). [`fit`] holds
//! the classical estimates, [`Grid`] the Bayesian one that is always finite,
//! [`Plan`] chooses the next level, [`imagine()`] shoots a plan in the computer.

pub mod fit;
mod grid;
mod imagine;
mod plan;

pub use self::{
    grid::{Grid, Prior},
    imagine::{Imagined, imagine},
    plan::Plan,
};

/// One shot at a level, and whether it had the event.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Trial {
    /// Level (the logarithm of a speed or energy).
    pub x: f64,
    /// Did it have the event?
    pub event: bool,
}

/// Trials from levels and zeros and ones.
#[must_use]
pub fn trials(levels: &[f64], events: &[u8]) -> Vec<Trial> {
    levels.iter().zip(events).map(|(&x, &event)| Trial { x, event: event != 0 }).collect()
}
