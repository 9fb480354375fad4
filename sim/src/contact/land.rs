//! How a body that has settled comes to lie still but for its sliding and rolling.

use super::{
    hull::Form,
    settle::{cone_side, falls_below, is_ball, is_cone_on_side, rolls_about},
    work::{Work, strike, twist},
};
use crate::{
    body::Body,
    flight::{GRAVITY, State},
    math::{cos, sin},
};
use glam::{DQuat, DVec3};

/// What goes on once a body lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Goes {
    /// It rolls any way: a ball.
    Round,
    /// It rolls across this body axis.
    About(usize),
    /// It rolls round its apex and pivots: a cone on its side.
    RoundApex,
    /// It slides as it is.
    Still,
}

impl Goes {
    pub(super) fn of(body: &Body, attitude: DQuat) -> Self {
        let level = |axis: &usize| (attitude * DVec3::AXES[*axis]).z.abs() < 0.5;
        match rolls_about(&body.shape).filter(level) {
            _ if is_ball(&body.shape) => Self::Round,
            Some(axis) => Self::About(axis),
            None if is_cone_on_side(body, attitude) => Self::RoundApex,
            None => Self::Still,
        }
    }
}

/// The body once it lies on its side (or rolls upright on its rim): level and down, its
/// hopping and rocking and its turning on the spot stopped by the ground. What of this
/// is an impulse works by it; what it sinks as it lies down, the ground takes.
///
/// Assumes: what rises comes down again and is stopped then (it is a small hop); that a
/// body turns about the vertical while it slides is left out.
pub(super) fn land(body: &Body, state: &State) -> (State, Work) {
    // What rolls upright and will fall keeps the lean that decides to which side.
    let attitude = match falls_below(body, state) {
        Some(_) => state.attitude,
        None => levelled(body, state.attitude),
    };
    let height = Form::of(body).placed(attitude, DVec3::ZERO).extent(-DVec3::Z);
    let position = state.position.with_z(height);
    let mut lies = State { position, attitude, ..*state };
    let mut work = Work::of(-body.mass * GRAVITY * (state.position.z - height));
    let stop = DVec3::Z * (-body.mass * state.velocity.z);
    work += strike(body, &mut lies, DVec3::Z * -height, stop, DVec3::ZERO);
    match Goes::of(body, attitude) {
        Goes::Round => work += twist(body, &mut lies, DVec3::Z),
        Goes::RoundApex => {
            let axis = (attitude * DVec3::X).with_z(0.0);
            work += twist(body, &mut lies, DVec3::Z.cross(axis).normalize());
        }
        goes => {
            for i in (0..3).filter(|i| goes != Goes::About(*i)) {
                work += twist(body, &mut lies, attitude * DVec3::AXES[i]);
            }
        }
    }
    (lies, work)
}

/// The attitude in which the side that is all but level is so, or the axis of
/// what rolls.
pub(super) fn levelled(body: &Body, attitude: DQuat) -> DQuat {
    if is_ball(&body.shape) {
        return attitude;
    }
    let up = attitude.inverse() * DVec3::Z;
    if let Some(side) = cone_side(&body.shape).filter(|_| is_cone_on_side(body, attitude)) {
        let across = up.with_x(0.0).normalize();
        let lies = DVec3::X * sin(side) + across * cos(side);
        return DQuat::from_rotation_arc(attitude * lies, DVec3::Z) * attitude;
    }
    let lies = match rolls_about(&body.shape) {
        Some(axis) if up[axis].abs() < 0.5 => up - DVec3::AXES[axis] * up[axis],
        Some(axis) => DVec3::AXES[axis] * up[axis],
        None => {
            let i = up.abs().max_position();
            DVec3::AXES[i] * up[i]
        }
    };
    DQuat::from_rotation_arc(attitude * lies.normalize(), DVec3::Z) * attitude
}
