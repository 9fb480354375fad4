//! How an input is spread, and which inputs move together.
//!
//! Everything goes through the quantile function: a uniform number in (0, 1)
//! becomes a value. One uniform per input and draw keeps the streams of the
//! inputs apart, lets variants of a scenario share their random numbers, and
//! carries over to rare-event work in standard normal space.

mod choice;
mod copula;
mod error;
mod inputs;
mod lognormal;
mod loguniform;
mod measured;
mod normal;
mod triangular;
mod truncated;
mod uniform;
mod weibull;

pub use self::{
    choice::Choice,
    copula::{Copula, CopulaError},
    error::DistributionError,
    inputs::{Input, InputId, Inputs},
    lognormal::LogNormal,
    loguniform::LogUniform,
    measured::Measured,
    normal::{Normal, ln_normal_cdf, normal_cdf, normal_density, normal_quantile, open_unit},
    triangular::Triangular,
    truncated::Truncated,
    uniform::Uniform,
    weibull::Weibull,
};
use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "spreads", claims: "How the inputs are spread" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "spread of an input",
    how: "quantile functions, correlated by ranks",
    source: "held against a reference library",
    kind: Kind::Library,
    range: "",
    leaves_out: "",
};

/// How an input is spread, in SI units.
#[derive(Clone, Debug, PartialEq)]
pub enum Distribution {
    /// One value.
    Fixed(f64),
    /// Every value of a range alike.
    Uniform(Uniform),
    /// Every ratio of a range alike: the logarithm is uniform.
    LogUniform(LogUniform),
    /// From low over likely to high, in straight lines.
    Triangular(Triangular),
    /// The bell.
    Normal(Normal),
    /// The bell on the logarithm: positive, with a long upper tail.
    LogNormal(LogNormal),
    /// Weibull with two parameters: wind speeds, strengths.
    Weibull(Weibull),
    /// One of a few values, by weight.
    Choice(Choice),
    /// As a sample was measured.
    Measured(Measured),
    /// Another distribution, cut off at one or both ends.
    Truncated(Box<Truncated>),
}

impl Distribution {
    /// One value for certain.
    #[must_use]
    pub fn fixed(value: f64) -> Self {
        Self::Fixed(value)
    }

    /// Every value from `low` to `high` alike.
    ///
    /// # Errors
    /// Unless both are finite and `low < high`.
    pub fn uniform(low: f64, high: f64) -> Result<Self, DistributionError> {
        Uniform::new(low, high).map(Self::Uniform)
    }

    /// Every ratio from `low` to `high` alike: what is known to a factor.
    ///
    /// # Errors
    /// Unless both are finite and `0 < low < high`.
    pub(crate) fn log_uniform(low: f64, high: f64) -> Result<Self, DistributionError> {
        LogUniform::new(low, high).map(Self::LogUniform)
    }

    /// Straight lines from `low` up to `likely` and down to `high`.
    ///
    /// # Errors
    /// Unless all are finite, `low <= likely <= high` and `low < high`.
    pub fn triangular(low: f64, likely: f64, high: f64) -> Result<Self, DistributionError> {
        Triangular::new(low, likely, high).map(Self::Triangular)
    }

    /// The bell with this mean and standard deviation.
    ///
    /// # Errors
    /// Unless both are finite and `sd > 0`.
    pub fn normal(mean: f64, sd: f64) -> Result<Self, DistributionError> {
        Normal::new(mean, sd).map(Self::Normal)
    }

    /// The bell with 90 % between `low` and `high`, 5 % on either side.
    ///
    /// # Errors
    /// Unless both are finite and `low < high`.
    pub(crate) fn normal_between(low: f64, high: f64) -> Result<Self, DistributionError> {
        Normal::between(low, high).map(Self::Normal)
    }

    /// Log-normal with this mean and standard deviation of the value itself.
    ///
    /// # Errors
    /// Unless both are finite and > 0.
    pub fn lognormal(mean: f64, sd: f64) -> Result<Self, DistributionError> {
        LogNormal::with_mean_sd(mean, sd).map(Self::LogNormal)
    }

    /// Log-normal with 90 % between `low` and `high`, 5 % on either side.
    ///
    /// # Errors
    /// Unless both are finite and `0 < low < high`.
    pub(crate) fn lognormal_between(low: f64, high: f64) -> Result<Self, DistributionError> {
        LogNormal::between(low, high).map(Self::LogNormal)
    }

    /// Weibull: P(X > x) = exp(-(x / scale)^shape).
    ///
    /// # Errors
    /// Unless both are finite and > 0.
    pub fn weibull(scale: f64, shape: f64) -> Result<Self, DistributionError> {
        Weibull::new(scale, shape).map(Self::Weibull)
    }

    /// One of `values`, with chances in proportion to `weights` (same length).
    ///
    /// # Errors
    /// Without values, with lengths that differ, values that are not finite,
    /// weights that are negative or not finite, or weights that are all zero.
    pub fn choice(values: &[f64], weights: &[f64]) -> Result<Self, DistributionError> {
        let choice = Choice::new(values, weights)?;
        Ok(choice.single().map_or(Self::Choice(choice), Self::Fixed))
    }

    /// As measured: the sample's own quantiles, straight lines in between.
    ///
    /// # Errors
    /// With fewer than two values, or values that are not finite.
    pub fn measured(sample: &[f64]) -> Result<Self, DistributionError> {
        let measured = Measured::new(sample)?;
        Ok(measured.single().map_or(Self::Measured(measured), Self::Fixed))
    }

    /// Cuts off what lies below `low` or above `high` (infinite: no bound).
    ///
    /// Returned as it is where nothing lies outside, so that a bound that does
    /// not bind changes no draw. [`Distribution::cut`] says how much went.
    ///
    /// # Errors
    /// If the bounds are the wrong way round or not numbers, or if less than
    /// one part in a million million lies between them.
    pub fn truncated(self, low: f64, high: f64) -> Result<Self, DistributionError> {
        Truncated::cut_to(self, low, high)
    }

    /// The value below which a share `u` of the draws lie, `u` in (0, 1).
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        match self {
            Self::Fixed(value) => *value,
            Self::Uniform(d) => d.quantile(u),
            Self::LogUniform(d) => d.quantile(u),
            Self::Triangular(d) => d.quantile(u),
            Self::Normal(d) => d.quantile(u),
            Self::LogNormal(d) => d.quantile(u),
            Self::Weibull(d) => d.quantile(u),
            Self::Choice(d) => d.quantile(u),
            Self::Measured(d) => d.quantile(u),
            Self::Truncated(d) => d.quantile(u),
        }
    }

    /// P(X <= x).
    #[must_use]
    pub(crate) fn cdf(&self, x: f64) -> f64 {
        match self {
            Self::Fixed(value) => f64::from(u8::from(x >= *value)),
            Self::Uniform(d) => d.cdf(x),
            Self::LogUniform(d) => d.cdf(x),
            Self::Triangular(d) => d.cdf(x),
            Self::Normal(d) => d.cdf(x),
            Self::LogNormal(d) => d.cdf(x),
            Self::Weibull(d) => d.cdf(x),
            Self::Choice(d) => d.cdf(x),
            Self::Measured(d) => d.cdf(x),
            Self::Truncated(d) => d.cdf(x),
        }
    }

    /// P(X < x): differs from [`Distribution::cdf`] where single values carry
    /// weight.
    #[must_use]
    pub(crate) fn cdf_below(&self, x: f64) -> f64 {
        match self {
            Self::Fixed(value) => f64::from(u8::from(x > *value)),
            Self::Choice(d) => d.cdf_below(x),
            Self::Truncated(d) => d.cdf_below(x),
            Self::Uniform(_)
            | Self::LogUniform(_)
            | Self::Triangular(_)
            | Self::Normal(_)
            | Self::LogNormal(_)
            | Self::Weibull(_)
            | Self::Measured(_) => self.cdf(x),
        }
    }

    /// Whether every draw is the same.
    #[must_use]
    pub fn is_fixed(&self) -> bool {
        matches!(self, Self::Fixed(_))
    }

    /// The chances of its values in rising order, if single values are all
    /// there is.
    #[must_use]
    pub fn chances(&self) -> Option<Vec<f64>> {
        match self {
            Self::Choice(d) => Some(d.chances()),
            Self::Truncated(d) => d.chances(),
            _ => None,
        }
    }

    /// Arithmetic mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        match self {
            Self::Fixed(value) => *value,
            Self::Uniform(d) => d.mean(),
            Self::LogUniform(d) => d.mean(),
            Self::Triangular(d) => d.mean(),
            Self::Normal(d) => d.mean(),
            Self::LogNormal(d) => d.mean(),
            Self::Weibull(d) => d.mean(),
            Self::Choice(d) => d.mean(),
            Self::Measured(d) => d.mean(),
            Self::Truncated(d) => d.mean(),
        }
    }

    /// Standard deviation.
    #[must_use]
    pub fn sd(&self) -> f64 {
        match self {
            Self::Fixed(_) => 0.0,
            Self::Uniform(d) => d.sd(),
            Self::LogUniform(d) => d.sd(),
            Self::Triangular(d) => d.sd(),
            Self::Normal(d) => d.sd(),
            Self::LogNormal(d) => d.sd(),
            Self::Weibull(d) => d.sd(),
            Self::Choice(d) => d.sd(),
            Self::Measured(d) => d.sd(),
            Self::Truncated(d) => d.sd(),
        }
    }

    /// The probability that truncation took away, 0 without truncation.
    #[must_use]
    pub fn cut(&self) -> f64 {
        match self {
            Self::Truncated(d) => d.cut(),
            _ => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn every_kind() -> Vec<Distribution> {
        vec![
            Distribution::uniform(-2.0, 3.0).unwrap(),
            Distribution::log_uniform(0.3, 2.2).unwrap(),
            Distribution::triangular(1.0, 2.0, 5.0).unwrap(),
            Distribution::normal(-1.0, 2.0).unwrap(),
            Distribution::lognormal(3.0, 1.0).unwrap(),
            Distribution::weibull(8.0, 2.0).unwrap(),
            Distribution::measured(&[1.0, 4.0, 2.0, 8.0]).unwrap(),
            Distribution::normal(0.0, 1.0).unwrap().truncated(-1.0, f64::INFINITY).unwrap(),
        ]
    }

    proptest! {
        #[test]
        fn quantile_and_cdf_are_inverses(u in 1e-6..0.999_999_f64) {
            for d in every_kind() {
                let back = d.cdf(d.quantile(u));
                prop_assert!((back - u).abs() < 1e-12, "{d:?}: {u} -> {back}");
            }
        }

        #[test]
        fn a_larger_uniform_never_gives_a_smaller_value(u in 0.001..0.999_f64, step in 0.0..0.001_f64) {
            for d in every_kind() {
                prop_assert!(d.quantile(u + step) >= d.quantile(u));
            }
        }
    }

    #[test]
    fn moments_agree_with_the_quantile_function() {
        // The mean of Q(u) and Q(u)^2 over u, by the midpoint rule; the open
        // tails leave about 1e-3 of a standard deviation.
        let n = 200_000_u32;
        for d in every_kind() {
            let (mut sum, mut square) = (0.0, 0.0);
            for i in 0..n {
                let x = d.quantile((f64::from(i) + 0.5) / f64::from(n));
                sum += x;
                square += x * x;
            }
            let mean = sum / f64::from(n);
            let sd = (square / f64::from(n) - mean * mean).sqrt();
            assert!((mean - d.mean()).abs() < 1e-3 * d.sd(), "{d:?}: {mean} {}", d.mean());
            assert!((sd - d.sd()).abs() < 1e-3 * d.sd(), "{d:?}: {sd} {}", d.sd());
        }
    }

    #[test]
    fn a_fixed_value_ignores_the_uniform() {
        let d = Distribution::fixed(7.5);
        assert!(d.is_fixed());
        assert!((d.quantile(f64::NAN) - 7.5).abs() < f64::EPSILON);
    }
}
