//! What the stepper is asked to do, and what it reports.

use super::{State, Step, Watch};
use crate::{aero::Coefficients, body::Body, world::AirNow};

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
