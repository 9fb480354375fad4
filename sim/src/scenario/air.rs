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
    /// The gusts within a flight, if they count.
    pub turbulence: Option<Turbulence>,
}

/// Gusts within a flight.
#[derive(Clone, Copy, Debug)]
pub struct Turbulence {
    /// How strong and how wide they are.
    pub size: GustSize,
    /// Standard deviation of gusts across the wind over that along it.
    pub across: InputId,
    /// Standard deviation of gusts upwards over that along the wind.
    pub upwards: InputId,
    /// The gusts that a flight starts in, along the wind, across it (to its left) and
    /// upwards, in standard deviations.
    pub at_release: [InputId; 3],
    /// Which history of gusts comes after it: a number drawn by lot, and no
    /// amount.
    pub later: InputId,
}

/// How strong and how wide gusts are.
#[derive(Clone, Copy, Debug)]
pub enum GustSize {
    /// As the standard has it for the terrain and the height of the release.
    ByTerrain,
    /// As told.
    Told {
        /// Standard deviation over mean speed, at the wind's reference height.
        intensity: InputId,
        /// Length scale along the wind, in m.
        scale: InputId,
    },
}
