//! A wedge: half of a box, cut from edge to edge.
//!
//! In its own axes it lies on its base; from the edge in front (low x) its slope
//! rises to the top edge of its upright back (high x).

use glam::{DVec2, DVec3};

/// A wedge about the middle of the box that it is half of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wedge {
    /// Unit axes, square to each other: along the rise, across it, up.
    pub(super) axes: [DVec3; 3],
    /// Half extents of the box along them, in m, > 0.
    pub(super) half: [f64; 3],
}

impl Wedge {
    /// Its corners.
    pub(super) fn corners(&self) -> [DVec3; 6] {
        let [x, y, z] = [0, 1, 2].map(|i| self.axes[i] * self.half[i]);
        let [front, back, top] = [-x - z, x - z, x + z];
        [front - y, front + y, back - y, back + y, top - y, top + y]
    }

    /// The centroid of its volume, from the middle of the box.
    pub(super) fn centroid(&self) -> DVec3 {
        let [x, _, z] = [0, 1, 2].map(|i| self.axes[i] * self.half[i]);
        (x - z) / 3.0
    }

    /// Its sides: unit normals outwards, and how far each is from the middle.
    pub(super) fn sides(&self) -> [(DVec3, f64); 5] {
        let ([x, y, z], [along, across, up]) = (self.axes, self.half);
        let slope = (z * along - x * up).normalize();
        [(-z, up), (x, along), (y, across), (-y, across), (slope, 0.0)]
    }

    /// The farthest point along `direction`; the middle of them where several
    /// are equally far.
    pub(super) fn support(&self, direction: DVec3) -> DVec3 {
        let corners = self.corners();
        let far = |corner: &DVec3| corner.dot(direction);
        let most = corners.iter().map(far).fold(f64::NEG_INFINITY, f64::max);
        let slack = 1e-12 * direction.length();
        let (mut sum, mut count) = (DVec3::ZERO, 0.0);
        for corner in corners.iter().filter(|corner| far(corner) >= most - slack) {
            (sum, count) = (sum + corner, count + 1.0);
        }
        sum / count
    }

    /// The point of it nearest to `point`.
    pub(super) fn closest(&self, point: DVec3) -> DVec3 {
        let ([x, y, z], [along, across, up]) = (self.axes, self.half);
        let flat = in_section(DVec2::new(point.dot(x), point.dot(z)), along, up);
        x * flat.x + y * point.dot(y).clamp(-across, across) + z * flat.y
    }

    /// Which way is out soonest from a point inside.
    pub(super) fn outward(&self, point: DVec3) -> DVec3 {
        let room = |side: &(DVec3, f64)| side.1 - side.0.dot(point);
        let sides = self.sides();
        sides
            .iter()
            .fold(sides[0], |best, side| if room(side) < room(&best) { *side } else { best })
            .0
    }
}

/// The point nearest to `point` of the triangle below the slope.
fn in_section(point: DVec2, along: f64, up: f64) -> DVec2 {
    let within = DVec2::new(point.x.clamp(-along, along), point.y.clamp(-up, up));
    // Below the slope the box is the wedge.
    if within.y * along <= within.x * up {
        return within;
    }
    let ridge = DVec2::new(along, up);
    ridge * (point.dot(ridge) / ridge.length_squared()).clamp(-1.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A ramp of 4 m that rises 3 m: 3-4-5.
    fn ramp() -> Wedge {
        Wedge { axes: DVec3::AXES, half: [2.0, 1.0, 1.5] }
    }

    fn near(a: DVec3, b: DVec3) {
        assert!((a - b).length() < 1e-12, "{a} is not {b}");
    }

    /// Source: closed form: foot of the perpendicular on a line that rises 3 in 4.
    #[test]
    fn the_nearest_point_is_square_below_on_the_slope() {
        let slope = DVec3::new(-0.6, 0.0, 0.8);
        let foot = DVec3::new(0.4, 0.2, 0.3);
        near(ramp().closest(foot + slope * 2.0), foot);
        near(ramp().closest(foot), foot);
        near(ramp().closest(foot - slope * 0.1), foot - slope * 0.1);
        near(ramp().outward(foot - slope * 0.1), slope);
    }

    #[test]
    fn beyond_its_edges_the_nearest_point_is_on_them() {
        near(ramp().closest(DVec3::new(-9.0, 0.0, -1.0)), DVec3::new(-2.0, 0.0, -1.5));
        near(ramp().closest(DVec3::new(3.0, 5.0, 9.0)), DVec3::new(2.0, 1.0, 1.5));
        near(ramp().closest(DVec3::new(9.0, 0.5, 0.0)), DVec3::new(2.0, 0.5, 0.0));
        near(ramp().closest(DVec3::new(0.0, 0.0, -9.0)), DVec3::new(0.0, 0.0, -1.5));
    }

    #[test]
    fn what_is_farthest_is_a_corner_or_the_middle_of_what_lies_flat() {
        near(ramp().support(DVec3::new(1.0, 0.1, 0.1)), DVec3::new(2.0, 1.0, 1.5));
        near(ramp().support(DVec3::X), DVec3::new(2.0, 0.0, 0.0));
        near(ramp().support(DVec3::new(-0.6, 0.0, 0.8)), DVec3::ZERO);
        near(ramp().support(-DVec3::X), DVec3::new(-2.0, 0.0, -1.5));
    }

    #[test]
    fn every_corner_is_inside_or_on_every_side() {
        for (normal, far) in ramp().sides() {
            let touching =
                ramp().corners().iter().filter(|c| (c.dot(normal) - far).abs() < 1e-12).count();
            assert!(touching >= 3);
            assert!(ramp().corners().iter().all(|corner| corner.dot(normal) <= far + 1e-12));
        }
    }
}
