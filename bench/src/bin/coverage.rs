//! How often printed 95 % intervals hold the truth, on problems whose truth is
//! known. Prints tables; every line should say 93 % or more.
//!
//! `cargo run --release -p longodds-bench --bin coverage [repeats]`

#![expect(clippy::print_stdout, reason = "a program whose output is its tables")]

use longodds_sim::{
    estimate::{
        Decision, LEVEL, Proportion, RootSearch, Stopping, TwoLevel, Verdict, beta_quantile,
        binomial_quantile, quantile_interval,
        rare::{Effort, Method, rare_event, reference::Problem},
        roots,
    },
    math::{ln, log1p},
    sampling::{Domain, Stream},
    uncertain::normal_quantile,
};
use rayon::prelude::*;

fn main() {
    let repeats = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(200);
    println!("plain sampling with the default stopping rule, {repeats} repeats");
    println!("{:>8} {:>9} {:>10} {:>10}", "p", "covered", "mean / p", "flights");
    for p in [0.0, 1e-6, 1e-3, 0.1, 0.5, 0.999, 1.0] {
        plain(p, repeats);
    }
    println!("\nthe rare-event chain after 20 000 plain flights, {repeats} repeats");
    println!(
        "{:<44} {:>9} {:>8} {:>9} {:>9} {:>8}  methods",
        "problem", "P", "covered", "median/P", "error", "calls"
    );
    for problem in problems() {
        rare(&problem, 20_000, repeats);
    }
    println!("... after 400 000 plain flights");
    rare(&Problem::Deceptive, 400_000, repeats);
    println!("\nother intervals, {repeats} repeats");
    others(repeats);
}

fn problems() -> Vec<Problem> {
    vec![
        Problem::Linear { beta: 3.090_232_306_167_813, dimension: 10 },
        Problem::Linear { beta: 3.5, dimension: 30 },
        Problem::Linear { beta: 4.753_424_308_822_899, dimension: 10 },
        Problem::Linear { beta: 6.0, dimension: 30 },
        Problem::Disc { radius: 0.25, offset: 4.0, dimension: 30 },
        Problem::Windows { stages: 3, dimension: 10 },
        Problem::Windows { stages: 4, dimension: 10 },
        Problem::FourBranch { k: 7.0 },
    ]
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

/// The whole chain of methods; the plain flights before it are imagined.
fn rare(problem: &Problem, flights: u64, repeats: u64) {
    let p = problem.probability();
    let found: Vec<_> = (0..repeats)
        .into_par_iter()
        .map(|seed| {
            let plain = Proportion::clopper_pearson(count(seed, 0, flights, p), flights, LEVEL);
            rare_event(problem, seed, &plain, &Effort::default())
        })
        .collect();
    let covered = found.iter().filter(|f| f.low <= p && p <= f.high).count();
    let middle = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    };
    let median = middle(found.iter().map(|f| f.probability / p).collect());
    let error = middle(found.iter().map(|f| f.relative_error).collect());
    let calls = found.iter().map(|f| f.calls).sum::<u64>() / repeats;
    let of = |method: Method| found.iter().filter(|f| f.method == method).count();
    println!(
        "{:<44} {p:>9.2e} {:>8} {median:>9.3} {error:>9.3} {calls:>8}  plain {} importance {} \
         subset {} unresolved {}",
        format!("{problem:?}"),
        share(covered, repeats),
        of(Method::Plain),
        of(Method::Importance),
        of(Method::Subset),
        of(Method::Unresolved)
    );
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
    for (a, b) in [(2.0, 18.0), (0.5, 49.5)] {
        let frequency = move |u| beta_quantile(a, b, u);
        let groups = move |seed| grouped(seed, 200, 500, frequency);
        let name = format!("200 groups of 500, frequencies Beta({a}, {b}):");
        report(&format!("{name} chance"), repeats, |seed| {
            groups(seed).chance(LEVEL).is_some_and(|c| within([c.low, c.high], a / (a + b)))
        });
        report(&format!("{name} lower end"), repeats, |seed| {
            groups(seed)
                .band(0.9, seed)
                .is_some_and(|band| within(band.low_interval, frequency(0.05)))
        });
        report(&format!("{name} upper end"), repeats, |seed| {
            groups(seed)
                .band(0.9, seed)
                .is_some_and(|band| within(band.high_interval, frequency(0.95)))
        });
    }
    for target in [0.01, 0.5, 0.99] {
        report(&format!("setting at which the chance is {target}"), repeats, |seed| {
            crossing(seed, target)
        });
    }
}

fn grouped(seed: u64, groups: u64, flights: u64, frequency: impl Fn(f64) -> f64) -> TwoLevel {
    let stream = Stream::new(seed, Domain::UNKNOWN);
    let of = |g| {
        let p = frequency(stream.uniform(g, 0));
        (binomial_quantile(stream.uniform(g, 1), flights, p), flights)
    };
    TwoLevel::new((0..groups).map(of).collect())
}

/// Whether the interval of a normal threshold's quantile holds it.
fn crossing(seed: u64, target: f64) -> bool {
    let asked = RootSearch { targets: vec![target], ..RootSearch::new(10.0, 50.0) };
    let stream = Stream::new(seed, Domain::DRAWS);
    let own: Vec<f64> = (0..asked.flights)
        .map(|draw| 30.0 + 4.0 * normal_quantile(stream.uniform(draw, 0)))
        .collect();
    let found = roots(&asked, |x, _| own.iter().filter(|own| **own < x).count() as u64);
    let exact = 30.0 + 4.0 * normal_quantile(target);
    match &found.answers[0].verdict {
        Verdict::Crossed(all) => all.iter().any(|c| {
            c.low.is_none_or(|low| low <= exact) && c.high.is_none_or(|high| exact <= high)
        }),
        Verdict::NeverReached { .. } | Verdict::AlwaysExceeded { .. } => false,
    }
}
