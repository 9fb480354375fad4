//! From counts and values to estimates that carry their doubt.
//!
//! Everything here takes numbers and gives numbers; nothing knows what was
//! simulated.

mod anytime;
mod beta;
mod beta_binomial;
mod binomial;
mod bins;
mod bottom_k;
mod gamma;
mod histogram;
mod input_tally;
mod moments;
mod paired;
mod proportion;
mod quantile;
pub mod rare;
mod reweigh;
mod root;
mod settled;
mod sketch;
mod stopping;
mod student;
mod two_level;
mod weighted;

pub(crate) use self::proportion::NOTE;
pub use self::{
    anytime::anytime,
    beta::{beta_quantile, incomplete_beta, ln_beta},
    beta_binomial::BetaBinomial,
    binomial::{binomial_cdf, binomial_probability, binomial_quantile},
    bottom_k::BottomK,
    gamma::{gamma_quantile, incomplete_gamma},
    histogram::{Bars, Histogram},
    input_tally::{BINS, InputTally, bin_edge, bin_of},
    moments::Moments,
    paired::Paired,
    proportion::{LEVEL, Proportion},
    quantile::{quantile, quantile_interval},
    reweigh::{Reweighed, reweigh},
    root::{Answer, Crossing, RootSearch, Roots, Verdict, roots},
    settled::{Settled, settled},
    sketch::Sketch,
    stopping::{Decision, Stopping, THIRD},
    student::student_quantile,
    two_level::{Band, Group, Shape, Sides, Stratum, World, Worlds},
    weighted::WeightedCount,
};
