//! What the stepper is asked to do, and what it reports.

use super::{State, Step, Watch};
use crate::{
    aero::{Coefficients, Extremes},
    body::Body,
    lane::Family,
    world::AirNow,
};

/// Most steps of a flight: many times what anything takes that comes down in
/// seconds, about a twentieth of a second's work (measured). A chip of some
/// millimetres that tumbles hundreds of times a second from a tower takes more.
const MOST_STEPS: f64 = 100_000.0;

/// How accurately, and on what, flights are flown.
#[derive(Clone, Copy, Debug)]
pub struct Settings {
    /// Allowed error per step, about in m, m/s and rad; see `turn`. The default
    /// keeps the error budget.
    pub tolerance: f64,
    /// Steps are this much as long, about (0.5: the check at half the step).
    pub step_scale: f64,
    /// Most steps of a flight, refused ones included; at half the step twice as
    /// many. What would take more ends as [`Ending::Spent`].
    pub most_steps: f64,
    /// Which instructions to use; those that the machine lacks are replaced by
    /// the next best.
    pub family: Family,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            tolerance: 1e-6,
            step_scale: 1.0,
            most_steps: MOST_STEPS,
            family: Family::of_this_machine(),
        }
    }
}

/// What flying took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Work {
    /// Flights begun.
    pub flights: u64,
    /// Accepted steps.
    pub steps: u64,
    /// Refused steps.
    pub rejected: u64,
    /// Evaluations of the equations of motion.
    pub evaluations: u64,
}

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

impl Flight {
    /// Kinetic energy of what flies, turning included, in J.
    #[must_use]
    pub fn kinetic_energy(&self, state: &State) -> f64 {
        self.body.kinetic_energy(state.velocity, state.rates)
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
    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last);
}

/// Where a flight was when it ended by itself.
#[derive(Clone, Copy, Debug)]
pub struct Last {
    /// When, in s after release.
    pub time: f64,
    /// Its state then.
    pub state: State,
    /// See [`Step::extremes`].
    pub extremes: Extremes,
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
    /// It took more steps than a flight is given ([`Settings::most_steps`]).
    Spent,
}
