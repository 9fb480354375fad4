//! The run: wave after wave of chunks, each chunk on whatever core is free.

use super::{Draws, Flock, Order, Rows, Tally, fly_rows};
use crate::chain::Claim;
use rayon::prelude::*;
use std::ops::Range;

/// How a run is watched from outside.
pub trait Progress: Sync {
    /// Called from any thread when this many more flights are done.
    fn flown(&self, flights: u64);
    /// Asked between waves: should the run stop with what it has?
    fn stop(&self) -> bool;
    /// Told when it becomes known how many flights there will be in all.
    fn expect(&self, _flights: u64) {}
}

/// Nobody watches.
#[derive(Clone, Copy, Debug)]
pub struct Unwatched;

impl Progress for Unwatched {
    fn flown(&self, _flights: u64) {}

    fn stop(&self) -> bool {
        false
    }
}

/// Flies the draws of an order and tallies their outcomes.
///
/// Stopped early, it holds the first waves of the order, whole.
#[must_use]
pub fn run(claim: &Claim, order: &Order, progress: &impl Progress) -> Tally {
    let draws = Draws::new(&claim.scenario().inputs, order.seed, &order.changes);
    let new = || Tally::new(claim, &draws);
    let mut tally = new();
    for wave in order.waves() {
        if progress.stop() {
            break;
        }
        let flown = Order::chunks(wave)
            .into_par_iter()
            .fold(
                || (new(), Room::default()),
                |(mut tally, mut room), chunk| {
                    let flights = chunk.end - chunk.start;
                    fly_chunk(claim, &draws, chunk, &mut room, &mut tally);
                    progress.flown(flights);
                    (tally, room)
                },
            )
            .map(|(tally, _)| tally)
            .reduce(new, Tally::merged);
        tally = tally.merged(flown);
    }
    tally
}

/// A worker's own room, used again for chunk after chunk.
#[derive(Default)]
struct Room {
    rows: Rows,
    flock: Flock,
}

fn fly_chunk(claim: &Claim, draws: &Draws, chunk: Range<u64>, room: &mut Room, tally: &mut Tally) {
    let first = chunk.start;
    draws.fill(chunk, &mut room.rows);
    let settings = claim.settings();
    let (outcomes, work) = fly_rows(claim, &room.rows.values, first, settings, &mut room.flock);
    let mut ranks = room.rows.ranks.chunks_exact(draws.uncertain().len().max(1));
    for outcome in outcomes {
        tally.add(outcome, ranks.next().unwrap_or_default());
    }
    tally.count_work(&work);
}
