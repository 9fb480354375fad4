//! Which model the air has for each shape: its numbers, what they leave open,
//! where they are confirmed, and what it says of itself.

use super::{
    Ball, Bar, Block, Coefficients, Cone, Disc, Figure, Figures, Lump, Plate, Rod, Sphere, ball,
    bar, block, cone, custom, cylinder, disc, irregular, plate, rod, sphere, wheel,
};
use crate::{
    body::{Body, Shape, Surface},
    note::Note,
    world::Air,
};

/// From here on the drag of shapes with edges stays as it is: fixed shapes have one
/// drag coefficient at all Reynolds numbers above (Hoerner; Matthews, Aeronautical
/// Engineer's Data Book).
const EDGED: [f64; 2] = [1e4, f64::INFINITY];
/// Cross-flow Reynolds numbers of long round shapes.
const ACROSS: [f64; 2] = [1.0, 1e7];
/// Largest Reynolds number of what was read of lumps: they settled. Source: Can. J.
/// Chem. Eng. 37 (1959), abstract; common practice of that field, no source.
const LUMPS: f64 = 1e5;

/// Where the coefficients of a body are confirmed.
pub(super) struct Ground {
    /// Smallest and largest Reynolds number.
    pub(super) reynolds: [f64; 2],
    /// The length that they are on, in m.
    pub(super) size: f64,
    /// Whether the body has the proportions of its family.
    pub(super) proportions: bool,
}

/// Whether its lift was measured spinning, so that a spin of none counts, too.
fn curves(surface: Surface) -> bool {
    matches!(surface, Surface::Seamed | Surface::Dimpled | Surface::Felt)
}

/// The numbers of a body in this air.
pub(super) fn coefficients(body: &Body, air: &Air, factor: f64, figures: &Figures) -> Coefficients {
    let surface = body.surface;
    match body.shape {
        Shape::Sphere { diameter } if curves(surface) => {
            Coefficients::Ball(Ball::new([diameter, factor, 1.0], surface, air, figures))
        }
        Shape::Sphere { diameter } => {
            Coefficients::Sphere(Sphere::new(diameter, surface, air, factor, figures))
        }
        Shape::Irregular { diameter, sphericity } => {
            Coefficients::Lump(Lump::new([diameter, sphericity], air, factor, figures))
        }
        Shape::Plate { length, width, thickness } => {
            Coefficients::Plate(Plate::new([length, width, thickness], air, factor, figures))
        }
        Shape::Disc { diameter, thickness } => {
            Coefficients::Disc(Disc::new([diameter, thickness], air, factor, figures))
        }
        Shape::Wheel { diameter, width, .. } => {
            Coefficients::Block(Block::wheel([diameter, width], surface, air, factor, figures))
        }
        Shape::Rod { length, diameter } => {
            Coefficients::Rod(Rod::new([length, diameter], surface, air, factor, figures))
        }
        Shape::Cylinder { length, diameter } => {
            Coefficients::Rod(Rod::cylinder([length, diameter], surface, air, factor, figures))
        }
        Shape::Tube { length, diameter, wall } => {
            Coefficients::Rod(Rod::tube([length, diameter, wall], surface, air, factor, figures))
        }
        Shape::Cone { length, diameter } => {
            Coefficients::Cone(Cone::new([length, diameter], surface, air, factor, figures))
        }
        Shape::Block { length, width, height } => {
            Coefficients::Block(Block::new([length, width, height], air, factor))
        }
        Shape::Bar { length, width, height } => {
            Coefficients::Bar(Bar::new([length, width, height], air, factor, figures))
        }
        // Whoever has its table calls `Coefficients::tabled`.
        Shape::Custom { sides, .. } => Coefficients::Block(Block::new(sides, air, factor)),
    }
}

/// The figures that the coefficients of a shape hang on.
pub(super) fn figures<T>(shape: &Shape<T>, surface: Surface) -> &'static [Figure] {
    match shape {
        Shape::Sphere { .. } if surface == Surface::Hail => &[Figure::HailDrag],
        Shape::Sphere { .. } if surface.roughness().is_none() => &[],
        Shape::Sphere { .. } | Shape::Rod { .. } | Shape::Cylinder { .. } | Shape::Tube { .. } => {
            &[Figure::CrisisPlace, Figure::CrisisDepth]
        }
        Shape::Cone { .. } => &[Figure::CrisisPlace, Figure::CrisisDepth, Figure::ConeDrag],
        Shape::Wheel { .. } => &[Figure::CrisisDepth],
        Shape::Irregular { .. } => &[Figure::LumpDrag],
        Shape::Plate { .. } => &[Figure::AutorotationLift, Figure::AutorotationTorque],
        Shape::Disc { .. } => &[
            Figure::AutorotationLift,
            Figure::AutorotationTorque,
            Figure::Rim,
            Figure::GlideLift,
            Figure::GlideMoment,
        ],
        Shape::Bar { .. } => &[Figure::BarDrag, Figure::BarSideForce],
        Shape::Block { .. } | Shape::Custom { .. } => &[],
    }
}

/// Where the coefficients of a body are confirmed; of a custom shape its table
/// says it.
pub(super) fn ground(body: &Body) -> Ground {
    let of = |reynolds, size, proportions| Ground { reynolds, size, proportions };
    match body.shape {
        Shape::Sphere { diameter } => of([0.0, ball::measured(body.surface).drag], diameter, true),
        Shape::Irregular { diameter, sphericity } => {
            of([0.0, LUMPS], diameter, (0.67..=1.0).contains(&sphericity))
        }
        Shape::Plate { length, width, thickness } => {
            let chord = length.min(width);
            of(EDGED, chord, thickness <= 0.2 * chord)
        }
        Shape::Disc { diameter, thickness } => of(EDGED, diameter, thickness <= 0.2 * diameter),
        Shape::Wheel { diameter, width, hub } => {
            of(EDGED, diameter, (0.1..=1.0).contains(&(width / diameter)) && hub < 1.0)
        }
        Shape::Rod { length, diameter } => of(ACROSS, diameter, length >= 2.0 * diameter),
        Shape::Cylinder { length, diameter } => of(ACROSS, diameter, length >= diameter),
        Shape::Tube { length, diameter, wall } => {
            of(ACROSS, diameter, length >= diameter && 2.0 * wall <= diameter)
        }
        // The slices' mean diameter counts.
        Shape::Cone { length, diameter } => {
            of(ACROSS, 0.5 * diameter, (0.5..=4.0).contains(&(length / diameter)))
        }
        Shape::Block { length, width, height } => {
            let sides = [length, width, height];
            let longest = sides.into_iter().fold(0.0, f64::max);
            let shortest = sides.into_iter().fold(f64::INFINITY, f64::min);
            of(EDGED, shortest, longest <= 5.0 * shortest)
        }
        Shape::Bar { length, width, height } => {
            of(EDGED, width.min(height), length >= 3.0 * width.max(height))
        }
        Shape::Custom { .. } => of([0.0, f64::INFINITY], 1.0, true),
    }
}

/// What the model of a shape says of itself.
#[must_use]
pub fn shape_note<T>(shape: &Shape<T>, surface: Surface) -> Note {
    match shape {
        Shape::Sphere { .. } => sphere::note(surface),
        Shape::Irregular { .. } => irregular::NOTE,
        Shape::Plate { .. } => plate::NOTE,
        Shape::Disc { .. } => disc::NOTE,
        Shape::Wheel { .. } => wheel::NOTE,
        Shape::Rod { .. } => rod::NOTE,
        Shape::Cylinder { .. } | Shape::Tube { .. } => cylinder::NOTE,
        Shape::Cone { .. } => cone::NOTE,
        Shape::Block { .. } => block::NOTE,
        Shape::Bar { .. } => bar::NOTE,
        Shape::Custom { .. } => custom::NOTE,
    }
}
