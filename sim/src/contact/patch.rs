//! Where two things touch when they touch flat: the middle of the patch.

use super::{
    gap::Gap,
    hull::{Hull, sign},
    obstacle::Figure,
    round::Round,
};
use crate::{
    body::Ring,
    math::{atan2, cos, sin},
};
use glam::{DVec2, DVec3};
use std::f64::consts::TAU;

/// Corners within this of the nearest one touch with it, in m: real surfaces
/// are not flatter.
const FLAT: f64 = 1e-4;
/// Sides of the polygon that stands for a disc when a patch is cut to it.
const SIDES: usize = 64;
/// Corners at most: one polygon cut by every side of another.
const ROOM: usize = 2 * SIDES + 8;

/// The contact point of `hull` on `figure`, both in the figure's frame: the
/// nearest point, or the centroid of the touching patch where an edge or a side
/// of the one lies flat on a side of the other.
pub(super) fn contact_point(hull: &Hull, figure: &Figure, gap: &Gap) -> DVec3 {
    if hull.round.is_none() && !hull.half.iter().any(|edge| lies(*edge, gap.axis)) {
        return gap.point;
    }
    let frame = Frame::about(gap);
    let body = match &hull.round {
        Some(round) => lying(&frame, hull.centre, round, -gap.axis),
        None => zonotope(&frame, hull.centre, hull.half, -gap.axis),
    };
    if body.count == 1 {
        return gap.point;
    }
    let patch = match *figure {
        Figure::Ground => Some(body),
        Figure::Prism { axes, half } => {
            let edges = std::array::from_fn(|i| axes[i] * half[i]);
            body.common(&zonotope(&frame, DVec3::ZERO, edges, gap.axis))
        }
        Figure::Disc { normal, radius } => {
            let flat = normal.cross(gap.axis).length() * radius < FLAT / 2.0;
            if flat { body.common(&circle(&frame, DVec3::ZERO, radius)) } else { None }
        }
        Figure::Cylinder(round) => body.common(&lying(&frame, DVec3::ZERO, &round, gap.axis)),
        Figure::Wedge(wedge) => body.common(&spanned(&frame, wedge.corners(), gap.axis)),
    };
    patch.and_then(|patch| patch.middle()).map_or(gap.point, |middle| frame.lift(middle))
}

/// Coordinates in the plane of contact.
struct Frame {
    right: DVec3,
    up: DVec3,
    base: DVec3,
}

impl Frame {
    fn about(gap: &Gap) -> Self {
        let (right, up) = gap.axis.any_orthonormal_pair();
        Self { right, up, base: gap.axis * gap.axis.dot(gap.point) }
    }

    fn flatten(&self, point: DVec3) -> DVec2 {
        DVec2::new(point.dot(self.right), point.dot(self.up))
    }

    fn lift(&self, point: DVec2) -> DVec3 {
        self.base + self.right * point.x + self.up * point.y
    }
}

/// A convex polygon, anticlockwise; one point or two stand for a corner or an
/// edge.
#[derive(Clone, Copy)]
struct Polygon {
    points: [DVec2; ROOM],
    count: usize,
}

/// Whether a half edge lies across `direction`.
fn lies(edge: DVec3, direction: DVec3) -> bool {
    edge.dot(direction).abs() < FLAT / 2.0 && edge.length() > FLAT
}

/// The feature of a box-like thing that is farthest along `direction`: a
/// corner, an edge or a side.
fn zonotope(frame: &Frame, centre: DVec3, half: [DVec3; 3], direction: DVec3) -> Polygon {
    let mut base = centre;
    let mut edges = [DVec2::ZERO; 3];
    let mut lying = 0;
    for edge in half {
        let along = edge.dot(direction);
        if along.abs() >= FLAT / 2.0 {
            base += edge * sign(along);
        } else if lies(edge, direction) {
            edges[lying] = frame.flatten(edge);
            lying += 1;
        }
    }
    let (middle, [a, b, _]) = (frame.flatten(base), edges);
    let mut polygon = Polygon::new();
    match lying {
        0 => polygon.push(middle),
        1 => [-a, a].into_iter().for_each(|corner| polygon.push(middle + corner)),
        _ => {
            let b = if a.perp_dot(b) < 0.0 { -b } else { b };
            [-a - b, a - b, a + b, b - a]
                .into_iter()
                .for_each(|corner| polygon.push(middle + corner));
        }
    }
    polygon
}

/// The feature of a thing with corners that is farthest along `direction`.
fn spanned(frame: &Frame, corners: [DVec3; 6], direction: DVec3) -> Polygon {
    let far = |corner: &DVec3| corner.dot(direction);
    let most = corners.iter().map(far).fold(f64::NEG_INFINITY, f64::max);
    let mut polygon = Polygon::new();
    for corner in corners.iter().filter(|corner| far(corner) > most - FLAT) {
        polygon.push(frame.flatten(*corner));
    }
    polygon.turned_about()
}

/// The feature of a round thing that is farthest along `direction`: a point of
/// a rim or the apex, a line along its side, or a whole end.
fn lying(frame: &Frame, centre: DVec3, round: &Round, direction: DVec3) -> Polygon {
    let (out, _) = round.outward(direction);
    let tilt = out.dot(direction);
    let far = |ring: &Ring| ring.offset * round.axis.dot(direction) + ring.radius * tilt;
    let [a, b] = &round.rings;
    let (front, back) = if far(a) >= far(b) { (a, b) } else { (b, a) };
    let point = |ring: &Ring| frame.flatten(centre + round.axis * ring.offset + out * ring.radius);
    if front.radius > FLAT && front.radius * tilt < FLAT / 2.0 {
        return circle(frame, centre + round.axis * front.offset, front.radius);
    }
    let mut polygon = Polygon::new();
    polygon.push(point(front));
    if far(front) - far(back) < FLAT {
        polygon.push(point(back));
    }
    polygon
}

/// A disc across the axis of contact.
fn circle(frame: &Frame, centre: DVec3, radius: f64) -> Polygon {
    let centre = frame.flatten(centre);
    let mut polygon = Polygon::new();
    for i in 0..SIDES {
        let angle = TAU * i as f64 / SIDES as f64;
        polygon.push(centre + radius * DVec2::new(cos(angle), sin(angle)));
    }
    polygon
}

impl Polygon {
    fn new() -> Self {
        Self { points: [DVec2::ZERO; ROOM], count: 0 }
    }

    fn push(&mut self, point: DVec2) {
        self.points[self.count] = point;
        self.count += 1;
    }

    /// The same corners of a convex outline, anticlockwise.
    fn turned_about(mut self) -> Self {
        let points = &mut self.points[..self.count];
        let middle = points.iter().sum::<DVec2>() / points.len().max(1) as f64;
        let angle = |point: &DVec2| atan2(point.y - middle.y, point.x - middle.x);
        points.sort_unstable_by(|a, b| angle(a).total_cmp(&angle(b)));
        self
    }

    fn corners(&self) -> &[DVec2] {
        &self.points[..self.count]
    }

    fn sides(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        (0..self.count).map(|i| (self.points[i], self.points[(i + 1) % self.count]))
    }

    /// What lies in both; `None` if neither is an area.
    fn common(&self, other: &Self) -> Option<Self> {
        if other.count > 2 {
            Some(self.cut(other))
        } else if self.count > 2 {
            Some(other.cut(self))
        } else {
            None
        }
    }

    /// The part inside `knife`, side by side (Sutherland and Hodgman).
    fn cut(&self, knife: &Self) -> Self {
        let mut rest = *self;
        for (from, to) in knife.sides() {
            let inside = |p: DVec2| (to - from).perp_dot(p - from);
            let mut next = Self::new();
            for (a, b) in rest.sides() {
                let (before, after) = (inside(a), inside(b));
                if before >= 0.0 {
                    next.push(a);
                }
                if before * after < 0.0 {
                    next.push(a + (b - a) * (before / (before - after)));
                }
            }
            rest = next;
        }
        rest
    }

    /// Centroid; of an edge its midpoint.
    fn middle(&self) -> Option<DVec2> {
        let first = *self.corners().first()?;
        let (mut area, mut moment) = (0.0, DVec2::ZERO);
        for (a, b) in self.sides() {
            let piece = (a - first).perp_dot(b - first);
            area += piece;
            moment += (a + b - 2.0 * first) * piece / 3.0;
        }
        if area > FLAT * FLAT {
            return Some(first + moment / area);
        }
        let far = |from: DVec2| {
            self.corners().iter().copied().fold(from, |best, point| {
                if point.distance_squared(from) > best.distance_squared(from) {
                    point
                } else {
                    best
                }
            })
        };
        let end = far(first);
        Some(end.midpoint(far(end)))
    }
}
