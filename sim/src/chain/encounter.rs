//! What a touch did to a flight that goes on.

use crate::{
    contact::Surface,
    flight::{Flight, State},
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
    /// Work done on the body, in J, as force times way or impulse times mean
    /// velocity: negative where it loses energy.
    pub work: f64,
    /// Kinetic energy after less before, in J, from the body's motion.
    pub change: f64,
}

impl Encounter {
    /// Of a body that came as the first of two states at `time` (s) and goes on
    /// as the second; `work` in J.
    pub(super) fn new(
        flight: &Flight,
        (surface, kind): (Surface, Kind),
        time: f64,
        [before, after]: [&State; 2],
        work: f64,
    ) -> Self {
        Self {
            time,
            surface,
            kind,
            position: before.position,
            before: before.velocity.length(),
            after: after.velocity.length(),
            work,
            change: flight.kinetic_energy(after) - flight.kinetic_energy(before),
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
