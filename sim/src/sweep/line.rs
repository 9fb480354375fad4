//! One knob over a range.

use super::{Chances, Knob, chances};
use crate::{chain::Claim, engine::Progress};

/// A sweep over one knob.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The points, in the order of the values asked for.
    pub points: Vec<LinePoint>,
    /// Flights at each point.
    pub flights: u64,
}

/// One point of a [`Line`].
#[derive(Clone, Debug, PartialEq)]
pub struct LinePoint {
    /// Where the knob stood, SI (or a factor).
    pub value: f64,
    /// The chances there.
    pub chances: Chances,
}

/// Flies the claim at every value of the knob. Stopped early, the points whose
/// flights were all flown remain.
#[must_use]
pub fn line(
    claim: &Claim,
    knob: &Knob,
    values: &[f64],
    seed: u64,
    flights: u64,
    progress: &impl Progress,
) -> Line {
    let mut points = Vec::new();
    for &value in values {
        let chances = chances(claim, seed, flights, knob.turned_to(value), progress);
        if chances.claim().n < flights {
            break;
        }
        points.push(LinePoint { value, chances });
    }
    Line { points, flights }
}

/// `count` (>= 2) equally spaced values from `low` to `high`.
#[must_use]
pub fn steps(low: f64, high: f64, count: u32) -> Vec<f64> {
    let last = f64::from(count.max(2) - 1);
    (0..count.max(2)).map(|i| low + (high - low) * f64::from(i) / last).collect()
}
