//! The side on which a body lies on level ground, as far as it can touch.

use super::hull::{Form, Hull, sign};
use crate::{
    body::{Body, Ring},
    flight::State,
};
use glam::{DQuat, DVec3};

/// Points that sink as fast as the middle of the side to within this come down with it,
/// in m/s.
const TOGETHER: f64 = 1e-6;

/// Points seen from the centre of mass, world axes, in m.
#[derive(Clone, Copy, Debug)]
pub(super) enum Side {
    /// One point: of a ball, or of a bar on its end.
    Point(DVec3),
    /// A line between two points: of what lies on its round side.
    Line([DVec3; 2]),
    /// A rectangle: its middle and two half edges.
    Face(DVec3, [DVec3; 2]),
    /// The end of something round.
    End {
        /// Its middle.
        middle: DVec3,
        /// The unit axis that it is across.
        axis: DVec3,
        /// In m.
        radius: f64,
    },
}

impl Side {
    /// The lowest side of a body in this attitude, which should be all but level.
    pub(super) fn of(body: &Body, attitude: DQuat) -> Self {
        let Hull { half, round, radius, .. } = Form::of(body).placed(attitude, DVec3::ZERO);
        let under = DVec3::Z * -radius;
        if let Some(round) = round {
            let axis = round.axis;
            let [a, b] = round.rings;
            if axis.z.abs() > std::f64::consts::FRAC_1_SQRT_2 {
                let Ring { offset, radius } =
                    if (a.offset < b.offset) == (axis.z > 0.0) { a } else { b };
                return Self::End { middle: axis * offset, axis, radius };
            }
            let (out, _) = round.outward(-DVec3::Z);
            return Self::Line([a, b].map(|ring| axis * ring.offset + out * ring.radius));
        }
        let Some(down) = (0..3).max_by(|&i, &j| upright(half[i]).total_cmp(&upright(half[j])))
        else {
            return Self::Point(under);
        };
        let lowest = |edge: DVec3| edge * -sign(edge.z);
        let edges = [half[(down + 1) % 3], half[(down + 2) % 3]];
        if half.iter().all(|edge| *edge == DVec3::ZERO) {
            Self::Point(under)
        } else if radius > 0.0 {
            // A bar's core is a line.
            let half = half[0];
            let stands = upright(half) > std::f64::consts::FRAC_1_SQRT_2;
            if stands {
                Self::Point(lowest(half) + under)
            } else {
                Self::Line([half + under, under - half])
            }
        } else {
            Self::Face(lowest(half[down]), edges)
        }
    }

    /// The point of it that sinks fastest: its middle where that sinks as fast.
    pub(super) fn sinks(&self, state: &State) -> DVec3 {
        // A point's speed upwards is that of the centre plus this along its arm.
        let slope = DVec3::Z.cross(state.attitude * state.rates);
        let (middle, fastest) = match *self {
            Self::Point(point) => return point,
            Self::Line([a, b]) => (a.midpoint(b), if a.dot(slope) < b.dot(slope) { a } else { b }),
            Self::Face(middle, [a, b]) => {
                let down = |edge: DVec3| edge * -sign(edge.dot(slope));
                (middle, middle + down(a) + down(b))
            }
            Self::End { middle, axis, radius } => {
                let across = slope.reject_from_normalized(axis);
                (middle, middle - across.normalize_or_zero() * radius)
            }
        };
        let ahead = (middle - fastest).dot(slope);
        if ahead < TOGETHER { middle } else { fastest }
    }
}

/// Cosine of an edge's angle from the vertical; 0 of what has no length.
fn upright(edge: DVec3) -> f64 {
    let length = edge.length();
    if length > 0.0 { edge.z.abs() / length } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Shape;

    fn turning(rates: DVec3, attitude: DQuat) -> State {
        State { position: DVec3::Z, velocity: DVec3::Z * -1.0, attitude, rates }
    }

    #[test]
    fn the_corner_that_a_turning_carries_down_sinks_fastest() {
        let sheet = Body::solid(Shape::Plate { length: 2.0, width: 1.0, thickness: 0.1 }, 5.0);
        let side = Side::of(&sheet, DQuat::IDENTITY);
        // About +y the front goes down, about +x the right.
        let state = turning(DVec3::new(0.3, 0.3, 0.0), DQuat::IDENTITY);
        assert_eq!(side.sinks(&state), DVec3::new(1.0, -0.5, -0.05));
        let level = turning(DVec3::Z * 7.0, DQuat::IDENTITY);
        assert_eq!(side.sinks(&level), DVec3::Z * -0.05, "all of it at once");
    }

    #[test]
    fn round_things_have_a_line_or_an_end_below_them() {
        let drum = Body::solid(Shape::Cylinder { length: 2.0, diameter: 1.0 }, 5.0);
        let Side::Line([a, b]) = Side::of(&drum, DQuat::IDENTITY) else { panic!("it lies") };
        assert!((a - DVec3::new(1.0, 0.0, -0.5)).length() < 1e-12 && (a + b).z < -0.99);
        let upright = DQuat::from_rotation_y(-std::f64::consts::FRAC_PI_2);
        let side = Side::of(&drum, upright);
        assert!(matches!(side, Side::End { middle, .. } if (middle.z + 1.0).abs() < 1e-12));
        let tips = turning(upright.inverse() * DVec3::Y, upright);
        assert!((side.sinks(&tips) - DVec3::new(0.5, 0.0, -1.0)).length() < 1e-12);
        let rod = Body::solid(Shape::Rod { length: 1.0, diameter: 0.1 }, 1.0);
        assert!(matches!(Side::of(&rod, DQuat::IDENTITY), Side::Line([_, b]) if b.z < -0.04));
        assert!(
            matches!(Side::of(&rod, upright), Side::Point(point) if (point.z + 0.5).abs() < 1e-12)
        );
    }
}
