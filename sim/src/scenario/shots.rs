//! What a scenario asks of a log of real shots.
//!
//! Logs are read and fitted by modules that stand above the scenario; whoever
//! reads a scenario that names one hands them in as [`Shots`].

use super::{Demand, NoRigs, Rigs};

/// Shots that a barrier may be fitted from.
pub trait Shots {
    /// Fits a barrier's strength from the text of a log; `measure`: in what, or
    /// as the log allows.
    ///
    /// # Errors
    ///
    /// What is wrong with the log, and in which line.
    fn fit(&self, text: &str, measure: Option<Demand>) -> Result<Fitted, String>;
}

/// A barrier's strength from shots; all in J or m/s.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// What it is measured in.
    pub demand: Demand,
    /// Demand that half of the blows go through at: what the shots leave open,
    /// from 5 to 95 %.
    pub median: [f64; 2],
    /// Standard deviation of the logarithm from shot to shot.
    pub spread: f64,
    /// Shots that speak of the barrier.
    pub shots: u64,
    /// Of them those that went through.
    pub through: u64,
    /// The hardest blow among them.
    pub hardest: f64,
}

/// No shots: a scenario that names a log cannot be read.
#[derive(Clone, Copy, Debug)]
pub struct NoShots;

impl Shots for NoShots {
    fn fit(&self, _text: &str, _measure: Option<Demand>) -> Result<Fitted, String> {
        Err("no shots can be read here".to_owned())
    }
}

/// What stands above a scenario and may be called on by it.
#[derive(Clone, Copy)]
pub struct Aids<'a> {
    /// Launchers.
    pub rigs: &'a dyn Rigs,
    /// Logs of shots.
    pub shots: &'a dyn Shots,
}

impl Aids<'static> {
    /// Nothing to call on.
    pub const NONE: Self = Self { rigs: &NoRigs, shots: &NoShots };
}

impl std::fmt::Debug for Aids<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Aids")
    }
}
