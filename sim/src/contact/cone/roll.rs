//! Rolling round the apex, which stays where it is.

use super::{
    Stepped,
    line::{Air, Line, Motion},
};
use crate::{contact::Rub, flight::State};
use glam::{DQuat, DVec2, DVec3};

/// How fast the line goes round, in rad/s, and where it points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rolling {
    round: f64,
    along: DVec3,
    across: DVec3,
}

impl Rolling {
    /// Of a cone that rolls.
    pub(super) fn of(line: &Line, motion: &Motion) -> Self {
        let round = motion.spin.x * line.half[0] / line.half[1];
        Self { round, along: motion.along, across: motion.across }
    }

    /// What is left of a motion once the ground holds both ends, and the work of that, in
    /// J: the impulses by the mean of the velocities before and after.
    pub(super) fn after(line: &Line, motion: &Motion) -> (Self, f64) {
        let moment = (line.inertia * motion.spin).x;
        let [sine, cosine] = line.half;
        let momentum = moment * cosine / sine - line.body.mass * line.ends[0] * motion.velocity.y;
        let rolling =
            Self { round: momentum / line.round(), along: motion.along, across: motion.across };
        let rolls = rolling.motion(line);
        let impulse = (rolls.velocity - motion.velocity) * line.body.mass;
        let twist = line.inertia * (rolls.spin - motion.spin);
        let work = impulse.dot(rolls.velocity.midpoint(motion.velocity))
            + twist.dot(rolls.spin.midpoint(motion.spin));
        (rolling, work)
    }

    /// As a motion.
    pub(super) fn motion(&self, line: &Line) -> Motion {
        let [sine, cosine] = line.half;
        Motion {
            along: self.along,
            across: self.across,
            velocity: DVec2::new(0.0, -line.ends[0] * self.round),
            spin: DVec2::new(self.round * cosine / sine, 0.0),
        }
    }

    /// Moment about the vertical through the apex, in N m: of weight and air, and of what
    /// resists rolling, as long as it rolls.
    fn moments(&self, line: &Line, air: &Air, rub: Rub) -> [f64; 2] {
        let [sine, cosine] = line.half;
        let drives =
            -line.ends[0] * air.force.dot(self.across) + air.moment.dot(self.along) * cosine / sine;
        [drives, rub.rolling * air.load().max(0.0) * line.ends[0]]
    }

    /// Whether it lies still and stays so.
    pub(super) fn rests(&self, line: &Line, air: &Air, rub: Rub) -> bool {
        self.round == 0.0 && self.quickens(line, air, rub) == 0.0
    }

    /// How the going round changes, in rad/s²; 0 of what stays at rest.
    fn quickens(&self, line: &Line, air: &Air, rub: Rub) -> f64 {
        let [drives, resists] = self.moments(line, air, rub);
        let against = if self.round != 0.0 {
            -resists * self.round.signum()
        } else {
            -drives.clamp(-resists, resists)
        };
        (drives + against) / line.round()
    }

    /// Whether friction can hold both ends, and both are pressed down.
    pub(super) fn held(&self, line: &Line, air: &Air, rub: Rub) -> bool {
        let motion = self.motion(line);
        let quickens = self.quickens(line, air, rub);
        let mass = line.body.mass;
        let along = mass * line.ends[0] * self.round * self.round - air.force.dot(self.along);
        let across = -mass * line.ends[0] * quickens - air.force.dot(self.across);
        let Some(loads) = line.loads(&motion, air, along) else { return false };
        // What turns it about the vertical.
        let [sine, cosine] = line.half;
        let turning = line.inertia.x_axis.y * quickens * cosine / sine - air.moment.z;
        let [front, back] = line.ends;
        let at_front = (turning - across * back) / (front - back);
        let load = air.load();
        [at_front, across - at_front].into_iter().zip(loads).all(|(rubs, bears)| {
            let share = along * bears / load;
            bears > 0.0
                && rubs * rubs + share * share <= rub.friction * rub.friction * bears * bears
        })
    }

    /// A step of at most this long (s); shorter if it comes to rest.
    pub(super) fn step(
        &self,
        line: &Line,
        state: &State,
        air: &Air,
        rub: Rub,
        most: f64,
    ) -> Stepped {
        // The line turns on as it goes: its middle stands for the step.
        let half = 0.5 * most * self.round;
        let turn = DQuat::from_rotation_z(half);
        let middle = Self { along: turn * self.along, across: turn * self.across, ..*self };
        let quickens = middle.quickens(line, air, rub);
        let rests = self.round != 0.0 && (self.round + quickens * most) * self.round <= 0.0;
        let (took, after) = if rests {
            (-self.round / quickens, 0.0)
        } else {
            (most, self.round + quickens * most)
        };
        let angle = 0.5 * (self.round + after) * took;
        let [drives, resists] = middle.moments(line, air, rub);
        let turn = DQuat::from_rotation_z(angle);
        let apex = self.along * line.ends[0];
        let end = Self { round: after, along: turn * self.along, across: turn * self.across };
        let way = apex - turn * apex;
        // About its own axis, and the turn of the line itself.
        let rolled = DQuat::from_axis_angle(state.attitude * DVec3::X, angle / line.half[0]);
        let placed = line.placed(state, way, turn * rolled);
        let state = line.moved(&placed, &end.motion(line));
        Stepped { state, work: [-resists * angle.abs(), drives * angle], took }
    }
}

impl Line {
    /// Moment of inertia of rolling round the apex, in kg m².
    ///
    /// Source: kinetic energy of a rolling cone, `3 m h² φ̇² (1 + 5 cos² α)/40` (derived,
    /// a point-mass sum agrees); here from its parts.
    fn round(&self) -> f64 {
        let [sine, cosine] = self.half;
        let about = cosine / sine;
        self.body.mass * self.ends[0] * self.ends[0] + self.inertia.x_axis.x * about * about
    }
}
