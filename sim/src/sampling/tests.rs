//! Every distribution's quantile function against a sampler that somebody else
//! wrote.
//!
//! Source: `rand_distr` 0.6, whose samplers walk no quantile: two samples of one
//! distribution lie within the Kolmogorov-Smirnov limit. Where single values
//! carry weight the limit is only wider than it need be.

use super::{Domain, Philox, Stream};
use crate::{
    math::{exp, ln},
    uncertain::Distribution,
};
use rand::RngExt;
use rand_distr::{
    Distribution as _, LogNormal, Normal, StandardNormal, Triangular, Uniform, Weibull,
    weighted::WeightedIndex,
};

/// Values in each sample.
const VALUES: u64 = 200_000;
/// Of the distance between two samples of one distribution, times √(n / 2): false
/// alarm 1 in 10,000. Source: Kolmogorov's limiting law, 2 exp(-2 x²).
const LIMIT: f64 = 2.225;

/// The largest distance between the distribution functions of two samples of
/// one size.
fn distance(mut a: Vec<f64>, mut b: Vec<f64>) -> f64 {
    a.sort_by(f64::total_cmp);
    b.sort_by(f64::total_cmp);
    let (mut i, mut j, mut most) = (0, 0, 0_usize);
    while i < a.len() && j < b.len() {
        let at = a[i].min(b[j]);
        i += a[i..].iter().take_while(|x| **x <= at).count();
        j += b[j..].iter().take_while(|x| **x <= at).count();
        most = most.max(i.abs_diff(j));
    }
    most as f64 / a.len() as f64
}

fn agree(name: &str, ours: impl Fn(f64) -> f64, theirs: impl Fn(&mut Philox) -> f64) {
    let (walked, drawn) = (Stream::new(1, Domain::DRAWS), Stream::new(1, Domain::BOOTSTRAP));
    let a = (0..VALUES).map(|i| ours(walked.uniform(i, 0))).collect();
    let b = (0..VALUES).map(|i| theirs(&mut drawn.at(i))).collect();
    let found = distance(a, b) * (VALUES as f64 / 2.0).sqrt();
    assert!(found < LIMIT, "{name}: {found}");
}

#[test]
fn every_distribution_is_spread_as_another_library_draws_it() {
    let ours = |d: Distribution| move |u: f64| d.quantile(u);
    let uniform = Uniform::new(-2.0, 3.0).unwrap();
    agree("uniform", ours(Distribution::uniform(-2.0, 3.0).unwrap()), |dice| uniform.sample(dice));
    let logs = Uniform::new(ln(0.3), ln(2.2)).unwrap();
    let log_uniform = Distribution::log_uniform(0.3, 2.2).unwrap();
    agree("log-uniform", ours(log_uniform), |dice| exp(logs.sample(dice)));
    let triangular = Triangular::new(1.0, 5.0, 2.0).unwrap();
    let own = Distribution::triangular(1.0, 2.0, 5.0).unwrap();
    agree("triangular", ours(own), |dice| triangular.sample(dice));
    let normal = Normal::new(-1.0, 2.0).unwrap();
    agree("normal", ours(Distribution::normal(-1.0, 2.0).unwrap()), |dice| normal.sample(dice));
    let lognormal = LogNormal::from_mean_cv(3.0, 0.4).unwrap();
    let own = Distribution::lognormal(3.0, 1.2).unwrap();
    agree("lognormal", ours(own), |dice| lognormal.sample(dice));
    let weibull = Weibull::new(8.0, 2.2).unwrap();
    agree("Weibull", ours(Distribution::weibull(8.0, 2.2).unwrap()), |dice| weibull.sample(dice));
    let (values, weights) = ([1.0, 4.0, 2.0, 8.0], [1.0, 0.0, 3.0, 2.0]);
    let weighted = WeightedIndex::new(weights).unwrap();
    let own = Distribution::choice(&values, &weights).unwrap();
    agree("choice", ours(own), |dice| values[weighted.sample(dice)]);
    // Two samples of three straight pieces: uniform within a piece at random.
    let sorted = [1.0, 2.0, 4.0, 8.0];
    agree("measured", ours(Distribution::measured(&values).unwrap()), |dice| {
        let piece = dice.random_range(0..3);
        dice.random_range(sorted[piece]..sorted[piece + 1])
    });
    let own = Distribution::normal(0.0, 1.0).unwrap().truncated(-0.5, 1.0).unwrap();
    agree("truncated", ours(own), |dice| {
        let inside = |z: &f64| (-0.5..1.0).contains(z);
        dice.sample_iter(StandardNormal).find(inside).unwrap()
    });
}

/// A test that cannot fail shows nothing: 6 % wider is seen.
#[test]
fn a_little_wider_would_be_noticed() {
    let (walked, drawn) = (Stream::new(1, Domain::DRAWS), Stream::new(1, Domain::BOOTSTRAP));
    let own = Distribution::normal(0.0, 1.06).unwrap();
    let a = (0..VALUES).map(|i| own.quantile(walked.uniform(i, 0))).collect();
    let b = (0..VALUES).map(|i| drawn.at(i).sample(StandardNormal)).collect();
    assert!(distance(a, b) * (VALUES as f64 / 2.0).sqrt() > LIMIT);
}
