//! Weibull with two parameters.

use super::error::{DistributionError, positive};
use crate::math::{exp, expm1, lgamma, log1p, pow};

/// P(X > x) = exp(-(x / scale)^shape): the usual law of wind speeds (shape
/// near 2) and of brittle strengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weibull {
    scale: f64,
    shape: f64,
}

impl Weibull {
    /// From scale (the 63.2 % point) and shape.
    ///
    /// # Errors
    /// Unless both are finite and > 0.
    pub fn new(scale: f64, shape: f64) -> Result<Self, DistributionError> {
        positive("scale", scale)?;
        positive("shape", shape)?;
        Ok(Self { scale, shape })
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        self.scale * pow(-log1p(-u), 1.0 / self.shape)
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x > 0.0 { -expm1(-pow(x / self.scale, self.shape)) } else { 0.0 }
    }

    pub(super) fn mean(&self) -> f64 {
        self.scale * exp(lgamma(1.0 + 1.0 / self.shape))
    }

    pub(super) fn sd(&self) -> f64 {
        let first = exp(lgamma(1.0 + 1.0 / self.shape));
        let second = exp(lgamma(1.0 + 2.0 / self.shape));
        self.scale * (second - first * first).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::ContinuousCDF;

    /// Source: the reference library statrs 0.19.
    #[test]
    fn quantiles_agree_with_a_reference_library() {
        let ours = Weibull::new(8.0, 2.2).unwrap();
        let theirs = statrs::distribution::Weibull::new(2.2, 8.0).unwrap();
        for u in [1e-6, 0.01, 0.5, 0.9, 0.9999] {
            assert!((ours.quantile(u) / theirs.inverse_cdf(u) - 1.0).abs() < 1e-12);
        }
    }

    /// Source: Rayleigh law (shape 2): mean = scale sqrt(pi) / 2.
    #[test]
    fn shape_two_has_the_mean_of_a_rayleigh_law() {
        let d = Weibull::new(10.0, 2.0).unwrap();
        assert!((d.mean() - 5.0 * std::f64::consts::PI.sqrt()).abs() < 1e-13);
    }
}
