//! The gates of a claim in order, and how far one draw got.
//!
//! A [`Claim`] is a scenario made ready to fly. For each draw it starts a
//! [`Course`]: the flight to be flown, what it is watched for, and in the end
//! the [`Outcome`].

mod aftermath;
mod blow;
mod breaches;
mod claim;
mod clock;
mod corner;
mod course;
mod encounter;
mod gates;
mod grounded;
mod gusts;
mod outcome;
mod outfit;
mod start;

pub use self::{
    breaches::{Among, Breach, Breaches},
    claim::Claim,
    course::Course,
    encounter::{Encounter, Kind, energy},
    outcome::Outcome,
};
