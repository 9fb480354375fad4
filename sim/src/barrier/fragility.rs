//! The chance that a blow goes through, as a curve over its size.
//!
//! Three shapes of the same idea. The engine draws from the lognormal; the
//! others are for comparing with published fits. None of them knows anything
//! about a barrier: a curve is as good as the shots behind it.

use crate::{
    math::{exp, ln, pow},
    uncertain::normal_cdf,
};
use std::f64::consts::PI;

/// Standard normal deviate of 90 %.
const Z90: f64 = 1.281_551_565_544_600_5;

/// The shape of a fragility curve. Sizes of a blow in J, m/s or N s, as the
/// maker of the curve chose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fragility {
    /// `Φ(ln(x/median)/beta)`.
    Lognormal {
        /// Size that half of the blows go through at, > 0.
        median: f64,
        /// Standard deviation of the log of the resistance, > 0.
        beta: f64,
    },
    /// `Φ((x − median)/deviation)`.
    Probit {
        /// Size that half of the blows go through at.
        median: f64,
        /// Standard deviation of the resistance, > 0.
        deviation: f64,
    },
    /// `1/(1 + exp(−(x − median)/scale))`.
    Logistic {
        /// Size that half of the blows go through at.
        median: f64,
        /// Scale, > 0.
        scale: f64,
    },
}

impl Fragility {
    /// The chance that a blow of this size goes through, 0..=1.
    #[must_use]
    pub fn chance(&self, size: f64) -> f64 {
        match *self {
            Self::Lognormal { median, beta } => {
                if size > 0.0 {
                    normal_cdf(ln(size / median) / beta)
                } else {
                    0.0
                }
            }
            Self::Probit { median, deviation } => normal_cdf((size - median) / deviation),
            Self::Logistic { median, scale } => 1.0 / (1.0 + exp(-(size - median) / scale)),
        }
    }

    /// The lognormal through the sizes that 10 % and 90 % go through at.
    #[must_use]
    pub fn between(ten: f64, ninety: f64) -> Self {
        Self::Lognormal { median: (ten * ninety).sqrt(), beta: ln(ninety / ten) / (2.0 * Z90) }
    }

    /// Whether the curve gives a blow of size 0 a chance worth speaking of: a
    /// probit whose deviation is more than 0.3 of its median does.
    #[must_use]
    pub fn doubts_zero(&self) -> bool {
        match *self {
            Self::Lognormal { .. } => false,
            Self::Probit { median, deviation } => deviation > 0.3 * median,
            Self::Logistic { median, scale } => scale * PI / 3.0_f64.sqrt() > 0.3 * median,
        }
    }

    /// The logistic of the same standard deviation as a probit.
    #[must_use]
    pub fn logistic_of_same_deviation(median: f64, deviation: f64) -> Self {
        Self::Logistic { median, scale: deviation * 3.0_f64.sqrt() / PI }
    }

    /// The logistic nearest in shape (smallest greatest difference) to a
    /// probit.
    #[must_use]
    pub fn logistic_of_same_shape(median: f64, deviation: f64) -> Self {
        Self::Logistic { median, scale: deviation / 1.702 }
    }

    /// A lognormal over speed as one over energy for a missile of `mass`, in
    /// kg: twice the spread. `None` for the other shapes.
    #[must_use]
    pub fn over_energy(&self, mass: f64) -> Option<Self> {
        match *self {
            Self::Lognormal { median, beta } => {
                Some(Self::Lognormal { median: 0.5 * mass * median * median, beta: 2.0 * beta })
            }
            Self::Probit { .. } | Self::Logistic { .. } => None,
        }
    }
}

/// Upper 95 % bound on the chance of a perforation after `shots` of one size
/// without any: `1 − 0.05^(1/n)`. 1 if there were none.
#[must_use]
pub fn bound_after_no_perforation(shots: u32) -> f64 {
    if shots == 0 { 1.0 } else { 1.0 - pow(0.05, 1.0 / f64::from(shots)) }
}

/// A measured ballistic limit (V50).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredLimit {
    /// Mean of the speeds, in m/s.
    pub v50: f64,
    /// Zone of mixed results: fastest stopped less slowest through, in m/s;
    /// 0 if they do not overlap.
    pub mixed: f64,
    /// Fastest less slowest of all, in m/s.
    pub spread: f64,
}

/// V50 from equally many of the fastest stopped and the slowest perforating
/// shots, in m/s. `None` if a list is empty or their numbers differ.
///
/// Source: MIL-STD-662F (from memory).
#[must_use]
pub fn measured_limit(stopped: &[f64], through: &[f64]) -> Option<MeasuredLimit> {
    if stopped.is_empty() || stopped.len() != through.len() {
        return None;
    }
    let largest = |list: &[f64]| list.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = |list: &[f64]| list.iter().copied().fold(f64::INFINITY, f64::min);
    let all = stopped.iter().chain(through);
    Some(MeasuredLimit {
        v50: all.sum::<f64>() / (2 * stopped.len()) as f64,
        mixed: (largest(stopped) - least(through)).max(0.0),
        spread: largest(stopped).max(largest(through)) - least(stopped).min(least(through)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// Source: standard normal and logistic distribution functions, values
    /// computed from them.
    #[test]
    fn the_three_shapes_agree_at_the_median_and_differ_beyond() {
        let lognormal = Fragility::Lognormal { median: 100.0, beta: 0.1 };
        near(lognormal.chance(110.0), 0.829731, 5e-7);
        near(lognormal.chance(90.0), 0.146032, 5e-7);
        near(lognormal.chance(84.833), 0.05, 5e-6);
        near(Fragility::Probit { median: 100.0, deviation: 10.0 }.chance(110.0), 0.841345, 5e-7);
        near(Fragility::logistic_of_same_deviation(100.0, 10.0).chance(110.0), 0.859820, 5e-7);
        near(Fragility::logistic_of_same_shape(100.0, 10.0).chance(110.0), 0.845796, 5e-7);
        near(lognormal.chance(0.0), 0.0, 0.0);
    }

    /// Source: quantiles of the lognormal, computed from its definition.
    #[test]
    fn two_quantiles_make_a_curve() {
        let Fragility::Lognormal { median, beta } = Fragility::between(88.0, 112.0) else {
            panic!("it is a lognormal");
        };
        near(beta, 0.0940899, 5e-8);
        near(median, 99.2774, 5e-5);
    }

    #[test]
    fn a_curve_over_speed_and_over_energy_give_the_same_chance() {
        let speed = Fragility::Lognormal { median: 40.0, beta: 0.15 };
        let energy = speed.over_energy(2.0).expect("it is a lognormal");
        near(speed.chance(46.0), energy.chance(46.0 * 46.0), 1e-14);
    }

    /// Source: exact binomial bound, computed from 1 − 0.05^(1/n).
    #[test]
    fn many_stopped_shots_bound_the_chance() {
        for (shots, bound) in [(10, 0.25887), (29, 0.09814), (59, 0.04951), (299, 0.00997)] {
            near(bound_after_no_perforation(shots), bound, 5e-6);
        }
    }

    /// Source: MIL-STD-662F rule (from memory), arithmetic by hand.
    #[test]
    fn a_ballistic_limit_is_the_mean_of_the_mixed_shots() {
        let limit = measured_limit(&[95.0, 98.0, 99.0], &[97.0, 101.0, 104.0]).expect("3 + 3");
        assert_eq!(limit, MeasuredLimit { v50: 99.0, mixed: 2.0, spread: 9.0 });
        assert_eq!(measured_limit(&[95.0], &[]), None);
    }

    #[test]
    fn a_wide_probit_doubts_that_nothing_breaks_nothing() {
        assert!(Fragility::Probit { median: 10.0, deviation: 4.0 }.doubts_zero());
        assert!(!Fragility::Probit { median: 10.0, deviation: 2.0 }.doubts_zero());
    }
}
