//! Distance between a hull's sharp core and a convex figure.
//!
//! The nearest point of the difference of the two sets to the origin is
//! approached by simplices of support points. Each support plane gives a
//! certified lower bound of the distance, which is what advancement needs; the
//! barycentric weights give the two nearest points.
//!
//! Source: E. G. Gilbert, D. W. Johnson, S. S. Keerthi, "A fast procedure for
//! computing the distance between complex objects in three-dimensional space",
//! IEEE J. Robotics and Automation 4 (1988) 193-203 (from memory). The regions
//! of a triangle follow C. Ericson, Real-Time Collision Detection (2005), 5.1
//! (from memory).

use super::{hull::Hull, obstacle::Figure};
use glam::DVec3;

/// Supports tried at most; a box against a box takes about eight.
const ROUNDS: usize = 64;
/// Relative gap between the bounds at which the answer is good enough to move
/// on by.
pub(super) const CLOSE: f64 = 1e-5;
/// The same where the nearest points themselves are wanted.
pub(super) const SHARP: f64 = 1e-13;
/// Sine of the angle under which a tetrahedron is flat.
const FLAT: f64 = 1e-10;
/// Below this the sets are taken to overlap, in m.
const NOTHING: f64 = 1e-11;

/// A point of the difference, and the point of the hull's core behind it.
#[derive(Clone, Copy, Debug)]
struct Corner {
    difference: DVec3,
    on_hull: DVec3,
}

/// One to four corners with weights that sum to one.
#[derive(Clone, Copy, Debug)]
struct Simplex {
    corners: [Corner; 4],
    weights: [f64; 4],
    count: usize,
}

/// What was found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Nearest {
    /// Certified lower bound of the distance, in m.
    pub(super) distance: f64,
    /// Unit direction from the figure to the hull.
    pub(super) axis: DVec3,
    /// Nearest point of the hull's core.
    pub(super) on_hull: DVec3,
}

/// Distance of `hull` (in the figure's frame) from `figure`; `None` if they
/// overlap. `close`: see [`CLOSE`] and [`SHARP`].
pub(super) fn nearest(hull: &Hull, figure: &Figure, close: f64) -> Option<Nearest> {
    let mut simplex = Simplex::start(corner(hull, figure, hull.centre));
    let mut lower = 0.0_f64;
    let mut axis = DVec3::ZERO;
    for _ in 0..ROUNDS {
        let near = simplex.nearest();
        let length = near.length();
        if length < NOTHING {
            return None;
        }
        let next = corner(hull, figure, near);
        let bound = near.dot(next.difference) / length;
        if bound > lower {
            (lower, axis) = (bound, near / length);
        }
        if length - lower <= close * length || simplex.holds(&next) {
            break;
        }
        simplex.push(next);
        if !simplex.reduce() || simplex.nearest().length() >= length {
            break;
        }
    }
    if lower > 0.0 {
        return Some(Nearest { distance: lower, axis, on_hull: simplex.on_hull() });
    }
    None
}

/// The corner of the difference farthest against `direction`.
fn corner(hull: &Hull, figure: &Figure, direction: DVec3) -> Corner {
    let on_hull = hull.support(-direction);
    Corner { difference: on_hull - figure.support(direction), on_hull }
}

impl Simplex {
    fn start(first: Corner) -> Self {
        Self { corners: [first; 4], weights: [1.0, 0.0, 0.0, 0.0], count: 1 }
    }

    fn sum(&self, of: impl Fn(&Corner) -> DVec3) -> DVec3 {
        (0..self.count).fold(DVec3::ZERO, |sum, i| sum + of(&self.corners[i]) * self.weights[i])
    }

    fn nearest(&self) -> DVec3 {
        self.sum(|corner| corner.difference)
    }

    fn on_hull(&self) -> DVec3 {
        self.sum(|corner| corner.on_hull)
    }

    fn holds(&self, next: &Corner) -> bool {
        self.corners[..self.count].iter().any(|corner| corner.difference == next.difference)
    }

    fn push(&mut self, next: Corner) {
        self.corners[self.count] = next;
        self.count += 1;
    }

    /// Keeps the corners that carry the point nearest to the origin; `false`
    /// if the origin is inside.
    fn reduce(&mut self) -> bool {
        let at = |i: usize| self.corners[i].difference;
        let weights = match self.count {
            2 => {
                let [a, b] = segment(at(0), at(1));
                [a, b, 0.0, 0.0]
            }
            3 => {
                let [a, b, c] = triangle(at(0), at(1), at(2));
                [a, b, c, 0.0]
            }
            _ => match tetrahedron([at(0), at(1), at(2), at(3)]) {
                Some(weights) => weights,
                None => {
                    self.count -= 1;
                    return false;
                }
            },
        };
        let old = *self;
        self.count = 0;
        for (corner, weight) in old.corners.iter().zip(weights) {
            if weight > 0.0 {
                self.corners[self.count] = *corner;
                self.weights[self.count] = weight;
                self.count += 1;
            }
        }
        true
    }
}

/// Weights of the point of a segment nearest to the origin.
fn segment(a: DVec3, b: DVec3) -> [f64; 2] {
    let along = b - a;
    let t = -a.dot(along);
    let whole = along.length_squared();
    if t <= 0.0 {
        [1.0, 0.0]
    } else if t >= whole {
        [0.0, 1.0]
    } else {
        [1.0 - t / whole, t / whole]
    }
}

/// Weights of the point of a triangle nearest to the origin.
fn triangle(a: DVec3, b: DVec3, c: DVec3) -> [f64; 3] {
    let (ab, ac) = (b - a, c - a);
    let (d1, d2) = (-ab.dot(a), -ac.dot(a));
    let (d3, d4) = (-ab.dot(b), -ac.dot(b));
    let (d5, d6) = (-ab.dot(c), -ac.dot(c));
    let (va, vb, vc) = (d3 * d6 - d5 * d4, d5 * d2 - d1 * d6, d1 * d4 - d3 * d2);
    let total = va + vb + vc;
    if va > 0.0 && vb > 0.0 && vc > 0.0 && total > 0.0 {
        return [va / total, vb / total, vc / total];
    }
    // On the rim (or the triangle is a line): the best of its edges.
    let edges = [(a, b, [0, 1]), (b, c, [1, 2]), (a, c, [0, 2])];
    let mut best = ([1.0, 0.0, 0.0], f64::INFINITY);
    for (p, q, places) in edges {
        let [s, t] = segment(p, q);
        let length = (p * s + q * t).length_squared();
        if length < best.1 {
            let mut weights = [0.0; 3];
            weights[places[0]] = s;
            weights[places[1]] = t;
            best = (weights, length);
        }
    }
    best.0
}

/// Weights of the point of a tetrahedron nearest to the origin; `None` if the
/// origin is inside.
fn tetrahedron(p: [DVec3; 4]) -> Option<[f64; 4]> {
    let mut best: Option<([f64; 4], f64)> = None;
    for [a, b, c, d] in [[0, 1, 2, 3], [0, 1, 3, 2], [0, 2, 3, 1], [1, 2, 3, 0]] {
        let normal = (p[b] - p[a]).cross(p[c] - p[a]);
        let (origin, inner) = (-p[a].dot(normal), (p[d] - p[a]).dot(normal));
        // A flat tetrahedron has no inside: every one of its sides counts.
        let flat = inner.abs() <= FLAT * normal.length() * (p[d] - p[a]).length();
        if !flat && origin * inner > 0.0 {
            continue;
        }
        let [u, v, w] = triangle(p[a], p[b], p[c]);
        let length = (p[a] * u + p[b] * v + p[c] * w).length_squared();
        if best.is_none_or(|(_, shortest)| length < shortest) {
            let mut weights = [0.0; 4];
            (weights[a], weights[b], weights[c]) = (u, v, w);
            best = Some((weights, length));
        }
    }
    best.map(|(weights, _)| weights)
}
