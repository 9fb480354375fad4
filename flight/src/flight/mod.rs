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

use crate::note::{Kind, Note, Subject};
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

/// Its section of the page of trust.
const SUBJECT: Subject =
    Subject { key: "motion", claims: "How a rigid body moves under forces and moments" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "motion",
    how: "rigid body with six degrees of freedom, quaternion attitude; Tsitouras 5(4) pairs with an adaptive step for each flight",
    source: "Tsitouras, Computers & Mathematics with Applications 62 (2011) 770; Euler's equations of rigid-body motion (derived)",
    kind: Kind::Derived,
    range: "the object keeps its shape and its mass; the step error of this run is measured (see the doubts)",
    leaves_out: "",
};

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
