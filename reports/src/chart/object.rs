//! How the object looks: its silhouette as it is turned, and the edges that
//! tell it from others of the same outline.

use super::view::{View, World, corners, hull, moved};
use longodds_sim::{
    findings::{ObjectFinding, Silhouette},
    math,
};
use std::f64::consts::TAU;

/// A drawn object, in the view's coordinates, m.
pub(crate) struct Look {
    /// Convex.
    pub outline: Vec<(f64, f64)>,
    /// Lines on what is turned to the eye.
    pub edges: Vec<Vec<(f64, f64)>>,
}

/// Corners of a drawn circle.
const POINTS: u32 = 40;

/// The object with its centre of mass at `at`, turned by the quaternion
/// (x, y, z, w).
pub(crate) fn look(object: &ObjectFinding, at: World, turned: [f64; 4], view: View) -> Look {
    let seen = |p: World| view.flat(moved(p, at, turned));
    let toward = |p: World| view.toward_the_eye(moved(p, [0.0; 3], turned));
    let radius = object.extents[0] / 2.0;
    match object.silhouette {
        Silhouette::Ball => ball(radius, view.flat(at)),
        Silhouette::Lump => lump(radius, seen, toward),
        Silhouette::Boxed => boxed(object.extents, true, seen, toward),
        Silhouette::Bare => boxed(object.extents, false, seen, toward),
        Silhouette::Round { axis, rings } => {
            let ring = |[offset, radius]: [f64; 2]| Ring { axis, offset, radius };
            round(rings.map(ring), object.inner, seen, toward)
        }
    }
}

fn ball(radius: f64, at: (f64, f64)) -> Look {
    let corner = |i: u32| {
        let angle = TAU * f64::from(i) / f64::from(POINTS);
        (at.0 + radius * math::cos(angle), at.1 + radius * math::sin(angle))
    };
    Look { outline: (0..POINTS).map(corner).collect(), edges: Vec::new() }
}

/// A box; of a block also the edges that meet in the corner nearest to the eye.
fn boxed(
    size: World,
    block: bool,
    seen: impl Fn(World) -> (f64, f64),
    toward: impl Fn(World) -> f64,
) -> Look {
    let corners = corners(size);
    let outline = hull(corners.iter().map(|p| seen(*p)).collect());
    let near = corners.iter().copied().max_by(|a, b| toward(*a).total_cmp(&toward(*b)));
    let edges = near.filter(|_| block).map_or_else(Vec::new, |near| {
        let other = |k: usize| {
            let mut far = near;
            far[k] = -far[k];
            vec![seen(near), seen(far)]
        };
        (0..3).map(other).collect()
    });
    Look { outline, edges }
}

/// A circle across a body axis.
#[derive(Clone, Copy)]
struct Ring {
    axis: usize,
    offset: f64,
    radius: f64,
}

impl Ring {
    fn points(self) -> impl Iterator<Item = World> {
        (0..=POINTS).map(move |i| {
            let angle = TAU * f64::from(i) / f64::from(POINTS);
            let mut point = [0.0; 3];
            point[self.axis] = self.offset;
            point[(self.axis + 1) % 3] = self.radius * math::cos(angle);
            point[(self.axis + 2) % 3] = self.radius * math::sin(angle);
            point
        })
    }
}

/// What spans two circles; the one turned to the eye is drawn whole, with the
/// hole in it.
fn round(
    rings: [Ring; 2],
    inner: Option<f64>,
    seen: impl Fn(World) -> (f64, f64),
    toward: impl Fn(World) -> f64,
) -> Look {
    let outline = hull(rings.into_iter().flat_map(Ring::points).map(&seen).collect());
    let line = |ring: Ring| ring.points().map(&seen).collect::<Vec<_>>();
    let mut edges = Vec::new();
    let middle = f64::midpoint(rings[0].offset, rings[1].offset);
    for ring in rings {
        let mut normal = [0.0; 3];
        normal[ring.axis] = (ring.offset - middle).signum();
        if ring.radius > 0.0 && toward(normal) > 1e-3 {
            edges.push(line(ring));
            let hole = inner.filter(|d| *d > 0.0).map(|d| Ring { radius: d / 2.0, ..ring });
            edges.extend(hole.map(line));
        }
    }
    Look { outline, edges }
}

/// Corners of a lump, within the ball that it counts as.
///
/// Source: an icosahedron's corners, drawn in by hand so that it looks broken
/// off; nothing is computed from them.
const LUMP: [(World, f64); 12] = {
    const A: f64 = 0.525_731_112;
    const B: f64 = 0.850_650_808;
    [
        ([-A, B, 0.0], 1.0),
        ([A, B, 0.0], 0.84),
        ([-A, -B, 0.0], 0.9),
        ([A, -B, 0.0], 1.0),
        ([0.0, -A, B], 0.82),
        ([0.0, A, B], 1.0),
        ([0.0, -A, -B], 1.0),
        ([0.0, A, -B], 0.86),
        ([B, 0.0, -A], 1.0),
        ([B, 0.0, A], 0.92),
        ([-B, 0.0, -A], 0.8),
        ([-B, 0.0, A], 1.0),
    ]
};

/// Its faces, by corners.
const FACETS: [[usize; 3]; 20] = [
    [0, 11, 5],
    [0, 5, 1],
    [0, 1, 7],
    [0, 7, 10],
    [0, 10, 11],
    [1, 5, 9],
    [5, 11, 4],
    [11, 10, 2],
    [10, 7, 6],
    [7, 1, 8],
    [3, 9, 4],
    [3, 4, 2],
    [3, 2, 6],
    [3, 6, 8],
    [3, 8, 9],
    [4, 9, 5],
    [2, 4, 11],
    [6, 2, 10],
    [8, 6, 7],
    [9, 8, 1],
];

/// A lump with every other facet that is turned to the eye.
fn lump(radius: f64, seen: impl Fn(World) -> (f64, f64), toward: impl Fn(World) -> f64) -> Look {
    let corner = |i: usize| LUMP[i].0.map(|x| x * LUMP[i].1 * radius);
    let outline = hull((0..LUMP.len()).map(|i| seen(corner(i))).collect());
    let facing = |facet: &&[usize; 3]| {
        let middle = [0, 1, 2].map(|k| facet.iter().map(|&i| LUMP[i].0[k]).sum::<f64>());
        toward(middle) > 0.8
    };
    let line = |&[a, b, c]: &[usize; 3]| [a, b, c, a].map(|i| seen(corner(i))).to_vec();
    Look { outline, edges: FACETS.iter().filter(facing).map(line).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::body::{Body, Shape};

    const AS_BUILT: [f64; 4] = [0.0, 0.0, 0.0, 1.0];

    fn object(shape: Shape<f64>) -> ObjectFinding {
        (&Body::solid(shape, 1.0)).into()
    }

    /// Source: the shoelace formula.
    fn area(outline: &[(f64, f64)]) -> f64 {
        let next = outline.iter().cycle().skip(1);
        outline.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
    }

    fn seen(shape: Shape<f64>, turned: [f64; 4]) -> Look {
        look(&object(shape), [0.0; 3], turned, View::Side)
    }

    /// Source: closed form: a cone from the side is the triangle on its base, its
    /// centre of mass a quarter of the height above that; from its end a circle.
    #[test]
    fn a_cone_from_the_side_is_a_triangle_and_from_its_end_a_circle() {
        let shape = Shape::Cone { length: 0.8, diameter: 0.4 };
        let cone = seen(shape, AS_BUILT);
        assert!((area(&cone.outline) - 0.16).abs() < 1e-9);
        let tip = cone.outline.iter().map(|p| p.0).fold(f64::NEG_INFINITY, f64::max);
        let base = cone.outline.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
        assert!((tip - 0.6).abs() < 1e-12 && (base + 0.2).abs() < 1e-12);
        let half = 0.5_f64.sqrt();
        // A quarter turn about z: the axis lies along y, across the view.
        let end = seen(shape, [0.0, 0.0, half, half]);
        let circle = std::f64::consts::PI * 0.04;
        assert!((area(&end.outline) / circle - 1.0).abs() < 0.005);
    }

    /// Source: closed forms of the silhouettes square on and edge on.
    #[test]
    fn every_shape_has_the_silhouette_of_itself() {
        let circle = std::f64::consts::PI / 4.0;
        let (length, diameter) = (2.0, 0.5);
        for (shape, side, plan) in [
            (Shape::Sphere { diameter: 1.0 }, circle, circle),
            (Shape::Rod { length, diameter }, 1.0, 1.0),
            (Shape::Cylinder { length, diameter }, 1.0, 1.0),
            (Shape::Tube { length, diameter, wall: 0.05 }, 1.0, 1.0),
            (Shape::Disc { diameter: 1.0, thickness: 0.1 }, 0.1, circle),
            (Shape::Wheel { diameter: 1.0, width: 0.3, hub: 0.5 }, 0.3, circle),
            (Shape::Plate { length, width: 1.0, thickness: 0.1 }, 0.2, 2.0),
            (Shape::Block { length, width: 1.0, height: 0.5 }, 1.0, 2.0),
            (Shape::Bar { length, width: 0.2, height: 0.1 }, 0.2, 0.4),
        ] {
            let name = shape.name();
            let of = |view| look(&object(shape), [0.0; 3], AS_BUILT, view).outline;
            let (a, b) = (area(&of(View::Side)), area(&of(View::Plan)));
            assert!((a / side - 1.0).abs() < 0.005, "{name} from the side: {a}, not {side}");
            assert!((b / plan - 1.0).abs() < 0.005, "{name} from above: {b}, not {plan}");
        }
        let lump = seen(Shape::Irregular { diameter: 1.0, sphericity: 0.8 }, AS_BUILT);
        assert!(area(&lump.outline) < 0.95 * circle && area(&lump.outline) > 0.6 * circle);
        assert!(lump.outline.iter().all(|p| math::hypot(p.0, p.1) <= 0.5), "inside its ball");
    }

    #[test]
    fn the_open_end_and_the_hub_are_drawn_where_the_eye_sees_them() {
        let half = 0.5_f64.sqrt();
        let end_on = [0.0, 0.0, half, half];
        let tube = object(Shape::Tube { length: 2.0, diameter: 0.5, wall: 0.05 });
        let edges = |turned, view| look(&tube, [0.0; 3], turned, view).edges;
        assert_eq!(edges(end_on, View::Side).len(), 2);
        assert!(edges(AS_BUILT, View::Side).is_empty(), "its ends are edge on");
        let hole = area(&edges(end_on, View::Side)[1]);
        assert!((hole / (std::f64::consts::PI * 0.04) - 1.0).abs() < 0.005);
        let wheel = object(Shape::Wheel { diameter: 0.6, width: 0.2, hub: 0.5 });
        assert_eq!(look(&wheel, [0.0; 3], AS_BUILT, View::Plan).edges.len(), 2);
        assert_eq!(
            seen(Shape::Block { length: 2.0, width: 1.0, height: 0.5 }, AS_BUILT).edges.len(),
            3
        );
    }
}
