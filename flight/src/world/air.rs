//! Density, viscosity and speed of sound of moist air.
//!
//! Assumes: one state of the air for the whole flight (its density falls by
//! 1 % per 100 m of height, which is ignored). Valid: -35 to 50 degC, 500 to 1100
//! hPa (see [`Air::is_confirmed`]); confirmed to 0.1 % from -10 to 35 degC by the
//! metrologists' formula, in the cold by the standard atmosphere. Ignores: the
//! effect of humidity on viscosity (below 1 %) and on the speed of sound
//! (below 0.4 %).

use crate::math::{exp, pow};
use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "air", claims: "How dense and how thick the air is" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "air",
    how: "density from temperature, pressure and humidity; viscosity by Sutherland's law",
    source: "CIPM-2007 (Picard et al., Metrologia 45 (2008) 149); US Standard Atmosphere 1976",
    kind: Kind::SecondHand,
    range: "-35 to 50 degC and 500 to 1100 hPa",
    leaves_out: "how the air changes on the way: one state of it all the flight long",
};

/// Specific gas constant of dry air, in J/(kg K).
///
/// Source: the simple form of moist air; its density is within 0.08 % of what
/// CIPM-2007 (second-hand) makes of the same air.
const DRY: f64 = 287.055;
/// Specific gas constant of water vapour, in J/(kg K). Source: as [`DRY`].
const VAPOUR: f64 = 461.52;
/// 0 degC, in K.
const ZERO_CELSIUS: f64 = 273.15;

/// The state of the air that matters to a flight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Density, in kg/m³.
    pub density: f64,
    /// Dynamic viscosity, in Pa s.
    pub viscosity: f64,
    /// Speed of sound, in m/s.
    pub sound: f64,
}

impl Air {
    /// Moist air: `temperature` in K, `pressure` in Pa, `humidity` 0..1.
    ///
    /// Source: ideal-gas mixture with the Magnus form of the vapour pressure, within
    /// 0.08 % of CIPM-2007 (second-hand) from -10 to 35 degC.
    #[must_use]
    pub fn moist(temperature: f64, pressure: f64, humidity: f64) -> Self {
        let celsius = temperature - ZERO_CELSIUS;
        let vapour = humidity * 611.2 * exp(17.62 * celsius / (243.12 + celsius));
        let density = (pressure - vapour) / (DRY * temperature) + vapour / (VAPOUR * temperature);
        Self {
            density,
            viscosity: sutherland(temperature),
            sound: (1.4 * DRY * temperature).sqrt(),
        }
    }

    /// Whether the formulae are confirmed for air like this: the vapour's is for
    /// water, not ice (-45 to 60 degC, from memory), the density was compared with
    /// published values from -18 to 35 degC and from 540 to 1013 hPa.
    #[must_use]
    pub fn is_confirmed(temperature: f64, pressure: f64) -> bool {
        let celsius = temperature - ZERO_CELSIUS;
        (-35.0..=50.0).contains(&celsius) && (5e4..=1.1e5).contains(&pressure)
    }

    /// No air at all: for closed forms.
    #[must_use]
    pub fn vacuum() -> Self {
        Self { density: 0.0, ..Self::moist(288.15, 101_325.0, 0.0) }
    }

    /// Reynolds number of a body of this `length` (m) at this `speed` (m/s).
    #[must_use]
    pub fn reynolds(&self, length: f64, speed: f64) -> f64 {
        self.density * speed * length / self.viscosity
    }
}

/// Dynamic viscosity in Pa s at `temperature` in K.
///
/// Source: US Standard Atmosphere 1976, Sutherland's formula.
#[must_use]
pub(super) fn sutherland(temperature: f64) -> f64 {
    1.458e-6 * pow(temperature, 1.5) / (temperature + 110.4)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: CIPM-2007 (Picard, Davis, Glaeser, Fujii 2008, Metrologia
    /// 45:149) by its equations; the simple form's own values are derived.
    #[test]
    fn density_is_within_a_thousandth_of_the_metrologists_formula() {
        let table = [
            (20.0, 101_325.0, 0.5, 1.199_314, 1.198_858),
            (20.0, 101_325.0, 0.0, 1.204_557, 1.204_097),
            (15.0, 101_325.0, 0.0, 1.225_521, 1.224_991),
            (27.0, 100_000.0, 1.0, 1.145_413, 1.145_032),
            (20.0, 75_000.0, 0.5, 0.886_277, 0.886_024),
        ];
        for (celsius, pressure, humidity, cipm, simple) in table {
            let air = Air::moist(celsius + 273.15, pressure, humidity);
            assert!((air.density / cipm - 1.0).abs() < 1e-3);
            assert!((air.density / simple - 1.0).abs() < 2e-6, "{}", air.density);
        }
    }

    /// Source: US Standard Atmosphere 1976, table rows at 0, 5 and 11 km
    /// (geopotential): dry air far colder than the formula is stated for.
    #[test]
    fn cold_air_is_as_dense_as_the_standard_atmosphere_has_it() {
        for (kelvin, pascal, wanted) in [
            (288.15, 101_325.0, 1.225),
            (255.65, 54_019.9, 0.736_115),
            (216.65, 22_632.06, 0.363_918),
        ] {
            let density = Air::moist(kelvin, pascal, 0.0).density;
            assert!((density / wanted - 1.0).abs() < 1e-4, "{kelvin}: {density}");
        }
    }

    #[test]
    fn air_outside_of_what_was_compared_is_not_confirmed() {
        assert!(Air::is_confirmed(288.15, 101_325.0) && Air::is_confirmed(239.0, 9e4));
        assert!(!Air::is_confirmed(237.0, 9e4) && !Air::is_confirmed(325.0, 9e4));
        assert!(!Air::is_confirmed(288.15, 4e4) && !Air::is_confirmed(288.15, 1.2e5));
    }

    /// Source: US Standard Atmosphere 1976, table rows at 0, 5 and 11 km.
    #[test]
    fn viscosity_follows_the_standard_atmosphere() {
        for (kelvin, wanted) in
            [(288.15, 1.789_38e-5), (255.65, 1.628_12e-5), (216.65, 1.421_61e-5)]
        {
            assert!((sutherland(kelvin) / wanted - 1.0).abs() < 5e-6);
        }
    }

    /// Source: US Standard Atmosphere 1976, 340.294 m/s at 288.15 K.
    #[test]
    fn sound_is_as_fast_as_the_standard_says() {
        assert!((Air::moist(288.15, 101_325.0, 0.0).sound - 340.294).abs() < 2e-3);
    }
}
