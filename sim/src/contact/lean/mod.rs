//! A round body that leans: rolling, slipping and falling over on its rim.
//!
//! One point of a rim stays on level ground, which holds it up and rubs on it
//! under Coulomb's limit: it grips where friction can bear that, and slips where
//! not. Rolling resistance brakes the whole of its turning, on the spot too
//! (judgement: how large a patch rubs is not known), the air (wind included) pushes
//! as it did at the beginning of each step. So a coin, a wheel or a drum curves in,
//! wobbles and falls as it would. Left out: soft tyres and soft ground.
//!
//! It ends where the body lies down or stands up, takes off, lands on its other
//! rim, or meets something.
//!
//! Source: Newton and Euler for a rigid body with one point held, standard
//! derivation; checked against the steady motions of a rolling disc.

mod rim;
mod step;

#[cfg(test)]
mod tests;

use self::{
    rim::Rim,
    step::{Ground, Push, Rate},
};
use super::{
    Follow, Rub, Stretch, Work,
    hull::Form,
    settle::{LEVEL, SMALL_HOP},
    stretch::Ledger,
};
use crate::{
    body::Ring,
    flight::{Flight, GRAVITY, State},
    math::{pow, sin},
};
use glam::DVec3;

/// Longest step, in s.
const LONGEST: f64 = 0.01;
/// Shortest step, in s, where slipping ends.
const SHORTEST: f64 = 1e-6;
/// Most change of the slip in a step, as a share of it.
const SLIPPED: f64 = 0.3;
/// Most turning in a step, in rad: of the energy of turning a step loses the sixth
/// power of it over 72 (of the rule of Runge and Kutta, derived) ...
const TURNED: f64 = 0.25;
/// ... and less where it turns faster than this, in rad/s, so that as much is lost in
/// a second and not in a turn.
const FAST: f64 = 30.0;
/// What stands on a small rough rim is turned up within a step: as if it turned by the
/// root of so many times what load and friction give it, over its radius (judgement,
/// by the energy that a step then loses).
const PUSHED: f64 = 8.0;
/// A contact that slips more slowly than this grips if it can, in m/s.
const STILL: f64 = 1e-3;
/// What is upright to within this (rad) and moves with less energy than would
/// lift it by [`STILL_HOP`] balances.
const UPRIGHT: f64 = 1e-6;
/// See [`UPRIGHT`]; in m.
const STILL_HOP: f64 = 1e-9;
/// What is upright to within this stands on both ends, in rad.
const ON_BOTH: f64 = 1e-4;
/// Ends of a cone whose heights differ by less than this share of their distance are both
/// down.
const FLAT: f64 = 1e-6;
/// A cone's apex is down once it is lower than its base by this, in m: more than a step's
/// error, so that what lifts it is not lost in that.
const LANDS: f64 = 3e-6;
/// Halvings that find where the other rim lands.
const HALVINGS: u32 = 40;

/// A body that leans on its rim, at one moment.
#[derive(Clone, Copy, Debug)]
pub struct Lean<'f> {
    flight: &'f Flight,
    rim: Rim,
    other: Rim,
    rub: Rub,
    time: f64,
    state: State,
    ledger: Ledger,
    /// How its last step began.
    began: Option<Began<'f>>,
    /// By how much the other rim was the lower one when it began, in m.
    slack: f64,
    ended: bool,
}

/// When (s), where and how a step began.
#[derive(Clone, Copy, Debug)]
struct Began<'f> {
    time: f64,
    state: State,
    ground: Ground<'f>,
    push: Push,
}

impl Began<'_> {
    /// The state a step later, and the work done on the way.
    fn stepped(&self, step: f64) -> (State, Work) {
        let Self { ground, push, .. } = self;
        let (mut state, [rubbed, blown]) = Rate::step(ground, push, &self.state, step);
        // What a step lets the foot drift is far below what touches.
        state.position.z = ground.rests_at(&state);
        let held = push.grips() || push.slows() && ground.slip(&state).length() < STILL;
        let mut work = ground.stop(&mut state, held) + Work::of(rubbed);
        work.done += blown;
        (state, work)
    }
}

impl<'f> Lean<'f> {
    /// Of a flight's body that stands on level ground and goes on in `state` at
    /// `time` (s): `None` if it is not round, comes down flat, hops on, or is not
    /// pressed down. What was left of its hopping is gone.
    #[must_use]
    pub fn new(flight: &'f Flight, state: &State, time: f64, rub: Rub) -> Option<Self> {
        let [rim, other] = rims_at(flight, state)?;
        let rises = state.velocity_at(rim.foot(state.attitude, DVec3::ZERO).arm).z;
        if 0.5 * rises * rises > GRAVITY * SMALL_HOP {
            return None;
        }
        let mut state = *state;
        state.position.z = rim.height(state.attitude);
        let mut lean = Self {
            flight,
            rim,
            other,
            rub,
            time,
            state,
            ledger: Ledger::new(Work::default()),
            began: None,
            slack: 0.0,
            ended: false,
        };
        if lean.falls_flat() {
            return None;
        }
        let lands = if lean.other.thickness() > 0.0 { 0.0 } else { LANDS };
        lean.slack = lean.lower(&state).max(0.0) + lands;
        let ground = lean.ground();
        lean.ledger.add(ground.stop(&mut lean.state, false));
        ground.push(&lean.state).map(|_| lean)
    }

    fn ground(&self) -> Ground<'f> {
        Ground::new(self.flight, self.rim, self.rub, &self.state, self.time)
    }

    /// Whether it all but lies on a side, and goes on falling.
    fn falls_flat(&self) -> bool {
        let axis = self.state.attitude * DVec3::AXES[self.rim.axis];
        let turns = (self.state.attitude * self.state.rates).cross(axis);
        self.across() < sin(LEVEL) && turns.z * axis.z > 0.0
    }

    /// Sine of the angle between its axis and the vertical.
    fn across(&self) -> f64 {
        let up = (self.state.attitude * DVec3::AXES[self.rim.axis]).z;
        (1.0 - up * up).max(0.0).sqrt()
    }

    /// How fast it turns but for rolling about its axis, in rad/s.
    fn swings(&self, state: &State) -> f64 {
        let mut rates = state.rates;
        rates[self.rim.axis] = 0.0;
        rates.length()
    }

    /// By how much its other end is lower than the rim that it stands on, in m.
    fn lower(&self, state: &State) -> f64 {
        self.other.height(state.attitude) - self.rim.height(state.attitude)
    }

    /// Whether its other end has come down.
    fn is_down(&self, state: &State) -> bool {
        self.lower(state) > self.slack
    }
}

impl Follow for Lean<'_> {
    fn time(&self) -> f64 {
        self.time
    }

    fn state(&self) -> &State {
        &self.state
    }

    fn within(&self, time: f64) -> (State, Work) {
        let Some(began) = self.began.filter(|_| time < self.time) else {
            return (self.state, self.ledger.whole());
        };
        let (state, work) = began.stepped(time - began.time);
        (state, self.ledger.with(work))
    }

    /// Whether it balances upright at rest.
    fn stands_still(&self) -> bool {
        let up = (self.state.attitude * DVec3::AXES[self.rim.axis]).z;
        let moves = self.flight.kinetic_energy(&self.state);
        up.abs() < UPRIGHT && moves < self.flight.body.mass * GRAVITY * STILL_HOP
    }

    /// No more where it no longer leans on this rim: it takes off, lies down, or its
    /// other rim lands.
    fn next(&mut self, deadline: f64) -> Option<Stretch> {
        let left = deadline - self.time;
        if self.ended || left <= 0.0 || self.falls_flat() {
            return None;
        }
        let ground = self.ground();
        let push = ground.push(&self.state)?;
        if push.jams() {
            self.ledger.add(ground.stop(&mut self.state, true));
        }
        // All but flat, the foot runs round the rim faster than the body turns.
        let runs = self.swings(&self.state) / self.across();
        let load = push.load() / self.flight.body.mass;
        let pushed = PUSHED * load * (1.0 + self.rub.friction) / self.rim.radius.max(1e-3);
        let fastest = self.state.rates.length().max(runs).max(pushed.sqrt()).max(TURNED / LONGEST);
        let turned = TURNED * pow((FAST / fastest).min(1.0), 0.2);
        let step = (turned / fastest).min(push.turns(SLIPPED).max(SHORTEST)).min(left);
        let began = Began { time: self.time, state: self.state, ground, push };
        let mut after = began.stepped(step);
        let mut span = [self.time, self.time + step];
        if self.is_down(&after.0) {
            let (mut low, mut high) = (0.0, step);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                let there = began.stepped(middle);
                if self.is_down(&there.0) {
                    (high, after) = (middle, there);
                } else {
                    low = middle;
                }
            }
            span[1] = self.time + high;
            self.ended = true;
        }
        let ends = [self.state, after.0];
        // Twice half the way: rates change within a step, but never double.
        let [before, after_it] = ends.each_ref().map(|state| self.swings(state));
        let turned = before.max(after_it) * (span[1] - span[0]);
        self.ledger.stretch(after.1);
        self.began = Some(began);
        (self.time, self.state) = (span[1], after.0);
        Some(Stretch::new(span, ends, turned.min(2.0)))
    }
}

/// The ends of a round body: the lower one, and the other. Where it stands on
/// both, the one that comes down faster goes first.
fn rims_at(flight: &Flight, state: &State) -> Option<[Rim; 2]> {
    let (axis, rings, round) = Form::of(&flight.body).rims()?;
    let up = (state.attitude * DVec3::AXES[axis]).z;
    if up.abs() > 1.0 - 1e-9 {
        return None;
    }
    let [a, b] = rings.map(|Ring { offset, radius }| Rim { axis, offset, radius, round });
    let [first, second] = [a, b].map(|rim| rim.foot(state.attitude, DVec3::ZERO).arm);
    // A cone that lies on its side leans on its base.
    let [lower, level] = [second.z - first.z, FLAT * (first - second).length()];
    let b_stands = if (a.radius > 0.0) != (b.radius > 0.0) && lower.abs() < level {
        b.radius > a.radius
    } else if up.abs() < ON_BOTH {
        state.velocity_at(second).z < state.velocity_at(first).z
    } else {
        second.z < first.z
    };
    let [rim, other] = if b_stands { [b, a] } else { [a, b] };
    Some([rim, other])
}
