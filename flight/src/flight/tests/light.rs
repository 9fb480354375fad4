//! Bodies that are light for their size.

use super::{
    at_deadline,
    bodies::{calm, flight},
    moving, strict,
};
use crate::{
    body::{Body, Shape},
    flight::{Flight, GRAVITY},
    world::Air,
};
use core::f64::consts::PI;

/// Upward acceleration as it is let go, in m/s².
fn lift_off(shape: Shape<f64>, mass: f64, density: f64) -> f64 {
    let mut air = calm();
    air.air = Air { density, ..air.air };
    let start = moving([0.0, 0.0, 500.0], [0.0; 3]);
    let body = Body::solid(shape, mass);
    at_deadline(Flight { ..flight(body, air, start, 1e-4) }, &strict()).velocity.z / 1e-4
}

/// Source: closed form, a ball in an ideal fluid (added mass of half the
/// displaced fluid): a = g (ρ V - m) / (m + ½ ρ V); without weight it rises at
/// 2 g, not faster.
#[test]
fn a_balloon_rises_with_the_air_it_drags_along() {
    let volume = PI * 0.027 / 6.0;
    let displaced = 1.225 * volume;
    for mass in [1e-9, 0.3 * displaced, 3.0 * displaced] {
        let got = lift_off(Shape::Sphere { diameter: 0.3 }, mass, 1.225);
        let wanted = GRAVITY * (displaced - mass) / (mass + 0.5 * displaced);
        assert!((got / wanted - 1.0).abs() < 2e-3, "{mass}: {got} {wanted}");
    }
}

/// Heavy ones keep their weight less the buoyancy.
#[test]
fn a_stone_does_not_notice_the_air_it_drags_along() {
    let volume = PI * 0.027 / 6.0;
    let mass = 100.0 * 1.225 * volume;
    let got = lift_off(Shape::Sphere { diameter: 0.3 }, mass, 1.225);
    assert!((got / -(GRAVITY * 0.99) - 1.0).abs() < 1e-6, "{got}");
}
