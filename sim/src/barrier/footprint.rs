//! The patch through which a body meets a barrier, by shape and attitude.
//!
//! A perforation formula wants the diameter of the contact. Here it is the
//! circle of the same area as the body's section some depth behind its foremost
//! point: all of an end that comes square on, a wedge of it where an edge comes
//! first, a little triangle behind a corner. The depth is the one to which the
//! barrier gives before it decides (its own thickness, or 10 mm; judgement).
//!
//! Source: the circle of equal area is common practice for irregular missiles
//! (BC-TOP-9A, from memory).

use crate::{
    body::{Body, Form, Ring},
    math::{cos, sin},
};
use glam::{DQuat, DVec2, DVec3};
use std::f64::consts::{PI, TAU};

/// Sides of the prism or the pyramid that stands for a round body.
const SIDES: usize = 24;
/// Edges of the largest shape.
const ROOM: usize = 3 * SIDES;

/// A contact patch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Footprint {
    /// Area, in m².
    pub area: f64,
    /// Perimeter, in m.
    pub perimeter: f64,
}

impl Footprint {
    /// The section of `body` in `attitude` at `depth` (m, > 0) behind the
    /// point that comes first against `normal` (unit, outward from the
    /// barrier, world frame). Deeper than the middle of the body counts as the
    /// middle.
    #[must_use]
    pub fn of(body: &Body, attitude: DQuat, normal: DVec3, depth: f64) -> Self {
        let into = attitude.inverse() * -normal;
        match Form::of(body) {
            Form::Ball { radius } => ball(2.0 * radius, depth),
            Form::Revolved { axis, rings } => {
                let corner = |i: usize| rim(axis, rings, i);
                let edge = |k: usize| {
                    let i = k / 3;
                    let next = (i + 1) % SIDES;
                    match k % 3 {
                        0 => (corner(2 * i), corner(2 * i + 1)),
                        1 => (corner(2 * i), corner(2 * next)),
                        _ => (corner(2 * i + 1), corner(2 * next + 1)),
                    }
                };
                section(2 * SIDES, corner, 3 * SIDES, edge, into, depth)
            }
            Form::Boxed { half } => {
                let edge = |k: usize| {
                    let (axis, rest) = (k % 3, k / 3);
                    let low = (rest & 1) << ((axis + 1) % 3) | (rest >> 1) << ((axis + 2) % 3);
                    (box_corner(half, low), box_corner(half, low | 1 << axis))
                };
                section(8, |i| box_corner(half, i), 12, edge, into, depth)
            }
        }
    }

    /// Area of the shadow of `body` in `attitude` along `normal` (unit, world
    /// frame), in m²: all of it that could ever bear.
    #[must_use]
    pub fn shadow(body: &Body, attitude: DQuat, normal: DVec3) -> f64 {
        let into = attitude.inverse() * -normal;
        let (right, up) = into.any_orthonormal_pair();
        let flatten = |corner: DVec3| DVec2::new(corner.dot(right), corner.dot(up));
        match Form::of(body) {
            Form::Ball { radius } => PI * radius * radius,
            Form::Revolved { axis, rings } => {
                hull_area(&mut std::array::from_fn::<_, { 2 * SIDES }, _>(|i| {
                    flatten(rim(axis, rings, i))
                }))
            }
            Form::Boxed { half } => {
                let sides = DVec3::new(half.y * half.z, half.z * half.x, half.x * half.y);
                4.0 * sides.dot(into.abs())
            }
        }
    }

    /// Extent of `body` in `attitude` along `normal` (unit, world frame), in m.
    #[must_use]
    pub fn length(body: &Body, attitude: DQuat, normal: DVec3) -> f64 {
        let into = attitude.inverse() * -normal;
        match Form::of(body) {
            Form::Ball { radius } => 2.0 * radius,
            Form::Boxed { half } => 2.0 * half.dot(into.abs()),
            Form::Revolved { axis, rings } => {
                let across = (1.0 - into[axis] * into[axis]).max(0.0).sqrt();
                let ends = |way: f64| {
                    let far = |ring: Ring| way * ring.offset * into[axis] + ring.radius * across;
                    far(rings[0]).max(far(rings[1]))
                };
                ends(1.0) + ends(-1.0)
            }
        }
    }

    /// Diameter of the circle of the same area, in m.
    #[must_use]
    pub fn diameter(&self) -> f64 {
        (4.0 * self.area / PI).sqrt()
    }
}

fn ball(diameter: f64, depth: f64) -> Footprint {
    let depth = depth.min(diameter / 2.0);
    let square = depth * (diameter - depth);
    Footprint { area: PI * square, perimeter: TAU * square.sqrt() }
}

/// The cut of a convex solid, given by its corners and edges, square to `into`
/// at `depth` behind its foremost point.
fn section(
    corners: usize,
    corner: impl Fn(usize) -> DVec3,
    edges: usize,
    edge: impl Fn(usize) -> (DVec3, DVec3),
    into: DVec3,
    depth: f64,
) -> Footprint {
    let along = |i: usize| corner(i).dot(into);
    let front = (0..corners).map(along).fold(f64::NEG_INFINITY, f64::max);
    let back = (0..corners).map(along).fold(f64::INFINITY, f64::min);
    let level = front - depth.min((front - back) / 2.0);
    let (right, up) = into.any_orthonormal_pair();
    let mut points = [DVec2::ZERO; ROOM];
    let mut count = 0;
    for (from, to) in (0..edges).map(edge) {
        let (a, b) = (from.dot(into) - level, to.dot(into) - level);
        if a * b < 0.0 {
            let point = from + (to - from) * (a / (a - b));
            points[count] = DVec2::new(point.dot(right), point.dot(up));
            count += 1;
        }
    }
    let (area, perimeter) = around(&mut points[..count]);
    Footprint { area, perimeter }
}

/// A corner of the prism or pyramid that stands for a round body.
fn rim(axis: usize, rings: [Ring; 2], i: usize) -> DVec3 {
    let (right, up) = (DVec3::AXES[(axis + 1) % 3], DVec3::AXES[(axis + 2) % 3]);
    let angle = TAU * (i / 2) as f64 / SIDES as f64;
    let Ring { offset, radius } = rings[1 - i % 2];
    DVec3::AXES[axis] * offset + right * (radius * cos(angle)) + up * (radius * sin(angle))
}

fn box_corner(half: DVec3, i: usize) -> DVec3 {
    let sign = |bit: usize| if i >> bit & 1 == 1 { 1.0 } else { -1.0 };
    half * DVec3::new(sign(0), sign(1), sign(2))
}

/// Area of the convex hull of `points` (Andrew's chain).
fn hull_area(points: &mut [DVec2]) -> f64 {
    points.sort_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
    let chain = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut kept: Vec<DVec2> = Vec::new();
        for point in points {
            while let [.., a, b] = kept[..]
                && (b - a).perp_dot(point - b) <= 0.0
            {
                kept.pop();
            }
            kept.push(point);
        }
        kept.windows(2).map(|pair| pair[0].perp_dot(pair[1])).sum::<f64>()
    };
    let below = chain(&mut points.iter().copied());
    (below + chain(&mut points.iter().rev().copied())) / 2.0
}

/// Area and perimeter of the convex polygon through `points`, in any order.
fn around(points: &mut [DVec2]) -> (f64, f64) {
    let middle = points.iter().sum::<DVec2>() / (points.len().max(1) as f64);
    points.sort_by(|p, q| {
        let angle = |point: &DVec2| crate::math::atan2(point.y - middle.y, point.x - middle.x);
        angle(p).total_cmp(&angle(q))
    });
    let mut sums = (0.0, 0.0);
    for (i, &p) in points.iter().enumerate() {
        let q = points[(i + 1) % points.len()];
        sums.0 += (p - middle).perp_dot(q - middle) / 2.0;
        sums.1 += (q - p).length();
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::Shape;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

    fn near(a: f64, b: f64, relative: f64) {
        assert!((a / b - 1.0).abs() <= relative, "{a} is not {b}");
    }

    fn plank() -> Body {
        Body::solid(Shape::Block { length: 2.4, width: 0.089, height: 0.038 }, 4.0)
    }

    fn patch(body: &Body, attitude: DQuat, depth: f64) -> Footprint {
        Footprint::of(body, attitude, -DVec3::X, depth)
    }

    /// Source: geometry, by hand.
    #[test]
    fn a_plank_end_on_meets_with_its_end_and_across_with_its_side() {
        let end = patch(&plank(), DQuat::IDENTITY, 0.01);
        near(end.area, 0.089 * 0.038, 1e-12);
        near(end.perimeter, 2.0 * (0.089 + 0.038), 1e-12);
        near(Footprint::length(&plank(), DQuat::IDENTITY, DVec3::X), 2.4, 1e-12);
        let side = patch(&plank(), DQuat::from_rotation_z(FRAC_PI_2), 0.01);
        near(side.area, 2.4 * 0.038, 1e-9);
    }

    /// Source: geometry: 10 mm behind an edge at 45 deg the section is 20 mm
    /// wide.
    #[test]
    fn an_edge_first_meets_with_a_strip() {
        let body = Body::solid(Shape::Block { length: 0.5, width: 0.5, height: 0.3 }, 4.0);
        let strip = patch(&body, DQuat::from_rotation_z(FRAC_PI_4), 0.01);
        near(strip.area, 0.02 * 0.3, 1e-9);
    }

    /// Source: geometry: a corner along the space diagonal has a section of
    /// (3√3/2) depth².
    #[test]
    fn a_corner_first_meets_with_a_triangle() {
        let body = Body::solid(Shape::Block { length: 1.0, width: 1.0, height: 1.0 }, 4.0);
        let turn = DQuat::from_rotation_arc(DVec3::ONE.normalize(), DVec3::X);
        near(patch(&body, turn, 0.01).area, 1.5 * 3.0_f64.sqrt() * 1e-4, 1e-9);
    }

    #[test]
    fn a_bar_end_on_meets_with_its_circle_and_across_with_a_strip() {
        let body = Body::solid(Shape::Rod { length: 1.0, diameter: 0.05 }, 2.0);
        near(patch(&body, DQuat::IDENTITY, 0.01).diameter(), 0.05, 0.01);
        let across = patch(&body, DQuat::from_rotation_z(FRAC_PI_2), 0.005);
        // A chord 5 mm deep in a circle of 50 mm is 30 mm long.
        near(across.area, 0.03, 0.025);
    }

    /// Source: Cauchy: the shadow of a convex body, over all directions, is a
    /// quarter of its surface; and the shadows of a bar end on and across.
    #[test]
    fn a_shadow_is_all_that_is_seen() {
        let bar = Body::solid(Shape::Rod { length: 1.0, diameter: 0.05 }, 2.0);
        for body in [plank(), bar] {
            let (mut sum, n) = (0.0, 4000);
            for i in 0..n {
                // A Fibonacci sphere.
                let z = 1.0 - (2.0 * f64::from(i) + 1.0) / f64::from(n);
                let angle = f64::from(i) * PI * (3.0 - 5.0_f64.sqrt());
                let across = (1.0 - z * z).sqrt();
                let normal = DVec3::new(across * cos(angle), across * sin(angle), z);
                sum += Footprint::shadow(&body, DQuat::IDENTITY, normal);
            }
            let surface = match body.shape {
                Shape::Block { length: a, width: b, height: c } => 2.0 * (a * b + b * c + c * a),
                _ => PI * 0.05 * (1.0 + 0.025),
            };
            near(sum / f64::from(n), surface / 4.0, 0.01);
        }
        near(Footprint::shadow(&bar, DQuat::IDENTITY, DVec3::Z), 0.05, 0.01);
        near(Footprint::shadow(&bar, DQuat::IDENTITY, DVec3::X), PI * 0.000_625, 0.02);
    }

    #[test]
    fn a_ball_meets_with_a_cap() {
        let body = Body::solid(Shape::Sphere { diameter: 0.05 }, 2.0);
        near(patch(&body, DQuat::IDENTITY, 0.005).diameter(), 0.03, 1e-12);
        near(patch(&body, DQuat::IDENTITY, 1.0).diameter(), 0.05, 1e-12);
    }

    #[test]
    fn a_thin_sheet_flat_on_is_cut_in_its_middle() {
        let body = Body::solid(Shape::Plate { length: 2.0, width: 1.0, thickness: 0.002 }, 4.0);
        near(patch(&body, DQuat::from_rotation_y(FRAC_PI_2), 0.01).area, 2.0, 1e-9);
        near(patch(&body, DQuat::IDENTITY, 0.01).area, 0.002, 1e-9);
    }

    /// Source: closed forms: half of a disc's width behind its rim, all of a
    /// cone's base, a small circle behind its apex.
    #[test]
    fn round_bodies_meet_a_wall_with_what_comes_first() {
        let wheel = Body::solid(Shape::Wheel { diameter: 0.6, width: 0.2, hub: 0.5 }, 15.0);
        let rim = patch(&wheel, DQuat::from_rotation_x(PI / 2.0), 0.01);
        let chord = 2.0 * (0.01_f64 * 0.59).sqrt();
        assert!((rim.area / (0.2 * chord) - 1.0).abs() < 0.1, "{rim:?}");
        let cone = Body::solid(Shape::Cone { length: 0.8, diameter: 0.4 }, 5.0);
        let apex = patch(&cone, DQuat::IDENTITY, 0.08);
        let circle = PI * 0.02 * 0.02;
        assert!((apex.area / circle - 1.0).abs() < 0.02, "{apex:?}");
    }
}
