//! Student's t distribution, by the incomplete beta function.

use super::beta::quantile_pair;

/// t with P(T <= t) = p, with `freedom` degrees of freedom (> 0), p in (0, 1).
#[must_use]
pub fn student_quantile(p: f64, freedom: f64) -> f64 {
    let outside = 2.0 * p.min(1.0 - p);
    let (x, y) = quantile_pair(0.5 * freedom, 0.5, outside, 1.0 - outside);
    let t = (freedom * y / x).sqrt();
    if p < 0.5 { -t } else { t }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: handbook table of Student's t, two-sided 95 % and one-sided
    /// 99 %, three decimals.
    #[test]
    fn quantiles_agree_with_the_handbook() {
        for (freedom, p, t) in [
            (1.0, 0.975, 12.706),
            (3.0, 0.975, 3.182),
            (7.0, 0.975, 2.365),
            (10.0, 0.99, 2.764),
            (30.0, 0.975, 2.042),
            (1e6, 0.975, 1.960),
        ] {
            assert!((student_quantile(p, freedom) - t).abs() < 5e-4, "{freedom}");
        }
    }

    /// Source: closed forms for 1 and 2 degrees of freedom.
    #[test]
    fn closed_forms_are_met() {
        let t: f64 = 1.7;
        let one = 0.5 + crate::math::atan(t) / std::f64::consts::PI;
        let two = 0.5 + t / (2.0 * (2.0 + t * t).sqrt());
        assert!((student_quantile(one, 1.0) - t).abs() < 1e-13);
        assert!((student_quantile(two, 2.0) - t).abs() < 1e-13);
    }
}
