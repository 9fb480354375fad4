//! First-order indices from a retained sample, by ranks.

use super::{Index, designed::ROUNDING};
use crate::estimate::Moments;

/// Parts of the sample from whose spread intervals come.
const PARTS: usize = 20;

/// Fewest flights in a part.
const FEWEST: usize = 10;

/// [`rank_first_order`] of each input with a 95 % interval, from the spread
/// between 20 parts of the sample.
///
/// `columns`: per input, one value per flight; `y`: the outcome of each flight.
/// `None` with fewer than 200 flights, where a part does not vary, or where the
/// whole does not but for rounding.
#[must_use]
pub fn first_orders(columns: &[Vec<f64>], y: &[f64]) -> Option<Vec<Index>> {
    (y.len() >= PARTS * FEWEST && varies(y))
        .then(|| columns.iter().map(|x| with_interval(x, y)).collect())?
}

/// Whether values differ by more than rounding.
#[must_use]
pub fn varies(y: &[f64]) -> bool {
    let ends = y
        .iter()
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], y| [low.min(*y), high.max(*y)]);
    ends[1] - ends[0] > ROUNDING * ends[0].abs().max(ends[1].abs())
}

fn with_interval(x: &[f64], y: &[f64]) -> Option<Index> {
    let size = y.len() / PARTS;
    let parts: Moments = (0..PARTS)
        .map(|k| k * size..(k + 1) * size)
        .map(|part| rank_first_order(&x[part.clone()], &y[part]))
        .collect();
    let [mean, low, high] = parts.student();
    let estimate = rank_first_order(x, y);
    let index = Index { estimate, low: estimate + (low - mean), high: estimate + (high - mean) };
    (index.low.is_finite() && index.high.is_finite()).then_some(index)
}

/// Share of the variance of `y` that the expectation given `x` explains, by the
/// rank estimator: without bins, unbiased also for rare outcomes.
///
/// `x`, `y`: one value per flight, at least three. NaN where `y` does not vary.
/// The standard error is about 1 / sqrt(flights).
///
/// Source: Gamboa, Gremaud, Klein & Lagnoux, "Global sensitivity analysis: a
/// new generation of mighty estimators based on rank statistics" (2020). (From
/// memory.)
#[must_use]
pub fn rank_first_order(x: &[f64], y: &[f64]) -> f64 {
    let order = order(x);
    let n = y.len() as f64;
    let mean = y.iter().sum::<f64>() / n;
    let (mut neighbours, mut squares) = (0.0, 0.0);
    for (i, a) in order.iter().enumerate() {
        let b = order[(i + 1) % order.len()];
        neighbours += (y[*a] - mean) * (y[b] - mean);
        squares += (y[*a] - mean) * (y[*a] - mean);
    }
    neighbours / squares
}

/// Indices by rising value; ties by index.
fn order(values: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        drivers::designed::ishigami,
        sampling::{Domain, Stream},
    };

    /// Independent points and Ishigami's outcome of them.
    fn sample(seed: u64, count: u64) -> (Vec<Vec<f64>>, Vec<f64>) {
        let stream = Stream::new(seed, Domain::DRAWS);
        let mut columns = vec![Vec::new(); 3];
        let mut y = Vec::new();
        for draw in 0..count {
            let mut row = [0.0; 3];
            stream.fill(draw, &[0, 1, 2], &mut row);
            y.push(ishigami(&row));
            for (column, u) in columns.iter_mut().zip(row) {
                column.push(u);
            }
        }
        (columns, y)
    }

    /// 300 intervals at 95 %: 285 cover on average, with a standard deviation of
    /// 3.8 if they were independent; the three of one sample are not.
    #[test]
    fn intervals_cover_as_often_as_they_say() {
        let exact = [0.313_905, 0.442_411, 0.0];
        let covered: usize = (0..100)
            .map(|seed| {
                let (columns, y) = sample(seed, 2000);
                let found = first_orders(&columns, &y).unwrap();
                let holds = |(index, x): (&Index, f64)| index.low <= x && x <= index.high;
                found.iter().zip(exact).filter(|&pair| holds(pair)).count()
            })
            .sum();
        assert!(covered >= 265, "{covered}");
    }

    #[test]
    fn a_small_sample_has_no_intervals() {
        let (columns, y) = sample(1, 199);
        assert_eq!(first_orders(&columns, &y), None);
    }

    /// Source: exact Ishigami indices.
    #[test]
    fn the_ishigami_function_has_its_known_indices() {
        let (columns, y) = sample(6, 100_000);
        let exact = [0.313_905, 0.442_411, 0.0];
        for (x, first) in columns.iter().zip(exact) {
            // Four standard deviations.
            assert!((rank_first_order(x, &y) - first).abs() < 0.02);
        }
    }
}
