//! What a scenario asks of a launcher.
//!
//! Launchers are read with the scenario's own reader and so stand above it;
//! whoever reads a scenario that fires one hands them in as [`Rigs`].

/// Launchers that a scenario may name.
pub trait Rigs {
    /// Fires the rig of a file's text at a setting as written ("6 ft").
    ///
    /// # Errors
    ///
    /// Which of the two is wrong, and why.
    fn fire(&self, text: &str, setting: &str) -> Result<Fired, Refused>;
}

/// What leaves a rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Fired {
    /// The rig's name.
    pub name: String,
    /// Mass that the rig is told to throw, in kg.
    pub mass: f64,
    /// Median speed, in m/s, > 0.
    pub speed: f64,
    /// Standard deviation of ln(speed) from shot to shot.
    pub varying: f64,
    /// Standard deviation of ln(speed) that all its shots share.
    pub unknown: f64,
}

/// Why a rig does not fire.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refused {
    /// Its file is wrong.
    File(String),
    /// The setting is wrong.
    Setting(String),
}

/// No launchers: a scenario that names one cannot be read.
#[derive(Clone, Copy, Debug)]
pub struct NoRigs;

impl Rigs for NoRigs {
    fn fire(&self, _text: &str, _setting: &str) -> Result<Fired, Refused> {
        Err(Refused::File("no launchers are known here".to_owned()))
    }
}
