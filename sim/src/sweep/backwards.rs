//! The setting at which the chance is so and so much.

use super::{Knob, chances};
use crate::{
    chain::Claim,
    engine::Progress,
    estimate::{RootSearch, Roots, roots},
};

/// Finds the settings of the knob at which the claim has the chances asked for;
/// `None` if it was stopped early.
///
/// All settings fly the same draws, so that the chance changes with the setting
/// alone.
#[must_use]
pub fn backwards(
    claim: &Claim,
    knob: &Knob,
    asked: &RootSearch,
    seed: u64,
    progress: &impl Progress,
) -> Option<Roots> {
    let count = |value: f64, flights: u64| {
        chances(claim, seed, flights, knob.turned_to(value), progress).claim().k
    };
    let found = roots(asked, count);
    (!progress.stop()).then_some(found)
}
