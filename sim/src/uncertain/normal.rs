//! The bell, and the standard normal functions that everything else uses.

use super::error::{DistributionError, finite, positive};
use crate::math::{erfc, exp, ln};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// 95 % point of the standard normal: half of the width of a central 90 %.
pub(super) const Z95: f64 = 1.644_853_626_951_472_2;

/// The bell with a mean and a standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Normal {
    mean: f64,
    sd: f64,
}

impl Normal {
    /// From mean and standard deviation.
    ///
    /// # Errors
    /// Unless both are finite and `sd > 0`.
    pub fn new(mean: f64, sd: f64) -> Result<Self, DistributionError> {
        finite(&[mean])?;
        positive("standard deviation", sd)?;
        Ok(Self { mean, sd })
    }

    /// With 5 % below `low` and 5 % above `high`.
    ///
    /// # Errors
    /// Unless both are finite and `low < high`.
    pub fn between(low: f64, high: f64) -> Result<Self, DistributionError> {
        finite(&[low, high, high - low])?;
        if low < high {
            Ok(Self { mean: 0.5 * (low + high), sd: (high - low) / (2.0 * Z95) })
        } else {
            Err(DistributionError::Order)
        }
    }

    pub(super) fn quantile(&self, u: f64) -> f64 {
        self.at_normal(normal_quantile(u))
    }

    pub(super) fn at_normal(&self, z: f64) -> f64 {
        self.mean + self.sd * z
    }

    pub(super) fn cdf(&self, x: f64) -> f64 {
        normal_cdf((x - self.mean) / self.sd)
    }

    pub(super) fn mean(&self) -> f64 {
        self.mean
    }

    pub(super) fn sd(&self) -> f64 {
        self.sd
    }
}

/// P(Z <= z) of the standard normal.
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * erfc(-z * FRAC_1_SQRT_2)
}

/// ln P(Z <= z), exact far out where the probability itself is nothing.
///
/// Below -25 by the asymptotic series `-z²/2 - ln(-z sqrt(2 pi)) + ln(1 - 1/z² +
/// 3/z⁴)`, whose error there is below 1e-7.
#[must_use]
pub fn ln_normal_cdf(z: f64) -> f64 {
    if z > -25.0 {
        return ln(normal_cdf(z));
    }
    let inverse = 1.0 / (z * z);
    -0.5 * z * z - ln(-z * (2.0 * PI).sqrt()) + ln(1.0 - inverse + 3.0 * inverse * inverse)
}

/// Density of the standard normal.
#[must_use]
pub fn normal_density(z: f64) -> f64 {
    exp(-0.5 * z * z) / (2.0 * PI).sqrt()
}

/// Keeps a probability inside (0, 1), where quantiles are finite.
///
/// Rounding makes P(Z <= z) exactly 1 from z = 8.3 on; the largest number below
/// 1 stands in for it. Less than 2e-16 of all draws are concerned.
#[must_use]
pub fn open_unit(p: f64) -> f64 {
    p.clamp(f64::MIN_POSITIVE, 1.0 - 0.5 * f64::EPSILON)
}

/// z with P(Z <= z) = p, for p in (0, 1); minus and plus infinity at 0 and 1.
///
/// Relative error about 1e-16 for p down to 1e-316.
///
/// Source: Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988),
/// 477-484; all 48 coefficients are those of Python's
/// standard library (read).
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * ratio(r, &CENTRE);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail <= 0.0 {
        return if q < 0.0 { f64::NEG_INFINITY } else { f64::INFINITY };
    }
    let r = (-ln(tail)).sqrt();
    let z = if r <= 5.0 { ratio(r - 1.6, &MIDDLE) } else { ratio(r - 5.0, &FAR) };
    if q < 0.0 { -z } else { z }
}

/// A ratio of two polynomials of degree seven, constant term first.
#[inline]
fn ratio(r: f64, c: &[[f64; 8]; 2]) -> f64 {
    let horner = |k: &[f64; 8]| {
        ((((((k[7] * r + k[6]) * r + k[5]) * r + k[4]) * r + k[3]) * r + k[2]) * r + k[1]) * r
            + k[0]
    };
    horner(&c[0]) / horner(&c[1])
}

#[rustfmt::skip]
const CENTRE: [[f64; 8]; 2] = [
    [3.387_132_872_796_366_6, 1.331_416_678_917_843_8e2, 1.971_590_950_306_551_4e3, 1.373_169_376_550_946e4,
     4.592_195_393_154_987e4, 6.726_577_092_700_87e4, 3.343_057_558_358_813e4, 2.509_080_928_730_122_7e3],
    [1.0, 4.231_333_070_160_091e1, 6.871_870_074_920_579e2, 5.394_196_021_424_751e3,
     2.121_379_430_158_659_6e4, 3.930_789_580_009_271e4, 2.872_908_573_572_194_3e4, 5.226_495_278_852_854e3],
];

#[rustfmt::skip]
const MIDDLE: [[f64; 8]; 2] = [
    [1.423_437_110_749_683_6, 4.630_337_846_156_545, 5.769_497_221_460_691, 3.647_848_324_763_204_6,
     1.270_458_252_452_368_4, 2.417_807_251_774_506e-1, 2.272_384_498_926_918_4e-2, 7.745_450_142_783_414e-4],
    [1.0, 2.053_191_626_637_759, 1.676_384_830_183_803_8, 6.897_673_349_851e-1,
     1.481_039_764_274_800_7e-1, 1.519_866_656_361_645_7e-2, 5.475_938_084_995_345e-4, 1.050_750_071_644_416_8e-9],
];

#[rustfmt::skip]
const FAR: [[f64; 8]; 2] = [
    [6.657_904_643_501_103, 5.463_784_911_164_114, 1.784_826_539_917_291_3, 2.965_605_718_285_049e-1,
     2.653_218_952_657_612_4e-2, 1.242_660_947_388_078_4e-3, 2.711_555_568_743_487_6e-5, 2.010_334_399_292_288_1e-7],
    [1.0, 5.998_322_065_558_879e-1, 1.369_298_809_227_358e-1, 1.487_536_129_085_061_5e-2,
     7.868_691_311_456_133e-4, 1.846_318_317_510_054_8e-5, 1.421_511_758_316_446e-7, 2.044_263_103_389_939_8e-15],
];

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::ContinuousCDF;

    /// Source: digits by `SciPy` 1.17; check values of AS 241 (Wichura 1988) among
    /// them.
    #[test]
    fn quantiles_agree_with_published_values() {
        for (p, z) in [
            (0.25, -0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_813_5),
            (1e-20, -9.262_340_089_798_408),
            (0.975, 1.959_963_984_540_054),
            (0.95, Z95),
        ] {
            assert!((normal_quantile(p) / z - 1.0_f64).abs() < 1e-14, "{p}");
        }
    }

    /// Source: the reference library statrs 0.19 (its normal quantile is good
    /// to 2e-16).
    #[test]
    fn quantiles_agree_with_a_reference_library() {
        let theirs = statrs::distribution::Normal::new(0.0, 1.0).unwrap();
        for i in 1..2000 {
            let p = f64::from(i) / 2000.0;
            let z = theirs.inverse_cdf(p);
            assert!((normal_quantile(p) - z).abs() < 1e-14 * (1.0 + z.abs()), "{p}");
        }
    }

    #[test]
    fn quantile_and_cdf_are_inverses_far_out() {
        for e in 1..300 {
            let p = exp(-f64::from(e));
            let back = normal_cdf(normal_quantile(p));
            // d ln p / dz is about |z|, so the last bit of z costs |z| bits.
            assert!((back / p - 1.0).abs() < 1e-13 * f64::from(e), "{p}");
        }
    }

    /// Source: exact half-space probabilities, Phi(-beta), quadrature at
    /// 15 digits.
    #[test]
    fn tail_probabilities_agree_with_quadrature() {
        for (beta, p) in [
            (1.0, 0.158_655_253_931_457),
            (3.5, 2.326_290_790_355_25e-4),
            (6.0, 9.865_876_450_376_98e-10),
        ] {
            assert!((normal_cdf(-beta) / p - 1.0_f64).abs() < 1e-14);
        }
    }

    #[test]
    fn nine_tenths_lie_between_the_ends() {
        let d = Normal::between(14.0, 24.0).unwrap();
        assert!((d.cdf(14.0) - 0.05).abs() < 1e-15);
        assert!((d.cdf(24.0) - 0.95).abs() < 1e-15);
    }

    #[test]
    fn without_a_spread_there_is_no_bell() {
        assert!(matches!(Normal::new(1.0, 0.0), Err(DistributionError::NotPositive { .. })));
        assert_eq!(Normal::new(1.0, f64::INFINITY), Err(DistributionError::NotFinite));
    }
}
