//! Credit shared between correlated inputs, as far as the outcome is linear.

/// Most inputs: every subset is looked at.
const MOST: usize = 12;

/// Each input's Shapley share of the variance of `sum b_i x_i`, summing to 1.
///
/// `slopes`: b, in units of the outcome per standard deviation of the input.
/// `correlation`: inputs x inputs, row-major, positive definite. `None` for more
/// than 12 inputs, for shapes that do not fit, or for an outcome that does not
/// vary.
///
/// An input without any effect of its own (b = 0) gets a share if it is
/// correlated with one that has: that is how Shapley shares are defined.
///
/// Source: Owen & Prieur, "On Shapley value for measuring importance of
/// dependent inputs" (2017), Gaussian linear case. (From memory.)
#[must_use]
pub fn linear_shapley(slopes: &[f64], correlation: &[f64]) -> Option<Vec<f64>> {
    let d = slopes.len();
    if d == 0 || d > MOST || correlation.len() != d * d {
        return None;
    }
    // Covariance of the outcome with each input, and its variance.
    let with: Vec<f64> =
        (0..d).map(|i| (0..d).map(|j| correlation[i * d + j] * slopes[j]).sum()).collect();
    let variance: f64 = with.iter().zip(slopes).map(|(c, b)| c * b).sum();
    let varies = variance > 0.0;
    if !varies {
        return None;
    }
    let explained: Vec<f64> =
        (0..1_usize << d).map(|set| explained(set, &with, correlation)).collect::<Option<_>>()?;
    let mut shares = vec![0.0; d];
    for (i, share) in shares.iter_mut().enumerate() {
        for (set, value) in explained.iter().enumerate().filter(|(set, _)| set >> i & 1 == 0) {
            let gain = explained[set | 1 << i] - value;
            *share += gain * weight(d, set.count_ones()) / variance;
        }
    }
    Some(shares)
}

/// Chance that exactly this set stands before the input in a random order:
/// s! (d - 1 - s)! / d!.
fn weight(d: usize, before: u32) -> f64 {
    let mut ways = d as f64;
    for i in 0..before {
        ways *= (d as f64 - 1.0 - f64::from(i)) / f64::from(i + 1);
    }
    1.0 / ways
}

/// Variance of the expectation given the inputs of a set: c' R^-1 c over it, by
/// Cholesky's factor.
fn explained(set: usize, with: &[f64], correlation: &[f64]) -> Option<f64> {
    let d = with.len();
    let members: Vec<usize> = (0..d).filter(|i| set >> i & 1 == 1).collect();
    let mut rows: Vec<Vec<f64>> = Vec::new();
    let mut solved: Vec<f64> = Vec::new();
    for (k, i) in members.iter().enumerate() {
        let mut row = Vec::new();
        for (j, other) in members[..k].iter().enumerate() {
            let dot: f64 = row.iter().zip(&rows[j]).map(|(a, b): (&f64, &f64)| a * b).sum();
            row.push((correlation[i * d + other] - dot) / rows[j][j]);
        }
        let rest = correlation[i * d + i] - row.iter().map(|a| a * a).sum::<f64>();
        let positive = rest > 1e-12;
        if !positive {
            return None;
        }
        let dot: f64 = row.iter().zip(&solved).map(|(a, b)| a * b).sum();
        solved.push((with[*i] - dot) / rest.sqrt());
        row.push(rest.sqrt());
        rows.push(row);
    }
    Some(solved.iter().map(|a| a * a).sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: closed form for two inputs (Owen & Prieur 2017):
    /// \[b1^2 (1 - r^2/2) + r b1 b2 + r^2 b2^2/2\] / V.
    #[test]
    fn two_inputs_share_as_the_closed_form_says() {
        for (b, r, share) in [
            ([1.0, 1.0], 0.5, 0.5),
            ([2.0, 1.0], 0.5, 0.660_714_285_714),
            ([1.0, 0.0], 0.8, 0.68),
            ([1.0, 1.0], -0.6, 0.5),
        ] {
            let found = linear_shapley(&b, &[1.0, r, r, 1.0]).unwrap();
            assert!((found[0] - share).abs() < 1e-12, "{found:?}");
            assert!((found[0] + found[1] - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn independent_inputs_get_their_share_of_variance() {
        let found =
            linear_shapley(&[1.0, 2.0, 2.0], &[1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0]);
        let exact = [1.0 / 9.0, 4.0 / 9.0, 4.0 / 9.0];
        for (a, b) in found.unwrap().iter().zip(exact) {
            assert!((a - b).abs() < 1e-12);
        }
    }

    #[test]
    fn what_cannot_be_shared_is_refused() {
        assert_eq!(linear_shapley(&[0.0], &[1.0]), None);
        assert_eq!(linear_shapley(&[1.0, 1.0], &[1.0, 1.0, 1.0, 1.0]), None);
        assert_eq!(linear_shapley(&[1.0; 13], &[0.0; 169]), None);
    }
}
