//! What plain flights meet too seldom, and the likeliest way it happens.

use super::Ask;
use crate::{
    chain::Claim,
    engine::{ClaimState, Progress, Tally, Watched},
    estimate::rare::{
        Effort, Flown, Likeliest, LimitState, RareEvent, likeliest_among, rare_event,
    },
};

/// Fewer held flights than this are too few to lean on.
const FEW: u64 = 20;

/// Above this chance the likeliest way is the everyday one.
const COMMON: f64 = 0.5;

/// The search, if it is needed, and the most likely way, if it is unusual.
pub(super) fn search(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    progress: &impl Progress,
) -> (Option<RareEvent>, Option<Likeliest>) {
    let state = Watched { state: ClaimState::new(claim, &[]), progress };
    let (flown, held) = (tally.flights(), tally.passed(claim.gates().len() - 1));
    if state.dimension() == 0 || flown == 0 {
        return (None, None);
    }
    let effort = Effort::default();
    let kept = || {
        let kept = tally.kept[tally.kept.len() - 1].clone().into_sorted();
        state.state.points_of(ask.seed, kept.into_iter().map(|(draw, ())| draw))
    };
    // A handful of flights that were asked for is no sign of something rare.
    if ask.rare && held < FEW && held * FEW <= flown {
        progress.expect(effort.usual());
        // So few held that all of them are kept.
        let plain = Flown { flights: flown, met: kept() };
        let mut event = rare_event(&state, ask.seed, &plain, &effort);
        let likeliest = event.likeliest.take();
        return (Some(event), likeliest);
    }
    if held == 0 || held as f64 > COMMON * flown as f64 {
        return (None, None);
    }
    (None, likeliest_among(&state, ask.seed, &kept(), effort.polish))
}
