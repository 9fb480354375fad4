//! A plan shot in the computer, many times: what it costs and how close it
//! comes.

use super::{Grid, Plan, Prior, Trial};
use crate::{
    math::erfc,
    sampling::{Domain, Stream},
};
use rand::RngExt;
use rand_distr::StandardNormal;
use serde::Serialize;
use std::f64::consts::SQRT_2;

/// How a plan of so many shots turns out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Imagined {
    /// Shots.
    pub shots: u32,
    /// Tests imagined.
    pub tests: u32,
    /// Mean number of events (targets with a hole).
    pub events: f64,
    /// Root mean square error of the threshold, in the level's unit.
    pub error: f64,
    /// Mean half-width of the 95 % interval of the threshold.
    pub half_width: f64,
    /// Share of tests whose 95 % interval holds the true threshold.
    pub covered: f64,
}

/// Shoots `plan` `tests` times with `shots` shots each; the truth of each test
/// is drawn from `prior`, which also analyses it. Same seed, same answer.
#[must_use]
pub fn imagine(plan: &Plan, prior: &Prior, shots: u32, tests: u32, seed: u64) -> Imagined {
    let stream = Stream::new(seed, Domain::SHOTS);
    let (mut events, mut squares, mut widths, mut covered) = (0.0, 0.0, 0.0, 0.0);
    for test in 0..tests {
        let mut dice = stream.at(u64::from(test));
        let [a, b]: [f64; 2] = [dice.sample(StandardNormal), dice.sample(StandardNormal)];
        let mu = prior.mu + prior.mu_sd * a;
        let sigma = crate::math::exp(prior.ln_sigma + prior.ln_sigma_sd * b);
        let mut trials: Vec<Trial> = Vec::new();
        let mut grid = Grid::new(prior, &[]);
        for _ in 0..shots {
            let x = match plan {
                Plan::Informative { prior } => super::plan::informative(&grid, prior),
                Plan::UpAndDown { .. } | Plan::Langlie { .. } => plan.next(&trials),
            };
            let chance = 0.5 * erfc((mu - x) / sigma / SQRT_2);
            let event = dice.random::<f64>() < chance;
            let trial = Trial { x, event };
            trials.push(trial);
            grid = grid.with(&trial);
            events += f64::from(u8::from(event));
        }
        let (low, high) = (grid.threshold_quantile(0.025), grid.threshold_quantile(0.975));
        let error = grid.threshold().0 - mu;
        squares += error * error;
        widths += 0.5 * (high - low);
        covered += f64::from(u8::from(low <= mu && mu <= high));
    }
    let n = f64::from(tests);
    Imagined {
        shots,
        tests,
        events: events / n,
        error: (squares / n).sqrt(),
        half_width: widths / n,
        covered: covered / n,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Truth drawn from the prior that analyses it: the interval covers by
    /// construction; 120 tests, so 0.95 +- 0.06 is three standard errors.
    #[test]
    fn more_shots_come_closer_and_the_interval_covers() {
        let prior = Prior::guess(3.0, 0.1);
        let plan = Plan::UpAndDown { start: 3.0, step: 0.1 };
        let few = imagine(&plan, &prior, 6, 120, 1);
        let many = imagine(&plan, &prior, 20, 120, 1);
        assert!(many.error < few.error && many.half_width < few.half_width);
        assert!((few.covered - 0.95).abs() < 0.06 && (many.covered - 0.95).abs() < 0.06);
        // Up and down: about every other shot goes through.
        assert!((many.events / 20.0 - 0.5).abs() < 0.1);
    }

    #[test]
    fn the_same_seed_gives_the_same_test() {
        let prior = Prior::guess(3.0, 0.1);
        let plan = Plan::Informative { prior };
        assert_eq!(imagine(&plan, &prior, 3, 4, 9), imagine(&plan, &prior, 3, 4, 9));
    }
}
