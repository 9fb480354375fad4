//! Random numbers by their address.
//!
//! A number is a pure function of (seed, domain, draw, slot): no state is
//! passed on, so any thread may make any draw, in any order, and find the same
//! numbers. An input's slot is a hash of its name: adding an input moves no
//! other, and two variants of a scenario share the numbers of the inputs that
//! they share.
//!
//! What walks a quantile takes [`Stream::uniform`], one number an input; what
//! draws from a distribution takes [`Stream::at`], a generator for `rand_distr`.

mod philox;
mod scrambled;
mod stream;
#[cfg(test)]
mod tests;

pub use self::{
    philox::Philox,
    scrambled::Scrambled,
    stream::{Domain, Stream, slot_of},
};
