//! The bell on the logarithm.

use super::{
    error::{DistributionError, finite, positive},
    normal::{Z95, normal_cdf, normal_quantile},
};
use crate::math::{exp, expm1, ln, log1p};

/// The logarithm is normal: positive values with a long upper tail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogNormal {
    log_mean: f64,
    log_sd: f64,
}

impl LogNormal {
    /// From mean and standard deviation of the natural logarithm.
    ///
    /// # Errors
    /// Unless both are finite and `log_sd > 0`.
    pub fn new(log_mean: f64, log_sd: f64) -> Result<Self, DistributionError> {
        finite(&[log_mean])?;
        positive("standard deviation of the logarithm", log_sd)?;
        Ok(Self { log_mean, log_sd })
    }

    /// From mean and standard deviation of the value itself.
    ///
    /// # Errors
    /// Unless both are finite and > 0.
    pub(crate) fn with_mean_sd(mean: f64, sd: f64) -> Result<Self, DistributionError> {
        positive("mean", mean)?;
        positive("standard deviation", sd)?;
        let variance = log1p((sd / mean) * (sd / mean));
        Self::new(ln(mean) - 0.5 * variance, variance.sqrt())
    }

    /// With 5 % below `low` and 5 % above `high`.
    ///
    /// # Errors
    /// Unless both are finite and `0 < low < high`.
    pub fn between(low: f64, high: f64) -> Result<Self, DistributionError> {
        positive("low end", low)?;
        positive("high end", high)?;
        if low < high {
            Self::new(0.5 * (ln(low) + ln(high)), (ln(high) - ln(low)) / (2.0 * Z95))
        } else {
            Err(DistributionError::Order)
        }
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        self.at_normal(normal_quantile(u))
    }

    pub(super) fn at_normal(&self, z: f64) -> f64 {
        exp(self.log_mean + self.log_sd * z)
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        if x > 0.0 { normal_cdf((ln(x) - self.log_mean) / self.log_sd) } else { 0.0 }
    }

    pub(super) fn mean(&self) -> f64 {
        exp(self.log_mean + 0.5 * self.log_sd * self.log_sd)
    }

    pub(super) fn sd(&self) -> f64 {
        self.mean() * expm1(self.log_sd * self.log_sd).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: scipy.stats.lognorm(s=sqrt(ln 1.0625)) by its definition: mean 4
    /// and sd 1 give ln-variance ln(1 + 1/16).
    #[test]
    fn mean_and_sd_of_the_value_are_kept() {
        let d = LogNormal::with_mean_sd(4.0, 1.0).unwrap();
        assert!((d.mean() - 4.0).abs() < 1e-14);
        assert!((d.sd() - 1.0).abs() < 1e-14);
    }

    #[test]
    fn nine_tenths_lie_between_the_ends() {
        let d = LogNormal::between(2.0, 18.0).unwrap();
        assert!((d.quantile(0.5) - 6.0).abs() < 1e-14);
        assert!((d.cdf(18.0) - 0.95).abs() < 1e-15);
        assert!(matches!(LogNormal::between(0.0, 1.0), Err(DistributionError::NotPositive { .. })));
    }
}
