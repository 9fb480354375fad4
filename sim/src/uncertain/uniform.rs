//! Every value of a range alike.

use super::error::{DistributionError, finite};

/// Every value from a low to a high end alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uniform {
    low: f64,
    width: f64,
}

impl Uniform {
    /// Between two ends.
    ///
    /// # Errors
    /// Unless both (and their difference) are finite and `low < high`.
    pub fn new(low: f64, high: f64) -> Result<Self, DistributionError> {
        finite(&[low, high, high - low])?;
        if low < high { Ok(Self { low, width: high - low }) } else { Err(DistributionError::Order) }
    }

    /// The low and the high end.
    #[must_use]
    pub fn ends(&self) -> (f64, f64) {
        (self.low, self.low + self.width)
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        self.low + u * self.width
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        ((x - self.low) / self.width).clamp(0.0, 1.0)
    }

    pub(super) fn mean(&self) -> f64 {
        self.low + 0.5 * self.width
    }

    pub(super) fn sd(&self) -> f64 {
        self.width / 12.0_f64.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_must_have_a_width() {
        assert_eq!(Uniform::new(3.0, 3.0), Err(DistributionError::Order));
        assert_eq!(Uniform::new(f64::NAN, 3.0), Err(DistributionError::NotFinite));
    }
}
