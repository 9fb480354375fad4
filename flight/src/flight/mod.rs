//! Free flight of rigid bodies, many side by side.
//!
//! [`fly()`] takes flights from a [`Source`], advances them in lanes with an
//! adaptive step each, and shows a [`Scene`] every step that may matter to it.
//! A lane whose flight ends takes the next one from the source. What a flight
//! does never depends on its neighbours: the same flight gives the same bits
//! alone and in company, on one processor family.
//!
//! ```text
//! plan     what is asked and reported     motion  the equations
//! fly      seats, looks, verdicts         turn    one step of a block
//! step     one step, for a scene          near    which steps matter
//! path     where a step cannot leave      watch   what a scene asks to see
//! tableau  the method's numbers
//! ```

mod fly;
mod motion;
mod near;
mod path;
mod plan;
mod state;
mod step;
mod tableau;
mod turn;
mod watch;

#[cfg(test)]
mod tests;

pub use self::{
    fly::fly,
    motion::GRAVITY,
    path::Path,
    plan::{Ending, Flight, Last, Scene, Settings, Source, Verdict, Work},
    state::State,
    step::Step,
    watch::{Plane, Watch, Zone},
};
pub use crate::lane::Family;
