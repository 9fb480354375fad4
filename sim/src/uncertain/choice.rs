//! One of a few values, by weight.

use super::error::{DistributionError, finite};

/// One of a few values. Values are kept in rising order, so that a larger
/// uniform never gives a smaller value.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    values: Vec<f64>,
    /// Chance of this value or a smaller one; the last is 1.
    upto: Vec<f64>,
}

impl Choice {
    /// From values and weights of the same number.
    ///
    /// Values of weight 0 are left out, equal values are joined.
    ///
    /// # Errors
    /// Without values, with lengths that differ, values that are not finite,
    /// weights that are negative or not finite, or weights that are all zero.
    pub fn new(values: &[f64], weights: &[f64]) -> Result<Self, DistributionError> {
        finite(values)?;
        if values.is_empty() {
            return Err(DistributionError::TooFew { needed: 1, given: 0 });
        }
        if values.len() != weights.len() {
            return Err(DistributionError::Lengths {
                values: values.len(),
                weights: weights.len(),
            });
        }
        let total: f64 = weights.iter().sum();
        let all_fair = weights.iter().all(|w| *w >= 0.0);
        if !all_fair || !total.is_finite() || total <= 0.0 {
            return Err(DistributionError::Weights);
        }
        let mut pairs: Vec<(f64, f64)> =
            values.iter().copied().zip(weights.iter().copied()).filter(|p| p.1 > 0.0).collect();
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut choice = Self { values: Vec::new(), upto: Vec::new() };
        let mut sum = 0.0;
        for (value, weight) in pairs {
            sum += weight;
            if choice.values.last().is_some_and(|last| *last >= value) {
                choice.values.pop();
                choice.upto.pop();
            }
            choice.values.push(value);
            choice.upto.push(sum / total);
        }
        if let Some(last) = choice.upto.last_mut() {
            *last = 1.0;
        }
        Ok(choice)
    }

    /// The values in rising order.
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The chance of each value, in the same order.
    #[must_use]
    pub fn chances(&self) -> Vec<f64> {
        (0..self.values.len()).map(|i| self.chance(i)).collect()
    }

    pub(super) fn single(&self) -> Option<f64> {
        if self.values.len() == 1 { Some(self.values[0]) } else { None }
    }

    fn chance(&self, i: usize) -> f64 {
        if i == 0 { self.upto[0] } else { self.upto[i] - self.upto[i - 1] }
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        let last = self.values.len() - 1;
        let i = self.upto.iter().position(|p| u <= *p).unwrap_or(last);
        self.values[i]
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        let below = self.values.partition_point(|v| *v <= x);
        if below == 0 { 0.0 } else { self.upto[below - 1] }
    }

    pub(super) fn cdf_below(&self, x: f64) -> f64 {
        let below = self.values.partition_point(|v| *v < x);
        if below == 0 { 0.0 } else { self.upto[below - 1] }
    }

    pub(super) fn mean(&self) -> f64 {
        self.values.iter().enumerate().map(|(i, v)| v * self.chance(i)).sum()
    }

    pub(super) fn sd(&self) -> f64 {
        let mean = self.mean();
        let variance: f64 = self
            .values
            .iter()
            .enumerate()
            .map(|(i, v)| (v - mean) * (v - mean) * self.chance(i))
            .sum();
        variance.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_come_in_proportion_to_their_weights() {
        let d = Choice::new(&[2.0, 1.0, 5.0], &[3.0, 1.0, 4.0]).unwrap();
        assert_eq!(d.chances(), [0.125, 0.375, 0.5]);
        for (u, value) in [(0.1, 1.0), (0.2, 2.0), (0.49, 2.0), (0.51, 5.0), (0.999, 5.0)] {
            assert!((d.quantile(u) - value).abs() < 1e-15, "{u}");
        }
        assert!((d.cdf(2.0) - 0.5).abs() < 1e-15);
        assert!((d.cdf_below(2.0) - 0.125).abs() < 1e-15);
        assert!((d.mean() - 3.375).abs() < 1e-15);
    }

    #[test]
    fn equal_values_are_joined_and_idle_ones_dropped() {
        let d = Choice::new(&[1.0, 1.0, 9.0], &[1.0, 2.0, 0.0]).unwrap();
        assert_eq!(d.single(), Some(1.0));
    }

    #[test]
    fn weights_must_be_fair() {
        assert_eq!(Choice::new(&[1.0, 2.0], &[1.0, -1.0]), Err(DistributionError::Weights));
        assert_eq!(Choice::new(&[1.0], &[0.0]), Err(DistributionError::Weights));
        assert_eq!(Choice::new(&[1.0], &[f64::NAN]), Err(DistributionError::Weights));
        assert!(matches!(Choice::new(&[1.0], &[]), Err(DistributionError::Lengths { .. })));
    }
}
