//! The public benchmark of longodds.
//!
//! ```text
//! problems  what is flown      export  the same for the peers
//! single    our stepper alone  bare    the least that a stepper could do
//! orders    one line in, one line out, as the peers in `bench/peers` do
//! clock     CPU-seconds and memory
//! rare      problems with known chances for the rare-event search
//! ```

mod bare;
mod clock;
mod export;
mod orders;
mod problems;
pub mod rare;
mod single;

pub use self::{
    bare::{BareFlight, fly_bare},
    clock::{cpu_seconds, peak_kib},
    export::export,
    orders::{Peer, serve},
    problems::{Aim, Problem, claim},
    single::{Landing, fly_single},
};
