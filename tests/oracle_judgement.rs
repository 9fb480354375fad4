//! Shots weighed against a strength, against an independent grid.
//!
//! Source: `tests/oracles/judgement.py` (`SciPy`), recomputed by `tests/all`.

use longodds_sim::{
    math::{exp, ln},
    scenario::Demand,
    trials::judgement::{Blow, Estimate, ModelBarrier, Strength},
    uncertain::{Distribution, LogNormal, normal_quantile},
};

const TABLE: &str = include_str!("oracles/judgement.csv");

fn lognormal(median: f64, sd: f64) -> Distribution {
    Distribution::LogNormal(LogNormal::new(ln(median), sd).unwrap())
}

/// The claim's blows of the script: lognormal, 80 J, sd 0.30.
fn demanded() -> Vec<(f64, f64)> {
    const MANY: u32 = 80;
    let share = 1.0 / f64::from(MANY);
    let size = |i: u32| 80.0 * exp(0.3 * normal_quantile((f64::from(i) + 0.5) * share));
    (0..MANY).map(|i| (size(i), share)).collect()
}

/// The script's spread: known, or lognormal about it.
fn spreads(kind: &str) -> Vec<[f64; 2]> {
    if kind != "cut" {
        return vec![[0.2, 1.0]];
    }
    let step = |i: u32| -3.5 + f64::from(i) / 8.0;
    let nodes: Vec<[f64; 2]> =
        (0..=56).map(|i| [0.2 * exp(0.5 * step(i)), exp(-0.5 * step(i) * step(i))]).collect();
    let sum: f64 = nodes.iter().map(|node| node[1]).sum();
    nodes.into_iter().map(|[s, weight]| [s, weight / sum]).collect()
}

fn shots(text: &str) -> Vec<Blow> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let blow = |pair: &[&str]| Blow {
        size: pair[0].parse().unwrap(),
        doubt: 0.03,
        through: pair[1] == "t",
    };
    words.chunks(2).map(blow).collect()
}

/// Means to a thousandth, ends to four: their cells differ. A few values of the
/// strength at a few of the spread are steps, and an end may fall on the next.
fn near(what: &str, found: Estimate, row: &[f64]) {
    let step = what.contains("choice") && !what.ends_with("known");
    let ends = if step { 0.025 } else { 4e-3 };
    let [mean, low, high] = [found.probability, found.low, found.high];
    assert!((mean - row[0]).abs() < 1e-3, "{what}: {mean} instead of {}", row[0]);
    assert!((low - row[1]).abs() < ends, "{what}: low {low} instead of {}", row[1]);
    assert!((high - row[2]).abs() < ends, "{what}: high {high} instead of {}", row[2]);
}

#[test]
fn judgements_agree_with_an_independent_grid() {
    let mut rows = csv::Reader::from_reader(TABLE.as_bytes());
    let mut seen = 0;
    for row in rows.records().map(Result::unwrap) {
        let median = match &row[2] {
            "uniform" => Distribution::uniform(50.0, 150.0).unwrap(),
            "lognormal" => lognormal(100.0, 0.35),
            _ => Distribution::choice(&[60.0, 120.0, 200.0], &[0.5, 0.3, 0.2]).unwrap(),
        };
        let kind = &row[3];
        let barrier = ModelBarrier {
            demand: Demand::NormalEnergy,
            strength: Strength::new(&median, spreads(kind)),
            demanded: demanded(),
        };
        let what = format!("{} {} {kind}", &row[0], &row[2]);
        let numbers: Vec<f64> = (4..row.len()).map(|i| row[i].parse().unwrap()).collect();
        let blows = shots(&row[1]);
        let Some(judged) = barrier.judge(&blows, 1.0) else {
            near(&what, barrier.before(), &numbers[..3]);
            continue;
        };
        near(&what, judged.by_scenario, &numbers[..3]);
        if let Some(both) = judged.both {
            near(&what, both, &numbers[3..6]);
        }
        near(&what, judged.by_shots, &numbers[6..9]);
        if kind == "known" {
            let (factor, surprise) = (judged.bayes_factor, judged.surprise);
            assert!((ln(factor) - ln(numbers[9])).abs() < 0.02, "{what}: {factor}");
            assert!((surprise - numbers[10]).abs() < 1e-3, "{what}: {surprise}");
        }
        seen += 1;
    }
    assert!(seen > 100, "{seen} rows");
}

/// A sharp barrier, median uniform from 50 to 150 J, and one stopped shot at E
/// before a blow of exactly 97.6 J: (97.6 - max(E, 50))/(150 - max(E, 50)),
/// never below 0. After one that went through, (97.6 - 50)/(min(E, 150) - 50),
/// at most 1.
#[test]
fn a_sharp_barrier_gives_its_closed_form() {
    let barrier = ModelBarrier {
        demand: Demand::NormalEnergy,
        strength: Strength::new(&Distribution::uniform(50.0, 150.0).unwrap(), vec![[0.001, 1.0]]),
        demanded: vec![(97.6, 1.0)],
    };
    let after = |size: f64, through: bool| {
        let judged = barrier.judge(&[Blow { size, doubt: 0.0, through }], 1.0).unwrap();
        judged.by_scenario.probability
    };
    for size in [25.0, 40.0, 60.0, 75.0, 90.0, 120.0, 140.0_f64] {
        let least = size.max(50.0);
        let stopped = ((97.6 - least) / (150.0 - least)).max(0.0);
        assert!((after(size, false) - stopped).abs() < 2e-3, "{size}: {}", after(size, false));
    }
    for size in [60.0, 90.0, 120.0, 140.0_f64] {
        let through = (47.6 / (size.min(150.0) - 50.0)).min(1.0);
        assert!((after(size, true) - through).abs() < 2e-3, "{size}: {}", after(size, true));
    }
    // Half of the doubt goes either way at the very blow.
    assert!(after(97.6, false) < 2e-3 && after(97.6, true) > 0.998);
}
