//! An interval for anything that two sets of strikes have in common, from
//! fixed batches of draws.

use super::Impact;
use crate::estimate::Moments;

/// Draws are dealt to so many batches by their number.
pub(super) const BATCHES: u64 = 20;

/// Fewest strikes of either side in a batch.
const FEWEST: usize = 5;

/// A number with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// From all strikes.
    pub estimate: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// `measure` of all strikes, with Student's interval from its values in 20
/// batches; both sides of a batch hold the same draws, so that what the draws
/// have in common falls out. `None` where a batch is too small.
pub(super) fn interval(
    claim: &[Impact],
    rig: &[Impact],
    measure: impl Fn(&[Impact], &[Impact]) -> Option<f64>,
) -> Option<Interval> {
    let values: Moments = (0..BATCHES)
        .map(|batch| {
            let (claim, rig) = (of(claim, batch), of(rig, batch));
            let enough = claim.len() >= FEWEST && rig.len() >= FEWEST;
            enough.then(|| measure(&claim, &rig)).flatten()
        })
        .collect::<Option<_>>()?;
    let [mean, low, high] = values.student();
    let estimate = measure(claim, rig)?;
    Some(Interval { estimate, low: estimate + (low - mean), high: estimate + (high - mean) })
}

fn of(impacts: &[Impact], batch: u64) -> Vec<Impact> {
    impacts.iter().filter(|impact| impact.draw % BATCHES == batch).copied().collect()
}
