//! Which level to shoot at next.

use super::{Grid, Prior, Trial};
use serde::Serialize;

/// A way to choose the next level.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Plan {
    /// Down a step after an event, up a step after none (Dixon and Mood 1948).
    UpAndDown {
        /// First level.
        start: f64,
        /// Step, about the spread, > 0.
        step: f64,
    },
    /// Half way back to where events and non-events balance (Langlie 1962,
    /// from memory).
    Langlie {
        /// Level that surely has no event.
        low: f64,
        /// Level that surely has it.
        high: f64,
    },
    /// Where the outcome would tell the most about threshold and spread.
    Informative {
        /// What is thought before.
        prior: Prior,
    },
}

impl Plan {
    /// The next level after these trials, in the order shot.
    #[must_use]
    pub fn next(&self, trials: &[Trial]) -> f64 {
        match *self {
            Self::UpAndDown { start, step } => trials
                .last()
                .map_or(start, |last| if last.event { last.x - step } else { last.x + step }),
            Self::Langlie { low, high } => langlie(low, high, trials),
            Self::Informative { prior } => informative(&Grid::new(&prior, trials), &prior),
        }
    }
}

fn langlie(low: f64, high: f64, trials: &[Trial]) -> f64 {
    let Some(last) = trials.last() else { return 0.5 * (low + high) };
    let mut balance = 0;
    for trial in trials.iter().rev() {
        balance += if trial.event { 1 } else { -1 };
        if balance == 0 {
            return 0.5 * (last.x + trial.x);
        }
    }
    0.5 * (last.x + if last.event { low } else { high })
}

/// The best of evenly spaced levels within three prior spreads, refined once.
pub(super) fn informative(grid: &Grid, prior: &Prior) -> f64 {
    let (middle, sd) = grid.threshold();
    let sigma = crate::math::exp(prior.ln_sigma);
    let half = 2.5 * sd.max(0.5 * sigma) + sigma;
    let best = |low: f64, high: f64, count: u32| {
        (0..=count)
            .map(|i| low + (high - low) * f64::from(i) / f64::from(count))
            .map(|x| (grid.information(x), x))
            .fold((f64::NEG_INFINITY, middle), |a, b| if b.0 > a.0 { b } else { a })
            .1
    };
    let coarse = best(middle - half, middle + half, 16);
    best(coarse - half / 8.0, coarse + half / 8.0, 8)
}

#[cfg(test)]
mod tests {
    use super::super::trials;
    use super::*;

    #[test]
    fn up_and_down_follows_the_published_drops() {
        let drops = super::super::drop_test();
        // Table 1 of the drop test was shot up and down in steps of 0.05.
        let step = 0.050_117_8;
        for i in 1..drops.len() {
            let plan = Plan::UpAndDown { start: 0.0, step };
            assert!((plan.next(&drops[..i]) - drops[i].x).abs() < 1e-3, "{i}");
        }
    }

    #[test]
    fn langlie_goes_to_the_limits_and_then_to_the_balance() {
        let plan = Plan::Langlie { low: 0.0, high: 100.0 };
        assert!((plan.next(&[]) - 50.0).abs() < 1e-12);
        assert!((plan.next(&trials(&[50.0], &[0])) - 75.0).abs() < 1e-12);
        assert!((plan.next(&trials(&[50.0, 75.0], &[0, 1])) - 62.5).abs() < 1e-12);
        assert!((plan.next(&trials(&[50.0, 75.0, 62.5], &[0, 1, 1])) - 31.25).abs() < 1e-12);
    }

    #[test]
    fn the_informative_level_moves_away_from_a_surprise() {
        let prior = Prior::guess(3.0, 0.1);
        let plan = Plan::Informative { prior };
        let first = plan.next(&[]);
        assert!((first - 3.0).abs() < 0.1);
        assert!(plan.next(&trials(&[first], &[0])) > first);
        assert!(plan.next(&trials(&[first], &[1])) < first);
    }
}
