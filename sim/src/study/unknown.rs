//! What the unknown inputs leave open.

mod deciding;
mod grouped;
mod reused;
mod strata;

pub use self::deciding::{Deciding, Side};

use super::Ask;
use crate::{
    chain::Claim,
    engine::{Progress, Tally},
    estimate::Worlds,
    scenario::InputId,
};

/// The worlds that the unknown inputs leave open.
#[derive(Clone, Debug)]
pub struct Unknown {
    /// The unknown inputs, in the order of [`World::at`](crate::estimate::World::at).
    pub inputs: Vec<InputId>,
    /// The worlds.
    pub worlds: Worlds,
    /// The unknowns by how much of it they decide, the strongest first.
    pub deciding: Vec<Deciding>,
}

/// Flies what it takes, or judges the strikes of the run again where the
/// unknown matters only after them; `None` if the scenario has no unknown
/// input, or if nothing held in any world.
pub(super) fn unknown(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    progress: &impl Progress,
) -> Option<Unknown> {
    let all = &claim.scenario().inputs;
    let inputs: Vec<InputId> = all.uncertain().filter(|id| all.get(*id).unknown).collect();
    if inputs.is_empty() || tally.flights() == 0 {
        return None;
    }
    let behind = claim.behind();
    let after = |id: &InputId| behind.contains(id) && !all.copula().members().contains(&id.0);
    let worlds = if inputs.iter().all(after) {
        reused::worlds(claim, ask, tally, &inputs, progress)
    } else {
        grouped::worlds(claim, ask, tally, &inputs, progress)
    }?;
    let deciding = deciding::deciding(claim, &inputs, &worlds);
    Some(Unknown { inputs, worlds, deciding })
}
