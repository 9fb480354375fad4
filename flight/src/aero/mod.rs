//! Forces and moments of the air on each shape family.
//!
//! A family is one file: what it assumes, where it is valid, what it ignores,
//! and one [`Model`] that the step loop computes for a block of flights at
//! once. [`Coefficients`] is what one flight brings: plain numbers.
//!
//! Conventions: velocity is that of the body relative to the air; everything
//! is in the body frame (x length, y width, z thickness); moments are about
//! the centre of mass.

mod ball;
mod bar;
mod block;
mod coefficients;
mod cone;
mod crisis;
mod custom;
mod cylinder;
mod disc;
mod face;
mod families;
mod figure;
mod irregular;
#[cfg(test)]
mod laws;
mod plate;
mod points;
mod rod;
mod sphere;
mod table;
mod validity;
mod wheel;

pub(crate) use self::coefficients::each_model;
pub use self::{
    ball::{Ball, ball_drag, lift_doubt, measured, spin_drag, spin_lift, spin_note},
    bar::{Bar, bar_drag},
    block::Block,
    coefficients::Coefficients,
    cone::Cone,
    custom::Custom,
    disc::Disc,
    families::shape_note,
    figure::{Figure, Figures},
    irregular::{Lump, irregular_drag, settled_drag},
    plate::Plate,
    rod::{Rod, cylinder_drag},
    sphere::{Sphere, sphere_drag},
    table::{Angles, Six, Table},
    validity::{Doubt, Extremes, Limits},
};

use crate::lane::{Lane, Processor, Vector};
use core::fmt::Debug;

/// What the air does to a body.
#[derive(Clone, Copy, Debug)]
pub struct Load<S: Processor> {
    /// Force, in N.
    pub force: Vector<S>,
    /// Moment, in N m.
    pub moment: Vector<S>,
}

/// How a body moves through the air.
#[derive(Clone, Copy, Debug)]
pub struct Flow<S: Processor> {
    /// Velocity relative to the air, in m/s.
    pub velocity: Vector<S>,
    /// Its magnitude, in m/s.
    pub speed: Lane<S>,
    /// Angular velocity, in rad/s.
    pub rates: Vector<S>,
}

impl<S: Processor> Flow<S> {
    /// From the velocity relative to the air and the rates.
    #[inline(always)]
    pub fn new(velocity: Vector<S>, rates: Vector<S>) -> Self {
        Self { velocity, speed: velocity.dot(velocity).sqrt(), rates }
    }
}

/// What every family says alike of its record of numbers ([`per_flight!`]):
/// the flight's variant, and how it gets into the lanes. The record is the
/// family itself, or stands in a field of it.
///
/// [`per_flight!`]: crate::lane::per_flight
macro_rules! family {
    ($family:ident, $record:ident $(in $field:tt)?) => {
        type Lanes<S: $crate::lane::Processor> = $record<$crate::lane::Lane<S>>;

        fn of(coefficients: &$crate::aero::Coefficients) -> Option<Self> {
            if let $crate::aero::Coefficients::$family(model) = coefficients {
                Some(*model)
            } else {
                None
            }
        }

        #[inline(always)]
        fn spread<S: $crate::lane::Processor>(self, simd: S) -> Self::Lanes<S> {
            $record::spread(self$(.$field)?, simd)
        }

        #[inline(always)]
        fn put<S: $crate::lane::Processor>(self, lanes: &mut Self::Lanes<S>, lane: usize) {
            $record::put(self$(.$field)?, lanes, lane);
        }
    };
}
use family;

/// A shape family as the step loop sees it.
pub trait Model: Copy + Debug {
    /// The numbers of a block of flights.
    type Lanes<S: Processor>: Copy + Debug;
    /// What the flights share (tables).
    type Shared: Copy;
    /// Whether attitude matters. Where it does not, the loop neither turns the
    /// body nor the flow, and the attitude follows from the constant rates.
    const TURNS: bool;
    /// Whether the rates change where attitude does not matter: a ball that
    /// spins. Flow and load are then in the world's frame.
    const SPINS: bool = false;
    /// Whether [`Model::stray`] is watched.
    const STRAYS: bool = false;

    /// This family's numbers, if the flight is of this family.
    fn of(coefficients: &Coefficients) -> Option<Self>;
    /// What the flights share with this one.
    fn shared(&self) -> Self::Shared;
    /// The same numbers for every flight of a block.
    fn spread<S: Processor>(self, simd: S) -> Self::Lanes<S>;
    /// Puts one flight's numbers in its place.
    fn put<S: Processor>(self, lanes: &mut Self::Lanes<S>, lane: usize);
    /// What the air does.
    fn load<S: Processor>(shared: Self::Shared, lanes: &Self::Lanes<S>, flow: &Flow<S>) -> Load<S>;
    /// How far this flow is from what the model was made for, in a measure of
    /// its own; its largest is held against [`Limits::stray`].
    #[inline(always)]
    fn stray<S: Processor>(_: Self::Shared, flow: &Flow<S>) -> Lane<S> {
        flow.speed.of(0.0)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use glam::DVec3;
    use pulp::Scalar;

    /// Air of 1.225 kg/m³.
    pub(crate) fn still_air() -> crate::world::Air {
        crate::world::Air { density: 1.225, viscosity: 1.789e-5, sound: 340.294 }
    }

    /// What the step loop computes for one body, in the body frame.
    pub(crate) fn force_and_moment<M: Model>(
        model: M,
        velocity: [f64; 3],
        rates: [f64; 3],
    ) -> (DVec3, DVec3) {
        let lanes = model.spread(Scalar);
        let flow = Flow::new(Vector::splat(Scalar, velocity), Vector::splat(Scalar, rates));
        let load = M::load(model.shared(), &lanes, &flow);
        let read = |v: Vector<Scalar>| DVec3::new(v.x.get(0), v.y.get(0), v.z.get(0));
        (read(load.force), read(load.moment))
    }
}
