//! The target as one draw has it, and the first touch of the real shape.
//!
//! [`Scenery`] is a target in plain numbers. [`first_touch`] finds the instant
//! inside a step at which the body itself (not its centre) meets the ground, a
//! face or a solid, by conservative advancement: the gap along a separating
//! direction is divided by a bound on the speed at which it can close, and time
//! moves on by that much, so that no touch is stepped over. [`Crossing`] tells
//! where the centre of mass goes through the plane of a face, for misses.
//! A target that brakes or steers leaves its even course by a [`Manoeuvre`].
//! [`bounce`] throws the body back; once it [`settles`] on the ground, a
//! [`Slide`] brings it to rest, of a cone on its side a [`Cone`]; what is round and leans goes
//! on by [`Lean`], and what comes down on the flat of a side by [`slap()`].
//!
//! Balls, plates, blocks, discs, wheels, cylinders and cones are exact. A rod is a segment with a radius: its
//! ends are round, its overall length is kept, and the corner of its flat end
//! that is lost is at most 0.41 radii wide.

mod advance;
pub mod bounce;
mod clear;
mod cone;
mod crossing;
mod eccentric;
pub(crate) mod fault;
mod gap;
mod gjk;
mod hull;
mod land;
mod lean;
mod manoeuvre;
mod obstacle;
mod pace;
mod patch;
mod rim;
mod round;
mod scenery;
mod search;
mod settle;
mod side;
mod slap;
mod slide;
mod stretch;
mod touch;
mod wedge;
mod work;

#[cfg(test)]
mod tests;

pub(crate) use self::manoeuvre::NOTE as COURSE_NOTE;
pub use self::{
    cone::Cone,
    crossing::{Crossing, crossing, separation},
    lean::Lean,
    manoeuvre::{Brakes, Manoeuvre, Steers},
    scenery::{FaceNow, Scenery, SolidNow},
    search::first_touch,
    settle::{SMALL_HOP, falls_below, settles},
    slap::{Slapped, slap},
    slide::Slide,
    stretch::{Follow, Rub, Stretch, Within},
    touch::{Surface, Touch},
    work::Work,
};

use crate::flight::{Path, State, Step};
use crate::note::{Kind, Note, Subject};
use glam::DVec3;

/// Its section of the page of trust.
pub(crate) const SUBJECT: Subject =
    Subject { key: "first touch", claims: "What bodies do to each other where they meet" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "first touch",
    how: "distance between the real shape and the face, advanced inside the step; energy along the normal with the effective mass at the contact point",
    source: "impulse-based collision of rigid bodies (standard derivation)",
    kind: Kind::Derived,
    range: "one contact point, shorter than the motion",
    leaves_out: "",
};

/// Something that knows where the body is at any time of a stretch: a step of
/// the integrator, or a closed form.
pub trait Motion {
    /// State at `time`, in s.
    fn state(&self, time: f64) -> State;

    /// Position of the centre of mass at `time`, in m, where that is all that
    /// is asked for.
    fn position(&self, time: f64) -> DVec3 {
        self.state(time).position
    }

    /// Where the body stays during a stretch of time (s), where that is known.
    fn path(&self, _span: [f64; 2]) -> Option<Path> {
        None
    }
}

impl Motion for Step {
    fn state(&self, time: f64) -> State {
        self.state(time)
    }

    fn position(&self, time: f64) -> DVec3 {
        self.position(time)
    }

    fn path(&self, span: [f64; 2]) -> Option<Path> {
        Some(self.path(span))
    }
}

impl<F: Fn(f64) -> State> Motion for F {
    fn state(&self, time: f64) -> State {
        self(time)
    }
}
