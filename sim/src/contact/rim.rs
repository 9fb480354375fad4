//! Distance between a hull's sharp core and a disc, feature by feature.
//!
//! Simplices creep along a curved rim, so a disc has its own way: the nearest
//! point of the body lies on one of its edges, or on a side that the rim's
//! farthest point faces.

use super::{gjk::Nearest, hull::Hull, obstacle::Figure};
use glam::DVec3;

/// Halvings at most on an edge; each ends within a thousandth of a nanometre.
const ROUNDS: usize = 60;

/// Distance of `hull` (in the disc's frame) from `disc`; `None` if they
/// overlap.
pub(super) fn nearest(hull: &Hull, disc: &Figure) -> Option<Nearest> {
    let mut best = (f64::INFINITY, DVec3::ZERO, DVec3::ZERO);
    let mut take = |on_hull: DVec3, on_disc: DVec3| {
        let distance = (on_hull - on_disc).length_squared();
        if distance < best.0 {
            best = (distance, on_hull, on_disc);
        }
    };
    for axis in 0..3 {
        let (along, [p, q]) = split(hull, axis);
        for [s, t] in [[-1.0, -1.0], [-1.0, 1.0], [1.0, -1.0], [1.0, 1.0]] {
            let on_hull = on_edge(hull.centre + p * s + q * t, along, disc);
            take(on_hull, disc.closest(on_hull));
        }
    }
    let mut inside = false;
    let sides = if hull.half.contains(&DVec3::ZERO) { 0..0 } else { 0..3 };
    for axis in sides {
        let (across, [p, q]) = split(hull, axis);
        for across in [across, -across] {
            let rim = disc.support(-across);
            let (from, half) = (rim - hull.centre, across.length());
            let height = from.dot(across) / half - half;
            let above = |edge: DVec3| from.dot(edge).abs() <= edge.length_squared();
            if above(p) && above(q) && height > -2.0 * half {
                inside |= height < 0.0;
                take(rim - across * (height / half), rim);
            }
        }
    }
    let (square, on_hull, on_disc) = best;
    let distance = square.sqrt();
    (!inside && distance > 1e-11).then(|| Nearest {
        // What halving leaves open, and more.
        distance: distance - 1e-12,
        axis: (on_hull - on_disc) / distance,
        on_hull,
    })
}

/// One half edge and the two others.
fn split(hull: &Hull, axis: usize) -> (DVec3, [DVec3; 2]) {
    (hull.half[axis], [hull.half[(axis + 1) % 3], hull.half[(axis + 2) % 3]])
}

/// The point of an edge nearest to the disc: the slope of the squared distance
/// never falls along it.
fn on_edge(middle: DVec3, half: DVec3, disc: &Figure) -> DVec3 {
    let slope = |s: f64| {
        let point = middle + half * s;
        (point - disc.closest(point)).dot(half)
    };
    let (mut low, mut high) = (-1.0_f64, 1.0_f64);
    if slope(low) >= 0.0 {
        return middle - half;
    }
    if slope(high) <= 0.0 {
        return middle + half;
    }
    for _ in 0..ROUNDS {
        let s = f64::midpoint(low, high);
        if slope(s) > 0.0 { high = s } else { low = s }
    }
    middle + half * f64::midpoint(low, high)
}
