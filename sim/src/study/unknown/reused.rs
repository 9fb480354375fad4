//! Unknowns that matter only after the flight: the strikes of the run, judged
//! in every world.

use super::{Ask, strata::Strata};
use crate::{
    chain::{Claim, Outcome},
    contact::Touch,
    engine::{Draws, Order, Progress, Rows, Tally, run_picking},
    estimate::Worlds,
    scenario::{Gate, InputId},
};
use rayon::prelude::*;

/// Strikes that are judged again: the ends of the band are then known to about
/// one in a hundred.
const STRIKES: u64 = 2000;

/// Flights that are looked through for them.
const FLIGHTS: [u64; 2] = [2000, 200_000];

/// Worlds in all, and fewest of a stratum.
const WORLDS: u32 = 256;
const FEWEST: u32 = 32;

/// Parts of the flights that show what chance has done.
const BATCHES: u64 = 40;

pub(super) fn worlds(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    unknown: &[InputId],
    progress: &impl Progress,
) -> Option<Worlds> {
    let strikes = claim.gates().iter().position(|gate| *gate > Gate::Strikes);
    let struck = strikes.map_or_else(|| tally.flights(), |place| tally.came(place));
    if struck == 0 {
        return None;
    }
    let wanted = (STRIKES * tally.flights() / struck).clamp(FLIGHTS[0], FLIGHTS[1]);
    let flights = wanted.min(tally.flights()).max(BATCHES);
    progress.expect(flights);
    let pick =
        |outcome: &Outcome| outcome.touch.filter(|_| outcome.struck).map(|t| (outcome.draw, t));
    let (flown, touches) = run_picking(claim, &Order::new(ask.seed, 0..flights), progress, pick);
    if flown.flights() < flights || touches.is_empty() {
        return None;
    }
    let strata = Strata::of(&claim.scenario().inputs, unknown);
    let cells = u32::try_from(strata.cells.len()).unwrap_or(u32::MAX);
    let each = if strata.open.is_empty() { 1 } else { (WORLDS / cells).max(FEWEST) };
    let worlds: Vec<(f64, Vec<f64>)> = strata
        .cells
        .iter()
        .flat_map(|cell| {
            let weight = cell.weight / f64::from(each);
            cell.worlds(&strata.open, each, ask.seed).into_iter().map(move |at| (weight, at))
        })
        .collect();
    let judged =
        Judged { claim, unknown, draws: Draws::new(&claim.scenario().inputs, ask.seed, &[]) };
    let batches: Vec<Vec<f64>> = (0..BATCHES)
        .into_par_iter()
        .map(|batch| {
            let mine = touches.iter().filter(|(draw, _)| draw % BATCHES == batch);
            judged.batch(mine, &worlds, (flights + BATCHES - 1 - batch) / BATCHES)
        })
        .collect();
    Some(Worlds::reused(worlds, &batches, flights, ask.seed))
}

struct Judged<'a> {
    claim: &'a Claim,
    unknown: &'a [InputId],
    draws: Draws<'a>,
}

impl Judged<'_> {
    /// The mean chance of a batch of flights, in every world.
    fn batch<'t>(
        &self,
        touches: impl Iterator<Item = &'t (u64, Touch)>,
        worlds: &[(f64, Vec<f64>)],
        flights: u64,
    ) -> Vec<f64> {
        let inputs = &self.claim.scenario().inputs;
        let values: Vec<Vec<f64>> = worlds
            .iter()
            .map(|(_, at)| {
                let pairs = self.unknown.iter().zip(at);
                pairs.map(|(id, u)| inputs.get(*id).distribution.quantile(*u)).collect()
            })
            .collect();
        let mut sums = vec![0.0; worlds.len()];
        let mut rows = Rows::default();
        for (draw, touch) in touches {
            self.draws.fill(*draw..draw + 1, &mut rows);
            for (sum, values) in sums.iter_mut().zip(&values) {
                for (id, value) in self.unknown.iter().zip(values) {
                    rows.values[id.0] = *value;
                }
                *sum += self.claim.chance_of_blow(touch, &mut rows.values);
            }
        }
        sums.iter().map(|sum| sum / flights as f64).collect()
    }
}
