//! Free flight of rigid bodies, many side by side.
//!
//! [`fly`] takes flights from a [`Source`], advances them in lanes with an
//! adaptive step each, and shows a [`Scene`] every step that may matter to it.
//! A lane whose flight ends takes the next one from the source. What a flight
//! does never depends on its neighbours: the same flight gives the same bits
//! alone and in company, on one processor family.

mod plan;
mod state;

pub use self::{
    plan::{Ending, Flight, Plane, Scene, Source, Verdict, Watch, Zone},
    state::State,
};
