//! The setting at which the chance is so and so much.

use super::{Knob, chances};
use crate::{
    chain::Claim,
    engine::Progress,
    estimate::{LEVEL, Proportion, RootSearch, Roots, roots},
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
    let chance = |value: f64, flights: u64| {
        let p = chances(claim, seed, flights, knob.turned_to(value), progress).claim();
        Proportion::clopper_pearson(p.k, p.n, LEVEL).left_open(p.open)
    };
    let found = roots(asked, chance);
    (!progress.stop()).then_some(found)
}
