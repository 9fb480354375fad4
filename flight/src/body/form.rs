//! The outer surface of a body, for what touches it.

use super::{Body, Shape};
use glam::DVec3;

/// The convex outer surface of a body about its centre of mass, body frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// A ball.
    Ball {
        /// Radius, in m.
        radius: f64,
    },
    /// A box with its edges along the body axes.
    Boxed {
        /// Half extents, in m.
        half: DVec3,
    },
    /// What spans two circles that face each other: a cylinder, a cone.
    Revolved {
        /// The body axis that both circles are across: 0, 1 or 2.
        axis: usize,
        /// The circles.
        rings: [Ring; 2],
    },
}

/// A circle across an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Where its centre is along the axis, in m.
    pub offset: f64,
    /// Radius, in m; 0 for an apex.
    pub radius: f64,
}

impl Form {
    /// Of this body.
    #[must_use]
    pub fn of(body: &Body) -> Self {
        let round = |axis: usize, length: f64, diameter: f64| {
            let ring = |offset: f64| Ring { offset, radius: diameter / 2.0 };
            Self::Revolved { axis, rings: [ring(length / 2.0), ring(-length / 2.0)] }
        };
        match body.shape {
            Shape::Sphere { diameter } | Shape::Irregular { diameter, .. } => {
                Self::Ball { radius: diameter / 2.0 }
            }
            Shape::Plate { .. }
            | Shape::Block { .. }
            | Shape::Bar { .. }
            | Shape::Custom { .. } => Self::Boxed { half: body.half_extents() },
            Shape::Disc { diameter, thickness: width } | Shape::Wheel { diameter, width, .. } => {
                round(2, width, diameter)
            }
            Shape::Rod { length, diameter }
            | Shape::Cylinder { length, diameter }
            | Shape::Tube { length, diameter, .. } => round(0, length, diameter),
            Shape::Cone { length, diameter } => {
                let apex = Ring { offset: 0.75 * length, radius: 0.0 };
                let base = Ring { offset: -0.25 * length, radius: diameter / 2.0 };
                Self::Revolved { axis: 0, rings: [apex, base] }
            }
        }
    }

    /// Radius of the smallest sphere about the centre of mass that holds the
    /// body, in m.
    #[must_use]
    pub fn bounding_radius(&self) -> f64 {
        match *self {
            Self::Ball { radius } => radius,
            Self::Boxed { half } => half.length(),
            Self::Revolved { rings: [a, b], .. } => {
                let far = |ring: Ring| libm::hypot(ring.offset, ring.radius);
                far(a).max(far(b))
            }
        }
    }
}
