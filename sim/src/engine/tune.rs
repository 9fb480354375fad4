//! The step size of a run, from the error budget.

use super::{Draws, Flock, Rows, fly_rows, refly::keep_the_budget};
use crate::{chain::Claim, flight::Settings, scenario::Scenario};

/// Tolerances of the stepper that are tried, the quickest first.
const LADDER: [f64; 8] = [2e-5, 1e-5, 5e-6, 2e-6, 1e-6, 3e-7, 1e-7, 1e-8];

/// Draws that are flown to find the one to use ...
const TRIED: u64 = 1024;

/// ... but no fewer than this, which are flown first to see what one takes ...
const FEWEST: u64 = 16;

/// ... and no more than come to so many evaluations of the equations of motion
/// at each tolerance: what flutters for minutes takes a million each.
const MOST_WORK: u64 = 20_000_000;

impl Claim {
    /// A scenario made ready to fly: what every draw needs is looked up, and the
    /// stepper is as quick as the error budget allows on this seed's draws.
    #[must_use]
    pub fn ready(scenario: Scenario, seed: u64) -> Self {
        tuned(Self::new(scenario), seed)
    }

    /// The same, each flight flown on to the ground.
    #[must_use]
    pub fn ready_to_ground(scenario: Scenario, seed: u64) -> Self {
        tuned(Self::new(scenario).flown_to_ground(), seed)
    }
}

/// The claim with the quickest stepper that keeps the error budget on a fixed
/// subset of this seed's draws, or the finest there is at which none of them takes
/// more steps than a flight is given.
///
/// What the budget still misses is measured in every run and reported.
#[must_use]
pub fn tuned(claim: Claim, seed: u64) -> Claim {
    let draws = Draws::new(&claim.scenario().inputs, seed, &[]);
    let mut rows = Rows::default();
    draws.fill(0..tried(&claim, &draws), &mut rows);
    let at = |claim: Claim, rung: usize| {
        let tolerance = LADDER[rung];
        claim.with_settings(Settings { tolerance, ..Settings::default() })
    };
    let mut claim = at(claim, 0);
    for rung in 1..=LADDER.len() {
        match keep_the_budget(&claim, &rows.values) {
            Some(true) => break,
            // Finer, it would take more still.
            None => return at(claim, rung.saturating_sub(2)),
            Some(false) => claim = at(claim, rung.min(LADDER.len() - 1)),
        }
    }
    claim
}

/// How many draws are flown for it: as the first few show what one takes.
fn tried(claim: &Claim, draws: &Draws<'_>) -> u64 {
    let mut rows = Rows::default();
    draws.fill(0..FEWEST, &mut rows);
    let (_, work) = fly_rows(claim, &rows.values, 0, claim.settings(), &mut Flock::default());
    let each = work.evaluations / FEWEST;
    (MOST_WORK / each.max(1)).clamp(FEWEST, TRIED)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{chain::Breach, scenario::parse};
    use std::path::Path;

    fn dropped(shape: &str, mass: &str, height: &str) -> Claim {
        let text = format!(
            "claim: It lands on a table.\nobject: {{shape: {shape}, mass: {mass}}}\n\
             release: {{dropped: {{height: {height}, nose_up: {{range: [-90 deg, 90 deg]}}}}}}\n\
             target: {{stands: {{at: 2 m}}, faces: {{table: {{centre: [0 m, 0 m, 0.8 m], width: 1 m, \
             height: 1 m, rake: 90 deg, aim: true}}}}}}\nchain: [released, reaches, strikes]\n"
        );
        Claim::new(parse(&text, Path::new(".")).unwrap())
    }

    #[test]
    fn what_flutters_for_long_is_tried_seldom_and_all_else_as_often_as_ever() {
        let tried_of = |claim: &Claim| tried(claim, &Draws::new(&claim.scenario().inputs, 1, &[]));
        let sheet = "{plate: {length: 1.2 m, width: 0.6 m, thickness: 9 mm}}";
        assert_eq!(tried_of(&dropped(sheet, "5 kg", "9 m")), TRIED);
        let chip = "{plate: {length: 3 mm, width: 3 mm, thickness: 0.3 mm}}";
        assert!(tried_of(&dropped(chip, "5 mg", "20 m")) < TRIED);
    }

    /// What no step can follow to the ground within the steps that a flight is given
    /// is flown with the quickest, ends as open, and takes no more work.
    #[test]
    fn what_turns_too_fast_for_its_fall_is_cut_off_and_left_open() {
        let chip = "{plate: {length: 1 mm, width: 1 mm, thickness: 0.1 mm}}";
        let claim = tuned(dropped(chip, "0.25 mg", "2 km"), 1);
        assert!((claim.settings().tolerance - LADDER[0]).abs() < 1e-20);
        let mut rows = Rows::default();
        Draws::new(&claim.scenario().inputs, 1, &[]).fill(0..8, &mut rows);
        let mut flock = Flock::default();
        let (outcomes, work) = fly_rows(&claim, &rows.values, 0, claim.settings(), &mut flock);
        for outcome in outcomes {
            assert!(outcome.breaches.has(Breach::Spent) && outcome.is_open());
        }
        assert!(work.steps as f64 <= 8.0 * claim.settings().most_steps);
    }
}
