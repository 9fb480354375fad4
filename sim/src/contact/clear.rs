//! Whether a body stays clear of things during a whole stretch of time.
//!
//! Two convex sets are apart if a plane lies between them. The centre of mass
//! stays in the hull of the control points of its path ([`Path`]), taken as the
//! obstacle sees them, and no point of the body is ever farther from where the
//! attitude in the middle would have it than turning can carry it. So the body
//! stays beyond the plane across `axis` at the obstacle's end if the nearest
//! control point does by more than the body's own extent along `axis` and that
//! carry. This is proved for the whole stretch at once and looks at no instant;
//! it settles most obstacles of most steps. Where it says no, nothing is known.

use super::{
    hull::{Form, Hull},
    obstacle::{Figure, Obstacle, side},
};
use crate::flight::Path;
use glam::DVec3;

/// What has to be left between the two, in m: more than rounding, and more than
/// any distance that counts as a touch.
const LEFT: f64 = 1e-4;

/// Control points, of degree four, of what moves with constant acceleration over
/// a stretch of time, in s.
pub(super) fn parabola([from, to]: [f64; 2], place: impl Fn(f64) -> DVec3) -> [DVec3; 5] {
    let [start, middle, end] = [from, f64::midpoint(from, to), to].map(place);
    let bend = middle * 2.0 - start.midpoint(end);
    [start, start.midpoint(bend), (start + bend * 4.0 + end) / 6.0, end.midpoint(bend), end]
}

/// A body during a stretch of time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sweep {
    span: [f64; 2],
    centre: [DVec3; 5],
    /// The body about the origin in the middle of the stretch.
    hull: Hull,
    /// How far turning carries a point of it from there at most, in m.
    carry: f64,
}

impl Sweep {
    /// Of a body of this form on this path over the stretch `span`, in s.
    pub(super) fn of(form: &Form, path: &Path, span: [f64; 2]) -> Self {
        let hull = form.placed(path.attitude, DVec3::ZERO);
        let carry = if form.reach > 0.0 { form.reach * path.turned } else { 0.0 };
        Self { span, centre: path.centre, hull, carry }
    }

    /// Whether it is sure to stay clear of this obstacle.
    pub(super) fn clears(&self, obstacle: &Obstacle) -> bool {
        let [from, to] = self.span;
        let spacing = 0.25 * (to - from);
        let start = obstacle.centre_at(from);
        let seen: [DVec3; 5] = std::array::from_fn(|i| {
            self.centre[i] - start - obstacle.velocity * (spacing * i as f64)
        });
        let beyond = |axis: DVec3, half: f64| {
            let nearest = seen.iter().map(|point| point.dot(axis)).fold(f64::INFINITY, f64::min);
            nearest - half - self.hull.extent(-axis) - self.carry > LEFT
        };
        let middle = seen[2];
        let towards = || {
            let away = middle - obstacle.figure.closest(middle);
            let axis = away.normalize_or_zero();
            axis != DVec3::ZERO && beyond(axis, obstacle.figure.support(axis).dot(axis))
        };
        match obstacle.figure {
            Figure::Ground => beyond(DVec3::Z, 0.0),
            Figure::Cylinder(_) | Figure::Wedge(_) => towards(),
            Figure::Disc { normal, .. } => beyond(side(normal, middle), 0.0) || towards(),
            Figure::Prism { axes, half } => {
                (0..3).rev().any(|i| beyond(side(axes[i], middle), half[i])) || towards()
            }
        }
    }
}
