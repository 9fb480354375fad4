//! The US Standard Atmosphere 1976 by height.
//!
//! Valid: 0 to 32 km geopotential height; heights below the sea continue the
//! lowest layer.

use super::air::{Air, sutherland};
use crate::math::{exp, pow};

/// Standard gravity, in m/s².
const GRAVITY: f64 = 9.806_65;
/// Specific gas constant of dry air, in J/(kg K): 8314.32 / 28.9644.
const GAS: f64 = 8314.32 / 28.9644;
/// Radius of the earth of the standard, in m.
const EARTH: f64 = 6_356_766.0;

/// A height above the sea. The two differ by 4 m at 5 km.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Height {
    /// As on a map, in m.
    Geometric(f64),
    /// Geopotential, in which the standard is written, in m.
    Geopotential(f64),
}

impl Height {
    fn geopotential(self) -> f64 {
        match self {
            Self::Geometric(z) => EARTH * z / (EARTH + z),
            Self::Geopotential(h) => h,
        }
    }
}

/// One layer: base height (m), temperature there (K), lapse (K/m), pressure
/// there (Pa).
const LAYERS: [[f64; 4]; 3] = [
    [0.0, 288.15, -0.0065, 101_325.0],
    [11_000.0, 216.65, 0.0, 22_632.06],
    [20_000.0, 216.65, 0.001, 5_474.89],
];

/// The air at a height, with its temperature in K and pressure in Pa;
/// `None` above 32 km.
///
/// Source: US Standard Atmosphere 1976, equations of the layers.
#[must_use]
pub fn standard_atmosphere(height: Height) -> Option<(Air, f64, f64)> {
    let h = height.geopotential();
    if h.is_nan() || h > 32_000.0 {
        return None;
    }
    let [base, base_temperature, lapse, base_pressure] =
        LAYERS.into_iter().rev().find(|layer| h >= layer[0]).unwrap_or(LAYERS[0]);
    let temperature = base_temperature + lapse * (h - base);
    let ratio = if lapse.abs() > 0.0 {
        pow(base_temperature / temperature, GRAVITY / (GAS * lapse))
    } else {
        exp(-GRAVITY * (h - base) / (GAS * base_temperature))
    };
    let pressure = base_pressure * ratio;
    let air = Air {
        density: pressure / (GAS * temperature),
        viscosity: sutherland(temperature),
        sound: (1.4 * GAS * temperature).sqrt(),
    };
    Some((air, temperature, pressure))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, wanted: f64) -> bool {
        (got / wanted - 1.0).abs() < 1e-5
    }

    /// Source: US Standard Atmosphere 1976, geopotential rows.
    #[test]
    fn the_rows_of_the_standard_come_back() {
        let table = [
            (0.0, 288.15, 101_325.0, 1.225, 1.789_38e-5, 340.294),
            (1000.0, 281.65, 89_874.6, 1.111_64, 1.757_85e-5, 336.434),
            (2000.0, 275.15, 79_495.2, 1.006_49, 1.725_96e-5, 332.529),
            (5000.0, 255.65, 54_019.9, 0.736_115, 1.628_12e-5, 320.530),
            (11_000.0, 216.65, 22_632.06, 0.363_918, 1.421_61e-5, 295.070),
            (20_000.0, 216.65, 5_474.89, 0.088_034_8, 1.421_61e-5, 295.070),
        ];
        for (h, t, p, density, viscosity, sound) in table {
            let (air, temperature, pressure) =
                standard_atmosphere(Height::Geopotential(h)).unwrap();
            assert!(close(temperature, t) && close(pressure, p) && close(air.density, density));
            assert!(close(air.viscosity, viscosity) && close(air.sound, sound));
        }
    }

    /// Source: US Standard Atmosphere 1976, geometric rows.
    #[test]
    fn a_height_on_the_map_is_not_a_geopotential_height() {
        let table = [
            (1000.0, 89_876.3, 1.111_66),
            (5000.0, 54_048.3, 0.736_428),
            (11_000.0, 22_699.96, 0.364_802),
            (20_000.0, 5_529.31, 0.088_909_9),
        ];
        for (z, p, density) in table {
            let (air, _, pressure) = standard_atmosphere(Height::Geometric(z)).unwrap();
            assert!(close(pressure, p) && close(air.density, density));
        }
    }

    #[test]
    fn above_the_table_there_is_no_answer() {
        assert!(standard_atmosphere(Height::Geopotential(32_001.0)).is_none());
        assert!(standard_atmosphere(Height::Geopotential(f64::NAN)).is_none());
    }
}
