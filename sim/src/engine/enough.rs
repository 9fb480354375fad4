//! A run that goes on until it has flown enough.

use super::{Change, Order, Progress, Tally, run};
use crate::{
    chain::Claim,
    estimate::{Decision, Stopping},
};

/// Why a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// All the flights that were asked for are flown.
    AsAsked,
    /// The estimate is as exact as asked.
    Exact,
    /// The chance is shown to be below the floor.
    BelowFloor,
    /// The budget is spent.
    BudgetSpent,
    /// It was stopped from outside.
    Interrupted,
}

/// Flies draws from 0 until `rule` says enough, and says why it ended.
///
/// The rule looks at counts after fixed numbers of flights alone, so that the
/// same seed ends at the same flight whatever the number of threads.
#[must_use]
pub fn run_until(
    claim: &Claim,
    seed: u64,
    changes: &[Change],
    rule: &Stopping,
    progress: &impl Progress,
) -> (Tally, Stop) {
    let order = |draws| Order { changes: changes.to_vec(), ..Order::new(seed, draws) };
    let mut tally = run(claim, &order(0..0), progress);
    loop {
        let flown = tally.flights();
        let until = match rule.decide(tally.passed(claim.gates().len() - 1), flown) {
            Decision::FlyUntil(until) => until,
            Decision::Exact => return (tally, Stop::Exact),
            Decision::BelowFloor => return (tally, Stop::BelowFloor),
            Decision::BudgetSpent => return (tally, Stop::BudgetSpent),
        };
        progress.expect(until);
        tally = tally.merged(run(claim, &order(flown..until), progress));
        if tally.flights() < until {
            return (tally, Stop::Interrupted);
        }
    }
}
