//! How often printed 95 % intervals hold the truth, on problems whose truth is
//! known. Prints tables; every line should say 93 % or more. (The search for
//! what is rare has a bench of its own, `bench/rare`.)
//!
//! `cargo run --release -p longodds-bench --bin coverage [repeats]`

#![expect(clippy::print_stdout, reason = "a program whose output is its tables")]

use longodds_sim::{
    estimate::{
        Decision, Group, LEVEL, Proportion, RootSearch, Stopping, Stratum, Verdict, Worlds,
        beta_quantile, binomial_quantile, quantile_interval, roots,
    },
    math::{ln, log1p},
    sampling::{Domain, Scrambled, Stream},
    uncertain::{normal_cdf, normal_quantile},
};
use rayon::prelude::*;

fn main() {
    let repeats = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(200);
    println!("plain sampling with the default stopping rule, {repeats} repeats");
    println!("{:>8} {:>9} {:>10} {:>10}", "p", "covered", "mean / p", "flights");
    for p in [0.0, 1e-6, 5e-5, 1.5e-4, 1.8e-4, 1e-3, 0.007, 0.1, 0.5, 0.999, 1.0] {
        plain(p, repeats);
    }
    println!("\nthe band over what is not known, 128 groups or 2,000 blows, {repeats} repeats");
    println!(
        "{:<44} {:>9} {:>9} {:>9}",
        "frequency over the unknown u or z", "mean", "low end", "high end"
    );
    bands(repeats);
    println!("\nother intervals, {repeats} repeats");
    others(repeats);
}

/// A binomial count by one uniform number.
fn count(seed: u64, slot: u32, n: u64, p: f64) -> u64 {
    binomial_quantile(Stream::new(seed, Domain::SHOTS).uniform(0, slot), n, p)
}

fn share(hits: usize, of: u64) -> String {
    format!("{:.1} %", 100.0 * hits as f64 / of as f64)
}

/// The stopping rule on imagined flights.
fn plain(p: f64, repeats: u64) {
    let found: Vec<Proportion> = (0..repeats)
        .into_par_iter()
        .map(|seed| {
            let (rule, mut k, mut n) = (Stopping::default(), 0, 0);
            let mut look = 0;
            while let Decision::FlyUntil(until) = rule.decide(k, n) {
                k += count(seed, look, until - n, p);
                n = until;
                look += 1;
            }
            Proportion::clopper_pearson(k, n, LEVEL)
        })
        .collect();
    let covered = found.iter().filter(|f| f.low <= p && p <= f.high).count();
    let mean = found.iter().map(|f| f.estimate).sum::<f64>() / repeats as f64;
    let ratio = if p > 0.0 { format!("{:.4}", mean / p) } else { "-".to_owned() };
    let flights = found.iter().map(|f| f.n).sum::<u64>() / repeats;
    println!("{p:>8} {:>9} {ratio:>10} {flights:>10}", share(covered, repeats));
}

fn report(name: &str, repeats: u64, covers: impl Fn(u64) -> bool + Sync) {
    let covered = (0..repeats).into_par_iter().filter(|seed| covers(*seed)).count();
    println!("{name:<60} {}", share(covered, repeats));
}

fn within(interval: [f64; 2], truth: f64) -> bool {
    interval[0] <= truth && truth <= interval[1]
}

fn others(repeats: u64) {
    let exponential = |seed: u64, n: u64| -> Vec<f64> {
        let stream = Stream::new(seed, Domain::DRAWS);
        let mut sample: Vec<f64> = (0..n).map(|i| -ln(stream.uniform(i, 0))).collect();
        sample.sort_by(f64::total_cmp);
        sample
    };
    report("99 % quantile of 2000 exponential values", repeats, |seed| {
        let [low, high] = quantile_interval(&exponential(seed, 2000), 0.99, LEVEL);
        let exact = -log1p(-0.99);
        low.is_none_or(|x| x <= exact) && high.is_none_or(|x| exact <= x)
    });
    for (comes, passes) in [(0.3, 0.2), (0.01, 0.5), (0.9, 0.999)] {
        report(&format!("a gate that {passes} pass of the {comes} that come"), repeats, |seed| {
            let came = count(seed, 0, 5000, comes);
            let p = Proportion::printed(count(seed, 1, came, passes), came, LEVEL);
            within([p.low, p.high], passes)
        });
    }
    for target in [0.01, 0.5, 0.99] {
        report(&format!("setting at which the chance is {target}"), repeats, |seed| {
            crossing(seed, target)
        });
    }
}

/// A frequency over unknowns, with as many unknowns and flights in a group,
/// and its exact mean and ends.
struct Imagined {
    name: &'static str,
    frequency: fn(&[f64]) -> f64,
    unknowns: usize,
    each: u64,
    exact: [f64; 3],
}

/// Exact values: closed forms and `scipy.integrate`, as in the checks of
/// `estimate::two_level`.
fn imagined() -> Vec<Imagined> {
    let one = |name, frequency: fn(&[f64]) -> f64, each, mean: f64, at: fn(f64) -> f64| Imagined {
        name,
        frequency,
        unknowns: 1,
        each,
        exact: [mean, at(0.05), at(0.95)],
    };
    let probit = |name, each| {
        one(
            name,
            |z| normal_cdf(-1.5 + 0.5 * z[0]),
            each,
            0.089_856_247_44,
            |u| normal_cdf(-1.5 + 0.5 * normal_quantile(u)),
        )
    };
    vec![
        probit("Phi(-1.5 + 0.5 z), 40 flights each", 40),
        probit("Phi(-1.5 + 0.5 z), 800 each", 800),
        one(
            "Beta(2, 18), 500 each",
            |z| beta_quantile(2.0, 18.0, normal_cdf(z[0])),
            500,
            0.1,
            |u| beta_quantile(2.0, 18.0, u),
        ),
        one(
            "Beta(0.5, 49.5), 500 each",
            |z| beta_quantile(0.5, 49.5, normal_cdf(z[0])),
            500,
            0.01,
            |u| beta_quantile(0.5, 49.5, u),
        ),
        one(
            "a barrier of 50 to 150 J, spread 0.2, 100 each",
            |z| normal_cdf(ln(98.0 / (150.0 - 100.0 * normal_cdf(z[0]))) / 0.2),
            100,
            0.497_887_49,
            |u| normal_cdf(ln(98.0 / (150.0 - 100.0 * u)) / 0.2),
        ),
        Imagined {
            name: "Phi(-1.5 + .8 z1 + .4 z2 + .5 z1 z2), 200 each",
            frequency: |z| normal_cdf(-1.5 + 0.8 * z[0] + 0.4 * z[1] + 0.5 * z[0] * z[1]),
            unknowns: 2,
            each: 200,
            exact: [f64::NAN, 0.002_176_4, 0.657_670_66],
        },
        Imagined {
            name: "Phi(-1.5 + .8 z1 + .4 z2 + .4 z3), 200 each",
            frequency: |z| normal_cdf(-1.5 + 0.8 * z[0] + 0.4 * z[1] + 0.4 * z[2]),
            unknowns: 3,
            each: 200,
            exact: [0.141_988_39, 0.000_930_32, 0.544_437_97],
        },
    ]
}

fn bands(repeats: u64) {
    let row = |name: &str, exact: [f64; 3], found: Vec<Worlds>| {
        let covered = |which: usize| {
            if exact[which].is_nan() {
                return "-".to_owned();
            }
            let held = found.iter().filter(|worlds| {
                let band = worlds.band(0.9);
                let ends = [band.mean_interval, band.low_interval, band.high_interval];
                within(ends[which], exact[which])
            });
            share(held.count(), repeats)
        };
        println!("{name:<44} {:>9} {:>9} {:>9}", covered(0), covered(1), covered(2));
    };
    for problem in imagined() {
        let found = (0..repeats).into_par_iter().filter_map(|seed| grouped(&problem, seed));
        row(problem.name, problem.exact, found.collect());
    }
    let found = (0..repeats).into_par_iter().map(blows).collect();
    row(
        "80 J +- 30 % on 50 to 150 J, blows re-used",
        [0.350_590_41, 0.049_530_7, 0.850_647],
        found,
    );
}

/// Groups spread over the unknowns as a study spreads them.
fn grouped(problem: &Imagined, seed: u64) -> Option<Worlds> {
    let (points, stream) =
        (Scrambled::new(seed, Domain::UNKNOWN), Stream::new(seed, Domain::SHOTS));
    let group = |g: u32| {
        let place = |d: usize| points.coordinate(0, g, u32::try_from(d).ok()?);
        let at: Vec<f64> = (0..problem.unknowns).filter_map(place).collect();
        let z: Vec<f64> = at.iter().map(|u| normal_quantile(*u)).collect();
        let p = (problem.frequency)(&z);
        let held = binomial_quantile(stream.uniform(u64::from(g), 1), problem.each, p);
        Group { at, held, flights: problem.each }
    };
    let groups = (0..128).map(group).collect();
    let open = (0..problem.unknowns).collect();
    Worlds::grouped(&[Stratum { weight: 1.0, open, groups }], seed)
}

/// 2,000 blows of 80 J with a spread of 0.3, on a barrier with one of 0.2 whose
/// strength nobody knows.
fn blows(seed: u64) -> Worlds {
    let stream = Stream::new(seed, Domain::SHOTS);
    let worlds: Vec<(f64, Vec<f64>)> =
        (0..256).map(|i| (1.0 / 256.0, vec![(f64::from(i) + 0.5) / 256.0])).collect();
    let batch = |batch: u64| {
        let blow = |i: u64| ln(80.0) + 0.3 * normal_quantile(stream.uniform(50 * batch + i, 0));
        let blows: Vec<f64> = (0..50).map(blow).collect();
        let chance = |(_, at): &(f64, Vec<f64>)| {
            let strength = ln(50.0 + 100.0 * at[0]);
            blows.iter().map(|x| normal_cdf((x - strength) / 0.2)).sum::<f64>() / 50.0
        };
        worlds.iter().map(chance).collect::<Vec<f64>>()
    };
    let batches: Vec<Vec<f64>> = (0..40).map(batch).collect();
    Worlds::reused(worlds, &batches, 2000, seed)
}

/// Whether the interval of a normal threshold's quantile holds it.
fn crossing(seed: u64, target: f64) -> bool {
    let asked = RootSearch { targets: vec![target], ..RootSearch::new(10.0, 50.0) };
    let stream = Stream::new(seed, Domain::DRAWS);
    let own: Vec<f64> = (0..asked.flights)
        .map(|draw| 30.0 + 4.0 * normal_quantile(stream.uniform(draw, 0)))
        .collect();
    let found = roots(&asked, |x, flights| {
        let held = own.iter().filter(|own| **own < x).count() as u64;
        Proportion::clopper_pearson(held, flights, LEVEL)
    });
    let exact = 30.0 + 4.0 * normal_quantile(target);
    match &found.answers[0].verdict {
        Verdict::Crossed(all) => all.iter().any(|c| {
            c.low.is_none_or(|low| low <= exact) && c.high.is_none_or(|high| exact <= high)
        }),
        Verdict::NeverReached { .. } | Verdict::AlwaysExceeded { .. } => false,
    }
}
