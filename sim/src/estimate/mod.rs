//! From counts and values to estimates that carry their doubt.
//!
//! Everything here takes numbers and gives numbers; nothing knows what was
//! simulated.

mod beta;
mod beta_binomial;
mod binomial;
mod fisher;
mod likelihood;
mod proportion;
mod student;

pub use self::{
    beta::{beta_quantile, incomplete_beta, ln_beta},
    beta_binomial::BetaBinomial,
    binomial::{binomial_cdf, binomial_probability, binomial_quantile},
    fisher::{Fisher, fisher_exact},
    likelihood::{one_in, word},
    proportion::{LEVEL, Proportion},
    student::{student_cdf, student_quantile},
};
