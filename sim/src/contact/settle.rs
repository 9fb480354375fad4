//! When a body that keeps touching the ground is done with bouncing.

use crate::{
    body::{Body, Shape},
    flight::{GRAVITY, State},
    math::{asin, atan2, cos, hypot, sin},
};
use glam::{DQuat, DVec3};

/// Height of the hop that what is left of the bouncing would carry the body
/// to, below which it is done, in m (judgement: less than the roughness of the
/// ground).
pub const SMALL_HOP: f64 = 5e-3;

/// How far from level a side may be that a body is said to lie on, in rad
/// (3 deg; judgement).
pub(super) const LEVEL: f64 = 3.0 * std::f64::consts::PI / 180.0;

/// Whether a body that has just touched level ground only slides or rolls from
/// here on: it lies on a side, and what is left of its hopping and rocking
/// would not carry it up by more than a few millimetres.
///
/// Upright on a narrow side counts as lying only as far as it cannot topple.
#[must_use]
pub fn settles(body: &Body, state: &State) -> bool {
    lies(body, state) && hop(body, state) < body.mass * GRAVITY * SMALL_HOP
}

/// Energy of hopping and rocking, in J: all but that of sliding, of spinning
/// about the vertical and of rolling.
fn hop(body: &Body, state: &State) -> f64 {
    let (rise, rocking) = (state.velocity.z, rocking(body, state));
    0.5 * body.mass * rise * rise + 0.5 * rocking.dot(body.inertia * rocking)
}

/// Of the rates, body frame, in rad/s: all but spinning about the vertical and rolling.
fn rocking(body: &Body, state: &State) -> DVec3 {
    if is_ball(&body.shape) {
        return DVec3::ZERO;
    }
    let up = state.attitude.inverse() * DVec3::Z;
    if is_cone_on_side(body, state.attitude) {
        // It rolls and pivots on its line; what is across lifts an end of it.
        let across = up.cross(DVec3::X).normalize_or_zero();
        return across * state.rates.dot(across);
    }
    let mut rocking = state.rates - up * state.rates.dot(up);
    if let Some(axis) = rolls_about(&body.shape) {
        rocking[axis] = 0.0;
    }
    rocking
}

/// Whether it is a cone on its side, and not on its base.
pub(super) fn is_cone_on_side(body: &Body, attitude: DQuat) -> bool {
    cone_side(&body.shape).is_some() && (attitude * DVec3::X).z < 0.5
}

/// Whether it is a ball for what touches it: no way round lies better than another.
pub(super) fn is_ball(shape: &Shape<f64>) -> bool {
    shape.form().is_ball()
}

/// The body axis that it is round about and can roll across, if it has one.
pub(super) fn rolls_about(shape: &Shape<f64>) -> Option<usize> {
    shape.form().rolls_about()
}

/// Share of the energy that toppling takes below which what rocks on its tread is
/// believed to come to stand on it (judgement).
const ROCKS_OUT: f64 = 0.01;

/// Below which speed what rolls upright on its rim falls over, in m/s; `None` for
/// what is not upright, or stands on its tread: toppling it takes more than a
/// small hop, or a hundred times what is left of its hopping and rocking.
///
/// Source: a thin disc that rolls upright stays up above √(g r / 3) (standard
/// derivation, Routh).
#[must_use]
pub fn falls_below(body: &Body, state: &State) -> Option<f64> {
    let axis = rolls_about(&body.shape)?;
    let up = (state.attitude.inverse() * DVec3::Z).abs();
    let half = body.half_extents();
    let (radius, tread) = (half[(axis + 1) % 3], half[axis]);
    let topples = hypot(radius, tread) - radius;
    let stands =
        topples >= SMALL_HOP || hop(body, state) < ROCKS_OUT * topples * body.mass * GRAVITY;
    (up[axis] < sin(LEVEL) && !stands).then(|| (GRAVITY * radius / 3.0).sqrt())
}

/// Whether it stays on the side that is on the ground, or on the rim of what rolls.
fn lies(body: &Body, state: &State) -> bool {
    let level = state.velocity.with_z(0.0).length();
    lies_on_side(body, state) && falls_below(body, state).is_none_or(|least| level > least)
}

/// How far up the axis of a cone points that lies on its side, in rad: below
/// level, its apex being down; `None` for what is no cone.
pub(super) fn cone_side(shape: &Shape<f64>) -> Option<f64> {
    shape.form().taper().map(|[length, radius]| -atan2(radius, length))
}

/// Whether a side, or the rim of what can roll, is all but level.
pub(super) fn lies_on_side(body: &Body, state: &State) -> bool {
    if is_ball(&body.shape) {
        return true;
    }
    let up = state.attitude.inverse() * DVec3::Z;
    if let Some(side) = cone_side(&body.shape) {
        return up.x > cos(LEVEL) || (asin(up.x) - side).abs() < LEVEL;
    }
    let up = up.abs();
    let axis = rolls_about(&body.shape);
    if axis.is_some_and(|axis| up[axis] < sin(LEVEL)) {
        return true;
    }
    let half = body.half_extents();
    let sides = (0..3).filter(|i| axis.is_none_or(|axis| axis == *i));
    sides.into_iter().any(|i| {
        let base = half[(i + 1) % 3].min(half[(i + 2) % 3]);
        up[i] > cos(LEVEL.min(0.5 * base / half[i]))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn state(tilt: f64) -> State {
        State {
            position: DVec3::Z,
            velocity: DVec3::new(4.0, 0.0, 0.05),
            attitude: DQuat::from_rotation_y(tilt),
            rates: DVec3::ZERO,
        }
    }

    #[test]
    fn a_sheet_flat_on_the_ground_is_done_and_one_on_its_edge_or_hopping_is_not() {
        let shape = Shape::Plate { length: 2.4, width: 1.2, thickness: 0.012 };
        let sheet = Body::solid(shape, 20.0);
        assert!(settles(&sheet, &state(0.02)));
        assert!(!settles(&sheet, &state(0.2)));
        // On end, but a degree off: it topples.
        assert!(!settles(&sheet, &state(std::f64::consts::FRAC_PI_2 - 0.017)));
        let hops = State { velocity: DVec3::Z, ..state(0.0) };
        assert!(!settles(&sheet, &hops));
        let rocks = State { rates: DVec3::Y * 2.0, ..state(0.0) };
        assert!(!settles(&sheet, &rocks));
    }

    #[test]
    fn a_cone_lies_on_its_side_or_stands_on_its_base_and_not_on_its_apex() {
        let cone = Body::solid(Shape::Cone { length: 0.7, diameter: 0.35 }, 3.0);
        // The axis is x; about y, nose (apex) up is negative.
        let half = atan2(0.175, 0.7);
        assert!(settles(&cone, &state(half)) && !settles(&cone, &state(0.0)));
        assert!(!settles(&cone, &state(-half)));
        let quarter = std::f64::consts::FRAC_PI_2;
        assert!(settles(&cone, &state(-quarter)) && !settles(&cone, &state(quarter)));
    }

    /// However fast it rolls round its apex: about its line on the ground.
    #[test]
    fn a_cone_that_rolls_round_is_done_with_bouncing() {
        let cone = Body::solid(Shape::Cone { length: 0.7, diameter: 0.35 }, 3.0);
        let attitude = DQuat::from_rotation_y(atan2(0.175, 0.7));
        let turning = |spin: DVec3| State { rates: attitude.inverse() * spin, ..state(0.0) };
        let so = |spin: DVec3| settles(&cone, &State { attitude, ..turning(spin) });
        assert!(so(DVec3::X * 30.0) && so(DVec3::Z * 10.0) && !so(DVec3::Y * 3.0));
    }

    #[test]
    fn a_bar_that_rolls_is_done_with_bouncing() {
        let bar = Body::solid(Shape::Rod { length: 1.0, diameter: 0.05 }, 3.0);
        let rolls = State { rates: DVec3::X * 40.0, ..state(0.0) };
        assert!(settles(&bar, &rolls));
        assert!(!settles(&bar, &state(0.3)));
    }

    /// Source: a disc that rolls upright stays up above √(g r / 3), here 1.09 m/s.
    #[test]
    fn a_wheel_that_rolls_fast_enough_stays_up_and_a_slow_or_leaning_one_does_not() {
        let wheel = Body::solid(Shape::Wheel { diameter: 0.728, width: 0.04, hub: 0.5 }, 18.0);
        let rolls = |speed: f64, lean: f64| {
            let attitude = DQuat::from_rotation_x(std::f64::consts::FRAC_PI_2 + lean);
            let spin = DVec3::Y * (speed / 0.364);
            let rates = attitude.inverse() * spin;
            let velocity = DVec3::new(speed, 0.0, 0.05);
            State { velocity, attitude, rates, ..state(0.0) }
        };
        assert!(settles(&wheel, &rolls(1.2, 0.0)) && settles(&wheel, &rolls(9.0, 0.03)));
        assert!(!settles(&wheel, &rolls(1.0, 0.0)) && !settles(&wheel, &rolls(9.0, 0.2)));
        assert!(settles(&wheel, &state(0.0)), "on its side it is done");
        let broad = Body::solid(Shape::Wheel { diameter: 0.728, width: 0.2, hub: 0.5 }, 18.0);
        assert!(settles(&broad, &rolls(0.1, 0.0)), "it stands on its tread");
        let rocked_out = State { velocity: DVec3::X * 0.1, ..rolls(0.1, 0.0) };
        assert!(settles(&wheel, &rocked_out), "so does a narrow one that no longer rocks");
    }
}
