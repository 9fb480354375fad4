//! How often it happens, and how much of that we do not know.
//!
//! Some inputs vary from event to event, others have one value that is not
//! known to us. A *world* is one choice of all that is not known: in it the
//! claim has a chance that a witness could count. [`Worlds`] are many of them,
//! weighed by what is thought possible; over them the chance has a mean, which
//! is the chance of the claim, and a [`Band`].
//!
//! Three ways lead to worlds: the same blows judged anew in each
//! ([`Worlds::reused`]), flights in groups smoothed over the unknowns, and the
//! groups' own shares freed of the noise of counting ([`Worlds::grouped`]).

mod band;
mod groups;
mod probit;
mod reused;
mod shares;
#[cfg(test)]
mod tests;
mod worlds;

pub use self::{
    band::Band,
    groups::Stratum,
    shares::Group,
    worlds::{Shape, Sides, World, Worlds},
};

/// Resamples behind each interval.
const RESAMPLES: usize = 200;
