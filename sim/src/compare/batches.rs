//! An interval for anything that two sets of strikes have in common, from
//! fixed batches of draws.

use super::Impact;
use crate::estimate::{LEVEL, student_quantile};

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
    let values: Vec<f64> = (0..BATCHES)
        .map(|batch| {
            let (claim, rig) = (of(claim, batch), of(rig, batch));
            let enough = claim.len() >= FEWEST && rig.len() >= FEWEST;
            enough.then(|| measure(&claim, &rig)).flatten()
        })
        .collect::<Option<_>>()?;
    let count = BATCHES as f64;
    let mean = values.iter().sum::<f64>() / count;
    let square: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
    let error = (square / (count - 1.0) / count).sqrt();
    let half = student_quantile(0.5 + 0.5 * LEVEL, count - 1.0) * error;
    let estimate = measure(claim, rig)?;
    Some(Interval { estimate, low: estimate - half, high: estimate + half })
}

fn of(impacts: &[Impact], batch: u64) -> Vec<Impact> {
    impacts.iter().filter(|impact| impact.draw % BATCHES == batch).copied().collect()
}
