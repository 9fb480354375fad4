//! How hard each strike arrived, beside the inputs behind it.

use super::{Draws, Order, Progress, Rows, Tally, run_picking};
use crate::chain::Claim;

/// The strikes of an order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrivals {
    /// Per uncertain input, where in its distribution it lay, strike by strike.
    pub ranks: Vec<Vec<f64>>,
    /// Kinetic energy over the ground at the strike, in J.
    pub energy: Vec<f64>,
}

/// Flies an order, tallies it, and keeps what strikes an aimed face.
#[must_use]
pub fn arrivals(claim: &Claim, order: &Order, progress: &impl Progress) -> (Tally, Arrivals) {
    let (tally, struck) = run_picking(claim, order, progress, |outcome| {
        outcome.struck.then_some((outcome.draw, outcome.end_energy))
    });
    let draws = Draws::new(&claim.scenario().inputs, order.seed, &order.changes);
    let mut found =
        Arrivals { ranks: vec![Vec::new(); draws.uncertain().len()], energy: Vec::new() };
    let mut rows = Rows::default();
    for (draw, energy) in struck {
        draws.fill(draw..draw + 1, &mut rows);
        for (column, rank) in found.ranks.iter_mut().zip(&rows.ranks) {
            column.push(*rank);
        }
        found.energy.push(energy);
    }
    (tally, found)
}
