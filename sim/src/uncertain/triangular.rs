//! From low over likely to high, in straight lines.

use super::error::{DistributionError, finite};

/// Density in straight lines: up from low to likely, down from likely to high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Triangular {
    low: f64,
    likely: f64,
    high: f64,
}

impl Triangular {
    /// From three values.
    ///
    /// # Errors
    /// Unless all are finite, `low <= likely <= high` and `low < high`.
    pub fn new(low: f64, likely: f64, high: f64) -> Result<Self, DistributionError> {
        finite(&[low, likely, high, high - low])?;
        if low <= likely && likely <= high && low < high {
            Ok(Self { low, likely, high })
        } else {
            Err(DistributionError::Order)
        }
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        let (rise, fall, width) =
            (self.likely - self.low, self.high - self.likely, self.high - self.low);
        if u * width < rise {
            self.low + (u * width * rise).sqrt()
        } else {
            self.high - ((1.0 - u) * width * fall).sqrt()
        }
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        let width = self.high - self.low;
        if x <= self.low {
            0.0
        } else if x < self.likely {
            (x - self.low) * (x - self.low) / (width * (self.likely - self.low))
        } else if x < self.high {
            1.0 - (self.high - x) * (self.high - x) / (width * (self.high - self.likely))
        } else {
            1.0
        }
    }

    pub(super) fn mean(&self) -> f64 {
        (self.low + self.likely + self.high) / 3.0
    }

    pub(super) fn sd(&self) -> f64 {
        let (a, b) = (self.likely - self.low, self.high - self.low);
        ((a * a + b * b - a * b) / 18.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::ContinuousCDF;

    /// Source: the reference library statrs 0.19, Triangular(1, 5, 2).
    #[test]
    fn quantiles_agree_with_a_reference_library() {
        let ours = Triangular::new(1.0, 2.0, 5.0).unwrap();
        let theirs = statrs::distribution::Triangular::new(1.0, 5.0, 2.0).unwrap();
        for u in [0.01, 0.2, 0.25, 0.3, 0.9, 0.999] {
            assert!((ours.quantile(u) - theirs.inverse_cdf(u)).abs() < 1e-12);
        }
    }

    #[test]
    fn the_likely_value_may_be_an_end() {
        let d = Triangular::new(0.0, 0.0, 1.0).unwrap();
        assert!((d.cdf(d.quantile(0.3)) - 0.3).abs() < 1e-15);
        assert_eq!(Triangular::new(0.0, 2.0, 1.0), Err(DistributionError::Order));
    }
}
