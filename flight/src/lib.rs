//! Free flight: what flies, the air it flies through, and the stepper over
//! lanes.
//!
//! The lowest part of the engine, in a crate of its own because it is the one
//! that takes long to build: every shape and wind is compiled for every
//! processor family. `longodds-sim` hands its modules on under their own names.
//!
//! All quantities are `f64` in SI base or coherent derived units. The crate
//! knows no scenario, no randomness and no statistics.

pub mod aero;
pub mod body;
pub mod flight;
pub mod lane;
pub mod math;
pub mod note;
pub mod world;
