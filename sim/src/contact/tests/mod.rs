//! Tests of first touch: closed forms, published values, a brute-force
//! reference, symmetries.

mod bouncing;
mod braking;
mod brute;
mod closed;
mod crossing;
mod published;
mod solids;
mod sweeping;
mod symmetry;

use super::{FaceNow, Motion, Scenery, SolidNow, Surface, Touch, first_touch};
use crate::{
    aero::Coefficients,
    body::{Body, Measure, Shape},
    flight::{Flight, State, Watch},
    scenario::{Outline, SolidShape},
    world::{Air, AirNow},
};
use glam::{DQuat, DVec3};
use proptest::prelude::*;
use std::f64::consts;

pub(super) const G: f64 = 9.80665;

prop_compose! {
    /// Any motion, at any attitude.
    pub(crate) fn anything()(
        velocity in [-20.0..20.0, -20.0..20.0, -20.0..20.0],
        rates in [-60.0..60.0, -60.0..60.0, -60.0..60.0],
        turn in [-3.0..3.0, -3.0..3.0, -3.0..3.0],
    ) -> State {
        State {
            position: DVec3::Z,
            velocity: DVec3::from_array(velocity),
            attitude: DQuat::from_scaled_axis(DVec3::from_array(turn)),
            rates: DVec3::from_array(rates),
        }
    }
}

prop_compose! {
    /// A body of every shape, in an attitude in which it lies on one of its sides.
    pub(crate) fn every_shape()(
        kind in 0..Shape::ALL.len(), size in 0.1..2.0, by in [0.4..2.5, 0.4..2.5, 0.4..2.5],
        mass in 0.2..30.0, on in 0..4,
    ) -> (Body, DQuat) {
        let mut by = by.into_iter();
        let stretched = Shape::ALL[kind].map(|side| {
            let stretched = by.next().map_or(1.0, |by: f64| by * side.example);
            match side.measure {
                Measure::Length => size * stretched,
                Measure::Ratio => stretched.clamp(0.1, 0.9),
            }
        });
        // A longer side is not the shorter one of its name, nor a wall the whole tube.
        let shape = match stretched {
            Shape::Plate { length: a, width: b, thickness } => {
                Shape::Plate { length: a.max(b), width: a.min(b), thickness }
            }
            Shape::Tube { length, diameter, wall } => {
                Shape::Tube { length, diameter, wall: wall.min(0.4 * diameter) }
            }
            other => other,
        };
        let body = Body::solid(shape, mass);
        let lies = match (shape.form().taper(), on) {
            // What tapers lies with its apex below its axis.
            (Some([length, radius]), 0..3) => {
                DQuat::from_rotation_y(crate::math::atan2(radius, length))
            }
            (Some(_), _) => DQuat::from_rotation_y(-consts::FRAC_PI_2),
            (_, 0) => DQuat::IDENTITY,
            (_, 1) => DQuat::from_rotation_x(consts::PI),
            (_, 2) => DQuat::from_rotation_y(consts::FRAC_PI_2),
            _ => DQuat::from_rotation_x(consts::FRAC_PI_2),
        };
        (body, lies)
    }
}

/// A flight of `body` in still air; `drag`: as a factor on the published one.
pub(super) fn flight_in(air: Air, body: Body, drag: f64) -> Flight {
    let start = Glide::default().state(0.0);
    Flight {
        draw: 0,
        start,
        body,
        coefficients: Coefficients::new(&body, &air, drag),
        air: AirNow::still(air),
        deadline: 120.0,
        watch: Watch { zone: None, plane: None, every_step: false },
    }
}

/// Constant acceleration, constant spin about a fixed world axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Glide {
    pub(super) position: DVec3,
    pub(super) velocity: DVec3,
    pub(super) acceleration: DVec3,
    pub(super) attitude: DQuat,
    pub(super) spin: DVec3,
}

impl Default for Glide {
    fn default() -> Self {
        Self {
            position: DVec3::ZERO,
            velocity: DVec3::ZERO,
            acceleration: DVec3::ZERO,
            attitude: DQuat::IDENTITY,
            spin: DVec3::ZERO,
        }
    }
}

impl Motion for Glide {
    fn state(&self, time: f64) -> State {
        let attitude = DQuat::from_scaled_axis(self.spin * time) * self.attitude;
        State {
            position: self.position
                + self.velocity * time
                + self.acceleration * (0.5 * time * time),
            velocity: self.velocity + self.acceleration * time,
            attitude,
            rates: attitude.inverse() * self.spin,
        }
    }
}

/// A face about `centre` that looks along `normal` (not straight up or down).
pub(super) fn face(centre: DVec3, normal: DVec3, outline: Outline<f64>) -> FaceNow {
    let right = DVec3::Z.cross(normal).normalize();
    FaceNow { centre, normal, right, up: normal.cross(right), outline, aim: true }
}

/// A window that looks back at the release from `x`, at height 1 m.
pub(super) fn window(x: f64, width: f64, height: f64) -> Scenery {
    let outline = Outline::Rectangle { width, height };
    let faces = vec![face(DVec3::new(x, 0.0, 1.0), -DVec3::X, outline)];
    Scenery { faces, ..Scenery::default() }
}

pub(super) fn solid(centre: DVec3, size: DVec3) -> Scenery {
    let solids = vec![SolidNow {
        centre,
        shape: SolidShape::Boxed,
        axes: DVec3::AXES,
        half: (size / 2.0).to_array(),
    }];
    Scenery { solids, ..Scenery::default() }
}

pub(super) fn ball(diameter: f64, mass: f64) -> Body {
    Body::solid(Shape::Sphere { diameter }, mass)
}

pub(super) fn block(length: f64, width: f64, height: f64, mass: f64) -> Body {
    Body::solid(Shape::Block { length, width, height }, mass)
}

pub(super) fn rod(length: f64, diameter: f64, mass: f64) -> Body {
    Body::solid(Shape::Rod { length, diameter }, mass)
}

/// The first touch of a flight that is looked at in steps of 20 ms.
pub(super) fn fly(body: &Body, scenery: &Scenery, motion: &Glide, end: f64) -> Option<Touch> {
    let step = 0.02;
    (0..)
        .map(|i| f64::from(i) * step)
        .take_while(|&t| t < end)
        .find_map(|t| first_touch(body, scenery, motion, [t, t + step], &[]))
}

pub(super) fn near(a: f64, b: f64, tolerance: f64) {
    assert!((a - b).abs() <= tolerance, "{a} is not {b} within {tolerance}");
}

pub(super) fn near_all(a: DVec3, b: DVec3, tolerance: f64) {
    assert!((a - b).length() <= tolerance, "{a} is not {b} within {tolerance}");
}

pub(super) fn touches(touch: Option<Touch>, surface: Surface) -> Touch {
    let touch = touch.expect("it is aimed at it");
    assert_eq!(touch.surface, surface);
    touch
}
