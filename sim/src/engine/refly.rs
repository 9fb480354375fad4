//! The discretisation error of a run, measured: a fixed subset of its draws
//! flown again at half the step.

use super::{Flock, fly_rows};
use crate::{
    chain::{Breach, Claim, Outcome},
    estimate::quantile,
    flight::Settings,
};
use rayon::prelude::*;

/// Budget on the shift of the point where a flight is decided, in m per 50 m.
pub const POINT_BUDGET: f64 = 1e-3;

/// Budget on the relative change of the energy there.
pub const ENERGY_BUDGET: f64 = 1e-3;

/// One flight in so many may be outside the budget: a sheet that tumbles, or
/// passes a plane at a grazing angle, magnifies any error.
///
/// Why that many do no harm: a shift decides only flights that pass an edge as
/// closely. Those outside are off by some millimetres and a few in a hundred
/// of them would have to be that close to the edge of a window of a metre, so
/// that less than 1 flight in 1,000 is in doubt, as often one way as the other,
/// where counting a million flights leaves a chance of 10 % open to 6 in 10,000.
/// How many did change their fate is measured in every run and told beside it.
/// The public benchmark asks the same of every program that it sets beside the
/// engine.
pub const OUTSIDE_ONE_IN: u64 = 40;

/// What the second flights showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepCheck {
    /// How many flights were flown twice: those of the draws that left.
    pub flights: u64,
    /// Largest shift, in m per 50 m flown (or less than 50 m).
    pub point_max: f64,
    /// Median shift, likewise.
    pub point_median: f64,
    /// Largest relative change of the energy.
    pub energy_max: f64,
    /// Median relative change of the energy.
    pub energy_median: f64,
    /// Flights beyond either budget.
    pub outside: u64,
    /// Flights that ended at another gate.
    pub changed: u64,
}

/// Draws that are flown at once: a few for each lane.
const AT_ONCE: usize = 32;

/// Evaluations of the equations of motion after which a check has seen enough, about
/// some seconds' work: many times those of flights that last seconds.
const ENOUGH: u64 = 40_000_000;

/// Flies rows twice, the second time at half the step, and compares: each up
/// to its first touch. A bounce off a corner magnifies the smallest difference,
/// so that what comes after it is held by the energy audit instead. Draws that
/// never came loose have no error to show and do not count, nor do those that took
/// more steps than a flight is given. Where flights take very many steps, the first
/// of them are compared, as [`StepCheck::flights`] tells.
///
/// `rows`: draws x inputs, row-major, SI.
#[must_use]
pub fn check_steps(claim: &Claim, rows: &[f64]) -> StepCheck {
    summary(&shifts(claim, rows, |_| false).0)
}

/// Whether these draws keep the budget, but for the few that may miss it; `None` if
/// one of them took more steps than a flight is given.
pub(super) fn keep_the_budget(claim: &Claim, rows: &[f64]) -> Option<bool> {
    let all = (rows.len() / claim.scenario().inputs.len()) as u64;
    // So many are too many whatever the others do.
    let (shifts, spent) = shifts(claim, rows, |shifts| outside(shifts) * OUTSIDE_ONE_IN > all);
    let keeps = outside(&shifts) * OUTSIDE_ONE_IN <= shifts.len() as u64;
    (!spent).then_some(keeps)
}

/// The shifts of draws, a few at a time until it is `enough`; and whether a flight
/// took more steps than it is given.
fn shifts(claim: &Claim, rows: &[f64], enough: impl Fn(&[Shift]) -> bool) -> (Vec<Shift>, bool) {
    let claim = &claim.to_first_touch();
    let half = Settings { step_scale: 0.5, ..*claim.settings() };
    let width = claim.scenario().inputs.len();
    let place = claim.scenario().release.place();
    let start = |row: &[f64]| glam::DVec3::from_array(place.map(|id| row[id.0]));
    let twice = |flock: &mut Flock, rows: &[f64]| {
        let (coarse, took) = fly_rows(claim, rows, 0, claim.settings(), flock);
        let coarse = coarse.to_vec();
        let (fine, took_half) = fly_rows(claim, rows, 0, &half, flock);
        let (mut shifts, mut any_spent) = (Vec::new(), false);
        for ((a, b), row) in coarse.iter().zip(fine).zip(rows.chunks_exact(width)) {
            let spent = [a, b].into_iter().any(|it| it.breaches.has(Breach::Spent));
            any_spent |= spent;
            if a.released && !spent {
                shifts.push(Shift::between(a, b, start(row)));
            }
        }
        (shifts, any_spent, took.evaluations + took_half.evaluations)
    };
    let (mut found, mut work, mut any_spent) = (Vec::new(), 0, false);
    let few: Vec<&[f64]> = rows.chunks(AT_ONCE * width).collect();
    for some in few.chunks(rayon::current_num_threads()) {
        let flown: Vec<_> = some.par_iter().map_init(Flock::default, |f, r| twice(f, r)).collect();
        // A few at a time in their order, so that it ends at the same flight on any machine.
        for (shifts, spent, took) in flown {
            found.extend(shifts);
            any_spent |= spent;
            work += took;
            if work > ENOUGH || enough(&found) {
                return (found, any_spent);
            }
        }
    }
    (found, any_spent)
}

fn outside(shifts: &[Shift]) -> u64 {
    shifts.iter().filter(|shift| shift.outside()).count() as u64
}

struct Shift {
    point: f64,
    energy: f64,
    changed: bool,
}

impl Shift {
    fn between(coarse: &Outcome, fine: &Outcome, start: glam::DVec3) -> Self {
        // The budget is 1 mm for every 50 m flown; a shorter flight gets no less.
        let fifties = ((fine.end - start).length() / 50.0).max(1.0);
        let energy = (coarse.end_energy - fine.end_energy).abs();
        Self {
            point: (coarse.end - fine.end).length() / fifties,
            energy: if fine.end_energy > 0.0 { energy / fine.end_energy } else { 0.0 },
            changed: coarse.passed != fine.passed,
        }
    }

    fn outside(&self) -> bool {
        self.point > POINT_BUDGET || self.energy > ENERGY_BUDGET
    }
}

fn summary(shifts: &[Shift]) -> StepCheck {
    let count = |test: fn(&Shift) -> bool| shifts.iter().filter(|s| test(s)).count() as u64;
    let mut points: Vec<f64> = shifts.iter().map(|shift| shift.point).collect();
    let mut energies: Vec<f64> = shifts.iter().map(|shift| shift.energy).collect();
    points.sort_unstable_by(f64::total_cmp);
    energies.sort_unstable_by(f64::total_cmp);
    StepCheck {
        flights: shifts.len() as u64,
        point_max: points.last().copied().unwrap_or(0.0),
        point_median: quantile(&points, 0.5).unwrap_or(0.0),
        energy_max: energies.last().copied().unwrap_or(0.0),
        energy_median: quantile(&energies, 0.5).unwrap_or(0.0),
        outside: count(Shift::outside),
        changed: count(|shift| shift.changed),
    }
}
