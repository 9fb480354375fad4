//! How the object starts to move: from a release and a row to a state.
//!
//! One variant of [`crate::scenario::Release`], one file here. Each says where
//! the body is, how it is turned, how fast it goes, and whether it comes loose
//! at all. Beside them the mechanics of coming loose: pulses, sliding, lashings,
//! lift-off, and what two bodies do to each other.

mod blown;
pub mod collision;
mod dropped;
pub mod lashing;
mod launched;
pub mod loosen;
mod pose;
mod pulse;
pub mod ride;
mod shed;
pub mod topple;

pub(crate) use self::{blown::NOTE as LIFT_OFF_NOTE, shed::carrier};
pub use self::{
    collision::collide,
    pulse::{Pulse, PulseShape},
};

use crate::{
    body::Body,
    flight::State,
    scenario::{InputId, Place, Release},
    world::{AirNow, Wake},
};
use glam::DVec3;

/// How a draw starts.
#[derive(Clone, Copy, Debug)]
pub struct Start {
    /// State at time 0.
    pub state: State,
    /// By how much what holds the object beats what pulls at it, in N; 0 or
    /// less: it comes loose.
    pub held_by: f64,
    /// Did it tip over before it slid?
    pub tips: bool,
    /// Share of its carrier's speed that it takes with it, if a carrier had to
    /// shake it loose.
    pub kept: Option<f64>,
    /// The wake of its carrier, if that counts.
    pub wake: Option<Wake>,
}

/// The start of one draw.
///
/// `row`: the draw's values, one per input, SI. `body` and `air`: this draw's
/// own, for releases that depend on weight and wind; the air as it is where no
/// carrier disturbs it.
#[must_use]
pub fn start(release: &Release, row: &[f64], body: &Body, air: &AirNow) -> Start {
    match release {
        Release::Launched(launched) => loose(launched::state(launched, row)),
        Release::Dropped(dropped) => loose(dropped::state(dropped, row)),
        Release::Shed(shed) => shed::start(shed, row, body, air),
        Release::Blown(blown) => blown::start(blown, row, body, air),
    }
}

fn loose(state: State) -> Start {
    Start { state, held_by: 0.0, tips: false, kept: None, wake: None }
}

fn value(row: &[f64], id: InputId) -> f64 {
    row[id.0]
}

fn point(row: &[f64], place: &Place) -> DVec3 {
    DVec3::new(value(row, place[0]), value(row, place[1]), value(row, place[2]))
}
