//! When a run has flown enough.
//!
//! The plan is fixed before the first flight: so many flights; then on until so
//! many successes, looked for at fixed numbers of flights; no more than so many
//! flights. The plain Clopper-Pearson interval at the end then covers as often
//! as it says, though the end depends on the flights: the ends can be put in
//! order by their estimate, and "ended here or higher" is the same as "so many
//! successes by this flight" for every one of them. The estimate is too high by
//! no more than one part in the successes asked for.
//!
//! One look more, after a fixed number of flights, asks whether it is so rare that
//! flying on would teach little. That hands over to the search: a decision about
//! computing, not an answer. (A floor that is looked at again and again says
//! "below" more than twice as often as its level where it should not.) Never
//! stop at the first success: that would overstate a chance of 1 in 10 two and
//! a half times.

use super::{LEVEL, Proportion};

/// Successes after which the interval is no wider than a third of the estimate.
pub const THIRD: u64 = 145;

/// When a run has flown enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stopping {
    /// Flights before the first look.
    pub first: u64,
    /// Successes that are enough; with fewer after the first flights it flies on.
    pub successes: u64,
    /// Flights are added in multiples of this: one, or an eighth of those that
    /// are flown.
    pub batch: u64,
    /// Most flights.
    pub budget: u64,
    /// A chance shown to be below this is left to the search ...
    pub floor: f64,
    /// ... after so many flights, and then alone.
    pub look: u64,
}

impl Default for Stopping {
    /// An interval no wider than a third of the estimate, or a chance below 1 in
    /// 5,000 after 20,480 flights, within a million flights.
    fn default() -> Self {
        Self {
            first: 4096,
            successes: THIRD,
            batch: 2048,
            budget: 1 << 20,
            floor: 2e-4,
            look: 20_480,
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
        let first = self.first.min(self.budget);
        let look = self.look.clamp(first, self.budget);
        if n < first {
            Decision::FlyUntil(first)
        } else if k >= self.successes {
            Decision::Exact
        } else if n == look && Proportion::clopper_pearson(k, n, LEVEL).at_most() <= self.floor {
            Decision::BelowFloor
        } else if n >= self.budget {
            Decision::BudgetSpent
        } else {
            let batch = self.batch.max(1);
            let next = n + batch * (n / 8 / batch).max(1);
            Decision::FlyUntil(next.min(if n < look { look } else { self.budget }))
        }
    }

    /// Whether `n` flights with `k` successes make the estimate as exact as asked.
    #[must_use]
    pub fn is_exact(&self, k: u64, n: u64) -> bool {
        self.decide(k, n) == Decision::Exact
    }

    /// About how many flights it will take, for showing how far it is.
    #[must_use]
    pub fn likely(&self, k: u64, n: u64) -> u64 {
        let needed = n.saturating_mul(self.successes) / k.max(1);
        needed.clamp(self.first.min(self.budget), self.budget)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
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

    const BROAD: Stopping =
        Stopping { first: 0, successes: THIRD, batch: 0, budget: 0, floor: 0.0, look: 10_240 };

    /// Every end that the rule knows, and chances at which two of them are about
    /// as likely. 2000 rehearsals of an exact 95 % interval fall below 93.5 % once
    /// in 1000.
    #[test]
    fn the_interval_covers_at_every_end() {
        let rule = Stopping { first: 2048, batch: 1024, budget: 204_800, floor: 0.0, ..BROAD };
        for p in [1.5e-5, 1e-4, 5e-4, 7.5e-4, 1e-3, 3e-3, 0.012, 0.0142, 0.03, 0.065, 0.08, 0.4] {
            let [estimate, covered, _] = rehearse(|k, n| rule.decide(k, n), p, 2000);
            assert!(covered > 0.935, "{p}: {covered}");
            // At most one part in the successes too high, and four standard
            // errors of the mean.
            let error = 4.0 / (2000.0 * p * 2048.0_f64.min(145.0 / p)).sqrt();
            assert!((estimate - 1.0).abs() < 1.0 / 145.0 + error, "{p}: {estimate}");
        }
    }

    /// Where the first flights hand over, the printed interval of what was counted
    /// so far misses more often than it says, by the chance that the hand-over
    /// itself misleads: no more than half of its level, twice over.
    #[test]
    fn handing_over_to_the_search_costs_little_cover() {
        let rule = Stopping { first: 2048, batch: 1024, budget: 204_800, floor: 5e-4, ..BROAD };
        for p in [1e-5, 1e-4, 3.61e-4, 4e-4, 5.45e-4, 7e-4, 1e-3] {
            let [_, covered, _] = rehearse(|k, n| rule.decide(k, n), p, 4000);
            // Standard error 0.4 %.
            assert!(covered > 0.92, "{p}: {covered}");
        }
    }

    #[test]
    fn each_reason_to_stop_is_told() {
        let rule = Stopping { floor: 2e-4, ..Stopping::default() };
        assert_eq!(rule.decide(0, 0), Decision::FlyUntil(4096));
        assert_eq!(rule.decide(145, 4096), Decision::Exact);
        assert_eq!(rule.decide(0, 4096), Decision::FlyUntil(6144));
        assert_eq!(rule.decide(144, 19_000), Decision::FlyUntil(20_480));
        assert_eq!(rule.decide(0, 20_480), Decision::BelowFloor);
        assert_eq!(rule.decide(3, 20_480), Decision::FlyUntil(20_480 + 2048));
        assert_eq!(rule.decide(0, 40_960), Decision::FlyUntil(40_960 + 4096));
        assert_eq!(rule.decide(30, 1 << 20), Decision::BudgetSpent);
        assert_eq!(rule.likely(29, 20_480), 5 * 20_480);
    }

    /// The number of successes that the plan asks for.
    #[test]
    fn so_many_successes_make_an_interval_of_a_third() {
        let n = 10_000_000;
        let width = |k| {
            let p = Proportion::clopper_pearson(k, n, LEVEL);
            p.width() / p.estimate
        };
        assert!(width(THIRD) <= 1.0 / 3.0 && width(THIRD - 1) > 1.0 / 3.0);
    }
}
