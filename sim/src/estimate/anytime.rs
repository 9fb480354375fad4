//! An interval for a chance that holds however often it is looked at.
//!
//! `{p : M(p) < 1/α}` with the mixture `M = Σ w B(a+k, b+n−k)/B(a, b) / (p^k
//! (1−p)^(n−k))` of Beta(1/2, b), b = 1/2, 50, 5,000, 500,000: by Ville's inequality
//! p is outside at any look, ever, no oftener than α. Robbins, Ann. Math. Statist. 41
//! (1970) (second-hand); Howard, Ramdas and others, Ann. Statist. 49 (2021)
//! (second-hand). It is wider than the interval at the end of a fixed plan, and is
//! for looking on while flights are flown.

use super::beta::ln_beta;
use crate::math::{exp, ln, log1p};

const A: f64 = 0.5;
const B: [f64; 4] = [0.5, 50.0, 5e3, 5e5];

/// Ends of the interval at this level after `k` successes of `n`.
#[must_use]
pub fn anytime(k: u64, n: u64, level: f64) -> [f64; 2] {
    let (hits, misses) = (k as f64, n.saturating_sub(k) as f64);
    let parts = B.map(|b| ln_beta(A + hits, b + misses) - ln_beta(A, b) - ln(B.len() as f64));
    let most = parts.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let mixture = most + ln(parts.into_iter().map(|part| exp(part - most)).sum());
    let times = |count: f64, ln_p: f64| if count > 0.0 { count * ln_p } else { 0.0 };
    let inside =
        |p: f64| mixture - times(hits, ln(p)) - times(misses, log1p(-p)) < -ln(1.0 - level);
    let middle = hits / (hits + misses).max(1.0);
    let end = |mut outside: f64| {
        let mut held = middle;
        for _ in 0..200 {
            let p = 0.5 * (held + outside);
            if inside(p) { held = p } else { outside = p }
        }
        held
    };
    [if k == 0 { 0.0 } else { end(0.0) }, if k >= n { 1.0 } else { end(1.0) }]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        estimate::{LEVEL, Proportion},
        sampling::{Domain, Stream},
    };

    /// Source: the same mixture by mpmath with 40 digits, level 95 %.
    #[test]
    fn the_ends_are_those_of_the_mixture() {
        for (n, k, low, high) in [
            (100, 0, 0.0, 0.033_600_434_44),
            (100, 1, 2.902_630_303e-5, 0.076_509_070_31),
            (100, 50, 0.320_329_415_6, 0.679_670_584_4),
            (1000, 100, 0.066_344_682_31, 0.142_125_859_7),
            (10_000, 140, 0.009_987_684_747, 0.018_948_779_53),
            (100_000, 1, 2.406_041_44e-8, 8.127_138_333e-5),
            (1_000_000, 0, 0.0, 4.804_371_449e-6),
            (1_000_000, 140, 9.979_222_407e-5, 1.897_812_466e-4),
        ] {
            let found = anytime(k, n, LEVEL);
            assert!((found[0] - low).abs() <= 1e-8 * low, "{k} of {n}: {found:?}");
            assert!((found[1] - high).abs() <= 1e-8 * high, "{k} of {n}: {found:?}");
        }
        let nothing = anytime(0, 0, LEVEL);
        assert!(nothing[0] <= 0.0 && nothing[1] >= 1.0);
    }

    proptest::proptest! {
        /// It holds the share that was seen, and is hardly ever narrower than the
        /// interval of a single look, and then by little.
        #[test]
        fn it_is_no_narrower_than_one_look(n in 1_u64..2_000_000, share in 0.0..1.0_f64) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
            let k = ((n as f64) * share * share * share) as u64;
            let [low, high] = anytime(k, n, LEVEL);
            let one = Proportion::clopper_pearson(k, n, LEVEL);
            proptest::prop_assert!(low <= one.estimate && one.estimate <= high);
            proptest::prop_assert!(high - low >= 0.9 * (one.high - one.low), "{k} of {n}");
        }
    }

    /// Looked at after every flight: 400 runs at 5 % miss 20 at most on average; more
    /// than 34 once in a thousand.
    #[test]
    fn it_holds_at_every_look() {
        let stream = Stream::new(12, Domain::DRAWS);
        for p in [0.3, 0.02] {
            let missed = (0..400_u64).filter(|run| {
                let mut k = 0;
                (1..=600_u64).any(|n| {
                    k += u64::from(stream.uniform(run * 1000 + n, 0) < p);
                    let [low, high] = anytime(k, n, LEVEL);
                    p < low || p > high
                })
            });
            assert!(missed.count() <= 34, "{p}");
        }
    }
}
