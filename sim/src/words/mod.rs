//! Numbers in words: the one room that turns a number into what a reader sees,
//! on the terminal, the page, the camera frames and the test-day sheet.
//!
//! A share, a bound, an interval, a quantity and a count have one function and
//! one rule for their digits each. A [`Voice`] says for whom: in whose units,
//! and in plain text or in type. It stands low in the house, so that whoever
//! computes a number and has to say it says it as everybody else does.

mod change;
mod count;
mod interval;
mod likelihood;
mod share;
mod voice;

pub use self::{
    change::change,
    count::{count, count_of},
    interval::{Interval, interval},
    likelihood::{Likelihood, likelihood},
    share::Spoken,
    voice::{Lettering, Voice, capital},
};
