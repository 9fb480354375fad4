//! The air and the wind.

use super::InputId;

/// The air: inputs in K, Pa, 0..1, and the wind if any.
#[derive(Clone, Debug)]
pub struct Air {
    /// Temperature, in K.
    pub temperature: InputId,
    /// Static pressure, in Pa.
    pub pressure: InputId,
    /// Relative humidity, 0..1.
    pub humidity: InputId,
    /// The wind, if any.
    pub wind: Option<Wind>,
}

/// The mean wind.
#[derive(Clone, Debug)]
pub struct Wind {
    /// Speed at the reference height, in m/s, >= 0.
    pub speed: InputId,
    /// Direction it blows to, from x towards y, in rad.
    pub towards: InputId,
    /// Reference height of `speed` above the ground, in m, > 0.
    pub height: InputId,
    /// How it changes with height.
    pub terrain: Terrain,
}

/// Ground cover, by EN 1991-1-4 terrain category; it sets the wind profile.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Terrain {
    /// The same wind at every height.
    #[default]
    Uniform,
    /// Category 0, sea (z0 0.003 m).
    Sea,
    /// Category I, lakes or bare flat ground (z0 0.01 m).
    Flat,
    /// Category II, open country (z0 0.05 m).
    Open,
    /// Category III, suburb or forest (z0 0.3 m).
    Suburb,
    /// Category IV, town centre (z0 1 m).
    Town,
}
