//! Flights in groups that share what is not known.

use super::{Change, Draws, Flock, Progress, Rows, fly_rows};
use crate::chain::Claim;
use rayon::prelude::*;

/// Flights of a group that are flown in a row.
const PIECE: u64 = 1024;

/// Flies a group of `each` draws for every world: the unknown inputs lie where
/// the world has them (0..1 in their distributions, in the order of the
/// inputs), the varying ones are drawn for every flight. Gives (held, flights)
/// of each; a run that is stopped leaves flights out.
///
/// The varying inputs take the numbers of draws 0.. of the seed, so that groups
/// differ by what is unknown and by chance, and the first draws are those of a
/// plain run. Correlation comes in afterwards, as in every draw.
#[must_use]
pub fn grouped(
    claim: &Claim,
    seed: u64,
    changes: &[Change],
    (worlds, each): (&[Vec<f64>], u64),
    progress: &impl Progress,
) -> Vec<(u64, u64)> {
    let inputs = &claim.scenario().inputs;
    let draws = Draws::new(inputs, seed, changes);
    let places = draws.uncertain().iter().enumerate();
    let unknown: Vec<usize> =
        places.filter(|(_, place)| inputs.list()[**place].unknown).map(|(k, _)| k).collect();
    let fly = |(rows, flock): &mut (Rows, Flock), (world, from, to): (usize, u64, u64)| {
        if progress.stop() {
            return (world, 0, 0);
        }
        let first = world as u64 * each;
        let mut points = draws.points(first + from..first + to);
        for point in points.chunks_exact_mut(draws.uncertain().len().max(1)) {
            for (k, value) in unknown.iter().zip(&worlds[world]) {
                point[*k] = *value;
            }
        }
        draws.fill_from(&points, rows);
        let (outcomes, _) = fly_rows(claim, &rows.values, 0, claim.settings(), flock);
        let held = outcomes.iter().filter(|outcome| outcome.stopped_at.is_none()).count();
        progress.flown(to - from);
        (world, held as u64, outcomes.len() as u64)
    };
    let pieces: Vec<(usize, u64, u64)> = (0..worlds.len())
        .flat_map(|world| {
            let starts = (0..each.div_ceil(PIECE)).map(|i| i * PIECE);
            starts.map(move |from| (world, from, each.min(from + PIECE)))
        })
        .collect();
    let flown: Vec<_> = pieces.into_par_iter().map_init(Default::default, fly).collect();
    let mut counts = vec![(0, 0); worlds.len()];
    for (world, held, flights) in flown {
        counts[world].0 += held;
        counts[world].1 += flights;
    }
    counts
}
