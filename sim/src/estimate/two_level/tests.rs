//! Worlds against problems whose bands are known in closed form.
//!
//! Source of the numbers: `scipy.stats`, closed forms p(z) = Phi(a + b z):
//! mean Phi(a / sqrt(1 + b²)), quantiles Phi(a + b z) at the quantile z.

use super::*;
use crate::{
    estimate::{beta_quantile, binomial_quantile},
    math::ln,
    sampling::{Domain, Scrambled, Stream},
    uncertain::{normal_cdf, normal_quantile},
};
use proptest::prelude::*;

/// One stratum of groups over `open` unknowns, spread as a study spreads them.
fn imagined(
    chance: impl Fn(&[f64]) -> f64,
    open: usize,
    (groups, flights): (u32, u64),
    seed: u64,
) -> Stratum {
    let (points, stream) =
        (Scrambled::new(seed, Domain::UNKNOWN), Stream::new(seed, Domain::SHOTS));
    let group = |g: u32| {
        let at: Vec<f64> = (0..).take(open).map(|d| points.coordinate(0, g, d).unwrap()).collect();
        let z: Vec<f64> = at.iter().map(|u| normal_quantile(*u)).collect();
        let held = binomial_quantile(stream.uniform(u64::from(g), 1), flights, chance(&z));
        Group { at, held, flights }
    };
    Stratum { weight: 1.0, open: (0..open).collect(), groups: (0..groups).map(group).collect() }
}

fn band_of(stratum: Stratum, seed: u64) -> (Band, Shape) {
    let worlds = Worlds::grouped(&[stratum], seed).unwrap();
    (worlds.band(0.9), worlds.shape)
}

fn near(found: f64, exact: f64, within: f64) {
    assert!((found - exact).abs() < within, "{found} is not {exact} to {within}");
}

#[test]
fn one_unknown_has_its_known_band() {
    for (a, b, mean, low, high) in [
        (-1.5, 0.5, 0.089_856_247_44, 0.010_104_982, 0.249_021_18),
        (0.0, 1.0, 0.5, 0.05, 0.95),
        (-3.0, 1.0, 0.016_947_426_76, 1.701_588_3e-6, 0.087_685_463),
    ] {
        let (band, shape) = band_of(imagined(|z| normal_cdf(a + b * z[0]), 1, (128, 1000), 1), 1);
        assert_eq!(shape, Shape::Fitted);
        near(band.mean, mean, 0.01 * mean.max(0.1));
        near(band.low, low, 0.004);
        near(band.high, high, 0.02);
        assert!(band.low_interval[0] <= low && low <= band.low_interval[1], "{band:?}");
        assert!(band.high_interval[0] <= high && high <= band.high_interval[1], "{band:?}");
    }
}

/// P(p < .01) and P(p > .99) of the same closed forms.
#[test]
fn the_shares_of_always_and_never_are_known() {
    for (a, b, never, always) in
        [(0.0, 10.0, 0.408_023, 0.408_023), (1.0, 5.0, 0.252_939, 0.395_401)]
    {
        let (band, _) = band_of(imagined(|z| normal_cdf(a + b * z[0]), 1, (128, 200), 3), 3);
        near(band.never, never, 0.03);
        near(band.always, always, 0.03);
    }
}

/// Source: p = Phi(-1.5 + .8 z1 + .4 z2 + .5 z1 z2), quantiles .0021764,
/// .04574883, .65767066 from 4e6 points; without its product a fit is worse
/// than no fit (deviance 7.7 times its freedom).
#[test]
fn a_product_of_two_unknowns_is_in_the_fit() {
    let chance = |z: &[f64]| normal_cdf(-1.5 + 0.8 * z[0] + 0.4 * z[1] + 0.5 * z[0] * z[1]);
    let (band, shape) = band_of(imagined(chance, 2, (128, 200), 5), 5);
    assert_eq!(shape, Shape::Fitted);
    near(band.low, 0.002_176_4, 0.002);
    near(band.high, 0.657_670_66, 0.03);
}

#[test]
fn what_no_smooth_function_fits_is_read_from_the_shares() {
    let comb = |z: &[f64]| if (normal_cdf(z[0]) * 4.0).fract() < 0.5 { 0.8 } else { 0.2 };
    let (band, shape) = band_of(imagined(comb, 1, (128, 400), 7), 7);
    assert_eq!(shape, Shape::Shares);
    near(band.low, 0.2, 0.06);
    near(band.high, 0.8, 0.06);
}

/// Blows lognormal(80 J, 0.3) on a barrier of 50 to 150 J with a spread of 0.2:
/// the chance in a world of strength theta is Phi(ln(80/theta)/sqrt(0.13)).
/// Source: mean .35059041, 5 % .0495307, 95 % .850647 (`scipy.integrate`).
#[test]
fn blows_judged_in_every_world_give_the_known_band() {
    let stream = Stream::new(11, Domain::SHOTS);
    let worlds: Vec<(f64, Vec<f64>)> =
        (0..512).map(|i| (1.0 / 512.0, vec![(f64::from(i) + 0.5) / 512.0])).collect();
    let batch = |b: u64| {
        let blows: Vec<f64> = (0..100)
            .map(|i| ln(80.0) + 0.3 * normal_quantile(stream.uniform(100 * b + i, 0)))
            .collect();
        let chance = |theta: f64| {
            blows.iter().map(|x| normal_cdf((x - ln(theta)) / 0.2)).sum::<f64>() / 100.0
        };
        worlds.iter().map(|(_, at)| chance(50.0 + 100.0 * at[0])).collect::<Vec<f64>>()
    };
    let batches: Vec<Vec<f64>> = (0..40).map(batch).collect();
    let found = Worlds::reused(worlds, &batches, 4000, 1);
    let band = found.band(0.9);
    near(band.mean, 0.350_590_41, 0.015);
    near(band.low, 0.049_530_7, 0.01);
    near(band.high, 0.850_647, 0.02);
    near(found.part_of(0, false), 1.0, 0.02);
}

/// A panel that is weak with a chance of 1 in 100: the chance is 1 in 100, and
/// no world has it.
#[test]
fn of_two_worlds_there_is_no_middle() {
    let stratum = |weight: f64, at: f64, held: u64| Stratum {
        weight,
        open: Vec::new(),
        groups: vec![Group { at: vec![at], held, flights: 5000 }],
    };
    let worlds = Worlds::grouped(&[stratum(0.01, 0.005, 5000), stratum(0.99, 0.5, 0)], 1).unwrap();
    let band = worlds.band(0.9);
    near(band.mean, 0.01, 1e-12);
    near(band.always, 0.01, 1e-12);
    near(band.never, 0.99, 1e-12);
    assert_eq!((band.low, band.high), (0.0, 0.0));
    let sides = worlds.sides(0, Band::NEVER_ALWAYS).unwrap();
    assert!(!sides.rising && sides.below < sides.above);
    near(worlds.part_of(0, true), 1.0, 1e-9);
}

/// Of Phi(a + b1 z1 + b2 z2) with b1 = 3 b2 the first unknown decides nine
/// tenths, near enough on the scale of the chance.
#[test]
fn the_unknown_that_decides_is_found() {
    let stratum = imagined(|z| normal_cdf(0.6 * z[0] + 0.2 * z[1]), 2, (128, 400), 9);
    let worlds = Worlds::grouped(&[stratum], 9).unwrap();
    near(worlds.part_of(0, false), 0.9, 0.08);
    near(worlds.part_of(1, false), 0.1, 0.08);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever the counts: ends in order, within their intervals, within 0..1;
    /// shares add up to 1 at most; the mean is that of the counts.
    #[test]
    fn a_band_is_in_order(
        counts in prop::collection::vec(0_u64..=40, 32..80),
        open in 0_usize..4,
        seed in 0_u64..1000,
    ) {
        let points = Scrambled::new(seed, Domain::UNKNOWN);
        let count = if open == 0 { 1 } else { counts.len() };
        let groups: Vec<Group> = (0..).zip(&counts[..count]).map(|(g, held)| Group {
            at: (0..).take(open.max(1)).map(|d| points.coordinate(0, g, d).unwrap()).collect(),
            held: *held,
            flights: 40,
        }).collect();
        let mean = groups.iter().map(|g| g.held).sum::<u64>() as f64 / (40 * groups.len()) as f64;
        let worlds = Worlds::grouped(&[Stratum { weight: 1.0, open: (0..open).collect(), groups }], seed).unwrap();
        let band = worlds.band(0.9);
        let rising = |list: &[f64]| list.windows(2).all(|pair| pair[0] <= pair[1]);
        prop_assert!(rising(&[0.0, band.low_interval[0], band.low, band.low_interval[1], 1.0]), "{band:?}");
        prop_assert!(rising(&[0.0, band.high_interval[0], band.high, band.high_interval[1], 1.0]), "{band:?}");
        prop_assert!(band.low <= band.high && band.never + band.always <= 1.0 + 1e-9);
        let whole: f64 = worlds.list.iter().map(|w| w.weight).sum();
        prop_assert!((whole - 1.0).abs() < 1e-9);
        prop_assert!((band.mean - mean).abs() < 0.1, "{} {mean}", band.mean);
    }

    /// More of the claim in one group never makes the worlds less likely on
    /// average, where groups have one world each.
    #[test]
    fn a_stratum_of_one_world_is_its_count(held in 0_u64..=100) {
        let groups = vec![Group { at: vec![0.5], held, flights: 100 }];
        let worlds = Worlds::grouped(&[Stratum { weight: 1.0, open: Vec::new(), groups }], 1).unwrap();
        let band = worlds.band(0.9);
        prop_assert!((band.mean - held as f64 / 100.0).abs() < 1e-12);
        prop_assert!(band.mean_interval[0] <= band.mean && band.mean <= band.mean_interval[1]);
    }
}

/// The intervals of both ends, on problems with exact answers; 95 % of 40 is
/// 38, with a standard deviation of 1.4: below 34 one time in a hundred.
#[test]
fn the_intervals_of_the_ends_hold_the_ends() {
    type Frequency = fn(f64) -> f64;
    let cases: [(&str, Frequency); 3] = [
        ("probit", |u| normal_cdf(-1.5 + 0.5 * normal_quantile(u))),
        ("beta", |u| beta_quantile(2.0, 18.0, u)),
        ("barrier", |u| normal_cdf(ln(98.0 / (150.0 - 100.0 * u)) / 0.2)),
    ];
    for (name, frequency) in cases {
        let exact = [frequency(0.05), frequency(0.95)];
        let mut covered = [0; 2];
        for seed in 0..40 {
            let chance = |z: &[f64]| frequency(normal_cdf(z[0]));
            let (band, _) = band_of(imagined(chance, 1, (128, 100), seed), seed);
            for ((count, interval), end) in
                covered.iter_mut().zip([band.low_interval, band.high_interval]).zip(exact)
            {
                *count += u64::from(interval[0] <= end && end <= interval[1]);
            }
        }
        assert!(covered.iter().all(|c| *c >= 34), "{name}: {covered:?}");
    }
}
