//! A run that goes on until it has flown enough.

use super::{Change, Order, Progress, Tally, run};
use crate::{
    chain::Claim,
    estimate::{Decision, Stopping},
};

/// Why a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stop {
    /// All the flights that were asked for are flown.
    AsAsked,
    /// The estimate is as exact as asked.
    Exact,
    /// The chance is shown to be below the floor.
    BelowFloor,
    /// The budget is spent.
    BudgetSpent,
    /// Its time was up.
    TimeUp,
    /// It was stopped from outside.
    Interrupted,
}

/// Most flights that are flown for the quantiles' sake.
pub const SETTLING: u64 = 500_000;

/// How many flights would settle the quantiles; `None` if they are settled, or
/// if that cannot be had.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a positive count, looked at before it is used"
)]
fn unsettled(tally: &Tally, rule: &Stopping) -> Option<u64> {
    let flown = tally.flights();
    let worst = tally.least_settled()?;
    // The error falls with the root of the flights; a little more, lest it be
    // missed by a hair.
    let wanted = 1.1 * flown as f64 * worst.ratio() * worst.ratio();
    let most = rule.budget.min(SETTLING);
    if worst.is_settled() || wanted > most as f64 {
        return None;
    }
    let batch = rule.batch.max(1);
    let more = (wanted as u64).saturating_sub(flown).div_ceil(batch).max(1);
    let until = flown + more * batch;
    (until <= most).then_some(until)
}

/// Flies draws from 0 until `rule` says enough, and says why it ended.
///
/// Then goes on until the printed quantiles of what strikes are settled too,
/// if that can be had within [`SETTLING`] flights.
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
        let held = tally.passed(claim.gates().len() - 1);
        let (more, stop) = match rule.decide(held, flown) {
            Decision::FlyUntil(until) => (Some(until), Stop::Interrupted),
            Decision::Exact => (unsettled(&tally, rule), Stop::Exact),
            Decision::BelowFloor => (unsettled(&tally, rule), Stop::BelowFloor),
            Decision::BudgetSpent => (unsettled(&tally, rule), Stop::BudgetSpent),
        };
        let Some(until) = more else { return (tally, stop) };
        progress.expect(until.max(rule.likely(held, flown)));
        tally = tally.merged(run(claim, &order(flown..until), progress));
        progress.so_far(tally.passed(claim.gates().len() - 1), tally.flights());
        if tally.flights() < until {
            return (tally, Stop::Interrupted);
        }
    }
}
