//! A sharp core that spans two circles: a cylinder, a wheel, a cone.

use crate::body::Ring;
use glam::DVec3;

/// Two circles across an axis through the origin, and all between them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Round {
    /// Unit axis.
    pub(super) axis: DVec3,
    /// The circles.
    pub(super) rings: [Ring; 2],
}

impl Round {
    /// The farthest point along `direction`; the middle of them where several
    /// are equally far.
    pub(super) fn support(&self, direction: DVec3) -> DVec3 {
        let (out, slope) = self.outward(direction);
        let [a, b] = self.rings.map(|ring| self.reach(&ring, &out, slope));
        let point = |ring: &Ring| self.axis * ring.offset + out * ring.radius;
        if a > b {
            point(&self.rings[0])
        } else if b > a {
            point(&self.rings[1])
        } else {
            point(&self.rings[0]).midpoint(point(&self.rings[1]))
        }
    }

    /// The same, so many times as large.
    pub(super) fn scaled(&self, by: f64) -> Self {
        let rings =
            self.rings.map(|ring| Ring { offset: by * ring.offset, radius: by * ring.radius });
        Self { rings, ..*self }
    }

    /// How far it reaches from the origin along a direction, times the
    /// direction's length.
    pub(super) fn extent(&self, direction: DVec3) -> f64 {
        let along = self.axis.dot(direction);
        let across = (direction.length_squared() - along * along).max(0.0).sqrt();
        let [a, b] = self.rings.map(|ring| ring.offset * along + ring.radius * across);
        a.max(b)
    }

    /// The unit direction across the axis nearest to `direction` (zero where
    /// that is along the axis), and the cosine between axis and direction.
    pub(super) fn outward(&self, direction: DVec3) -> (DVec3, f64) {
        let along = self.axis.dot(direction);
        let across = direction - self.axis * along;
        // Along the axis every point of a circle is equally far, and what is
        // left of the direction is noise.
        if across.length_squared() < 1e-24 * direction.length_squared() {
            return (DVec3::ZERO, along);
        }
        let length = across.length();
        (across / length, along / length)
    }

    /// How far a circle reaches, per share of the direction across the axis.
    fn reach(&self, ring: &Ring, out: &DVec3, slope: f64) -> f64 {
        let radius = if *out == DVec3::ZERO { 0.0 } else { ring.radius };
        ring.offset * slope + radius
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wheel() -> Round {
        let ring = |offset| Ring { offset, radius: 0.3 };
        Round { axis: DVec3::Z, rings: [ring(0.1), ring(-0.1)] }
    }

    #[test]
    fn the_farthest_point_is_on_a_rim_or_in_the_middle_of_what_lies_flat() {
        let far = |direction| wheel().support(direction);
        assert!((far(DVec3::new(1.0, 0.0, 0.2)) - DVec3::new(0.3, 0.0, 0.1)).length() < 1e-12);
        assert!((far(DVec3::Y) - DVec3::new(0.0, 0.3, 0.0)).length() < 1e-12);
        assert!((far(-DVec3::Z) - DVec3::new(0.0, 0.0, -0.1)).length() < 1e-12);
    }

    /// Source: closed form: a cone's apex is farthest within the angle of its
    /// side's normals.
    #[test]
    fn a_cone_reaches_with_its_apex_or_its_rim() {
        let apex = Ring { offset: 0.75, radius: 0.0 };
        let base = Ring { offset: -0.25, radius: 0.5 };
        let cone = Round { axis: DVec3::X, rings: [apex, base] };
        assert!((cone.support(DVec3::new(1.0, 1.0, 0.0)).x - 0.75).abs() < 1e-12);
        let rim = cone.support(DVec3::new(0.1, 1.0, 0.0));
        assert!((rim - DVec3::new(-0.25, 0.5, 0.0)).length() < 1e-12);
    }
}
