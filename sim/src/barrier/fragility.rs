//! The chance that a blow goes through, as a curve over its size.
//!
//! Two shapes of the same idea. The engine draws from the lognormal; the
//! other is for comparing with published fits. None of them knows anything
//! about a barrier: a curve is as good as the shots behind it.

use crate::{
    math::{ln, pow},
    note::{Kind, Note, Subject},
    uncertain::normal_cdf,
};

/// Its section of the page of trust.
pub(super) const SUBJECT: Subject =
    Subject { key: "fragility", claims: "What a number of shots says of a barrier" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "strength of a barrier",
    how: "lognormal fragility",
    source: "MIL-STD-662F and De Marre 1890 (from memory)",
    kind: Kind::Memory,
    range: "as far as the shots behind the curve",
    leaves_out: "",
};

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

    /// Source: standard normal distribution function, values
    /// computed from them.
    #[test]
    fn the_two_shapes_agree_at_the_median_and_differ_beyond() {
        let lognormal = Fragility::Lognormal { median: 100.0, beta: 0.1 };
        near(lognormal.chance(110.0), 0.829731, 5e-7);
        near(lognormal.chance(90.0), 0.146032, 5e-7);
        near(lognormal.chance(84.833), 0.05, 5e-6);
        near(Fragility::Probit { median: 100.0, deviation: 10.0 }.chance(110.0), 0.841345, 5e-7);
        near(lognormal.chance(0.0), 0.0, 0.0);
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
}
