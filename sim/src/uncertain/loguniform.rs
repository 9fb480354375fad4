//! Every ratio of a range alike.

use super::{
    error::{DistributionError, positive},
    uniform::Uniform,
};
use crate::math::{exp, ln};

/// A positive value whose logarithm is spread evenly between two ends: what is
/// known to a factor only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogUniform(Uniform);

impl LogUniform {
    /// Between two ends.
    ///
    /// # Errors
    /// Unless both are finite and `0 < low < high`.
    pub fn new(low: f64, high: f64) -> Result<Self, DistributionError> {
        positive("low end", low)?;
        positive("high end", high)?;
        Uniform::new(ln(low), ln(high)).map(Self)
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        exp(self.0.quantile(u))
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x > 0.0 { self.0.cdf(ln(x)) } else { 0.0 }
    }

    /// The mean of a power of the value, by the integral of exp.
    fn moment(&self, power: f64) -> f64 {
        let (low, high) = self.0.ends();
        (exp(power * high) - exp(power * low)) / (power * (high - low))
    }

    pub(super) fn mean(&self) -> f64 {
        self.moment(1.0)
    }

    pub(super) fn sd(&self) -> f64 {
        let mean = self.mean();
        (self.moment(2.0) - mean * mean).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ends_are_above_zero() {
        assert!(LogUniform::new(0.0, 3.0).is_err() && LogUniform::new(-1.0, 3.0).is_err());
        assert_eq!(LogUniform::new(3.0, 3.0), Err(DistributionError::Order));
    }

    /// Source: closed form: the middle is the geometric mean.
    #[test]
    fn the_middle_is_the_geometric_mean() {
        let half = LogUniform::new(0.5, 8.0).unwrap();
        assert!((half.quantile(0.5) - 2.0).abs() < 1e-12 && (half.cdf(2.0) - 0.5).abs() < 1e-12);
        assert!(half.cdf(-1.0).abs() < 1e-300);
    }
}
