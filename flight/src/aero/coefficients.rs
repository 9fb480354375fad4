//! What one flight brings for its aerodynamics.

use super::{Block, Plate, Rod, Sphere};
use crate::{
    body::{Body, Shape},
    world::Air,
};

/// One flight's aerodynamic numbers. One variant, one shape family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coefficients {
    /// A ball.
    Sphere(Sphere),
    /// A flat sheet.
    Plate(Plate),
    /// A slender round bar.
    Rod(Rod),
    /// A rectangular block.
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
            Shape::Rod { length, diameter } => {
                Self::Rod(Rod::new(length, diameter, air, drag_factor))
            }
            Shape::Block { length, width, height } => {
                Self::Block(Block::new([length, width, height], air, drag_factor))
            }
        }
    }
}
