//! What can be touched, as a convex set about a moving centre.

use super::{hull::sign, round::Round, wedge::Wedge};
use glam::DVec3;

/// A convex set about the origin of its own moving frame (axes parallel to the
/// world's).
#[derive(Clone, Copy, Debug)]
pub(super) enum Figure {
    /// Everything below z = 0.
    Ground,
    /// A box along three unit axes; flat where a half extent is zero.
    Prism {
        /// Unit axes, square to each other.
        axes: [DVec3; 3],
        /// Half extents along them, in m.
        half: [f64; 3],
    },
    /// A flat disc.
    Disc {
        /// Unit normal.
        normal: DVec3,
        /// Radius, in m.
        radius: f64,
    },
    /// A full cylinder.
    Cylinder(Round),
    /// Half of a box under a slope.
    Wedge(Wedge),
}

impl Figure {
    /// It a thousandth smaller about its centroid, and how far that moves its
    /// middle; `None` where that does not bring every side in.
    pub(super) fn smaller(&self) -> Option<(Self, DVec3)> {
        const SHARE: f64 = 0.999;
        let less = |half: [f64; 3]| half.map(|h| SHARE * h);
        match *self {
            Self::Prism { axes, half } => {
                Some((Self::Prism { axes, half: less(half) }, DVec3::ZERO))
            }
            Self::Cylinder(round) => Some((Self::Cylinder(round.scaled(SHARE)), DVec3::ZERO)),
            Self::Wedge(wedge) => {
                let core = Wedge { axes: wedge.axes, half: less(wedge.half) };
                Some((Self::Wedge(core), wedge.centroid() * (1.0 - SHARE)))
            }
            Self::Ground | Self::Disc { .. } => None,
        }
    }

    /// The point of the set nearest to `point`; for the ground, of its surface.
    pub(super) fn closest(&self, point: DVec3) -> DVec3 {
        match *self {
            Self::Ground => DVec3::new(point.x, point.y, 0.0),
            Self::Prism { axes, half } => {
                let clamped = |i: usize| axes[i] * point.dot(axes[i]).clamp(-half[i], half[i]);
                clamped(0) + clamped(1) + clamped(2)
            }
            Self::Disc { normal, radius } => {
                let inside = point - normal * normal.dot(point);
                inside.clamp_length_max(radius)
            }
            Self::Cylinder(round) => {
                let along = round.axis * point.dot(round.axis);
                let [end, _] = round.rings;
                along.clamp_length_max(end.offset.abs())
                    + (point - along).clamp_length_max(end.radius)
            }
            Self::Wedge(wedge) => wedge.closest(point),
        }
    }

    /// The farthest point of the set along `direction`; the ground has none
    /// and is met in closed form.
    pub(super) fn support(&self, direction: DVec3) -> DVec3 {
        match *self {
            Self::Ground => DVec3::ZERO,
            Self::Prism { axes, half } => {
                let end = |i: usize| axes[i] * (half[i] * sign(axes[i].dot(direction)));
                end(0) + end(1) + end(2)
            }
            Self::Disc { normal, radius } => {
                let inside = direction - normal * normal.dot(direction);
                // Along the normal every point is equally far, and what is
                // left of the direction is noise.
                if inside.length_squared() < 1e-24 * direction.length_squared() {
                    return normal.any_orthonormal_vector() * radius;
                }
                inside.normalize() * radius
            }
            Self::Cylinder(round) => round.support(direction),
            Self::Wedge(wedge) => wedge.support(direction),
        }
    }

    /// Which way is out at a point that is in or on the set: the direction in
    /// which `centre` leaves it soonest.
    pub(super) fn outward(&self, centre: DVec3) -> DVec3 {
        match *self {
            Self::Ground => DVec3::Z,
            Self::Disc { normal, .. } => side(normal, centre),
            Self::Prism { axes, half } => {
                let room = |i: usize| half[i] - centre.dot(axes[i]).abs();
                let nearest = [1, 2]
                    .into_iter()
                    .fold(0, |best, i| if room(i) < room(best) { i } else { best });
                side(axes[nearest], centre)
            }
            Self::Cylinder(round) => {
                let (out, _) = round.outward(centre);
                let [end, _] = round.rings;
                let above = end.offset.abs() - centre.dot(round.axis).abs();
                let beside = out != DVec3::ZERO && out.dot(centre) > end.radius - above;
                if beside { out } else { side(round.axis, centre) }
            }
            Self::Wedge(wedge) => wedge.outward(centre),
        }
    }
}

/// `axis` turned to the side on which `centre` is.
pub(super) fn side(axis: DVec3, centre: DVec3) -> DVec3 {
    if axis.dot(centre) < 0.0 { -axis } else { axis }
}

/// A figure and where it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Obstacle {
    /// What it looks like.
    pub(super) figure: Figure,
    /// Centre at time 0, world frame, in m.
    pub(super) centre: DVec3,
    /// Velocity, in m/s.
    pub(super) velocity: DVec3,
}

impl Obstacle {
    /// The ground, which stands.
    pub(super) const GROUND: Self =
        Self { figure: Figure::Ground, centre: DVec3::ZERO, velocity: DVec3::ZERO };

    /// Centre at `time`, in m.
    pub(super) fn centre_at(&self, time: f64) -> DVec3 {
        self.centre + self.velocity * time
    }
}
