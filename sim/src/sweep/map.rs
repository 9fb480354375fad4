//! Two knobs over a grid.

use super::{Knob, chances};
use crate::{chain::Claim, engine::Progress, estimate::Proportion};

/// A sweep over two knobs.
#[derive(Clone, Debug, PartialEq)]
pub struct Map {
    /// Values of the first knob.
    pub across: Vec<f64>,
    /// Values of the second.
    pub up: Vec<f64>,
    /// Chance of the claim, `up` x `across`, row-major.
    pub chances: Vec<Proportion>,
    /// Flights at each point.
    pub flights: u64,
}

/// Flies the claim at every pair of values; `None` if it was stopped early.
#[must_use]
pub fn map(
    claim: &Claim,
    knobs: [&Knob; 2],
    [across, up]: [&[f64]; 2],
    seed: u64,
    flights: u64,
    progress: &impl Progress,
) -> Option<Map> {
    let mut found = Vec::with_capacity(across.len() * up.len());
    for &high in up {
        for &along in across {
            let mut changes = knobs[0].turned_to(along);
            changes.extend(knobs[1].turned_to(high));
            let chance = chances(claim, seed, flights, changes, progress).claim();
            if chance.n < flights {
                return None;
            }
            found.push(chance);
        }
    }
    Some(Map { across: across.to_vec(), up: up.to_vec(), chances: found, flights })
}
