//! What the unknown inputs leave open.

use super::Ask;
use crate::{
    chain::Claim,
    engine::{Progress, Tally, grouped},
    estimate::TwoLevel,
};

/// Groups, each with one draw of the unknown inputs.
const GROUPS: u64 = 100;

/// Flights of a group: enough for a share, no more than the run itself flew ...
const EACH: [u64; 2] = [10, 1000];

/// ... unless the claim holds so seldom that groups would mostly see nothing:
/// then as many as hold so often on average, up to a limit.
const HELD: u64 = 10;
const MOST: u64 = 5000;

/// Flights in groups; `None` if the scenario has no unknown input, or if so few
/// plain flights held that groups would show nothing.
pub(super) fn groups(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    progress: &impl Progress,
) -> Option<TwoLevel> {
    let inputs = &claim.scenario().inputs;
    let unknown = inputs.uncertain().any(|id| inputs.get(id).unknown);
    if !unknown || tally.passed(claim.gates().len() - 1) == 0 {
        return None;
    }
    let held = tally.passed(claim.gates().len() - 1);
    let seldom = (HELD * tally.flights()).div_ceil(held.max(1)).min(MOST);
    let each = (tally.flights() / GROUPS).clamp(EACH[0], EACH[1]);
    let each = if ask.flights.is_some() { each } else { each.max(seldom) };
    progress.expect(tally.flights() + GROUPS * each);
    Some(TwoLevel::new(grouped(claim, ask.seed, &[], [GROUPS, each], progress)))
}
