//! What is not known of a rig before it has shot.

use crate::math;

/// Prior of the share of the push's energy that arrives in speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Efficiency {
    /// Beta distribution: the push is known, losses are not.
    Beta {
        /// First shape parameter, > 1.
        a: f64,
        /// Second shape parameter, > 1.
        b: f64,
    },
    /// Lognormal: the push itself is doubtful.
    LogNormal {
        /// Median, > 0.
        median: f64,
        /// Standard deviation of the logarithm, > 0.
        sd: f64,
    },
}

impl Efficiency {
    /// Range of the logarithm outside which the prior is left out.
    #[must_use]
    pub(crate) fn ln_range(&self) -> (f64, f64) {
        match *self {
            Self::Beta { a, b } => {
                let mean = a / (a + b);
                let half = 6.5 * (mean * (1.0 - mean) / (a + b + 1.0)).sqrt();
                (math::ln((mean - half).max(0.05)), math::ln((mean + half).min(0.9999)))
            }
            Self::LogNormal { median, sd } => {
                (math::ln(median) - 5.0 * sd, math::ln(median) + 5.0 * sd)
            }
        }
    }

    /// Log density of `t = ln e`.
    #[must_use]
    pub(crate) fn ln_density(&self, t: f64) -> f64 {
        match *self {
            Self::Beta { a, b } => {
                let ln_beta = math::lgamma(a) + math::lgamma(b) - math::lgamma(a + b);
                // The density of e, times de/dt = e.
                a * t + (b - 1.0) * math::ln(-math::expm1(t)) - ln_beta
            }
            Self::LogNormal { median, sd } => ln_normal(t, math::ln(median), sd),
        }
    }

    /// 5, 50 and 95 % of the efficiency.
    #[must_use]
    pub fn quantiles(&self) -> [f64; 3] {
        match *self {
            Self::LogNormal { median, sd } => {
                [-1.644_854, 0.0, 1.644_854].map(|z| median * math::exp(z * sd))
            }
            Self::Beta { .. } => {
                let (low, high) = self.ln_range();
                let cells = 2000;
                let width = (high - low) / f64::from(cells);
                let middle = |i: u32| low + width * (f64::from(i) + 0.5);
                let density: Vec<f64> =
                    (0..cells).map(|i| math::exp(self.ln_density(middle(i)))).collect();
                let total: f64 = density.iter().sum();
                [0.05, 0.5, 0.95].map(|p| {
                    let mut sum = 0.0;
                    let at = density.iter().take_while(|d| {
                        sum += **d;
                        sum < p * total
                    });
                    math::exp(middle(u32::try_from(at.count()).unwrap_or(0)))
                })
            }
        }
    }
}

/// What a scatter turns out to be over what was told or guessed, at the median. What
/// is told is most often of a few shots on a good day: a scatter twice as large may
/// not leave the bands of the first shots more often than they say (judgement, held
/// by the table of coverage).
const FOUND: f64 = 2.0;

/// Prior of the shot-to-shot scatter: standard deviation of ln(speed).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scatter {
    /// As told or guessed.
    pub told: f64,
    /// Median of what it may turn out to be.
    pub median: f64,
    /// Standard deviation of its logarithm.
    pub sd: f64,
}

impl Scatter {
    /// Told or guessed, with the standard deviation of the logarithm of what it may
    /// turn out to be.
    #[must_use]
    pub fn about(told: f64, sd: f64) -> Self {
        Self { told, median: FOUND * told, sd }
    }
}

/// Everything that is not known of a rig before it has shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// Share of the push that arrives.
    pub efficiency: Efficiency,
    /// Standard deviation of an extra power of the setting: the energy may
    /// grow as the model's times `setting ^ delta`.
    pub exponent: f64,
    /// Shot-to-shot scatter.
    pub scatter: Scatter,
    /// Standard deviation of the logarithm of the moving mass; only told apart
    /// from the efficiency by shots of different objects.
    pub own_mass: f64,
}

/// Log density of a normal distribution.
pub(super) fn ln_normal(x: f64, mean: f64, sd: f64) -> f64 {
    const LN_SQRT_TAU: f64 = 0.918_938_533_204_672_7;
    let z = (x - mean) / sd;
    -0.5 * z * z - math::ln(sd) - LN_SQRT_TAU
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::{Beta, Continuous};

    #[test]
    fn the_beta_prior_is_the_density_of_the_efficiency() {
        let prior = Efficiency::Beta { a: 8.0, b: 4.0 };
        let reference = Beta::new(8.0, 4.0).unwrap();
        for e in [0.4, 0.7, 0.9_f64] {
            let ours = math::exp(prior.ln_density(math::ln(e))) / e;
            assert!((ours / reference.pdf(e) - 1.0).abs() < 1e-10);
        }
    }

    #[test]
    fn the_quantiles_are_in_order_and_hold_ninety_percent() {
        // Beta(8, 4): median 0.676 (its mean is 2/3).
        let [low, middle, high] = Efficiency::Beta { a: 8.0, b: 4.0 }.quantiles();
        assert!(low < middle && middle < high);
        assert!((middle - 0.676).abs() < 0.005, "{middle}");
    }
}
