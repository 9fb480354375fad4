//! What a touch did to a flight that goes on.

use crate::{
    contact::{Surface, Work},
    flight::{Flight, GRAVITY, State},
};
use glam::DVec3;

/// One touch of a flight, and what it took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Encounter {
    /// When, in s after release.
    pub time: f64,
    /// What was touched.
    pub surface: Surface,
    /// What came of it.
    pub kind: Kind,
    /// Centre of mass then, world frame, in m.
    pub position: DVec3,
    /// Speed over the ground just before, in m/s.
    pub before: f64,
    /// Speed over the ground just after; of a slide, at its end; in m/s.
    pub after: f64,
    /// Work done on the body, as force times way or impulse times mean velocity; of a
    /// slide, that of the air too.
    pub work: Work,
    /// Kinetic and potential energy after less before, in J, from the body's motion.
    pub change: f64,
    /// Kinetic energy after it, turning included, in J.
    pub left: f64,
    /// Whether some contact gave energy where it can only take it.
    pub gains: bool,
}

/// Work above zero of passive contacts that rounding and steps explain, as a share of
/// the body's energy and what would lift it by its own size.
const ROUNDING: f64 = 1e-5;

/// By how much a body may have sunk that is laid level, in m (up to 3e-6 seen): to lift
/// it out again is no fault.
const SUNK: f64 = 5e-6;

/// Kinetic and potential energy over the ground, in J.
#[must_use]
pub fn energy(flight: &Flight, state: &State) -> f64 {
    flight.kinetic_energy(state) + flight.body.mass * GRAVITY * state.position.z
}

impl Encounter {
    /// Of a body that came as the first of two states at `time` (s) and goes on
    /// as the second.
    pub(super) fn new(
        flight: &Flight,
        (surface, kind): (Surface, Kind),
        time: f64,
        [before, after]: [&State; 2],
        work: Work,
    ) -> Self {
        let weight = flight.body.mass * GRAVITY;
        let lifts = weight * flight.body.bounding_radius();
        let least = ROUNDING * (flight.kinetic_energy(before) + lifts) + weight * SUNK;
        Self {
            time,
            surface,
            kind,
            position: before.position,
            before: before.velocity.length(),
            after: after.velocity.length(),
            work,
            change: energy(flight, after) - energy(flight, before),
            left: flight.kinetic_energy(after),
            gains: work.gained > least,
        }
    }
}

/// What comes of a touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// Thrown back.
    Bounced,
    /// Through the barrier of a face.
    WentThrough,
    /// Sliding or rolling on the ground, to rest or to the next touch.
    Slid {
        /// Until when, in s.
        until: f64,
        /// How far, in m.
        way: f64,
    },
}
