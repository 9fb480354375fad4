//! What a shape is to those who do not ask which it is: its outer surface, its
//! hole, what its surface may be like, how it is drawn.

use super::{Form, Ring, Shape};
use glam::DVec3;

/// What is the same for every size of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Family {
    /// What to call the object in a sentence.
    pub noun: &'static str,
    /// What its surface may be like.
    pub surfaces: Surfaces,
    /// As what it drags air along.
    pub drags: Drags,
    /// What is drawn of it beside its outline.
    pub look: Look,
}

/// What the surface of a shape may be like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surfaces {
    /// Any: a ball.
    Any,
    /// One of a known roughness: other round shapes.
    Rough,
    /// It makes no difference.
    Plain,
}

/// As what a shape drags air along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drags {
    /// The ball of its volume.
    Ball,
    /// A rectangular sheet across z.
    Sheet,
    /// A disc across z.
    Disc,
    /// A cylinder along x, as wide as its wider side.
    Long,
    /// A cylinder along x of the mean section of a cone.
    Cone,
}

/// What is drawn of a shape beside its outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// What its outer surface shows.
    Plain,
    /// Nothing: a thin sheet, or a box that stands for something else.
    Bare,
    /// Facets: a lump.
    Broken,
}

impl<T> Shape<T> {
    /// What is the same for every size of it.
    #[must_use]
    pub fn family(&self) -> Family {
        let of = |noun, surfaces, drags, look| Family { noun, surfaces, drags, look };
        match self {
            Self::Sphere { .. } => of("sphere", Surfaces::Any, Drags::Ball, Look::Plain),
            Self::Irregular { .. } => of("lump", Surfaces::Plain, Drags::Ball, Look::Broken),
            Self::Plate { .. } => of("plate", Surfaces::Plain, Drags::Sheet, Look::Bare),
            Self::Disc { .. } => of("disc", Surfaces::Plain, Drags::Disc, Look::Plain),
            Self::Wheel { .. } => of("wheel", Surfaces::Rough, Drags::Disc, Look::Plain),
            Self::Rod { .. } => of("rod", Surfaces::Rough, Drags::Long, Look::Plain),
            Self::Cylinder { .. } => of("cylinder", Surfaces::Rough, Drags::Long, Look::Plain),
            Self::Tube { .. } => of("tube", Surfaces::Rough, Drags::Long, Look::Plain),
            Self::Cone { .. } => of("cone", Surfaces::Rough, Drags::Cone, Look::Plain),
            Self::Block { .. } => of("block", Surfaces::Plain, Drags::Ball, Look::Plain),
            Self::Bar { .. } => of("bar", Surfaces::Plain, Drags::Long, Look::Plain),
            Self::Custom { .. } => of("object", Surfaces::Plain, Drags::Ball, Look::Bare),
        }
    }

    /// What to call the object in a sentence.
    #[must_use]
    pub fn noun(&self) -> &'static str {
        self.family().noun
    }
}

impl Shape<f64> {
    /// Its outer surface.
    #[must_use]
    pub fn form(&self) -> Form {
        let boxed = |a: f64, b: f64, c: f64| Form::Boxed { half: DVec3::new(a, b, c) / 2.0 };
        let round = |axis: usize, length: f64, diameter: f64| {
            let ring = |offset: f64| Ring { offset, radius: diameter / 2.0 };
            Form::Revolved { axis, rings: [ring(length / 2.0), ring(-length / 2.0)] }
        };
        match *self {
            Self::Sphere { diameter } | Self::Irregular { diameter, .. } => {
                Form::Ball { radius: diameter / 2.0 }
            }
            Self::Plate { length, width, thickness: height }
            | Self::Block { length, width, height }
            | Self::Bar { length, width, height } => boxed(length, width, height),
            Self::Custom { sides: [a, b, c], .. } => boxed(a, b, c),
            Self::Disc { diameter, thickness: width } | Self::Wheel { diameter, width, .. } => {
                round(2, width, diameter)
            }
            Self::Rod { length, diameter }
            | Self::Cylinder { length, diameter }
            | Self::Tube { length, diameter, .. } => round(0, length, diameter),
            Self::Cone { length, diameter } => {
                let apex = Ring { offset: 0.75 * length, radius: 0.0 };
                let base = Ring { offset: -0.25 * length, radius: diameter / 2.0 };
                Form::Revolved { axis: 0, rings: [apex, base] }
            }
        }
    }

    /// Radius of the hole along its axis in which there is no mass, in m; 0 where
    /// it is full.
    #[must_use]
    pub fn hole(&self) -> f64 {
        match *self {
            Self::Tube { diameter, wall, .. } => (diameter / 2.0 - wall).max(0.0),
            Self::Wheel { diameter, hub, .. } => hub * diameter / 2.0,
            Self::Sphere { .. }
            | Self::Irregular { .. }
            | Self::Plate { .. }
            | Self::Disc { .. }
            | Self::Rod { .. }
            | Self::Cylinder { .. }
            | Self::Cone { .. }
            | Self::Block { .. }
            | Self::Bar { .. }
            | Self::Custom { .. } => 0.0,
        }
    }
}
