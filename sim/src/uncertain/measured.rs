//! As a sample was measured.

use super::error::{DistributionError, finite};

/// The quantiles of a sample, with straight lines between its values.
///
/// Nothing lies outside the smallest and the largest value measured: a sample
/// of twenty says nothing about one chance in a thousand.
///
/// Source: Hyndman & Fan, The American Statistician 50 (1996), definition 7.
/// (From memory.)
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    sorted: Vec<f64>,
}

impl Measured {
    /// From at least two values in any order.
    ///
    /// # Errors
    /// With fewer than two values, or values that are not finite.
    pub fn new(sample: &[f64]) -> Result<Self, DistributionError> {
        finite(sample)?;
        if sample.len() < 2 {
            return Err(DistributionError::TooFew { needed: 2, given: sample.len() });
        }
        let mut sorted = sample.to_vec();
        sorted.sort_by(f64::total_cmp);
        Ok(Self { sorted })
    }

    /// The sample in rising order.
    #[must_use]
    pub fn sorted(&self) -> &[f64] {
        &self.sorted
    }

    pub(super) fn single(&self) -> Option<f64> {
        let (first, last) = (self.sorted[0], self.sorted[self.sorted.len() - 1]);
        if first < last { None } else { Some(first) }
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 <= place < the number of values"
    )]
    pub(super) fn quantile(&self, u: f64) -> f64 {
        let gaps = self.sorted.len() - 1;
        let place = u.clamp(0.0, 1.0) * gaps as f64;
        let i = (place as usize).min(gaps - 1);
        self.sorted[i] + (place - i as f64) * (self.sorted[i + 1] - self.sorted[i])
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        let gaps = self.sorted.len() - 1;
        let below = self.sorted.partition_point(|v| *v <= x);
        if below == 0 {
            0.0
        } else if below > gaps {
            1.0
        } else {
            let (low, high) = (self.sorted[below - 1], self.sorted[below]);
            ((below - 1) as f64 + (x - low) / (high - low)) / gaps as f64
        }
    }

    pub(super) fn mean(&self) -> f64 {
        let gaps = (self.sorted.len() - 1) as f64;
        self.sorted.windows(2).map(|w| 0.5 * (w[0] + w[1])).sum::<f64>() / gaps
    }

    pub(super) fn sd(&self) -> f64 {
        let (gaps, mean) = ((self.sorted.len() - 1) as f64, self.mean());
        // Second moment of a straight stretch from a to b about the mean.
        let stretch = |w: &[f64]| {
            let (a, b) = (w[0] - mean, w[1] - mean);
            (a * a + a * b + b * b) / 3.0
        };
        (self.sorted.windows(2).map(stretch).sum::<f64>() / gaps).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: numpy.quantile([1, 2, 4, 8], q, method="linear"), whose default
    /// is definition 7.
    #[test]
    fn quantiles_follow_definition_seven() {
        let d = Measured::new(&[8.0, 1.0, 4.0, 2.0]).unwrap();
        for (u, x) in [(0.25, 1.75), (0.5, 3.0), (0.9, 6.8)] {
            assert!((d.quantile(u) - x).abs() < 1e-14, "{u}");
        }
    }

    #[test]
    fn ties_are_allowed() {
        let d = Measured::new(&[3.0, 3.0, 3.0, 9.0]).unwrap();
        assert!((d.quantile(0.5) - 3.0).abs() < 1e-15);
        assert!((d.cdf(3.0) - 2.0 / 3.0).abs() < 1e-15);
    }

    #[test]
    fn one_value_is_no_sample() {
        assert_eq!(Measured::new(&[1.0]), Err(DistributionError::TooFew { needed: 2, given: 1 }));
    }
}
