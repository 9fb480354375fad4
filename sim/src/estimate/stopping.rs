//! When a run has flown enough.
//!
//! Looking at the result to decide when to stop makes the estimate a little too
//! high: a run stops rather when luck has brought successes early. For k
//! successes the relative bias is at most 1/k and the interval still covers as
//! often as it says (95 to 96 % in the tests below), as long as stopping needs
//! many successes. Stopping below a floor makes the estimate of a very small
//! chance too low (half of one in a million, with a floor of one in 100,000):
//! then the interval, which still covers, is the answer. Never stop at the first one: that would overstate a chance
//! of 1 in 10 two and a half times.

use super::{LEVEL, Proportion};

/// How exact an estimate must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Precision {
    /// The interval is no wider than this share of the estimate.
    Width(f64),
    /// The relative standard error is no larger than this.
    RelativeError(f64),
}

/// When a run has flown enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopping {
    /// How exact the estimate must be.
    pub precision: Precision,
    /// A chance shown to be below this is rare enough to stop.
    pub floor: f64,
    /// Flights before the first look.
    pub first: u64,
    /// Most flights.
    pub budget: u64,
    /// Flights are added in multiples of this.
    pub batch: u64,
}

impl Default for Stopping {
    /// An interval no wider than a third of the estimate (about 140 successes),
    /// or a chance below 1 in 100,000, within a million flights.
    fn default() -> Self {
        Self {
            precision: Precision::Width(1.0 / 3.0),
            floor: 1e-5,
            first: 20_480,
            budget: 1 << 20,
            batch: 4096,
        }
    }
}

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    /// Fly on until this many flights in all.
    FlyUntil(u64),
    /// The estimate is as exact as asked.
    Exact,
    /// The chance is shown to be below the floor.
    BelowFloor,
    /// The budget is spent.
    BudgetSpent,
}

impl Stopping {
    /// Decides after `n` flights with `k` successes. Depends on the counts
    /// alone, so the same run stops at the same flight on any machine.
    #[must_use]
    pub fn decide(&self, k: u64, n: u64) -> Decision {
        if n < self.first.min(self.budget) {
            return Decision::FlyUntil(self.first.min(self.budget));
        }
        let p = Proportion::clopper_pearson(k, n, LEVEL);
        // Ratio of the error to what is allowed: above 1, more is needed.
        let ratio = match self.precision {
            Precision::Width(share) => p.width() / (share * p.estimate),
            Precision::RelativeError(share) => p.relative_error() / share,
        };
        if ratio <= 1.0 {
            Decision::Exact
        } else if p.at_most() <= self.floor {
            Decision::BelowFloor
        } else if n >= self.budget {
            Decision::BudgetSpent
        } else {
            Decision::FlyUntil(self.next(n, ratio))
        }
    }

    /// The error falls with the root of the flights: as many as the ratio asks
    /// for, but no more than four times as many at once.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a positive count, at most four times another"
    )]
    fn next(&self, n: u64, ratio: f64) -> u64 {
        let wanted = (n as f64 * (ratio * ratio).clamp(1.0, 4.0)).ceil() as u64;
        let batches = (wanted - n).div_ceil(self.batch.max(1)).max(1);
        (n + batches * self.batch.max(1)).min(self.budget)
    }
}

/// Unbiased estimate of a chance from a run stopped at its `h`-th success, on
/// trial `n`: (h - 1) / (n - 1), for h >= 2.
///
/// Source: Haldane, Biometrika 33 (1945). (From memory.)
#[must_use]
pub fn after_successes(h: u64, n: u64) -> f64 {
    h.saturating_sub(1) as f64 / n.saturating_sub(1).max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        estimate::binomial_probability,
        math::{ln, log1p},
        sampling::{Domain, Stream},
    };

    /// Runs the rule on imagined successes with geometric gaps; mean estimate
    /// over p, share of intervals that cover, mean successes.
    fn rehearse(rule: impl Fn(u64, u64) -> Decision, p: f64, runs: u64) -> [f64; 3] {
        let stream = Stream::new(20, Domain::DRAWS);
        let (mut estimate, mut covered, mut successes) = (0.0, 0.0, 0.0);
        for run in 0..runs {
            let (mut k, mut next, mut n) = (0_u64, 0.0, 0_u64);
            let mut slot = 0;
            let mut gap = |at: &mut f64| {
                *at += (ln(stream.uniform(run, slot)) / log1p(-p)).ceil();
                slot += 1;
            };
            gap(&mut next);
            while let Decision::FlyUntil(until) = rule(k, n) {
                n = until;
                while next <= n as f64 {
                    k += 1;
                    gap(&mut next);
                }
            }
            let found = Proportion::clopper_pearson(k, n, LEVEL);
            estimate += found.estimate / p;
            covered += f64::from(u8::from(found.low <= p && p <= found.high));
            successes += k as f64;
        }
        [estimate, covered, successes].map(|sum| sum / runs as f64)
    }

    /// Source: 20 000 rehearsals with a reference library of "stop when the
    /// relative error is 0.2, looked at every 500": mean estimate 1.0344 p,
    /// coverage 0.9605, 27.5 successes.
    #[test]
    fn the_bias_of_stopping_is_small_and_known() {
        let rule = Stopping {
            precision: Precision::RelativeError(0.2),
            floor: 0.0,
            first: 500,
            budget: 1_000_000,
            batch: 500,
        };
        // The reference looks at every batch.
        let every = |k, n| match rule.decide(k, n) {
            Decision::FlyUntil(_) => Decision::FlyUntil(n + 500),
            other => other,
        };
        let [estimate, covered, successes] = rehearse(every, 0.01, 4000);
        // Standard errors over 4000 runs: 0.003, 0.003 and 0.1; four of them.
        assert!((estimate - 1.0344).abs() < 0.012, "{estimate}");
        assert!((covered - 0.9605).abs() < 0.012, "{covered}");
        assert!((successes - 27.5).abs() < 0.4, "{successes}");
        // Longer strides, as the rule proposes them, have fewer looks.
        let [strides, covered, _] = rehearse(|k, n| rule.decide(k, n), 0.01, 4000);
        assert!(strides > 0.99 && strides < estimate + 0.012, "{strides}");
        assert!(covered > 0.94, "{covered}");
    }

    #[test]
    fn the_default_rule_is_nearly_unbiased_and_covers() {
        let rule = Stopping { first: 1024, batch: 256, ..Stopping::default() };
        let [estimate, covered, successes] = rehearse(|k, n| rule.decide(k, n), 0.01, 1000);
        // 140 successes have a standard error of 8.5 %; of the mean, 0.27 %.
        assert!((estimate - 1.0).abs() < 1.0 / 138.0 + 0.009, "{estimate}");
        assert!(covered > 0.93 && successes > 130.0, "{covered} {successes}");
    }

    #[test]
    fn each_reason_to_stop_is_told() {
        let rule = Stopping::default();
        assert_eq!(rule.decide(0, 0), Decision::FlyUntil(20_480));
        assert_eq!(rule.decide(20_480, 20_480), Decision::Exact);
        assert_eq!(rule.decide(0, 400_000), Decision::BelowFloor);
        assert_eq!(rule.decide(30, 1 << 20), Decision::BudgetSpent);
        assert_eq!(rule.decide(3, 20_480), Decision::FlyUntil(4 * 20_480));
    }

    /// Source: negative binomial sums with a reference library: E\[h/N\]/p is
    /// 1.2117500594 for h = 5, p = 0.1; the corrected estimate is unbiased.
    #[test]
    fn stopping_at_a_success_is_biased_unless_corrected() {
        let (h, p) = (5_u64, 0.1);
        let (mut plain, mut corrected) = (0.0, 0.0);
        for n in h..2000 {
            // The last trial is a success, h - 1 of the others are.
            let chance = binomial_probability(h - 1, n - 1, p) * p;
            plain += chance * h as f64 / n as f64;
            corrected += chance * after_successes(h, n);
        }
        assert!((plain / p - 1.211_750_059_4).abs() < 1e-9);
        assert!((corrected / p - 1.0).abs() < 1e-9);
    }
}
