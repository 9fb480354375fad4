//! The run: wave after wave of chunks, each chunk on whatever core is free.

use super::{Draws, Flock, Order, Rows, Tally, fly_rows};
use crate::chain::{Claim, Outcome};
use rayon::prelude::*;
use std::ops::Range;

/// How a run is watched from outside.
pub trait Progress: Sync {
    /// Called from any thread when this many more flights are done.
    fn flown(&self, flights: u64);
    /// Asked between waves: should the run stop with what it has?
    fn stop(&self) -> bool;
    /// Asked before every few flights: is what is not finished to be thrown away, so
    /// that it ends at once? The flights of the wave under way are then lost.
    fn hurried(&self) -> bool {
        false
    }
    /// Told when it becomes known how many flights there will be in all.
    fn expect(&self, _flights: u64) {}
    /// Told from time to time how many flights of the claim itself held so far.
    fn so_far(&self, _held: u64, _flown: u64) {}
    /// Is this share (0..1) of the time up that there is for all of it? Asked as often as
    /// [`Progress::stop`]; what is not done by then is left out of the answer.
    fn late(&self, _share: f64) -> bool {
        false
    }
    /// Shown the flights of the claim itself so far, the first ones, whole.
    fn seen(&self, _tally: &Tally) {}
    /// Told what is being done, as a part of a sentence: "searching for rare ways".
    fn doing(&self, _what: &'static str) {}
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
/// Stopped early, it holds the first waves of the order, whole: without the one
/// under way where it was hurried.
#[must_use]
pub fn run(claim: &Claim, order: &Order, progress: &impl Progress) -> Tally {
    run_picking(claim, order, progress, |_| None::<()>).0
}

/// [`run`], and the draws that held, in their order.
#[must_use]
pub fn run_held(claim: &Claim, order: &Order, progress: &impl Progress) -> (Tally, Vec<u64>) {
    run_picking(claim, order, progress, |o| o.stopped_at.is_none().then_some(o.draw))
}

/// [`run`], and what is picked from the outcomes, in the order of the draws:
/// for samples that are compared draw by draw. Memory grows with what is
/// picked.
#[must_use]
pub fn run_picking<T: Send>(
    claim: &Claim,
    order: &Order,
    progress: &impl Progress,
    pick: impl Fn(&Outcome) -> Option<T> + Sync,
) -> (Tally, Vec<T>) {
    let draws = Draws::new(&claim.scenario().inputs, order.seed, &order.changes);
    let new = || Tally::new(claim, &draws);
    let (mut tally, mut picked) = (new(), Vec::new());
    for wave in order.waves() {
        if progress.stop() {
            break;
        }
        let whole = wave.end - wave.start;
        let flown = Order::chunks(wave)
            .into_par_iter()
            .fold(
                || (new(), Vec::new(), Room::default()),
                |(mut tally, mut picked, mut room), chunk| {
                    if progress.hurried() {
                        return (tally, picked, room);
                    }
                    let flights = chunk.end - chunk.start;
                    let outcomes = fly_chunk(claim, &draws, chunk, &mut room, &mut tally);
                    let one = |outcome: &Outcome| Some((outcome.draw, pick(outcome)?));
                    picked.extend(outcomes.iter().filter_map(one));
                    progress.flown(flights);
                    (tally, picked, room)
                },
            )
            .map(|(tally, picked, _)| (tally, picked))
            .reduce(|| (new(), Vec::new()), joined);
        if flown.0.flights() < whole {
            break;
        }
        tally = tally.merged(flown.0);
        let mut wave = flown.1;
        wave.sort_unstable_by_key(|(draw, _)| *draw);
        picked.extend(wave.into_iter().map(|(_, value)| value));
    }
    (tally, picked)
}

type Flown<T> = (Tally, Vec<(u64, T)>);

fn joined<T>((tally, mut picked): Flown<T>, (other, more): Flown<T>) -> Flown<T> {
    picked.extend(more);
    (tally.merged(other), picked)
}

/// A worker's own room, used again for chunk after chunk.
#[derive(Default)]
struct Room {
    rows: Rows,
    flock: Flock,
}

fn fly_chunk<'r>(
    claim: &Claim,
    draws: &Draws,
    chunk: Range<u64>,
    room: &'r mut Room,
    tally: &mut Tally,
) -> &'r [Outcome] {
    let first = chunk.start;
    draws.fill(chunk, &mut room.rows);
    let settings = claim.settings();
    let (outcomes, work) = fly_rows(claim, &room.rows.values, first, settings, &mut room.flock);
    let mut ranks = room.rows.ranks.chunks_exact(draws.uncertain().len().max(1));
    for outcome in outcomes {
        tally.add(outcome, ranks.next().unwrap_or_default());
    }
    tally.count_work(&work);
    outcomes
}
