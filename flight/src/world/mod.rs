//! The air and the wind.
//!
//! [`Air`] is the state of the air from temperature, pressure and humidity.
//! [`AirNow`] is one flight's air, wind included, in plain numbers.

mod air;
mod gusts;
mod standard;
mod terrain;
mod wake;
mod wind;

pub use self::{
    air::{Air, NOTE as AIR_NOTE},
    gusts::{FASTEST, GustLanes, Gusts, HIGHEST, NOTE as GUSTS_NOTE, NUMBERS, Turbulence, WEAKER},
    standard::{Height, standard_atmosphere},
    terrain::Terrain,
    wake::{Carrier, NOTE as WAKE_NOTE, Wake, WakeCurves},
    wind::{
        Disturbed, DisturbedLanes, DisturbedShared, MeanWind, NOTE as WIND_NOTE, Profiled, Wind,
        WindModel,
    },
};

use glam::DVec3;

/// One flight's air and wind: plain numbers, nothing uncertain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirNow {
    /// The air.
    pub air: Air,
    /// The mean wind.
    pub wind: MeanWind,
    /// What gusts add to it, if there are any. All flights of a run have some,
    /// or none has.
    pub gusts: Option<Gusts>,
    /// The wake of what the object came off, if it counts. All flights of a run
    /// have one, or none has.
    pub wake: Option<Wake>,
}

impl AirNow {
    /// Air that stands still.
    #[must_use]
    pub fn still(air: Air) -> Self {
        Self { air, wind: MeanWind::none(), gusts: None, wake: None }
    }

    /// Whether something disturbs the mean wind.
    #[must_use]
    pub(crate) fn is_disturbed(&self) -> bool {
        self.gusts.is_some() || self.wake.is_some()
    }

    /// The wind at a `place` (m) and a `time` (s after release), gusts and wake
    /// included, in m/s.
    #[must_use]
    pub fn wind_at(&self, place: DVec3, time: f64) -> DVec3 {
        let [x, y] = self.wind.at(place.z);
        let gust = self.gusts.map_or(DVec3::ZERO, |gusts| gusts.at(place, time));
        let [drawn_x, drawn_y] = self.wake.map_or([0.0; 2], |wake| wake.at(place, time));
        DVec3::new(x + gust.x + drawn_x, y + gust.y + drawn_y, gust.z)
    }
}
