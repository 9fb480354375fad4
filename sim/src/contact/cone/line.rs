//! The line on which a cone lies, and what bears on its ends.

use crate::{
    body::{Body, Form},
    contact::land::levelled,
    flight::{Flight, State},
};
use glam::{DMat2, DQuat, DVec2, DVec3};

/// An end lifts where balance asks it to pull by more than this share of the load; below
/// that it bears nothing (what a body on one end alone has to be clear of to move on).
const LIFTS: f64 = 5e-4;

/// A cone's measures, as it lies on its side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    pub(super) body: Body,
    /// Height of the centre of mass, in m.
    pub(super) height: f64,
    /// Where apex and base touch, along the line towards the apex from below the centre
    /// of mass, in m.
    pub(super) ends: [f64; 2],
    /// Sine and cosine of half the angle at the apex.
    pub(super) half: [f64; 2],
    /// Moments of inertia along the line and about the vertical, in kg m².
    pub(super) inertia: DMat2,
}

/// How a lying cone moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Motion {
    /// Unit direction along the line, from the base to the apex.
    pub(super) along: DVec3,
    /// Unit direction across it, level.
    pub(super) across: DVec3,
    /// Velocity of the centre of mass along and across, in m/s.
    pub(super) velocity: DVec2,
    /// Spin about the line and about the vertical, in rad/s.
    pub(super) spin: DVec2,
}

/// What else pushes, during one step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Air {
    /// Weight and air, in N.
    pub(super) force: DVec3,
    /// Of the air, in N m.
    pub(super) moment: DVec3,
    /// Of the force, what the weight does, in N.
    weight: DVec3,
}

impl Air {
    pub(super) fn at(flight: &Flight, state: &State, time: f64, pull: DVec3) -> Self {
        // No air goes up or down where the ground is.
        let wind = flight.air.wind_at(state.position, time).with_z(0.0);
        let relative = state.attitude.inverse() * (state.velocity - wind);
        let (force, moment) = flight.coefficients.load(relative, state.rates);
        let weight = pull * flight.body.mass;
        Self { force: state.attitude * force + weight, moment: state.attitude * moment, weight }
    }

    /// Work of the air alone over a way and an angle, in J.
    pub(super) fn work(&self, way: DVec3, angle: DVec3) -> f64 {
        let weight = self.weight.with_x(0.0).with_y(0.0);
        (self.force - weight).dot(way) + self.moment.dot(angle)
    }

    /// Load on the ground, in N.
    pub(super) fn load(&self) -> f64 {
        -self.force.z
    }
}

impl Line {
    /// `half`: sine and cosine of half the angle at the apex.
    pub(super) fn of(body: &Body, half: [f64; 2]) -> Self {
        let [sine, cosine] = half;
        let (apex, length) = match Form::of(body) {
            Form::Revolved { rings: [a, b], .. } => (a.offset, a.offset - b.offset),
            Form::Ball { .. } | Form::Boxed { .. } => (0.0, 0.0),
        };
        let front = apex * cosine;
        let more = body.inertia.x - body.inertia.y;
        let mixed = -more * sine * cosine;
        let inertia = DMat2::from_cols(
            DVec2::new(body.inertia.y + more * cosine * cosine, mixed),
            DVec2::new(mixed, body.inertia.y + more * sine * sine),
        );
        let ends = [front, front - length / cosine];
        Self { body: *body, height: apex * sine, ends, half, inertia }
    }

    /// How it moves in this state.
    pub(super) fn motion(&self, state: &State) -> Motion {
        let along = (state.attitude * DVec3::X).with_z(0.0).normalize();
        let across = DVec3::Z.cross(along);
        let spin = state.attitude * state.rates;
        Motion {
            along,
            across,
            velocity: DVec2::new(state.velocity.dot(along), state.velocity.dot(across)),
            spin: DVec2::new(spin.dot(along), spin.z),
        }
    }

    /// The same place, moving so.
    pub(super) fn moved(&self, state: &State, motion: &Motion) -> State {
        let spin = motion.along * motion.spin.x + DVec3::Z * motion.spin.y;
        let rates = state.attitude.inverse() * spin;
        State { velocity: motion.over_ground(), rates, ..*state }
    }

    /// The same cone farther on its `way` (m) and turned, on its side.
    pub(super) fn placed(&self, state: &State, way: DVec3, turn: DQuat) -> State {
        let attitude = levelled(&self.body, (turn * state.attitude).normalize());
        let position = (state.position + way).with_z(self.height);
        State { position, attitude, ..*state }
    }

    /// How fast the line turns about the vertical, in rad/s.
    pub(super) fn turns(&self, motion: &Motion) -> f64 {
        motion.spin.y + motion.spin.x * self.half[0] / self.half[1]
    }

    /// Slip of the two ends, along and across, in m/s.
    pub(super) fn slips(&self, motion: &Motion) -> [DVec2; 2] {
        self.ends.map(|end| {
            let across = motion.spin.y * end + self.height * motion.spin.x;
            motion.velocity + DVec2::Y * across
        })
    }

    /// The larger one of them.
    pub(super) fn slips_most(&self, motion: &Motion) -> f64 {
        let [a, b] = self.slips(motion);
        a.length().max(b.length())
    }

    /// Load on either end, in N, where the ground pushes with `friction` (N) along the
    /// line: what balances the moments across it. `None` where an end lifts.
    pub(super) fn loads(&self, motion: &Motion, air: &Air, friction: f64) -> Option<[f64; 2]> {
        let load = air.load();
        let turning = (self.inertia * motion.spin).x * self.turns(motion);
        // The moment about the direction across that the load has to give.
        let moment = turning + self.height * friction - air.moment.dot(motion.across);
        let [front, back] = self.ends;
        let at_front = (-moment - load * back) / (front - back);
        let least = -LIFTS * load;
        let bears = [at_front, load - at_front];
        let lies = load > 0.0 && bears.into_iter().all(|bears| bears > least);
        lies.then_some(bears.map(|bears| bears.max(0.0)))
    }
}

impl Motion {
    /// Velocity of the centre of mass, in m/s.
    pub(super) fn over_ground(&self) -> DVec3 {
        self.along * self.velocity.x + self.across * self.velocity.y
    }

    /// Angular velocity, world frame, in rad/s.
    pub(super) fn turning(&self) -> DVec3 {
        self.along * self.spin.x + DVec3::Z * self.spin.y
    }
}
