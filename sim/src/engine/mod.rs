//! Many draws on all cores: rayon over fixed chunks, one mergeable tally.
//!
//! Draw `i` is a pure function of (seed, `i`, the input's own slot), chunks
//! are fixed, and a [`Tally`] holds whole numbers only, so that merging is
//! exact in any order: the answer is the same to the bit for any number of
//! threads and for shards merged.

mod arrivals;
mod audit;
mod draws;
mod enough;
mod flock;
mod groups;
mod limit;
mod measure;
mod nearest;
mod one;
mod order;
mod record;
mod refly;
mod run;
mod tally;
mod tune;
mod watched;

pub(crate) use self::enough::run_on;
pub use self::{
    arrivals::{Arrivals, arrivals},
    audit::{Audit, audit},
    draws::{Draws, Rows},
    enough::{SETTLING, Stop, run_until},
    flock::{Flock, fly_rows},
    groups::grouped,
    limit::ClaimState,
    measure::Measure,
    nearest::Nearest,
    one::fly_one,
    order::{Change, Order},
    record::{Path, record},
    refly::{ENERGY_BUDGET, OUTSIDE_ONE_IN, POINT_BUDGET, StepCheck, check_steps},
    run::{Progress, Unwatched, run, run_held, run_picking},
    tally::{Crossing, OnFace, Tally},
    tune::tuned,
    watched::Watched,
};
