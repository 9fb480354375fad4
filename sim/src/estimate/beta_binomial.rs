//! Counts of shots to come when the chance itself is known by a Beta(a, b).

use super::beta::ln_beta;
use crate::math::exp;

/// How many of the next `shots` will hit, when the chance of one is a
/// Beta(a, b) variable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BetaBinomial {
    /// Weight of hits, > 0.
    pub a: f64,
    /// Weight of misses, > 0.
    pub b: f64,
    /// Number of shots.
    pub shots: u64,
}

impl BetaBinomial {
    /// P(exactly k of the shots hit).
    #[must_use]
    pub fn exactly(&self, k: u64) -> f64 {
        if k > self.shots {
            return 0.0;
        }
        let (hits, misses) = (k as f64, (self.shots - k) as f64);
        // ln of the number of ways: C(m, k) = 1 / ((m + 1) B(k + 1, m - k + 1)).
        let ways = -crate::math::ln(self.shots as f64 + 1.0) - ln_beta(hits + 1.0, misses + 1.0);
        exp(ways + ln_beta(self.a + hits, self.b + misses) - ln_beta(self.a, self.b))
    }

    /// P(at least k of the shots hit).
    #[must_use]
    pub fn at_least(&self, k: u64) -> f64 {
        // From the end with fewer terms.
        if k > self.shots / 2 {
            (k..=self.shots).map(|i| self.exactly(i)).sum()
        } else {
            1.0 - (0..k).map(|i| self.exactly(i)).sum::<f64>()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: scipy.stats.betabinom, Jeffreys and uniform priors.
    #[test]
    fn the_next_shots_agree_with_a_reference_library() {
        let table = [
            (0, 5, 5, 0.5, 0.284_024_677_579),
            (1, 5, 5, 0.5, 0.660_853_794_643),
            (2, 8, 1, 0.5, 0.277_777_777_778),
            (3, 10, 10, 0.5, 0.931_741_494_399),
            (0, 20, 20, 0.5, 0.290_680_457_590),
            (3, 10, 10, 1.0, 0.944_862_155_388),
        ];
        for (hit, of, shots, prior, chance) in table {
            let (a, b) = (f64::from(hit) + prior, f64::from(of - hit) + prior);
            let next = BetaBinomial { a, b, shots };
            assert!((next.at_least(1) - chance).abs() < 1e-12, "{hit}/{of}");
        }
    }

    /// Source: scipy.stats.betabinom: prior Beta(1.2, 8.8), 3 of 8.
    #[test]
    fn a_surprise_has_a_small_tail() {
        let next = BetaBinomial { a: 1.2, b: 8.8, shots: 8 };
        assert!((next.exactly(3) - 0.067_898_617_281).abs() < 1e-12);
        assert!((next.at_least(3) - 0.109_044_209_173).abs() < 1e-12);
    }

    #[test]
    fn all_counts_together_are_certain() {
        let next = BetaBinomial { a: 0.3, b: 7.0, shots: 30 };
        let sum: f64 = (0..=30).map(|k| next.exactly(k)).sum();
        assert!((sum - 1.0).abs() < 1e-12);
    }
}
