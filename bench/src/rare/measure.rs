//! One problem, many seeds.

use super::Problem;
use longodds_sim::{
    estimate::rare::{Effort, Flown, LimitState, Method, RareEvent, rare_event},
    sampling::{Domain, Stream},
    uncertain::normal_quantile,
};
use rayon::prelude::*;

/// How the answers to one problem compare with its chance.
#[derive(Clone, Copy, Debug, Default)]
pub struct Measured {
    /// Seeds.
    pub seeds: u64,
    /// Intervals that hold the chance.
    pub covered: u64,
    /// Answers by ways that were found, and how many of those intervals hold
    /// the chance with no allowance for ways that nobody has seen.
    pub by_ways: [u64; 2],
    /// Answers by plain flights that were enough.
    pub plain: u64,
    /// Answers that are a bound by plain flights only.
    pub refused: u64,
    /// Farthest that an interval was off, as a factor; 1 where it holds.
    pub worst: f64,
    /// Farthest that an estimate was off, refusals left out.
    pub worst_estimate: f64,
    /// Median of the estimate over the chance.
    pub median: f64,
    /// Median of the upper end over the chance.
    pub high: f64,
    /// Mean of all flights.
    pub flights: u64,
}

/// Flies `flights` at random and searches, for every seed below `seeds`.
#[must_use]
pub fn measure(problem: &Problem, flights: u64, seeds: u64) -> Measured {
    let found: Vec<RareEvent> = (0..seeds)
        .into_par_iter()
        .map(|seed| {
            let plain = fly(problem, seed, flights);
            rare_event(problem, seed, &plain, &Effort::default())
        })
        .collect();
    let chance = problem.chance;
    let holds = |[low, high]: [f64; 2]| low <= chance && chance <= high;
    let count = |what: &dyn Fn(&RareEvent) -> bool| found.iter().filter(|f| what(f)).count() as u64;
    let off = |f: &RareEvent| (f.low / chance).max(chance / f.high).max(1.0);
    let answers = found.iter().filter(|f| f.method != Method::Unresolved);
    let farther = |x: f64, y: f64| x.max(y);
    Measured {
        seeds,
        covered: count(&|f| holds([f.low, f.high])),
        by_ways: [count(&|f| f.by_ways.is_some()), count(&|f| f.by_ways.is_some_and(holds))],
        plain: count(&|f| f.method == Method::Plain),
        refused: count(&|f| f.method == Method::Unresolved),
        worst: found.iter().map(off).fold(1.0, farther),
        worst_estimate: answers
            .map(|f| (f.probability / chance).max(chance / f.probability))
            .fold(1.0, farther),
        median: middle(found.iter().map(|f| f.probability / chance).collect()),
        high: middle(found.iter().map(|f| f.high / chance).collect()),
        flights: flights + found.iter().map(|f| f.calls).sum::<u64>() / seeds.max(1),
    }
}

fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Flights at random.
fn fly(problem: &Problem, seed: u64, flights: u64) -> Flown {
    let stream = Stream::new(seed, Domain::DRAWS);
    let slots: Vec<u32> = (0..).take(problem.inputs).collect();
    let (mut met, mut point, mut score) = (Vec::new(), vec![0.0; problem.inputs], [0.0]);
    for draw in 0..flights {
        stream.fill(draw, &slots, &mut point);
        for u in &mut point {
            *u = normal_quantile(*u);
        }
        problem.scores(&point, &mut score);
        if score[0] <= 0.0 {
            met.extend_from_slice(&point);
        }
    }
    Flown { flights, met }
}
