//! Quantiles of a stream of values, to half a percent of the value.

use super::bins::Bins;
use crate::math::{exp, ln};

/// Relative accuracy of every quantile.
const ACCURACY: f64 = 0.005;

/// Counts of values in bins that widen with the value, so that any quantile is
/// known to half a percent of itself.
///
/// Merging adds integers: the same values in any order and any chunking give
/// the same record and the same answers.
///
/// Source: the logarithmic histogram of Masson, Rim & Lee, Proceedings of the
/// VLDB Endowment 12 (2019). (From memory.)
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sketch {
    positive: Bins,
    negative: Bins,
    zero: u64,
    count: u64,
    strays: u64,
    ends: Option<(f64, f64)>,
}

impl Sketch {
    /// Of nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a value. What is not finite is counted apart.
    pub fn push(&mut self, x: f64) {
        if !x.is_finite() {
            self.strays += 1;
            return;
        }
        self.count += 1;
        let (low, high) = self.ends.unwrap_or((x, x));
        self.ends = Some((low.min(x), high.max(x)));
        if x.abs() < f64::MIN_POSITIVE {
            self.zero += 1;
        } else if x > 0.0 {
            self.positive.add(bin(x), 1);
        } else {
            self.negative.add(bin(-x), 1);
        }
    }

    /// Adds everything another has seen.
    pub(crate) fn merge(&mut self, other: &Self) {
        self.positive.merge(&other.positive);
        self.negative.merge(&other.negative);
        self.zero += other.zero;
        self.count += other.count;
        self.strays += other.strays;
        self.ends = match (self.ends, other.ends) {
            (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
            (a, b) => a.or(b),
        };
    }

    /// How many finite values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.count
    }

    /// How many values that were not finite.
    #[must_use]
    pub fn strays(&self) -> u64 {
        self.strays
    }

    /// Smallest and largest value, exact.
    #[must_use]
    pub fn ends(&self) -> Option<(f64, f64)> {
        self.ends
    }

    /// The smallest value that a share `q` of the values do not exceed, `q` in
    /// \[0, 1\], within half a percent; `None` of nothing.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a rank, from 1 to the count"
    )]
    pub fn quantile(&self, q: f64) -> Option<f64> {
        let (low, high) = self.ends?;
        let rank = (q * self.count as f64).ceil().clamp(1.0, self.count as f64) as u64;
        if rank <= 1 {
            return Some(low);
        }
        if rank >= self.count {
            return Some(high);
        }
        let mut below = 0;
        let mut reached = |n: u64| {
            below += n;
            below >= rank
        };
        let negative = self.negative.iter().rev().find(|(_, n)| reached(*n));
        let value = if let Some((i, _)) = negative {
            -middle(i)
        } else if reached(self.zero) {
            0.0
        } else {
            self.positive.iter().find(|(_, n)| reached(*n)).map_or(high, |(i, _)| middle(i))
        };
        Some(value.clamp(low, high))
    }
}

/// ln of the ratio of neighbouring bins' ends.
fn step() -> f64 {
    ln((1.0 + ACCURACY) / (1.0 - ACCURACY))
}

/// The bin of a value > 0.
#[expect(clippy::cast_possible_truncation, reason = "within 75 000 of 0")]
fn bin(x: f64) -> i64 {
    (ln(x) / step()).ceil() as i64
}

/// The value that is within the accuracy of everything in a bin.
fn middle(bin: i64) -> f64 {
    exp(step() * bin as f64) * (1.0 - ACCURACY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{Domain, Stream};

    /// Source: the definition, evaluated by hand for accuracy 0.005.
    #[test]
    fn bins_are_where_the_definition_puts_them() {
        assert_eq!(bin(123.456), 482);
        assert_eq!(bin(1e-3), -690);
        assert_eq!(bin(7e6), 1577);
        assert!((middle(482) - 123.350_219_867_893).abs() < 1e-9);
    }

    #[test]
    fn quantiles_are_within_half_a_percent_and_order_does_not_matter() {
        let stream = Stream::new(3, Domain::DRAWS);
        let mut values: Vec<f64> = (0..20_001).map(|i| -ln(stream.uniform(i, 0)) - 0.5).collect();
        let mut whole = Sketch::new();
        for x in &values {
            whole.push(*x);
        }
        let mut merged = Sketch::new();
        for chunk in values.rchunks(777) {
            let mut part = Sketch::new();
            for x in chunk.iter().rev() {
                part.push(*x);
            }
            merged.merge(&part);
        }
        assert_eq!(whole, merged);
        values.sort_by(f64::total_cmp);
        for (q, rank) in
            [(0.0, 0), (0.001, 20), (0.3, 6000), (0.5, 10_000), (0.999, 19_980), (1.0, 20_000)]
        {
            let (found, exact) = (whole.quantile(q).unwrap(), values[rank]);
            assert!((found - exact).abs() <= 0.005_001 * exact.abs(), "{q}: {found} {exact}");
        }
    }

    #[test]
    fn strays_are_counted_apart() {
        let mut sketch = Sketch::new();
        assert_eq!(sketch.quantile(0.5), None);
        for x in [f64::NAN, f64::INFINITY, 0.0, 2.0] {
            sketch.push(x);
        }
        assert_eq!((sketch.count(), sketch.strays()), (2, 2));
        assert_eq!(sketch.quantile(0.5), Some(0.0));
    }
}
