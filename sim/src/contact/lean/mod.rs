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
    Motion, Work,
    clear::parabola,
    hull::Form,
    settle::{LEVEL, SMALL_HOP},
};
use crate::{
    body::Ring,
    flight::{Flight, GRAVITY, Path, State},
    math::sin,
};
use glam::DVec3;

/// Longest step, in s.
const LONGEST: f64 = 0.01;
/// Shortest step, in s, where slipping ends.
const SHORTEST: f64 = 1e-6;
/// Most change of the slip in a step, as a share of it.
const SLIPPED: f64 = 0.3;
/// Most turning in a step, in rad: the error of a step is the fifth power of it
/// over 120.
const TURNED: f64 = 0.25;
/// A contact that slips more slowly than this grips if it can, in m/s.
const STILL: f64 = 1e-3;
/// What is upright to within this (rad) and moves with less energy than would
/// lift it by [`STILL_HOP`] balances.
const UPRIGHT: f64 = 1e-6;
/// See [`UPRIGHT`]; in m.
const STILL_HOP: f64 = 1e-9;
/// What is upright to within this stands on both ends, in rad.
const ON_BOTH: f64 = 1e-4;
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
    work: Work,
    /// When the last stretch began (s), and the work done until then.
    since: f64,
    before: Work,
    /// By how much the other rim was the lower one when it began, in m.
    slack: f64,
    ended: bool,
}

/// How the ground rubs.
#[derive(Clone, Copy, Debug)]
pub struct Rub {
    /// Coefficient of friction, >= 0.
    pub friction: f64,
    /// Rolling resistance over the load, >= 0.
    pub rolling: f64,
}

/// A short stretch of such a motion: an even acceleration between two states.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    span: [f64; 2],
    ends: [State; 2],
    /// How far turning carries a point of the body from where it is in the
    /// middle, as a share of its distance.
    turned: f64,
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
            work: Work::default(),
            since: time,
            before: Work::default(),
            slack: 0.0,
            ended: false,
        };
        if lean.falls_flat() {
            return None;
        }
        lean.slack = lean.lower(&state).max(0.0);
        let ground = lean.ground();
        lean.work += ground.stop(&mut lean.state, false);
        ground.push(&lean.state).map(|_| lean)
    }

    /// When it is, in s.
    #[must_use]
    pub fn time(&self) -> f64 {
        self.time
    }

    /// What it does then.
    #[must_use]
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Work done on it until `time` (s, in its last stretch), by the ground and the
    /// air.
    #[must_use]
    pub fn work(&self, time: f64) -> Work {
        let whole = self.time - self.since;
        let share = if whole > 0.0 { (time - self.since) / whole } else { 1.0 };
        let done = self.before.done + share * (self.work.done - self.before.done);
        Work { done, gained: self.work.gained }
    }

    /// Whether it balances upright at rest.
    #[must_use]
    pub fn stands_still(&self) -> bool {
        let up = (self.state.attitude * DVec3::AXES[self.rim.axis]).z;
        let moves = self.flight.kinetic_energy(&self.state);
        up.abs() < UPRIGHT && moves < self.flight.body.mass * GRAVITY * STILL_HOP
    }

    /// The next stretch, which ends at `deadline` (s) at the latest; `None` where
    /// it no longer leans on this rim: it takes off, lies down, or its other rim
    /// lands.
    pub fn next(&mut self, deadline: f64) -> Option<Stretch> {
        let left = deadline - self.time;
        if self.ended || left <= 0.0 || self.falls_flat() {
            return None;
        }
        let ground = self.ground();
        let push = ground.push(&self.state)?;
        if push.jams() {
            self.work += ground.stop(&mut self.state, true);
        }
        self.before = self.work;
        // All but flat, the foot runs round the rim faster than the body turns.
        let runs = self.swings(&self.state) / self.across();
        let fastest = self.state.rates.length().max(runs).max(TURNED / LONGEST);
        let step = (TURNED / fastest).min(push.turns(SLIPPED).max(SHORTEST)).min(left);
        let mut after = self.stepped(&ground, &push, step);
        let mut span = [self.time, self.time + step];
        if self.is_down(&after.0) {
            let (mut low, mut high) = (0.0, step);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                let there = self.stepped(&ground, &push, middle);
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
        (self.time, self.state) = (span[1], after.0);
        self.work += after.1;
        self.since = span[0];
        Some(Stretch { span, ends, turned: turned.min(2.0) })
    }

    /// The state a step later, and the work done on the way.
    fn stepped(&self, ground: &Ground<'_>, push: &Push, step: f64) -> (State, Work) {
        let (mut state, [rubbed, blown]) = Rate::step(ground, push, &self.state, step);
        // What a step lets the foot drift is far below what touches.
        state.position.z = self.rim.height(state.attitude);
        let held = push.grips() || push.slows() && ground.slip(&state).length() < STILL;
        let mut work = ground.stop(&mut state, held) + Work::of(rubbed);
        work.done += blown;
        (state, work)
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
    let b_stands = if up.abs() < ON_BOTH {
        state.velocity_at(second).z < state.velocity_at(first).z
    } else {
        second.z < first.z
    };
    let [rim, other] = if b_stands { [b, a] } else { [a, b] };
    (rim.thickness() > 0.0).then_some([rim, other])
}

impl Stretch {
    /// When it begins and ends, in s.
    #[must_use]
    pub fn span(&self) -> [f64; 2] {
        self.span
    }
}

impl Motion for Stretch {
    fn state(&self, time: f64) -> State {
        let [from, to] = &self.ends;
        let whole = self.span[1] - self.span[0];
        let since = time - self.span[0];
        let share = if whole > 0.0 { since / whole } else { 0.0 };
        // The place at both ends is exact. The spin is even as the world sees it;
        // the body turns under it.
        let bend = (to.position - from.position - from.velocity * whole) * (share * share);
        let spin = (from.attitude * from.rates).lerp(to.attitude * to.rates, share);
        let attitude = from.attitude.lerp(to.attitude, share);
        State {
            position: from.position + from.velocity * since + bend,
            velocity: from.velocity.lerp(to.velocity, share),
            attitude,
            rates: attitude.inverse() * spin,
        }
    }

    fn path(&self, span: [f64; 2]) -> Option<Path> {
        let centre = parabola(span, |time| self.state(time).position);
        let attitude = self.state(f64::midpoint(span[0], span[1])).attitude;
        Some(Path { centre, attitude, turned: self.turned })
    }
}
