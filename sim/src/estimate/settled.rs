//! Whether the quantiles of a sample are known as well as they are printed.

use crate::{
    math::{log10, pow},
    uncertain::normal_quantile,
};

/// The quantiles that are printed.
const SHARES: [f64; 3] = [0.05, 0.5, 0.95];

/// Relative accuracy of a sample's record: no quantile is known better.
const RECORD: f64 = 0.005;

/// The printed quantile of a sample that is known least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settled {
    /// Which quantile: the share below it.
    pub share: f64,
    /// Its value.
    pub value: f64,
    /// Its 95 % interval, from the order of the values.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// What the half width may be.
    pub tolerance: f64,
    /// Values behind it.
    pub count: u64,
}

impl Settled {
    /// Half the interval over what is allowed.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        0.5 * (self.high - self.low) / self.tolerance.max(f64::MIN_POSITIVE)
    }

    /// Is it known as well as asked?
    #[must_use]
    pub(crate) fn is_settled(&self) -> bool {
        0.5 * (self.high - self.low) <= self.tolerance
    }
}

/// Looks at the 5, 50 and 95 % of a sample: is each known to half a unit of the
/// first digit of the sample's standard deviation, or to half a percent of
/// itself? `quantile` gives the sample's quantiles; `None` of fewer than 60
/// values, which have no 95 % interval for their 5 and 95 %.
///
/// Source: JCGM 101:2008, 7.9, whose procedure goes on until twice the standard
/// deviation of each result is within the tolerance of 7.9.2; here the interval
/// comes from the order of the values, which asks for no batches.
#[must_use]
pub fn settled(count: u64, quantile: impl Fn(f64) -> Option<f64>) -> Option<Settled> {
    const FEWEST: u64 = 60;
    if count < FEWEST {
        return None;
    }
    let n = count as f64;
    let deviation = 0.5 * (quantile(0.8413)? - quantile(0.1587)?);
    let digit = numerical_tolerance(deviation, 1);
    let z = normal_quantile(0.975);
    let known = |share: f64| {
        let half = z * (share * (1.0 - share) / n).sqrt();
        let value = quantile(share)?;
        let (low, high) = (quantile((share - half).max(0.0))?, quantile((share + half).min(1.0))?);
        Some(Settled { share, value, low, high, tolerance: digit.max(RECORD * value.abs()), count })
    };
    let all: Option<Vec<Settled>> = SHARES.into_iter().map(known).collect();
    all?.into_iter().max_by(|a, b| a.ratio().total_cmp(&b.ratio()))
}

/// Half a unit of the last of `digits` significant digits of a standard
/// uncertainty.
///
/// Source: JCGM 101:2008, 7.9.2.
#[expect(clippy::cast_possible_truncation, reason = "a decimal exponent")]
fn numerical_tolerance(uncertainty: f64, digits: i32) -> f64 {
    if uncertainty <= 0.0 {
        return 0.0;
    }
    let place = |u: f64| log10(u).floor() as i32 - (digits - 1);
    // Rounding may carry into a new leading digit: 0.0996 is 10e-2, not 99e-3.
    let unit = pow(10.0, f64::from(place(uncertainty)));
    let rounded = (uncertainty / unit).round() * unit;
    let slack = 1.0 + 1e-12;
    0.5 * pow(10.0, f64::from(place(rounded * slack)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        estimate::quantile,
        sampling::{Domain, Stream},
    };

    fn sample(count: u64, seed: u64) -> Vec<f64> {
        let stream = Stream::new(seed, Domain::DRAWS);
        let mut values: Vec<f64> =
            (0..count).map(|i| 0.2 + 2.0 * normal_quantile(stream.uniform(i, 0))).collect();
        values.sort_by(f64::total_cmp);
        values
    }

    fn look(values: &[f64]) -> Option<Settled> {
        settled(values.len() as u64, |q| quantile(values, q))
    }

    /// Source: JCGM 101:2008, 7.9.2: a standard deviation of 2 has the tolerance
    /// 0.5 at one digit. The 95 % of a normal sample has the standard error
    /// 2 sqrt(0.05 x 0.95 / n) / 0.1031: 1.96 of them are 0.5 at n = 277.
    #[test]
    fn a_normal_sample_settles_when_the_closed_form_says() {
        let settled = |count| {
            (0..50).filter(|seed| look(&sample(count, *seed)).unwrap().is_settled()).count()
        };
        assert!(settled(100) < 10 && settled(1000) == 50);
        assert!((look(&sample(400, 1)).unwrap().tolerance - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_handful_is_never_settled() {
        assert_eq!(look(&sample(59, 1)), None);
    }

    #[test]
    fn values_all_alike_are_settled() {
        let found = settled(1000, |_| Some(7.0)).unwrap();
        assert!(found.is_settled() && found.ratio() <= 0.0);
    }

    /// 200 intervals at 95 %: at least 180, false alarm below 1e-3.
    #[test]
    fn the_interval_covers() {
        let wanted = |share: f64| 0.2 + 2.0 * normal_quantile(share);
        let covered = (0..200)
            .filter(|seed| {
                let found = look(&sample(1000, *seed)).unwrap();
                let exact = wanted(found.share);
                found.low <= exact && exact <= found.high
            })
            .count();
        assert!(covered >= 180, "{covered}");
    }

    /// Source: JCGM 101:2008, 7.9.2: u = 0.0353 has the tolerance 0.0005 at two
    /// digits; 2.04 has 0.05, and 0.5 at one.
    #[test]
    fn the_tolerance_is_half_of_the_last_digit() {
        for (u, digits, tolerance) in
            [(0.0353, 2, 0.0005), (2.04, 2, 0.05), (2.04, 1, 0.5), (0.0996, 2, 0.005)]
        {
            let found = numerical_tolerance(u, digits);
            assert!((found / tolerance - 1.0).abs() < 1e-12, "{u}: {found}");
        }
    }
}
