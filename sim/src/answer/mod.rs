//! What is said of a record: the answer in sentences, for whoever reads it.
//!
//! A record holds numbers; every sentence about them is made here, with the
//! words of [`crate::words`], for terminal and page alike.

mod doubt;
mod enough;
mod founded;
mod gate;
mod ground;
mod happens;
mod judged;
mod next;
mod shots;
mod story;
mod summary;
mod understood;
mod what_if;

pub use self::{
    enough::{enough, how},
    founded::well_founded,
    gate::{face, gate_in_words, margin},
    happens::{bounces, energy, reading, shaky},
    judged::{Conditions, Judged, gate_chance, gate_ends},
    shots::Sayable,
    story::most_likely,
    summary::{Summary, in_words, summary, weakest, why_at_most},
    understood::understood,
    what_if::{Changed, what_if},
};
