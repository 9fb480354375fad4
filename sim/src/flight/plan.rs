//! What the stepper is asked to do, and what it reports.

use super::{State, Step};
use crate::{aero::Coefficients, body::Body, world::AirNow};
use glam::DVec3;

/// One flight to be flown: plain numbers, nothing uncertain.
#[derive(Clone, Debug)]
pub struct Flight {
    /// The draw it belongs to; handed back with every report.
    pub draw: u64,
    /// State at time 0.
    pub start: State,
    /// What flies.
    pub body: Body,
    /// Its aerodynamic coefficients.
    pub coefficients: Coefficients,
    /// The air it flies through, wind included.
    pub air: AirNow,
    /// When to stop even if nothing was met, in s.
    pub deadline: f64,
    /// What the scene wants to see.
    pub watch: Watch,
}

/// When a scene wants to look at a step. The ground (the body's bounding
/// sphere reaching z = 0) always counts.
#[derive(Clone, Copy, Debug)]
pub struct Watch {
    /// The target's surroundings.
    pub zone: Option<Zone>,
    /// The plane of the aimed face.
    pub plane: Option<Plane>,
    /// Look at every step (recording, auditing).
    pub every_step: bool,
}

/// An axis-aligned box that moves at constant velocity; a step in which the
/// body's bounding sphere may enter it is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Zone {
    /// Centre at time 0, in m.
    pub centre: DVec3,
    /// Velocity, in m/s.
    pub velocity: DVec3,
    /// Half extents, in m.
    pub half: DVec3,
}

/// A plane `normal · p = offset + rate · t`; a step in which the centre of
/// mass changes sides is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Plane {
    /// Unit normal.
    pub normal: DVec3,
    /// Offset at time 0, in m.
    pub offset: f64,
    /// Change of the offset, in m/s.
    pub rate: f64,
}

impl Plane {
    /// Signed distance of `point` from the plane at `time`, in m; positive on
    /// the side of the normal.
    #[must_use]
    pub fn distance(&self, point: DVec3, time: f64) -> f64 {
        self.normal.dot(point) - self.offset - self.rate * time
    }
}

/// Where flights come from.
pub trait Source {
    /// The next flight, or `None` when there are no more.
    fn next_flight(&mut self) -> Option<Flight>;
}

/// What flights are watched by.
pub trait Scene {
    /// Looks at a step that may matter and says how to go on.
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict;
    /// A flight ended by itself (deadline or failure); after
    /// [`Verdict::Stop`] this is not called.
    fn ended(&mut self, flight: &Flight, ending: Ending, time: f64, state: &State);
}

/// How a flight goes on after a look.
#[derive(Clone, Copy, Debug)]
pub enum Verdict {
    /// As if nothing had happened.
    Continue,
    /// It is over.
    Stop,
    /// From this state at this time (inside the step): a bounce, or what is
    /// left after a barrier.
    Redirect {
        /// When, in s.
        time: f64,
        /// The new state.
        state: State,
    },
}

/// Why a flight ended by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The deadline passed.
    Deadline,
    /// The step became too small, or a number was not finite: counted and
    /// reported, never hidden.
    Failed,
}
