//! At what level half of the shots have the event: threshold tests.
//!
//! Model: `P(event | x) = Phi((x - mu)/sigma)`, `x` the logarithm of a speed
//! or an energy (or the level itself, where a table does it so). [`Grid`]
//! holds the Bayesian estimate, which is always finite, [`Plan`] chooses the next level, [`imagine()`] shoots a plan in the computer.

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

/// Published drop test, in log10 of the height.
///
/// Source: M. S. Hamada, B. Mang, J. Hoff, Quality Engineering (2019), doi
/// 10.1080/08982112.2018.1551547, Table 1; outcomes rebuilt from the
/// up-and-down rule and confirmed by the published fit.
#[cfg(test)]
pub(crate) fn drop_test() -> Vec<Trial> {
    let heights = [
        25.4, 28.5, 25.4, 28.5, 32.0, 35.9, 32.0, 35.9, 40.3, 35.9, 32.0, 28.5, 32.0, 28.5, 32.0,
        28.5, 32.0, 35.9, 40.3, 35.9, 32.0, 35.9, 40.3, 35.9, 40.3,
    ];
    let events = [0, 1, 0, 0, 0, 1, 0, 0, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 1, 0, 1];
    trials(&heights.map(crate::math::log10), &events)
}
