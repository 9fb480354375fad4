//! Another distribution, openly cut off.

use super::{Distribution, DistributionError, normal_cdf, normal_density, open_unit};

/// Another distribution given that the value lies within bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Truncated {
    inner: Distribution,
    /// P(inner < low bound).
    below: f64,
    /// P(inner <= high bound) - `below`.
    kept: f64,
    low: f64,
    high: f64,
    mean: f64,
    sd: f64,
}

impl Truncated {
    /// See [`Distribution::truncated`].
    pub(super) fn cut_to(
        inner: Distribution,
        low: f64,
        high: f64,
    ) -> Result<Distribution, DistributionError> {
        if low.is_nan() || high.is_nan() {
            return Err(DistributionError::NotFinite);
        }
        if low > high {
            return Err(DistributionError::Order);
        }
        let (below, upto) = (inner.cdf_below(low), inner.cdf(high));
        if below <= 0.0 && upto >= 1.0 {
            return Ok(inner);
        }
        let kept = upto - below;
        if kept < 1e-12 {
            return Err(DistributionError::NothingLeft);
        }
        let mut cut = Self { inner, below, kept, low, high, mean: 0.0, sd: 0.0 };
        (cut.mean, cut.sd) = cut.moments();
        Ok(Distribution::Truncated(Box::new(cut)))
    }

    /// The distribution before the cut.
    #[must_use]
    pub fn inner(&self) -> &Distribution {
        &self.inner
    }

    /// The bounds, infinite where there is none.
    #[must_use]
    pub fn bounds(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// See [`Distribution::chances`].
    pub(super) fn chances(&self) -> Option<Vec<f64>> {
        let Distribution::Choice(choice) = &self.inner else { return None };
        let all = choice.values().iter().zip(choice.chances());
        let kept = all.filter(|(value, _)| (self.low..=self.high).contains(*value));
        Some(kept.map(|(_, chance)| chance / self.kept).collect())
    }

    /// The probability that was cut off at both ends together.
    #[must_use]
    pub fn cut(&self) -> f64 {
        1.0 - self.kept
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        // Rounding of the two probabilities may lead a hair past a bound.
        self.inner.quantile(open_unit(self.below + u * self.kept)).clamp(self.low, self.high)
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        ((self.inner.cdf(x) - self.below) / self.kept).clamp(0.0, 1.0)
    }

    pub(super) fn cdf_below(&self, x: f64) -> f64 {
        ((self.inner.cdf_below(x) - self.below) / self.kept).clamp(0.0, 1.0)
    }

    pub(super) fn mean(&self) -> f64 {
        self.mean
    }

    pub(super) fn sd(&self) -> f64 {
        self.sd
    }

    /// Mean and standard deviation by the trapezoidal rule over a standard
    /// normal variable, where both tails fall off faster than any power.
    fn moments(&self) -> (f64, f64) {
        let (steps, reach) = (1600_i32, 8.0);
        let h = 2.0 * reach / f64::from(steps);
        let (mut weight, mut first, mut second) = (0.0, 0.0, 0.0);
        let shift = self.quantile(0.5);
        for i in 0..=steps {
            let z = -reach + h * f64::from(i);
            let (w, x) = (normal_density(z), self.quantile(normal_cdf(z)) - shift);
            weight += w;
            first += w * x;
            second += w * x * x;
        }
        let mean = first / weight;
        (shift + mean, (second / weight - mean * mean).max(0.0).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: mean and variance of a standard normal above 0,
    /// sqrt(2/pi) and 1 - 2/pi (half-normal, any handbook).
    #[test]
    fn half_a_bell_has_the_half_normal_moments() {
        let d = Distribution::normal(0.0, 1.0).unwrap().truncated(0.0, f64::INFINITY).unwrap();
        let two_over_pi = std::f64::consts::FRAC_2_PI;
        assert!((d.mean() - two_over_pi.sqrt()).abs() < 1e-9);
        assert!((d.sd() - (1.0 - two_over_pi).sqrt()).abs() < 1e-9);
        assert!((d.cut() - 0.5).abs() < 1e-15);
    }

    #[test]
    fn a_bound_that_does_not_bind_changes_nothing() {
        let d = Distribution::uniform(1.0, 2.0).unwrap();
        assert_eq!(d.clone().truncated(0.0, 3.0).unwrap(), d);
    }

    #[test]
    fn no_draw_leaves_the_bounds() {
        let d = Distribution::normal(1.0, 1.0).unwrap().truncated(0.0, 1.5).unwrap();
        for u in [f64::MIN_POSITIVE, 1e-12, 0.5, 1.0 - 1e-16] {
            let x = d.quantile(u);
            assert!((0.0..=1.5).contains(&x), "{u} -> {x}");
        }
    }

    #[test]
    fn a_choice_keeps_the_values_on_its_bounds() {
        let d = Distribution::choice(&[0.0, 1.0, 2.0], &[1.0, 1.0, 2.0]).unwrap();
        let cut = d.clone().truncated(0.5, 9.0).unwrap().chances().unwrap();
        assert!((cut[0] - 1.0 / 3.0).abs() < 1e-12 && (cut[1] - 2.0 / 3.0).abs() < 1e-12);
        let d = d.truncated(1.0, 2.0).unwrap();
        assert!((d.cut() - 0.25).abs() < 1e-15);
        assert!((d.quantile(0.3) - 1.0).abs() < 1e-15);
        assert!((d.quantile(0.4) - 2.0).abs() < 1e-15);
    }

    #[test]
    fn bounds_with_nothing_between_are_refused() {
        let d = Distribution::normal(0.0, 1.0).unwrap();
        assert_eq!(d.truncated(50.0, 60.0), Err(DistributionError::NothingLeft));
    }
}
