//! Flights in groups that share what is not known.

use super::{Change, Draws, Flock, Progress, Rows, fly_rows};
use crate::{
    chain::Claim,
    sampling::{Domain, Stream},
};
use rayon::prelude::*;

/// Flies `groups` groups of `each` draws: the unknown inputs are drawn once for
/// a group, the varying ones for every flight. Gives (held, flights) of each
/// group; a run that is stopped leaves groups out.
///
/// The varying inputs take the numbers of draws 0.. of the seed, so that groups
/// differ by what is unknown and by chance, and the first draws are those of a
/// plain run. Correlation comes in afterwards, as in every draw.
#[must_use]
pub fn grouped(
    claim: &Claim,
    seed: u64,
    changes: &[Change],
    [groups, each]: [u64; 2],
    progress: &impl Progress,
) -> Vec<(u64, u64)> {
    let inputs = &claim.scenario().inputs;
    let draws = Draws::new(inputs, seed, changes);
    let unknown: Vec<(usize, u32)> = draws
        .uncertain()
        .iter()
        .enumerate()
        .map(|(k, place)| (k, &inputs.list()[*place]))
        .filter(|(_, input)| input.unknown)
        .map(|(k, input)| (k, input.slot))
        .collect();
    let slots: Vec<u32> = unknown.iter().map(|(_, slot)| *slot).collect();
    let stream = Stream::new(seed, Domain::UNKNOWN);
    let fly = |(rows, flock): &mut (Rows, Flock), group: u64| {
        if progress.stop() {
            return (0, 0);
        }
        let mut shared = vec![0.5; slots.len()];
        stream.fill(group, &slots, &mut shared);
        let mut points = draws.points(group * each..(group + 1) * each);
        for point in points.chunks_exact_mut(draws.uncertain().len().max(1)) {
            for ((k, _), value) in unknown.iter().zip(&shared) {
                point[*k] = *value;
            }
        }
        draws.fill_from(&points, rows);
        let (outcomes, _) = fly_rows(claim, &rows.values, 0, claim.settings(), flock);
        let held = outcomes.iter().filter(|outcome| outcome.stopped_at.is_none()).count();
        progress.flown(each);
        (held as u64, outcomes.len() as u64)
    };
    (0..groups).into_par_iter().map_init(Default::default, fly).collect()
}
