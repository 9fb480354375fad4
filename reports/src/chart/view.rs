//! Looking at the scene from the side or from above, to true scale.

use crate::{
    canvas::{Canvas, Panel, Rect},
    look::{self, Stroke, opaque, veil},
};
use longodds_sim::{
    findings::{FaceFinding, Findings, PathPoint, SolidFinding},
    math,
    scenario::{Outline, SolidShape},
};
use std::ops::Range;

/// A point of the world, m.
pub(crate) type World = [f64; 3];

/// From where the scene is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// x to the right, z up.
    Side,
    /// x to the right, y up.
    Plan,
}

impl View {
    pub(crate) fn flat(self, p: World) -> (f64, f64) {
        match self {
            Self::Side => (p[0], p[2]),
            Self::Plan => (p[0], p[1]),
        }
    }

    /// How far a direction points toward the eye.
    pub(crate) fn toward_the_eye(self, p: World) -> f64 {
        match self {
            Self::Side => -p[1],
            Self::Plan => p[2],
        }
    }
}

fn add(a: World, b: World, k: f64) -> World {
    [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]]
}

/// Whether paths are drawn as the target sees them: it moves, or stands
/// elsewhere in other flights.
pub(crate) fn moves(findings: &Findings) -> bool {
    findings.flights.iter().flat_map(|flight| &flight.path).any(|point| point.seen.is_some())
}

/// A moment of a flight as seen by the target, which stands where it is at
/// time 0.
pub(crate) fn seen(point: &PathPoint) -> World {
    point.seen.unwrap_or(point.position)
}

/// Corners of a face.
pub(crate) fn face(face: &FaceFinding) -> Vec<World> {
    let at = |(right, up): (f64, f64)| add(add(face.centre, face.right, right), face.up, up);
    outline(face, 36).into_iter().map(at).collect()
}

/// A face's outline on its own plane: right and up from its centre, m.
pub(crate) fn outline(face: &FaceFinding, round: u32) -> Vec<(f64, f64)> {
    match face.outline {
        Outline::Rectangle { width: w, height: h } => {
            let (w, h) = (w / 2.0, h / 2.0);
            vec![(-w, -h), (w, -h), (w, h), (-w, h)]
        }
        Outline::Disc { diameter } => (0..round)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / f64::from(round);
                (diameter / 2.0 * math::cos(angle), diameter / 2.0 * math::sin(angle))
            })
            .collect(),
    }
}

/// Corners of a solid.
pub(crate) fn solid(solid: &SolidFinding) -> Vec<World> {
    let (sin, cos) = (math::sin(solid.turn), math::cos(solid.turn));
    let turn = |[x, y, z]: World| [cos * x - sin * y, sin * x + cos * y, z];
    let points = match solid.shape {
        SolidShape::Boxed => corners(solid.size),
        SolidShape::Wedge => corners(solid.size).into_iter().filter(under_slope).collect(),
        SolidShape::Cylinder { axis } => rims(solid.size, axis).collect(),
    };
    points.into_iter().map(|p| add(solid.centre, turn(p), 1.0)).collect()
}

/// Whether a corner of the box about a wedge is one of the wedge: all but those
/// over its low edge.
fn under_slope(corner: &World) -> bool {
    corner[0] > 0.0 || corner[2] < 0.0
}

/// Corners of a box about the origin.
pub(crate) fn corners(size: World) -> Vec<World> {
    let mut out = Vec::with_capacity(8);
    for x in [-0.5, 0.5] {
        for y in [-0.5, 0.5] {
            out.extend([-0.5, 0.5].map(|z| [x * size[0], y * size[1], z * size[2]]));
        }
    }
    out
}

/// Points of both rims of a round body about one of its axes.
fn rims(size: World, axis: usize) -> impl Iterator<Item = World> {
    const POINTS: usize = 32;
    let ring = move |end: f64| {
        (0..POINTS).map(move |i| {
            let angle = std::f64::consts::TAU * i as f64 / POINTS as f64;
            let mut point = [0.0; 3];
            point[axis] = end * size[axis];
            point[(axis + 1) % 3] = 0.5 * size[(axis + 1) % 3] * math::cos(angle);
            point[(axis + 2) % 3] = 0.5 * size[(axis + 2) % 3] * math::sin(angle);
            point
        })
    };
    ring(-0.5).chain(ring(0.5))
}

/// A point of a body in the world, its centre at `at`, turned by the quaternion
/// (x, y, z, w).
pub(crate) fn moved(p: World, at: World, q: [f64; 4]) -> World {
    add(at, turn(p, q), 1.0)
}

/// A point of the body in the world's axes.
fn turn(p: World, q: [f64; 4]) -> World {
    let cross = |a: World, b: World| {
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    };
    // p + 2 w (u × p) + 2 u × (u × p)
    let axis = [q[0], q[1], q[2]];
    let once = cross(axis, p);
    add(add(p, once, 2.0 * q[3]), cross(axis, once), 2.0)
}

/// The convex outline of points, counter-clockwise.
///
/// Source: the monotone chain of Andrew (1979). (From memory.)
pub(crate) fn hull(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let mut outline = half(points.iter().copied());
    outline.extend(half(points.iter().rev().copied()));
    outline
}

/// One side of the convex outline, its last point left out.
fn half(points: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let mut chain: Vec<(f64, f64)> = Vec::new();
    for p in points {
        while let [.., a, b] = chain[..] {
            if (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0) > 1e-12 {
                break;
            }
            chain.pop();
        }
        chain.push(p);
    }
    chain.pop();
    chain
}

/// A window onto the scene: ranges in m.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Window {
    pub x: (f64, f64),
    pub y: (f64, f64),
}

impl Window {
    /// An empty window, to be stretched.
    pub(crate) fn new() -> Self {
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        Self { x: none, y: none }
    }

    pub(crate) fn include(&mut self, (x, y): (f64, f64)) {
        if x.is_finite() && y.is_finite() {
            self.x = (self.x.0.min(x), self.x.1.max(x));
            self.y = (self.y.0.min(y), self.y.1.max(y));
        }
    }

    /// Widened by `share` of its larger side, and to at least `least` metres.
    pub(crate) fn padded(mut self, share: f64, least: f64) -> Self {
        if self.x.0 > self.x.1 {
            (self.x, self.y) = ((0.0, 1.0), (0.0, 1.0));
        }
        let pad = share * self.wide().max(self.high());
        let least = least.max(0.06 * self.wide().max(self.high()));
        for side in [&mut self.x, &mut self.y] {
            let lacking = (least - (side.1 - side.0)).max(0.0) / 2.0;
            *side = (side.0 - pad - lacking, side.1 + pad + lacking);
        }
        self
    }

    pub(crate) fn corners(&self) -> [(f64, f64); 2] {
        [(self.x.0, self.y.0), (self.x.1, self.y.1)]
    }

    /// How far outside a place is, m.
    pub(crate) fn gap(&self, (x, y): (f64, f64)) -> f64 {
        let out = |v: f64, side: (f64, f64)| (side.0 - v).max(v - side.1).max(0.0);
        math::hypot(out(x, self.x), out(y, self.y))
    }

    pub(crate) fn holds(&self, (x, y): (f64, f64)) -> bool {
        (self.x.0..self.x.1).contains(&x) && (self.y.0..self.y.1).contains(&y)
    }

    pub(crate) fn wide(&self) -> f64 {
        self.x.1 - self.x.0
    }

    pub(crate) fn high(&self) -> f64 {
        self.y.1 - self.y.0
    }

    /// A panel to true scale, px per m, from the corner given.
    pub(crate) fn panel(&self, canvas: &Canvas, left: f64, top: f64, scale: f64) -> Panel {
        let (right, bottom) = (left + self.wide() * scale, top + self.high() * scale);
        let rect = Rect { left, top, right, bottom };
        canvas.panel(rect, self.x.0..self.x.1, self.y.0..self.y.1)
    }
}

/// Draws the ground (from the side), the solids and the faces of a record.
pub(crate) fn scene(canvas: &Canvas, panel: &Panel, findings: &Findings, view: View) {
    stage(canvas, panel, (&findings.faces, &findings.solids), view);
}

/// Draws the ground (from the side), solids and faces.
pub(crate) fn stage(
    canvas: &Canvas,
    panel: &Panel,
    (faces, solids): (&[FaceFinding], &[SolidFinding]),
    view: View,
) {
    let palette = canvas.palette;
    if view == View::Side && panel.y.start < 0.0 && panel.y.end > 0.0 {
        let Range { start, end } = panel.x;
        let low = panel.y.start;
        let ground = [(start, 0.0), (end, 0.0), (end, low), (start, low)];
        panel.shape(&ground, Some(veil(palette.rule, 0.55)), None, None);
        panel.line(&ground[..2], Stroke::solid(palette.ink, look::LINE));
    }
    for one in solids {
        let outline = hull(solid(one).into_iter().map(|p| view.flat(p)).collect());
        let rim = Stroke::solid(palette.harbour, look::THIN);
        let (fill, hatch) = (veil(palette.harbour, 0.08), (veil(palette.harbour, 0.5), false));
        panel.shape(&outline, Some(fill), Some(hatch), Some(rim));
    }
    for one in faces {
        face_seen(panel, one, view, palette.harbour);
    }
}

fn face_seen(panel: &Panel, one: &FaceFinding, view: View, ink: plotters::style::RGBColor) {
    let outline = hull(face(one).into_iter().map(|p| view.flat(p)).collect());
    let mut closed = outline.clone();
    closed.extend(outline.first().copied());
    if outline.len() > 2 {
        let alpha = if one.aim { 0.35 } else { 0.15 };
        panel.shape(&outline, Some(veil(ink, alpha)), None, None);
    }
    let width = if one.aim { 5.0 } else { look::LINE };
    panel.broad_line(&closed, Stroke { ink: opaque(ink), width, dash: None });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_with_a_point_inside_is_the_square() {
        let points = vec![(0.0, 0.0), (1.0, 1.0), (0.5, 0.5), (1.0, 0.0), (0.0, 1.0), (0.5, 0.0)];
        assert_eq!(hull(points), [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
    }

    #[test]
    fn a_quarter_turn_about_z_swaps_length_and_width() {
        let half = 0.5_f64.sqrt();
        let corner = |p| moved(p, [1.0; 3], [0.0, 0.0, half, half]);
        let corners: Vec<_> = corners([4.0, 2.0, 0.0]).into_iter().map(corner).collect();
        let wide = corners.iter().map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max);
        let high = corners.iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
        assert!((wide - 2.0).abs() < 1e-12 && (high - 3.0).abs() < 1e-12);
    }
}
