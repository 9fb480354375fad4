//! Problems with exact answers, for tests and benchmarks of the methods.
//!
//! Probabilities were computed by quadrature at 15 digits or better. The
//! four-branch and the deceptive problem are published challenge problems
//! (Waarts 2000; number 110 of the TNO reliability challenge).

use super::LimitState;
use crate::{math::exp, uncertain::normal_cdf};
use std::f64::consts::SQRT_2;

/// A problem with an exact answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Problem {
    /// The sum of all coordinates over the root of their number exceeds beta.
    Linear {
        /// Distance from the origin.
        beta: f64,
        /// Number of coordinates.
        dimension: usize,
    },
    /// The first two coordinates lie within a disc; the others are idle.
    Disc {
        /// Radius of the disc: 0.25.
        radius: f64,
        /// Distance of its centre from the origin: 4.
        offset: f64,
        /// Number of coordinates, at least 2.
        dimension: usize,
    },
    /// A chain of up to four windows, each on two coordinates of its own,
    /// scored stage by stage as a claim is; the others are idle.
    Windows {
        /// Number of windows, 1 to 4.
        stages: usize,
        /// Number of coordinates, at least 2 a stage.
        dimension: usize,
    },
    /// Four ways at once, in two coordinates.
    FourBranch {
        /// 6 or 7.
        k: f64,
    },
    /// Two coordinates whose score leads the search away from where most of the
    /// probability lies.
    Deceptive,
}

/// Windows of the chain: two coordinates' ranges each.
const WINDOWS: [[[f64; 2]; 2]; 4] = [
    [[-1.0, 1.0], [-1.0, 1.0]],
    [[0.5, 1.0], [-2.0, 0.0]],
    [[1.5, 2.5], [-0.2, 0.2]],
    [[-0.1, 0.1], [2.0, 9.0]],
];

impl Problem {
    /// The exact probability; NaN for parameters without a known one.
    #[must_use]
    pub fn probability(&self) -> f64 {
        let is = |x: f64, y: f64| (x - y).abs() < 1e-12;
        match *self {
            Self::Linear { beta, .. } => normal_cdf(-beta),
            Self::Disc { radius, offset, .. } if is(radius, 0.25) && is(offset, 4.0) => {
                1.165_897_776_625_3e-5
            }
            Self::Windows { stages, .. } => WINDOWS[..stages]
                .iter()
                .flatten()
                .map(|[low, high]| normal_cdf(-low) - normal_cdf(-high))
                .product(),
            Self::FourBranch { k } if is(k, 7.0) => 0.002_222_795_066_194_44,
            Self::FourBranch { k } if is(k, 6.0) => 0.004_457_331_490_626_49,
            Self::Deceptive => {
                let (a, b) = (normal_cdf(-4.0), normal_cdf(-5.0));
                a + b - a * b
            }
            Self::Disc { .. } | Self::FourBranch { .. } => f64::NAN,
        }
    }

    fn score(&self, u: &[f64]) -> f64 {
        match *self {
            Self::Linear { beta, .. } => beta - u.iter().sum::<f64>() / (u.len() as f64).sqrt(),
            Self::Disc { radius, offset, .. } => {
                ((u[0] - offset) * (u[0] - offset) + u[1] * u[1]).sqrt() - radius
            }
            Self::Windows { stages, .. } => chain_score(u, stages),
            Self::FourBranch { k } => {
                let (sum, gap) = ((u[0] + u[1]) / SQRT_2, u[0] - u[1]);
                let bend = 3.0 + 0.1 * gap * gap;
                (bend - sum).min(bend + sum).min(gap + k / SQRT_2).min(-gap + k / SQRT_2)
            }
            Self::Deceptive => {
                let first = if u[0] <= 3.5 { 0.85 - 0.1 * u[0] } else { 4.0 - u[0] };
                let second = if u[1] <= 2.0 { 2.3 - u[1] } else { 0.5 - 0.1 * u[1] };
                first.min(second)
            }
        }
    }
}

/// Stages less stages passed less exp(-distance to the first window missed).
fn chain_score(u: &[f64], stages: usize) -> f64 {
    for (stage, window) in WINDOWS[..stages].iter().enumerate() {
        let mut squared = 0.0;
        for (u, [low, high]) in u[2 * stage..].iter().zip(window) {
            let outside = (low - u).max(u - high).max(0.0) / (0.5 * (high - low));
            squared += outside * outside;
        }
        if squared > 0.0 {
            return (stages - stage) as f64 - exp(-squared.sqrt());
        }
    }
    -1.0
}

impl LimitState for Problem {
    fn dimension(&self) -> usize {
        match *self {
            Self::Linear { dimension, .. }
            | Self::Disc { dimension, .. }
            | Self::Windows { dimension, .. } => dimension,
            Self::FourBranch { .. } | Self::Deceptive => 2,
        }
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        for (point, score) in points.chunks(self.dimension()).zip(out) {
            *score = self.score(point);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: quadrature at 15 digits.
    #[test]
    fn closed_forms_agree_with_quadrature() {
        for (problem, p) in [
            (Problem::Windows { stages: 1, dimension: 2 }, 0.466_064_942_674_392),
            (Problem::Windows { stages: 2, dimension: 4 }, 0.033_338_231_532_903),
            (Problem::Windows { stages: 3, dimension: 6 }, 3.202_432_576_525_2e-4),
            (Problem::Windows { stages: 4, dimension: 8 }, 5.803_375_000_372_17e-7),
            (Problem::Deceptive, 3.195_788_432_638_79e-5),
        ] {
            assert!((problem.probability() / p - 1.0_f64).abs() < 1e-11, "{problem:?}");
        }
    }
}
