//! Two arrangements: how many shots of each show that they differ.
//!
//! Fisher's exact test, two-sided by the sum of tables no more likely than the
//! one seen; the power is exact, over all pairs of counts.

use super::cost::{Bill, Cost};
use crate::{
    estimate::binomial_probability,
    math::{exp, lgamma},
};
use serde::Serialize;

/// Most shots of each arrangement that are looked at.
pub(crate) const MOST_SHOTS: u64 = 400;

/// A comparison with equally many shots of each arrangement.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// Chance of the event in each arrangement.
    pub chances: [f64; 2],
    /// Largest chance of seeing a difference where there is none.
    pub significance: f64,
    /// Shots of each arrangement.
    pub shots_each: u64,
    /// Chance of seeing the difference.
    pub power: f64,
    /// Expected bill.
    pub bill: Bill,
}

impl Comparison {
    /// The smallest comparison with at least the wanted `power`; `None` if it
    /// takes more than `MOST_SHOTS` of each.
    #[must_use]
    pub fn smallest(chances: [f64; 2], significance: f64, power: f64, cost: &Cost) -> Option<Self> {
        (2..=MOST_SHOTS)
            .filter(|n| *n <= 60 || n % 5 == 0)
            .map(|n| Self::with(chances, significance, n, cost))
            .find(|comparison| comparison.power >= power)
    }

    /// A comparison with `shots_each` >= 1 of each.
    #[must_use]
    pub fn with(chances: [f64; 2], significance: f64, shots_each: u64, cost: &Cost) -> Self {
        let n = shots_each as f64;
        Self {
            chances,
            significance,
            shots_each,
            power: power(chances, shots_each, significance),
            bill: cost.bill(2.0 * n, n * (chances[0] + chances[1])),
        }
    }
}

/// Exact power of the two-sided test with `n` shots of each arrangement.
#[must_use]
pub fn power(chances: [f64; 2], n: u64, significance: f64) -> f64 {
    let of = |p: f64| -> Vec<f64> { (0..=n).map(|k| binomial_probability(k, n, p)).collect() };
    let (first, second) = (of(chances[0]), of(chances[1]));
    let ways = Ways::new(n);
    let mut sum = 0.0;
    for hits in 0..=2 * n {
        for x in ways.rejected(hits, significance) {
            if let (Some(a), Some(b)) = (at(&first, x), at(&second, hits - x)) {
                sum += a * b;
            }
        }
    }
    sum
}

fn at(values: &[f64], k: u64) -> Option<f64> {
    values.get(usize::try_from(k).ok()?).copied()
}

/// ln of the numbers of ways to choose from n.
struct Ways {
    n: u64,
    ln: Vec<f64>,
}

impl Ways {
    fn new(n: u64) -> Self {
        let ln_factorial = |k: u64| lgamma(k as f64 + 1.0);
        let ln = (0..=n).map(|k| ln_factorial(n) - ln_factorial(k) - ln_factorial(n - k)).collect();
        Self { n, ln }
    }

    /// Counts in the first arrangement that reject, given all `hits`.
    fn rejected(&self, hits: u64, significance: f64) -> Vec<u64> {
        let range = hits.saturating_sub(self.n)..=hits.min(self.n);
        let ln = |k: u64| at(&self.ln, k).unwrap_or(f64::NEG_INFINITY);
        let top = range.clone().map(|x| ln(x) + ln(hits - x)).fold(f64::NEG_INFINITY, f64::max);
        let mut tables: Vec<(f64, u64)> =
            range.map(|x| (exp(ln(x) + ln(hits - x) - top), x)).collect();
        let total: f64 = tables.iter().map(|table| table.0).sum();
        tables.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut rejected = Vec::new();
        let mut start = 0;
        let mut sum = 0.0;
        // Tables that tie (to rounding) stand or fall together.
        while start < tables.len() {
            let limit = tables[start].0 * (1.0 + 1e-7);
            let end = start + tables[start..].iter().take_while(|t| t.0 <= limit).count();
            sum += tables[start..end].iter().map(|t| t.0 / total).sum::<f64>();
            if sum > significance {
                break;
            }
            rejected.extend(tables[start..end].iter().map(|t| t.1));
            start = end;
        }
        rejected
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::stats_tests::{Alternative, fisher::fishers_exact};

    /// Exact power at 5 %, two-sided, by a general-purpose library.
    #[test]
    fn the_power_matches_the_reference() {
        for (p1, p2, n, expected) in [
            (0.1, 0.5, 20, 0.742_388_783_9),
            (0.2, 0.6, 20, 0.650_224_920_9),
            (0.2, 0.5, 20, 0.409_456_898_0),
            (0.5, 0.9, 15, 0.535_812_338_0),
            (0.05, 0.4, 20, 0.715_859_038_1),
            (0.1, 0.3, 30, 0.371_554_451_9),
        ] {
            let got = power([p1, p2], n, 0.05);
            assert!((got - expected).abs() < 1e-9, "{p1} {p2} {n}: {got}");
        }
    }

    /// Smallest numbers for 80 %: 23, 12, 27, 5, 18 (same source).
    #[test]
    fn the_smallest_comparison_matches_the_reference() {
        for (p1, p2, n) in
            [(0.1, 0.5, 23), (0.1, 0.7, 12), (0.2, 0.6, 27), (0.05, 0.95, 5), (0.3, 0.8, 18)]
        {
            let found = Comparison::smallest([p1, p2], 0.05, 0.8, &Cost::default()).unwrap();
            assert_eq!(found.shots_each, n, "{p1} {p2}");
        }
    }

    #[test]
    fn the_rejected_tables_are_those_of_the_exact_test() {
        let ways = Ways::new(10);
        for hits in 0..=20 {
            let rejected = ways.rejected(hits, 0.05);
            for x in hits.saturating_sub(10)..=hits.min(10) {
                let p = fishers_exact(&[x, 10 - x, hits - x, 10 + x - hits], Alternative::TwoSided)
                    .unwrap();
                assert_eq!(rejected.contains(&x), p <= 0.05, "{hits} {x} {p}");
            }
        }
    }
}
