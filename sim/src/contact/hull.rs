//! The body's shape as a centre, a sharp core and a rounding radius.

use super::round::Round;
use crate::body::{Body, Form as Outer, Ring, Shape};
use glam::{DMat3, DQuat, DVec3};

/// What of a body does not change in flight: a ball is a rounded point, a rod a
/// rounded segment, a plate or a block a sharp box, a cylinder or a cone what
/// spans two sharp circles.
#[derive(Clone, Copy, Debug)]
pub(super) struct Form {
    core: Outer,
    /// Rounding radius, in m.
    radius: f64,
    /// Largest distance of a point of the body from its centre that turning
    /// can bring nearer to something, in m: 0 for a ball.
    pub(super) reach: f64,
}

impl Form {
    pub(super) fn of(body: &Body) -> Self {
        let point = Outer::Boxed { half: DVec3::ZERO };
        match (body.shape, Outer::of(body)) {
            (Shape::Rod { length, diameter }, _) => {
                // A bar shorter than it is thick is held as a ball.
                let core = (length - diameter).max(0.0) / 2.0;
                let half = DVec3::new(core, 0.0, 0.0);
                Self { core: Outer::Boxed { half }, radius: diameter / 2.0, reach: core }
            }
            (_, Outer::Ball { radius }) => Self { core: point, radius, reach: 0.0 },
            (_, core) => Self { core, radius: 0.0, reach: core.bounding_radius() },
        }
    }

    /// Of rates of turning in the body frame, the part that moves the surface:
    /// not a turning about an axis about which the body is round.
    pub(super) fn swinging(&self, rates: DVec3) -> DVec3 {
        match self.core {
            Outer::Revolved { axis, .. } => rates - DVec3::AXES[axis] * rates[axis],
            Outer::Boxed { half } if half.y <= 0.0 && half.z <= 0.0 => rates - DVec3::X * rates.x,
            Outer::Boxed { .. } | Outer::Ball { .. } => rates,
        }
    }

    /// Of what is round about a body axis: that axis, the circles at its ends, and how far
    /// it reaches all round them, in m.
    pub(super) fn rims(&self) -> Option<(usize, [Ring; 2], f64)> {
        match self.core {
            Outer::Revolved { axis, rings } => Some((axis, rings, self.radius)),
            // A bar's core is the line between the middles of its round ends.
            Outer::Boxed { half } if self.radius > 0.0 && half.x > 0.0 => {
                let ends = [half.x, -half.x].map(|offset| Ring { offset, radius: 0.0 });
                Some((0, ends, self.radius))
            }
            Outer::Boxed { .. } | Outer::Ball { .. } => None,
        }
    }

    /// The body with its centre at `centre` and this attitude.
    pub(super) fn placed(&self, attitude: DQuat, centre: DVec3) -> Hull {
        let (half, round) = match self.core {
            Outer::Revolved { axis, rings } => {
                let axis = attitude * DVec3::AXES[axis];
                ([DVec3::ZERO; 3], Some(Round { axis, rings }))
            }
            Outer::Boxed { half } if half == DVec3::ZERO => ([DVec3::ZERO; 3], None),
            Outer::Boxed { half } => {
                let turn = DMat3::from_quat(attitude);
                ([turn.x_axis * half.x, turn.y_axis * half.y, turn.z_axis * half.z], None)
            }
            Outer::Ball { .. } => ([DVec3::ZERO; 3], None),
        };
        Hull { centre, half, round, radius: self.radius, reach: self.reach }
    }
}

/// A body at one instant.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hull {
    /// Centre, in m.
    pub(super) centre: DVec3,
    /// Half edges of the sharp core, in m; zero where there is none.
    pub(super) half: [DVec3; 3],
    /// The core, if it is round and not a box.
    pub(super) round: Option<Round>,
    /// Rounding radius, in m.
    pub(super) radius: f64,
    /// See [`Form::reach`].
    pub(super) reach: f64,
}

impl Hull {
    /// The farthest point of the core along `direction`; the middle of them
    /// where several are equally far.
    pub(super) fn support(&self, direction: DVec3) -> DVec3 {
        if let Some(round) = &self.round {
            return self.centre + round.support(direction);
        }
        self.half.iter().fold(self.centre, |sum, &edge| sum + edge * sign(edge.dot(direction)))
    }

    /// How far it reaches from its centre along a unit direction, in m.
    pub(super) fn extent(&self, direction: DVec3) -> f64 {
        self.core_extent(direction) + self.radius
    }

    /// How far its core reaches from its centre along a direction, times the
    /// direction's length.
    pub(super) fn core_extent(&self, direction: DVec3) -> f64 {
        match &self.round {
            Some(round) => round.extent(direction),
            None => self.half.iter().map(|edge| edge.dot(direction).abs()).sum(),
        }
    }

    /// Radius about the centre that holds everything, in m.
    pub(super) fn bounding_radius(&self) -> f64 {
        self.reach + self.radius
    }
}

/// -1, 0 or 1.
pub(super) fn sign(x: f64) -> f64 {
    if x > 0.0 {
        1.0
    } else if x < 0.0 {
        -1.0
    } else {
        0.0
    }
}
