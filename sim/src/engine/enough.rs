//! A run that goes on until it has flown enough.

use super::{Change, Order, Progress, Tally, run};
use crate::{
    chain::Claim,
    estimate::{Decision, Stopping},
};
use std::ops::Range;

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

/// Flights between two times that a run is shown to whoever watches.
const SHOWN: u64 = 16_384;

fn parts(draws: Range<u64>) -> impl Iterator<Item = Range<u64>> {
    let Range { start, end } = draws;
    let ends = (start..end).step_by(usize::try_from(SHOWN).unwrap_or(usize::MAX));
    ends.map(move |from| from..end.min(from + SHOWN))
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
    let none = Order { changes: changes.to_vec(), ..Order::new(seed, 0..0) };
    let tally = run(claim, &none, progress);
    run_on(claim, seed, changes, rule, tally, progress)
}

/// [`run_until`], going on from the first flights of the same run, which may be none
/// or any number at which `rule` looks.
#[must_use]
pub(crate) fn run_on(
    claim: &Claim,
    seed: u64,
    changes: &[Change],
    rule: &Stopping,
    mut tally: Tally,
    progress: &impl Progress,
) -> (Tally, Stop) {
    let order = |draws| Order { changes: changes.to_vec(), ..Order::new(seed, draws) };
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
        for part in parts(flown..until) {
            let end = part.end;
            tally = tally.merged(run(claim, &order(part), progress));
            progress.so_far(tally.passed(claim.gates().len() - 1), tally.flights());
            progress.seen(&tally);
            if tally.flights() < end {
                return (tally, Stop::Interrupted);
            }
        }
    }
}
