//! The gates of a claim in order, and how far one draw got.

mod outcome;

pub use self::outcome::{Breaches, Outcome};
