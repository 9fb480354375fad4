//! One value from each draw that has one, in the order of the draws.

use super::{Draws, Flock, Order, Progress, Rows, fly_rows};
use crate::chain::{Claim, Outcome};
use rayon::prelude::*;

/// Flies an order and picks from each outcome what is wanted of it.
///
/// For samples that are compared draw by draw; memory grows with what is
/// picked. Stopped early, it holds the first waves of the order, whole.
#[must_use]
pub fn collect<T: Send>(
    claim: &Claim,
    order: &Order,
    progress: &impl Progress,
    pick: impl Fn(&Outcome) -> Option<T> + Sync,
) -> Vec<T> {
    let draws = Draws::new(&claim.scenario().inputs, order.seed, &order.changes);
    let mut found = Vec::new();
    for wave in order.waves() {
        if progress.stop() {
            break;
        }
        let picked: Vec<Vec<T>> = Order::chunks(wave)
            .into_par_iter()
            .map(|chunk| {
                let (mut rows, mut flock) = (Rows::default(), Flock::default());
                let (first, flights) = (chunk.start, chunk.end - chunk.start);
                draws.fill(chunk, &mut rows);
                let flown = fly_rows(claim, &rows.values, first, claim.settings(), &mut flock);
                progress.flown(flights);
                flown.0.iter().filter_map(&pick).collect()
            })
            .collect();
        found.extend(picked.into_iter().flatten());
    }
    found
}
