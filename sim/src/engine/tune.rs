//! The step size of a run, from the error budget.

use super::{Draws, OUTSIDE_ONE_IN, Rows, check_steps};
use crate::{chain::Claim, flight::Settings};

/// Tolerances of the stepper that are tried, the quickest first.
const LADDER: [f64; 8] = [2e-5, 1e-5, 5e-6, 2e-6, 1e-6, 3e-7, 1e-7, 1e-8];

/// Draws that are flown to find the one to use.
const TRIED: u64 = 1024;

/// The claim with the quickest stepper that keeps the error budget on a fixed
/// subset of this seed's draws, or the finest there is.
///
/// What the budget still misses is measured in every run and reported.
#[must_use]
pub fn tuned(claim: Claim, seed: u64) -> Claim {
    let mut rows = Rows::default();
    Draws::new(&claim.scenario().inputs, seed, &[]).fill(0..TRIED, &mut rows);
    let mut claim = claim;
    for tolerance in LADDER {
        claim = claim.with_settings(Settings { tolerance, ..Settings::default() });
        let check = check_steps(&claim, &rows.values);
        if check.outside * OUTSIDE_ONE_IN <= check.flights {
            break;
        }
    }
    claim
}
