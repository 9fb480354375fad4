//! What one flight brings for its aerodynamics.

use super::{
    Ball, Bar, Block, Cone, Custom, Disc, Figures, Flow, Lump, Model, Plate, Rod, Sphere, Table,
    families,
};
use crate::{
    body::{Body, Shape},
    lane::{Lane, Vector},
    world::Air,
};
use glam::DVec3;
use pulp::Scalar;

/// One flight's aerodynamic numbers. One variant, one shape family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coefficients {
    /// A ball whose spin does not count.
    Sphere(Sphere),
    /// A ball that curves when it spins.
    Ball(Ball),
    /// A compact lump.
    Lump(Lump),
    /// A flat sheet.
    Plate(Plate),
    /// A flat round sheet.
    Disc(Disc),
    /// A round bar, cylinder or pipe.
    Rod(Rod),
    /// A bar of rectangular section.
    Bar(Bar),
    /// A cone.
    Cone(Cone),
    /// A rectangular block, or a wheel.
    Block(Block),
    /// By a table.
    Custom(Custom),
}

/// Does the same with the numbers of whichever model a flight has.
macro_rules! each_model {
    ($coefficients:expr, |$model:ident| $do:expr) => {
        match $coefficients {
            $crate::aero::Coefficients::Sphere($model) => $do,
            $crate::aero::Coefficients::Ball($model) => $do,
            $crate::aero::Coefficients::Lump($model) => $do,
            $crate::aero::Coefficients::Plate($model) => $do,
            $crate::aero::Coefficients::Disc($model) => $do,
            $crate::aero::Coefficients::Rod($model) => $do,
            $crate::aero::Coefficients::Bar($model) => $do,
            $crate::aero::Coefficients::Cone($model) => $do,
            $crate::aero::Coefficients::Block($model) => $do,
            $crate::aero::Coefficients::Custom($model) => $do,
        }
    };
}
pub(crate) use each_model;

impl Coefficients {
    /// The numbers of a body in this air, every figure at its typical value;
    /// `drag_factor` multiplies every force and moment (1: as published).
    #[must_use]
    pub fn new(body: &Body, air: &Air, drag_factor: f64) -> Self {
        Self::by(body, air, drag_factor, &Figures::default())
    }

    /// The same with the figures chosen.
    #[must_use]
    pub fn by(body: &Body, air: &Air, drag_factor: f64, figures: &Figures) -> Self {
        families::coefficients(body, air, drag_factor, figures)
    }

    /// The same for a body whose spin counts, which makes a difference to a
    /// sphere only: the second factor multiplies the lift of its spin besides (1:
    /// as published, negative: it curves the other way).
    #[must_use]
    pub fn spinning(body: &Body, air: &Air, factors: [f64; 2], figures: &Figures) -> Self {
        let [drag, lift] = factors;
        let Shape::Sphere { diameter } = body.shape else {
            return Self::by(body, air, drag, figures);
        };
        Self::Ball(Ball::new([diameter, drag, lift], body.surface, air, figures))
    }

    /// The numbers of a custom shape with its table; of any other shape, its
    /// own.
    #[must_use]
    pub fn tabled(body: &Body, air: &Air, drag_factor: f64, table: &'static Table) -> Self {
        let Shape::Custom { sides, reference, .. } = body.shape else {
            return Self::new(body, air, drag_factor);
        };
        Self::Custom(Custom::new(sides, reference, table, air, drag_factor))
    }

    /// Force (N) and moment about the centre of mass (N m) of the air, body
    /// frame: one look at a time, for audits and for what is not flown.
    ///
    /// `velocity`: of the body relative to the air, in m/s; `rates`: angular
    /// velocity, in rad/s; both in the body frame.
    #[must_use]
    pub fn load(&self, velocity: DVec3, rates: DVec3) -> (DVec3, DVec3) {
        each_model!(*self, |model| alone(model, velocity, rates))
    }
}

/// What the step loop computes, for one flight.
fn alone<M: Model>(model: M, velocity: DVec3, rates: DVec3) -> (DVec3, DVec3) {
    let lanes = model.spread(Scalar);
    let splat = |v: DVec3| Vector::splat(Scalar, v.to_array());
    let load = M::load(model.shared(), &lanes, &Flow::new(splat(velocity), splat(rates)));
    let first = |lane: Lane<Scalar>| lane.get(0);
    let read = |v: Vector<Scalar>| DVec3::new(first(v.x), first(v.y), first(v.z));
    (read(load.force), read(load.moment))
}
