//! The same flights judged under other assumptions, by weights.

use crate::math::exp;

/// A mean under other assumptions than those that were flown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reweighed {
    /// Weighted mean of the values.
    pub mean: f64,
    /// Its standard error, from the weights and values.
    pub standard_error: f64,
    /// Equally weighted flights that the weighted ones are worth. Below 200 the
    /// answer is not to be trusted: fly again under the new assumptions.
    pub effective: f64,
    /// Logarithm of the mean weight: how likely the new assumptions make what
    /// was flown.
    pub log_evidence: f64,
}

/// Weighs values by exp(`log_weights`), one per flight: the logarithm of the
/// density (or likelihood) under the new assumptions over that under the flown
/// ones. `None` of nothing, or if no weight is finite.
///
/// Source: Kish (1965) for the effective number. (From memory.)
#[must_use]
pub fn reweigh(log_weights: &[f64], values: &[f64]) -> Option<Reweighed> {
    let largest = log_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !largest.is_finite() || log_weights.len() != values.len() {
        return None;
    }
    let weights: Vec<f64> = log_weights.iter().map(|w| exp(w - largest)).collect();
    let sum: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    let mean = weights.iter().zip(values).map(|(w, y)| w * y).sum::<f64>() / sum;
    let error: f64 =
        weights.iter().zip(values).map(|(w, y)| (w * (y - mean)) * (w * (y - mean))).sum();
    Some(Reweighed {
        mean,
        standard_error: error.sqrt() / sum,
        effective: sum * sum / squares,
        log_evidence: largest + crate::math::ln(sum / weights.len() as f64),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::uncertain::normal_quantile;

    /// Source: conjugate normal: prior N(0, 1), one reading 1.2 with sd 0.5:
    /// posterior mean 0.96, sd 0.4472, evidence 0.200586378638, effective share
    /// 0.359577472707.
    #[test]
    fn a_reading_moves_a_normal_as_the_closed_form_says() {
        let n = 200_000_u32;
        let prior: Vec<f64> =
            (0..n).map(|i| normal_quantile((f64::from(i) + 0.5) / f64::from(n))).collect();
        let constant = crate::math::ln(0.5 * (2.0 * std::f64::consts::PI).sqrt());
        let weights: Vec<f64> =
            prior.iter().map(|x| -0.5 * (1.2 - x) * (1.2 - x) / 0.25 - constant).collect();
        let found = reweigh(&weights, &prior).unwrap();
        assert!((found.mean - 0.96).abs() < 1e-4, "{found:?}");
        assert!((exp(found.log_evidence) - 0.200_586_378_638).abs() < 1e-5);
        assert!((found.effective / f64::from(n) - 0.359_577_472_707).abs() < 1e-4);
        let squares: Vec<f64> = prior.iter().map(|x| (x - 0.96) * (x - 0.96)).collect();
        let sd = reweigh(&weights, &squares).unwrap().mean.sqrt();
        assert!((sd - 0.447_213_595_5).abs() < 1e-4);
    }

    #[test]
    fn impossible_flights_do_not_count() {
        let found = reweigh(&[0.0, f64::NEG_INFINITY, 0.0], &[1.0, 7.0, 2.0]).unwrap();
        assert!((found.mean - 1.5).abs() < 1e-15 && (found.effective - 2.0).abs() < 1e-12);
        assert_eq!(reweigh(&[f64::NEG_INFINITY], &[1.0]), None);
    }
}
