//! A slow reference that shares nothing with the search but the shapes: random
//! flights are sampled very finely and tested for overlap.

use super::*;
use crate::body::{Form, Ring};

/// A small generator of our own, so that the flights never change.
pub(super) struct Dice(pub(super) u64);

impl Dice {
    /// Uniform in [-1, 1).
    fn next(&mut self) -> f64 {
        // SplitMix64.
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        (z >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    pub(super) fn vector(&mut self) -> DVec3 {
        DVec3::new(self.next(), self.next(), self.next())
    }
}

/// A thing as a box with half edges (zero where flat), a disc, a cylinder as half
/// its axis and a radius, or the part of a box below a slope.
#[derive(Clone, Copy)]
enum Thing {
    Boxed([DVec3; 3]),
    Disc(DVec3, f64),
    Cylinder(DVec3, f64),
    Wedge([DVec3; 3]),
}

/// The point of a triangle (anticlockwise about `up`) nearest to a point of its
/// plane: itself, or the nearest one on a side.
fn in_triangle(point: DVec3, corners: [DVec3; 3], up: DVec3) -> DVec3 {
    let sides = [0, 1, 2].map(|i| (corners[i], corners[(i + 1) % 3]));
    if sides.iter().all(|(a, b)| (*b - *a).cross(point - *a).dot(up) >= 0.0) {
        return point;
    }
    let on = |(a, b): (DVec3, DVec3)| {
        a + (b - a) * ((point - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0)
    };
    let [p, q, r] = sides.map(on);
    let nearer =
        |p: DVec3, q: DVec3| if (p - point).length() < (q - point).length() { p } else { q };
    nearer(nearer(p, q), r)
}

fn closest(thing: &Thing, point: DVec3) -> DVec3 {
    match thing {
        Thing::Boxed(edges) => edges.iter().fold(DVec3::ZERO, |sum, &edge| {
            let whole = edge.length_squared();
            let share = if whole > 0.0 { point.dot(edge) / whole } else { 0.0 };
            sum + edge * share.clamp(-1.0, 1.0)
        }),
        Thing::Disc(normal, radius) => {
            let flat = point - *normal * normal.dot(point);
            if flat.length() > *radius { flat.normalize() * *radius } else { flat }
        }
        Thing::Cylinder(half, radius) => {
            let share = point.dot(*half) / half.length_squared();
            let across = point - *half * share;
            let held =
                if across.length() > *radius { across.normalize() * *radius } else { across };
            *half * share.clamp(-1.0, 1.0) + held
        }
        Thing::Wedge([x, y, z]) => {
            let share = (point.dot(*y) / y.length_squared()).clamp(-1.0, 1.0);
            let flat = point - *y * (point.dot(*y) / y.length_squared());
            *y * share + in_triangle(flat, [-*x - *z, *x - *z, *x + *z], x.cross(*z))
        }
    }
}

/// Distance of a segment from a convex thing, by ternary search.
fn segment_distance(middle: DVec3, half: DVec3, thing: &Thing) -> f64 {
    let distance = |s: f64| {
        let point = middle + half * s;
        (point - closest(thing, point)).length()
    };
    let (mut low, mut high) = (-1.0, 1.0);
    for _ in 0..60 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if distance(a) < distance(b) { high = b } else { low = a }
    }
    distance(f64::midpoint(low, high))
}

/// Do two boxes overlap? Every candidate for a separating axis.
fn boxes_overlap(centre: DVec3, a: &[DVec3; 3], b: &[DVec3; 3]) -> bool {
    let edges: Vec<DVec3> = a.iter().chain(b).copied().collect();
    let mut axes = Vec::new();
    for (i, &p) in edges.iter().enumerate() {
        axes.extend(edges[i + 1..].iter().map(|&q| p.cross(q)));
        axes.push(p);
    }
    axes.iter()
        .filter_map(|axis| axis.try_normalize())
        .all(|axis| centre.dot(axis).abs() <= edges.iter().map(|edge| edge.dot(axis).abs()).sum())
}

/// Does a box reach into a disc about the origin? Through the cut of the box
/// with the disc's plane.
fn box_meets_disc(centre: DVec3, half: &[DVec3; 3], normal: DVec3, radius: f64) -> bool {
    let corner = |bits: usize| {
        (0..3).fold(centre, |sum, i| sum + half[i] * if bits >> i & 1 == 1 { 1.0 } else { -1.0 })
    };
    let mut cut = Vec::new();
    for from in 0..8 {
        for to in (0..3).map(|i| from ^ 1 << i).filter(|&to| to > from) {
            let (p, q) = (corner(from), corner(to));
            let (a, b) = (p.dot(normal), q.dot(normal));
            if a * b <= 0.0 && (a - b).abs() > 0.0 {
                cut.push(p + (q - p) * (a / (a - b)));
            }
        }
    }
    let inside = half.iter().all(|edge| centre.dot(*edge).abs() <= edge.length_squared());
    let origin = Thing::Boxed([DVec3::ZERO; 3]);
    !cut.is_empty()
        && (inside
            || cut.iter().enumerate().any(|(i, &p)| {
                cut[i..]
                    .iter()
                    .any(|&q| segment_distance((p + q) / 2.0, (q - p) / 2.0, &origin) <= radius)
            }))
}

/// Does the body, grown by `margin`, reach into the thing about the origin?
fn overlap(body: &Body, state: &State, from: DVec3, thing: &Thing, margin: f64) -> bool {
    let centre = state.position - from;
    let edges = |half: DVec3| {
        [
            state.attitude * (DVec3::X * half.x),
            state.attitude * (DVec3::Y * half.y),
            state.attitude * (DVec3::Z * half.z),
        ]
    };
    // A rod's ends are round, see `contact`.
    if let Shape::Rod { length, diameter } = body.shape {
        let half = state.attitude * (DVec3::X * (length - diameter) / 2.0);
        return segment_distance(centre, half, thing) <= diameter / 2.0 + margin;
    }
    match Form::of(body) {
        Form::Ball { radius } => (centre - closest(thing, centre)).length() <= radius + margin,
        Form::Revolved { axis, rings } => {
            let axis = state.attitude * DVec3::AXES[axis];
            if margin > 0.0 {
                return round_distance(centre, axis, rings, thing) <= margin;
            }
            round_overlaps(centre, axis, rings, thing)
        }
        Form::Boxed { half } => {
            let half = edges(half + DVec3::splat(margin));
            match thing {
                Thing::Boxed(other) => boxes_overlap(centre, &half, other),
                Thing::Disc(normal, radius) => box_meets_disc(centre, &half, *normal, *radius),
                Thing::Cylinder(..) | Thing::Wedge(_) => unreachable!("for balls and rods"),
            }
        }
    }
}

/// Distance of a cylinder or a cone from a thing, by ternary search over each
/// of the thing's sides; 0 where it is seen at once that they overlap.
fn round_distance(centre: DVec3, axis: DVec3, rings: [Ring; 2], thing: &Thing) -> f64 {
    let apart = |point: DVec3| {
        let from = point - centre;
        let along = from.dot(axis);
        let away = (from - axis * along).length();
        let (x, y) = nearest_in_profile(along, away, rings);
        libm::hypot(along - x, away - y)
    };
    let side = |middle: DVec3, [p, q]: [DVec3; 2], room: &dyn Fn(f64) -> f64| {
        lowest(1.0, &|s| lowest(room(s), &|t| apart(middle + p * s + q * t)))
    };
    match thing {
        Thing::Boxed(edges) => {
            let mut best = apart(DVec3::ZERO);
            for (i, &edge) in edges.iter().enumerate() {
                let rest = [edges[(i + 1) % 3], edges[(i + 2) % 3]];
                if rest.contains(&DVec3::ZERO) {
                    continue;
                }
                for middle in [edge, -edge] {
                    best = best.min(side(middle, rest, &|_| 1.0));
                }
            }
            best
        }
        Thing::Disc(normal, radius) => {
            let (p, q) = normal.any_orthonormal_pair();
            side(DVec3::ZERO, [p * *radius, q * *radius], &|s| (1.0 - s * s).max(0.0).sqrt())
        }
        Thing::Cylinder(..) | Thing::Wedge(_) => unreachable!("for balls and rods"),
    }
}

/// Does a cylinder or a cone reach into a thing? From one to the other and back
/// to the nearest point, again and again: may miss a shallow overlap, never
/// finds one that is not.
fn round_overlaps(centre: DVec3, axis: DVec3, rings: [Ring; 2], thing: &Thing) -> bool {
    let mut point = centre;
    for _ in 0..60 {
        let other = closest(thing, point);
        if (other - point).length() < 1e-9 {
            return true;
        }
        let from = other - centre;
        let along = from.dot(axis);
        let across = from - axis * along;
        let (x, y) = nearest_in_profile(along, across.length(), rings);
        point = centre + axis * x + across.normalize_or_zero() * y;
    }
    false
}

/// The lowest value of a convex function on both sides of 0.
fn lowest(room: f64, function: &dyn Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (-room, room);
    for _ in 0..45 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if function(a) < function(b) { high = b } else { low = a }
    }
    function(f64::midpoint(low, high))
}

/// The nearest point, along and away from the axis, of what lies between two
/// rings.
fn nearest_in_profile(along: f64, away: f64, [a, b]: [Ring; 2]) -> (f64, f64) {
    let share = ((along - a.offset) / (b.offset - a.offset)).clamp(0.0, 1.0);
    let rim = a.radius + share * (b.radius - a.radius);
    let within = along >= a.offset.min(b.offset) && along <= a.offset.max(b.offset);
    if within && away <= rim {
        return (along, away);
    }
    let mut best = (f64::INFINITY, (0.0, 0.0));
    let corners = [(a.offset, 0.0), (a.offset, a.radius), (b.offset, b.radius), (b.offset, 0.0)];
    for (p, q) in [(corners[0], corners[1]), (corners[1], corners[2]), (corners[2], corners[3])] {
        let (ex, ey) = (q.0 - p.0, q.1 - p.1);
        let whole = ex * ex + ey * ey;
        let t = if whole > 0.0 {
            (((along - p.0) * ex + (away - p.1) * ey) / whole).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let (x, y) = (p.0 + t * ex, p.1 + t * ey);
        let square = (x - along) * (x - along) + (y - away) * (y - away);
        if square < best.0 {
            best = (square, (x, y));
        }
    }
    best.1
}

/// What is in the way, and what it looks like to the reference.
fn target(dice: &mut Dice, kind: usize) -> (Scenery, DVec3, Thing) {
    let centre = DVec3::new(4.0, 0.0, 50.0);
    let normal = (DVec3::new(-1.0, 0.0, 0.0) + dice.vector() * 0.7).normalize();
    let velocity = DVec3::new(dice.next() * 5.0, dice.next() * 2.0, 0.0);
    let empty = Scenery { velocity, ..Scenery::default() };
    match kind {
        0 => {
            let one = face(centre, normal, Outline::Rectangle { width: 1.1, height: 0.7 });
            let thing = Thing::Boxed([one.right * 0.55, one.up * 0.35, DVec3::ZERO]);
            (Scenery { faces: vec![one], ..empty }, centre, thing)
        }
        1 => {
            let one = face(centre, normal, Outline::Disc { diameter: 1.0 });
            (Scenery { faces: vec![one], ..empty }, centre, Thing::Disc(normal, 0.5))
        }
        _ => {
            let mut scenery = solid(centre, DVec3::new(0.5, 0.9, 0.7));
            let turn = DQuat::from_rotation_z(dice.next() * 3.0);
            scenery.velocity = velocity;
            scenery.solids[0].axes = DVec3::AXES.map(|axis| turn * axis);
            let axes = scenery.solids[0].axes;
            let [x, y, z] = [axes[0] * 0.25, axes[1] * 0.45, axes[2] * 0.35];
            let one = &mut scenery.solids[0];
            let thing = match kind {
                3 => {
                    one.shape = SolidShape::Cylinder { axis: 2 };
                    one.half[0] = one.half[1];
                    Thing::Cylinder(z, 0.45)
                }
                4 => {
                    one.shape = SolidShape::Wedge;
                    Thing::Wedge([x, y, z])
                }
                _ => Thing::Boxed([x, y, z]),
            };
            (scenery, centre, thing)
        }
    }
}

fn flight(dice: &mut Dice) -> Glide {
    Glide {
        position: DVec3::new(0.0, 0.0, 50.0) + dice.vector() * 0.9,
        velocity: DVec3::X * (12.0 + 6.0 * dice.next()) + dice.vector(),
        acceleration: DVec3::Z * -G,
        attitude: DQuat::from_scaled_axis(dice.vector() * 3.0),
        spin: dice.vector() * 25.0,
    }
}

/// The first fine sample at which they overlap.
fn reference(
    body: &Body,
    motion: &Glide,
    from: DVec3,
    velocity: DVec3,
    thing: &Thing,
) -> Option<f64> {
    let near = body.bounding_radius() + 1.0;
    (0..6000).map(|i| f64::from(i) * 1e-4).find(|&time| {
        let (state, centre) = (motion.state(time), from + velocity * time);
        (state.position - centre).length() < near && overlap(body, &state, centre, thing, 0.0)
    })
}

fn agrees(body: &Body, seed: u64) {
    agrees_on(body, seed, &[0, 1, 2]);
}

/// The same for targets of these kinds.
fn agrees_on(body: &Body, seed: u64, kinds: &[usize]) {
    let mut dice = Dice(seed);
    let mut hits = 0;
    for round in 0..240 {
        let (scenery, from, thing) = target(&mut dice, kinds[round % kinds.len()]);
        let motion = flight(&mut dice);
        let wanted = reference(body, &motion, from, scenery.velocity, &thing);
        let found = fly(body, &scenery, &motion, 0.6);
        if let Some(latest) = wanted {
            let time = found.expect("the reference hits").time;
            assert!(time <= latest + 1e-9, "round {round}: {time} after {latest}");
            hits += 1;
        }
        if let Some(touch) = found {
            let centre = from + scenery.velocity * touch.time;
            assert!(
                overlap(body, &touch.state, centre, &thing, 2e-5),
                "round {round}: nothing is touched at {}",
                touch.time
            );
        }
    }
    assert!((50..235).contains(&hits), "{hits} hits: the flights test little");
}

#[test]
fn random_balls_agree_with_a_fine_reference() {
    agrees(&ball(0.3, 1.0), 1);
}

#[test]
fn random_rods_agree_with_a_fine_reference() {
    agrees(&rod(1.6, 0.05, 3.0), 2);
}

#[test]
fn random_balls_and_rods_agree_on_posts_and_ramps_with_a_fine_reference() {
    agrees_on(&ball(0.3, 1.0), 8, &[3, 4]);
    agrees_on(&rod(1.6, 0.05, 3.0), 9, &[3, 4]);
}

#[test]
fn random_blocks_agree_with_a_fine_reference() {
    agrees(&block(0.6, 0.3, 0.2, 5.0), 3);
}

#[test]
fn random_sheets_agree_with_a_fine_reference() {
    agrees(&Body::solid(Shape::Plate { length: 1.2, width: 0.8, thickness: 0.01 }, 6.0), 4);
}

#[test]
fn random_cylinders_agree_with_a_fine_reference() {
    agrees(&Body::solid(Shape::Cylinder { length: 0.5, diameter: 0.4 }, 6.0), 5);
}

#[test]
fn random_wheels_agree_with_a_fine_reference() {
    agrees(&Body::solid(Shape::Wheel { diameter: 0.64, width: 0.2, hub: 0.5 }, 18.0), 6);
}

#[test]
fn random_cones_agree_with_a_fine_reference() {
    agrees(&Body::solid(Shape::Cone { length: 0.7, diameter: 0.4 }, 6.0), 7);
}
