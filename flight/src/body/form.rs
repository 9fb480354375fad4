//! The outer surface of a body, for what touches it.

use super::Body;
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
    /// What spans two circles that face each other: of one radius, a cylinder;
    /// one of them an apex, a cone.
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

/// Whether two circles are not of one radius.
fn tapers([a, b]: [Ring; 2]) -> bool {
    (a.radius - b.radius).abs() > 0.0
}

impl Form {
    /// Of this body.
    #[must_use]
    pub fn of(body: &Body) -> Self {
        body.shape.form()
    }

    /// Half extents along the body axes, in m.
    #[must_use]
    pub fn half_extents(&self) -> DVec3 {
        match *self {
            Self::Ball { radius } => DVec3::splat(radius),
            Self::Boxed { half } => half,
            Self::Revolved { axis, rings: [a, b] } => {
                let mut half = DVec3::splat(a.radius.max(b.radius));
                half[axis] = (a.offset - b.offset).abs() / 2.0;
                half
            }
        }
    }

    /// The body axis that it is round about and can roll across, if it has one.
    #[must_use]
    pub fn rolls_about(&self) -> Option<usize> {
        match *self {
            Self::Revolved { axis, rings } if !tapers(rings) => Some(axis),
            Self::Revolved { .. } | Self::Ball { .. } | Self::Boxed { .. } => None,
        }
    }

    /// Length and radius of the base of what tapers to an apex; `None` for what
    /// does not.
    #[must_use]
    pub fn taper(&self) -> Option<[f64; 2]> {
        match *self {
            Self::Revolved { rings: [a, b], .. } if tapers([a, b]) => {
                Some([(a.offset - b.offset).abs(), a.radius.max(b.radius)])
            }
            Self::Revolved { .. } | Self::Ball { .. } | Self::Boxed { .. } => None,
        }
    }

    /// Whether it is a ball: no way round lies better than another.
    #[must_use]
    pub fn is_ball(&self) -> bool {
        matches!(self, Self::Ball { .. })
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
