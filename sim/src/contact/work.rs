//! What pushes a body for an instant, and the work that it does.
//!
//! Every impulse on a body goes through [`strike`] or [`twist`]: they change its
//! motion by Newton and Euler, and book impulse times the mean of the velocities
//! before and after where it acts, which for a rigid body is the work exactly. The
//! energy of the body itself is not asked, so that an audit can set the two beside
//! each other.
//!
//! Source: work of an impulse on a rigid body, standard derivation.

use super::fault::{Law, share};
use crate::{body::Body, flight::State};
use glam::DVec3;
use std::ops::{Add, AddAssign};

/// Work done on a body by what touches it, in J.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// As the world sees it: negative where the body loses energy.
    pub done: f64,
    /// Of single contacts, what they did above zero as the thing sees it that is
    /// touched: rubbing and restitution can take, never give, so that anything but
    /// rounding here is a fault.
    pub gained: f64,
}

impl Work {
    /// Of one contact with what stands still.
    #[must_use]
    pub fn of(done: f64) -> Self {
        Self::seen(done, done)
    }

    /// Of one contact: as the world sees it, and as the thing that is touched does.
    #[must_use]
    pub fn seen(done: f64, by_the_touched: f64) -> Self {
        Self { done, gained: by_the_touched.max(0.0) }
    }
}

impl Add for Work {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self { done: self.done + other.done, gained: self.gained + other.gained }
    }
}

impl AddAssign for Work {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

/// Gives a body an `impulse` (N s, world frame) at `arm` from its centre of mass (m);
/// `wall`: velocity of what gives it, in m/s.
pub(super) fn strike(
    body: &Body,
    state: &mut State,
    arm: DVec3,
    impulse: DVec3,
    wall: DVec3,
) -> Work {
    let before = state.velocity_at(arm);
    strike_from(body, state, arm, impulse, [before, wall])
}

/// The same where the velocity of the point that is struck is known.
#[inline]
pub(super) fn strike_from(
    body: &Body,
    state: &mut State,
    arm: DVec3,
    impulse: DVec3,
    [before, wall]: [DVec3; 2],
) -> Work {
    let turn = state.attitude.inverse() * arm.cross(impulse);
    state.velocity += impulse / body.mass * share(Law::Pushes);
    state.rates += turn / body.inertia * share(Law::Turns);
    let mean = 0.5 * (before + state.velocity_at(arm));
    Work::seen(impulse.dot(mean), impulse.dot(mean - wall))
}

/// Stops the turning of a body about `axis` (unit, world frame, one of its principal
/// axes) by a moment of what stands still.
pub(super) fn twist(body: &Body, state: &mut State, axis: DVec3) -> Work {
    let about = state.attitude.inverse() * axis;
    let before = state.rates.dot(about);
    let moment = -before / about.dot(about / body.inertia) * share(Law::Stops);
    state.rates += about / body.inertia * moment * share(Law::Turns);
    Work::of(moment * 0.5 * (before + state.rates.dot(about)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{body::Shape, contact::tests::anything};
    use glam::DQuat;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

        /// The work of impulses is the change of energy, whatever the body and whatever
        /// pushes it.
        #[test]
        fn impulse_times_mean_velocity_is_the_change_of_energy(
            state in anything(), size in [0.05..2.0, 0.05..2.0, 0.05..2.0],
            arm in [-1.0..1.0, -1.0..1.0, -1.0..1.0], impulse in [-9.0..9.0, -9.0..9.0, -9.0..9.0],
        ) {
            let [length, width, height] = size;
            let body = Body::solid(Shape::Block { length, width, height }, 3.0);
            let energy = |state: &State| body.kinetic_energy(state.velocity, state.rates);
            let (arm, impulse) = (DVec3::from_array(arm), DVec3::from_array(impulse));
            let mut after = state;
            let mut work = strike(&body, &mut after, arm, impulse, DVec3::X);
            let side = after.attitude * DVec3::Y;
            work += twist(&body, &mut after, side);
            let change = energy(&after) - energy(&state);
            prop_assert!((work.done - change).abs() < 1e-10 * (energy(&state) + energy(&after)));
            prop_assert!(after.rates.y.abs() < 1e-12 * (1.0 + state.rates.length()));
        }
    }

    /// Source: by hand: 2 kg stopped dead from 3 m/s by 6 N s loses 9 J; to what moves
    /// along at 2 m/s it came at 1 m/s and leaves at 2 m/s: 3 J more.
    #[test]
    fn what_a_moving_wall_sees_is_not_what_the_world_sees() {
        let body = Body::solid(Shape::Sphere { diameter: 0.2 }, 2.0);
        let mut state = State {
            position: DVec3::ZERO,
            velocity: DVec3::X * 3.0,
            attitude: DQuat::IDENTITY,
            rates: DVec3::ZERO,
        };
        let work = strike(&body, &mut state, DVec3::ZERO, DVec3::X * -6.0, DVec3::X * 2.0);
        assert!((work.done + 9.0).abs() < 1e-12 && (work.gained - 3.0).abs() < 1e-12, "{work:?}");
    }
}
