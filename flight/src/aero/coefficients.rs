//! What one flight brings for its aerodynamics.

use super::{Block, Cone, Disc, Plate, Rod, Sphere};
use crate::{
    body::{Body, Shape},
    world::Air,
};

/// One flight's aerodynamic numbers. One variant, one shape family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coefficients {
    /// A ball, or a lump flown as one.
    Sphere(Sphere),
    /// A flat sheet.
    Plate(Plate),
    /// A flat round sheet.
    Disc(Disc),
    /// A round bar, cylinder or pipe.
    Rod(Rod),
    /// A cone.
    Cone(Cone),
    /// A rectangular block, or a wheel.
    Block(Block),
}

impl Coefficients {
    /// The numbers of a body in this air; `drag_factor` multiplies every force
    /// and moment (1: as published).
    #[must_use]
    pub fn new(body: &Body, air: &Air, drag_factor: f64) -> Self {
        match body.shape {
            Shape::Sphere { diameter } => Self::Sphere(Sphere::new(diameter, air, drag_factor)),
            Shape::Plate { length, width, thickness } => {
                Self::Plate(Plate::new([length, width, thickness], air, drag_factor))
            }
            Shape::Irregular { diameter, sphericity } => {
                Self::Sphere(Sphere::irregular(diameter, sphericity, air, drag_factor))
            }
            Shape::Disc { diameter, thickness } => {
                Self::Disc(Disc::new(diameter, thickness, air, drag_factor))
            }
            Shape::Wheel { diameter, width, .. } => {
                Self::Block(Block::wheel(diameter, width, air, drag_factor))
            }
            Shape::Rod { length, diameter } => {
                Self::Rod(Rod::new(length, diameter, air, drag_factor))
            }
            Shape::Cylinder { length, diameter } => {
                Self::Rod(Rod::cylinder(length, diameter, air, drag_factor))
            }
            Shape::Tube { length, diameter, wall } => {
                Self::Rod(Rod::tube([length, diameter, wall], air, drag_factor))
            }
            Shape::Cone { length, diameter } => {
                Self::Cone(Cone::new(length, diameter, air, drag_factor))
            }
            Shape::Block { length, width, height } => {
                Self::Block(Block::new([length, width, height], air, drag_factor))
            }
        }
    }
}
