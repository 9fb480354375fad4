//! Unknowns that matter in flight: groups of flights, each in one world.

use super::{Ask, strata::Strata};
use crate::{
    chain::Claim,
    engine::{Progress, Tally, grouped},
    estimate::{Group, Stratum, Worlds},
    scenario::InputId,
};

/// Groups of a scenario whose unknowns all have many values ...
const GROUPS: u32 = 128;

/// ... fewest of a stratum ...
const FEWEST: u32 = 32;

/// ... and more of both for many unknowns: for each term of the fit.
const PER_TERM: u32 = 4;

/// Flights of a run that was told how many: no more than the run itself flew,
/// within these.
const TOLD: [u64; 2] = [2_000, 100_000];

/// Flights of a group otherwise: as many as hold so often on average ...
const HELD: u64 = 10;

/// ... within these for all groups.
const FREE: [u64; 2] = [25_600, 640_000];

/// Fewest flights of a group.
const LEAST: u64 = 10;

pub(super) fn worlds(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    unknown: &[InputId],
    progress: &impl Progress,
) -> Option<Worlds> {
    let strata = Strata::of(&claim.scenario().inputs, unknown);
    let held = tally.passed(claim.gates().len() - 1);
    if held == 0 && strata.cells.len() == 1 {
        return None;
    }
    let of_each = groups(strata.open.len(), strata.cells.len());
    let worlds: Vec<Vec<f64>> =
        strata.cells.iter().flat_map(|cell| cell.worlds(&strata.open, of_each, ask.seed)).collect();
    let count = worlds.len() as u64;
    let seldom = (HELD * tally.flights()).div_ceil(held.max(1)) * count;
    let whole = if ask.flights.is_some() {
        tally.flights().clamp(TOLD[0], TOLD[1])
    } else {
        seldom.clamp(FREE[0], FREE[1])
    };
    let each = (whole / count).max(LEAST);
    progress.expect(count * each);
    let counts = grouped(claim, ask.seed, &[], (&worlds, each), progress);
    if counts.iter().all(|group| group.0 == 0) {
        return None;
    }
    let mut groups = worlds
        .into_iter()
        .zip(counts)
        .map(|(at, (held, flights))| Group { at, held, flights })
        .collect::<Vec<_>>()
        .into_iter();
    let strata: Vec<Stratum> = strata
        .cells
        .iter()
        .map(|cell| Stratum {
            weight: cell.weight,
            open: strata.open.clone(),
            groups: groups.by_ref().take(of_each as usize).collect(),
        })
        .collect();
    Worlds::grouped(&strata, ask.seed)
}

/// Groups of each stratum: enough for a fit with all products to be checked.
fn groups(open: usize, strata: usize) -> u32 {
    if open == 0 {
        return 1;
    }
    let open = u32::try_from(open).unwrap_or(u32::MAX).min(64);
    let paired = open.min(6);
    let terms = 1 + 3 * open + paired * (paired - 1) / 2;
    let share = GROUPS / u32::try_from(strata).unwrap_or(GROUPS).max(1);
    share.max(FEWEST).max(PER_TERM * terms).next_power_of_two()
}

#[cfg(test)]
mod tests {
    use super::groups;

    #[test]
    fn groups_are_enough_for_their_terms() {
        assert_eq!((groups(0, 3), groups(1, 1), groups(3, 1)), (1, 128, 128));
        assert_eq!((groups(2, 8), groups(6, 1)), (32, 256));
        assert_eq!(groups(10, 1), 256);
    }
}
