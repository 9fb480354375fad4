//! A cone on its side: it rolls round its apex, slips and pivots.
//!
//! It touches level ground along a line from its apex to its base. The load rests on
//! the two ends of that line, as the moments ask for, and each end is rubbed under
//! Coulomb's limit against its own slip. Where friction can hold both, the cone rolls
//! round its apex, which stays where it is, in closed form over each step; where not,
//! it slips by the equations of motion. Rolling resistance brakes it as it would a
//! wheel whose radius is the height of its centre of mass; the air pushes as it did at
//! the beginning of each step. Left out: soft ground, and a base that is not sharp.
//!
//! It ends where an end of the line lifts off, or it lies still.
//!
//! Source: Newton and Euler for a cone on a plane, standard derivation; kinetic energy
//! of the rolling cone derived and checked by a point-mass sum.

mod line;
mod roll;
mod slip;

#[cfg(test)]
mod tests;

use self::line::{Air, Line};
use super::{
    Follow, Rub, Stretch, Work,
    land::land,
    settle::{cone_side, is_cone_on_side},
    stretch::Ledger,
};
use crate::{
    flight::{Flight, GRAVITY, State},
    math::{cos, sin},
};
use glam::DVec3;

/// Longest step, in s.
const LONGEST: f64 = 0.01;
/// Most turning in a step, in rad.
const TURNED: f64 = 0.1;

/// A cone on its side, at one moment.
#[derive(Clone, Copy, Debug)]
pub struct Cone<'f> {
    flight: &'f Flight,
    line: Line,
    rub: Rub,
    /// Acceleration of free fall, in m/s².
    pull: DVec3,
    time: f64,
    state: State,
    ledger: Ledger,
    /// How its last step began.
    began: Option<Began>,
    rolls: bool,
    still: bool,
}

/// When (s), where and how a step began.
#[derive(Clone, Copy, Debug)]
struct Began {
    time: f64,
    state: State,
    air: Air,
    /// Round its apex; `None` while it slips.
    rolling: Option<roll::Rolling>,
}

/// What one step leads to.
struct Stepped {
    state: State,
    /// Of the ground, and of the air, in J.
    work: [f64; 2],
    /// How long it took, in s.
    took: f64,
}

impl Stepped {
    fn booked(&self) -> Work {
        let [rubbed, blown] = self.work;
        let mut work = Work::of(rubbed);
        work.done += blown;
        work
    }
}

impl<'f> Cone<'f> {
    /// Of a flight's body that has settled at `time` (s) in `state`; `None` if it is no
    /// cone, or stands on its base.
    #[must_use]
    pub fn new(flight: &'f Flight, state: &State, time: f64, rub: Rub) -> Option<Self> {
        Self::under(flight, state, time, rub, DVec3::Z * -GRAVITY)
    }

    fn under(flight: &'f Flight, state: &State, time: f64, rub: Rub, pull: DVec3) -> Option<Self> {
        let side = cone_side(&flight.body.shape)?;
        if !is_cone_on_side(&flight.body, state.attitude) {
            return None;
        }
        let (state, work) = land(&flight.body, state);
        let line = Line::of(&flight.body, [sin(-side), cos(side)]);
        let ledger = Ledger::new(work);
        let (began, rolls, still) = (None, false, false);
        Some(Self { flight, line, rub, pull, time, state, ledger, began, rolls, still })
    }

    fn stepped(&self, began: &Began, most: f64) -> Option<Stepped> {
        let Began { state, air, rolling, .. } = began;
        match rolling {
            Some(rolling) => Some(rolling.step(&self.line, state, air, self.rub, most)),
            None => slip::step(&self.line, state, air, self.rub, most),
        }
    }

    /// How the next step begins: rolling if the ground can hold it so.
    fn begins(&mut self) -> Began {
        let air = Air::at(self.flight, &self.state, self.time, self.pull);
        let slips = Began { time: self.time, state: self.state, air, rolling: None };
        let now = self.line.motion(&self.state);
        if !self.rolls && self.line.slips_most(&now) < slip::STICKS {
            let (rolling, stuck) = roll::Rolling::after(&self.line, &now);
            if rolling.held(&self.line, &air, self.rub) {
                self.ledger.add(Work::of(stuck));
                self.state = self.line.moved(&self.state, &rolling.motion(&self.line));
                self.rolls = true;
            }
        }
        if self.rolls {
            let rolling = roll::Rolling::of(&self.line, &self.line.motion(&self.state));
            if rolling.held(&self.line, &air, self.rub) {
                self.still = rolling.rests(&self.line, &air, self.rub);
                return Began { state: self.state, rolling: Some(rolling), ..slips };
            }
            self.rolls = false;
        }
        slips
    }
}

impl Follow for Cone<'_> {
    fn time(&self) -> f64 {
        self.time
    }

    fn state(&self) -> &State {
        &self.state
    }

    fn within(&self, time: f64) -> (State, Work) {
        let began = self.began.filter(|_| time < self.time);
        let stepped = began.and_then(|began| {
            let stepped = self.stepped(&began, time - began.time)?;
            Some((stepped.state, self.ledger.with(stepped.booked())))
        });
        stepped.unwrap_or((self.state, self.ledger.whole()))
    }

    fn stands_still(&self) -> bool {
        self.still
    }

    fn next(&mut self, deadline: f64) -> Option<Stretch> {
        let left = deadline - self.time;
        if self.still || left <= 0.0 {
            return None;
        }
        let began = self.begins();
        let turns = TURNED / self.state.rates.length().max(TURNED / LONGEST);
        let stepped = self.stepped(&began, left.min(turns))?;
        let Stepped { state, took, .. } = stepped;
        let span = [self.time, self.time + took];
        let ends = [self.state, state];
        let swings = |state: &State| state.rates.with_x(0.0).length();
        let turned = 2.0 * swings(&self.state).max(swings(&state)) * took;
        self.ledger.stretch(stepped.booked());
        self.began = Some(began);
        (self.time, self.state) = (span[1], state);
        Some(Stretch::new(span, ends, turned.min(2.0)))
    }
}
