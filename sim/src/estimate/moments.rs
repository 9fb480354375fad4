//! Mean and variance of a stream of values, mergeable.

use super::{LEVEL, student_quantile};

/// Count, mean and sum of squared deviations of values seen one by one.
///
/// Merging two gives the moments of all values. Rounding depends on the order
/// of merging, so a run merges its chunks in index order.
///
/// Source: Chan, Golub & `LeVeque`, The American Statistician 37 (1983).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    n: u64,
    mean: f64,
    m2: f64,
}

impl FromIterator<f64> for Moments {
    fn from_iter<I: IntoIterator<Item = f64>>(values: I) -> Self {
        let mut moments = Self::new();
        values.into_iter().for_each(|value| moments.push(value));
        moments
    }
}

impl Moments {
    /// Of nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a value.
    pub fn push(&mut self, x: f64) {
        self.merge(&Self { n: 1, mean: x, m2: 0.0 });
    }

    /// Adds everything another has seen.
    pub(crate) fn merge(&mut self, other: &Self) {
        if self.n == 0 || other.n == 0 {
            if self.n == 0 {
                *self = *other;
            }
            return;
        }
        let (na, nb) = (self.n as f64, other.n as f64);
        let n = na + nb;
        let d = other.mean - self.mean;
        let share = nb / n;
        self.m2 += other.m2 + d * d * na * share;
        self.mean += d * share;
        self.n += other.n;
    }

    /// How many values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.n
    }

    /// Arithmetic mean; NaN of nothing.
    #[must_use]
    pub fn mean(&self) -> f64 {
        if self.n == 0 { f64::NAN } else { self.mean }
    }

    /// Sample variance (divisor n - 1); NaN below two values.
    #[must_use]
    pub fn variance(&self) -> f64 {
        if self.n < 2 { f64::NAN } else { self.m2 / (self.n - 1) as f64 }
    }

    /// Sample standard deviation; NaN below two values.
    #[must_use]
    pub fn sd(&self) -> f64 {
        self.variance().sqrt()
    }

    /// Standard error of the mean; NaN below two values.
    #[must_use]
    pub(crate) fn standard_error(&self) -> f64 {
        (self.variance() / self.n as f64).sqrt()
    }

    /// The mean with Student's interval at [`LEVEL`]: estimate, lower and upper
    /// end; NaN below two values.
    ///
    /// For values that are independent of each other.
    #[must_use]
    pub(crate) fn student(&self) -> [f64; 3] {
        if self.n < 2 {
            return [self.mean, f64::NAN, f64::NAN];
        }
        let half = student_quantile(0.5 + 0.5 * LEVEL, (self.n - 1) as f64) * self.standard_error();
        [self.mean, self.mean - half, self.mean + half]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(values: &[f64]) -> Moments {
        let mut moments = Moments::new();
        for x in values {
            moments.push(*x);
        }
        moments
    }

    /// Source: numpy, sums of powers of the deviations.
    #[test]
    fn merged_moments_are_those_of_all_values() {
        let a = of(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0]);
        let b = of(&[3.5, -2.0, 8.0, 8.25, 100.0, 0.125]);
        let mut both = a;
        both.merge(&b);
        let near = |x: f64, y: f64| (x - y).abs() <= 1e-12 * y.abs().max(1.0);
        assert!(near(a.mean, 5.5) && near(a.m2, 82.5));
        assert!(near(b.mean, 19.645_833_333_333_332) && near(b.m2, 7_832.575_520_833_334));
        assert!(near(both.mean, 10.804_687_5) && near(both.m2, 8_665.467_773_437_5));
        assert_eq!(both.count(), 16);
    }

    /// Source: NIST `StRD`, univariate data set `NumAcc4`, certified mean
    /// 10000000.2 and sd 0.1. (From memory.)
    #[test]
    fn a_small_spread_on_a_large_mean_survives() {
        let mut values = vec![10_000_000.2];
        for _ in 0..500 {
            values.extend([10_000_000.1, 10_000_000.3]);
        }
        let moments = of(&values);
        assert!((moments.mean() - 10_000_000.2).abs() < 1e-8);
        assert!((moments.sd() - 0.1).abs() < 1e-8);
    }

    #[test]
    fn nothing_has_no_mean() {
        assert!(Moments::new().mean().is_nan());
        assert!(of(&[1.0]).sd().is_nan());
        let mut nothing = Moments::new();
        nothing.merge(&of(&[2.0, 4.0]));
        assert!((nothing.mean() - 3.0).abs() < 1e-15);
    }
}
