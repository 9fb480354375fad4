//! The air and the wind.
//!
//! [`Air`] is the state of the air from temperature, pressure and humidity.
//! [`AirNow`] is one flight's air, wind included, in plain numbers.

mod air;
mod gusts;
mod standard;
mod terrain;
mod wind;

pub use self::{
    air::Air,
    gusts::{FASTEST, Gusts, NUMBERS, Turbulence},
    standard::{Height, standard_atmosphere},
    terrain::Terrain,
    wind::{MeanWind, Profiled, Wind, WindModel},
};

/// One flight's air and wind: plain numbers, nothing uncertain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirNow {
    /// The air.
    pub air: Air,
    /// The wind.
    pub wind: MeanWind,
}

impl AirNow {
    /// Air that stands still.
    #[must_use]
    pub fn still(air: Air) -> Self {
        Self { air, wind: MeanWind::none() }
    }
}
