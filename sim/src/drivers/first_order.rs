//! First-order indices from a retained sample, by ranks.

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

/// Chatterjee's xi: 0 where `y` does not depend on `x`, 1 where it is a function
/// of it. Not a share of variance.
///
/// `x`, `y`: one value per flight, at least three, few ties in `y`.
///
/// Source: Chatterjee, Journal of the American Statistical Association 116
/// (2021). (From memory.)
#[must_use]
pub fn rank_correlation_xi(x: &[f64], y: &[f64]) -> f64 {
    let mut rank = vec![0.0; y.len()];
    for (r, i) in order(y).into_iter().enumerate() {
        rank[i] = r as f64;
    }
    let n = y.len() as f64;
    let steps: f64 = order(x).windows(2).map(|w| (rank[w[1]] - rank[w[0]]).abs()).sum();
    1.0 - 3.0 * steps / (n * n - 1.0)
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

    /// Source: exact Ishigami indices; xi from 100 000 points with a reference
    /// implementation (0.1761, 0.3634, 0.0237, standard deviation 0.002).
    #[test]
    fn the_ishigami_function_has_its_known_indices() {
        let stream = Stream::new(6, Domain::DRAWS);
        let mut columns = vec![Vec::new(); 3];
        let mut y = Vec::new();
        for draw in 0..100_000 {
            let mut row = [0.0; 3];
            stream.fill(draw, &[0, 1, 2], &mut row);
            y.push(ishigami(&row));
            for (column, u) in columns.iter_mut().zip(row) {
                column.push(u);
            }
        }
        let exact = [(0.313_905, 0.1761), (0.442_411, 0.3634), (0.0, 0.0237)];
        for (x, (first, xi)) in columns.iter().zip(exact) {
            // Four standard deviations.
            assert!((rank_first_order(x, &y) - first).abs() < 0.02);
            assert!((rank_correlation_xi(x, &y) - xi).abs() < 0.01);
        }
    }
}
