//! The air and the wind.

use super::InputId;
pub use crate::world::Terrain;

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
