//! `air`: temperature, pressure, humidity and the wind.

use super::{
    reader::{Reader, Table},
    turbulence,
    what::What,
};
use crate::{
    diagnostic::Diagnostic,
    math::pow,
    quantity::Dimension,
    scenario::{Air, Terrain, Wind},
    uncertain::Distribution,
};

pub(in crate::scenario) const KEYS: [&str; 5] =
    ["temperature", "pressure", "humidity", "altitude", "wind"];
pub(in crate::scenario) const WIND_KEYS: [&str; 5] =
    ["speed", "towards", "height", "terrain", "turbulence"];
pub(in crate::scenario) const TERRAINS: [(&str, Terrain); 6] = [
    ("uniform", Terrain::Uniform),
    ("sea", Terrain::Sea),
    ("flat", Terrain::Flat),
    ("open", Terrain::Open),
    ("suburb", Terrain::Suburb),
    ("town", Terrain::Town),
];

/// Air where the user says nothing: 15 degC, 101325 Pa. Source: standard
/// atmosphere at sea level (Mechanical Engineers' Handbook, vol. 4, table 6, read).
const TEMPERATURE: f64 = 288.15;
const PRESSURE: f64 = 101_325.0;
/// Common practice, no source; it changes the density by half a per cent.
const HUMIDITY: f64 = 0.5;

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Air> {
    let Some((key, node)) = scenario.get("air") else {
        return Some(still(reader, scenario));
    };
    let table = reader.table(node, &key.span, "air", &KEYS)?;
    let altitude = altitude(reader, &table).unwrap_or(0.0);
    let temperature = What::any(Dimension::Temperature).or(TEMPERATURE - 0.0065 * altitude);
    let pressure = What::any(Dimension::Pressure).within(2e4, 1.1e5).or(pressure_at(altitude));
    Some(Air {
        temperature: reader.number(&table, "temperature", temperature.within(180.0, 340.0)),
        pressure: reader.number(&table, "pressure", pressure),
        humidity: reader.number(&table, "humidity", What::any(Dimension::Ratio).or(HUMIDITY)),
        wind: wind(reader, &table),
    })
}

fn still(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Air {
    let mut assume = |name: &str, dimension, value| {
        let place = scenario.at.clone();
        reader.assume(format!("air.{name}"), dimension, Distribution::fixed(value), place)
    };
    Air {
        temperature: assume("temperature", Dimension::Temperature, TEMPERATURE),
        pressure: assume("pressure", Dimension::Pressure, PRESSURE),
        humidity: assume("humidity", Dimension::Ratio, HUMIDITY),
        wind: None,
    }
}

/// A plain height above the sea, which sets the pressure and temperature that
/// are not written.
fn altitude(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<f64> {
    let (key, node) = table.get("altitude")?;
    if table.get("pressure").is_some() {
        reader.report(
            Diagnostic::error("scenario::alternatives", "the air's pressure is given twice")
                .at(key.span.clone(), "`pressure` is there too")
                .help("keep `altitude` or `pressure`"),
        );
    }
    reader.value(node, &key.span, What::any(Dimension::Length).within(-430.0, 9000.0))
}

/// Source: standard atmosphere, layer up to 11 km: p = p0 (T/T0)^5.25588 with
/// 6.5 K/km (a handbook's table read, see the test).
fn pressure_at(altitude: f64) -> f64 {
    PRESSURE * pow(1.0 - 0.0065 * altitude / TEMPERATURE, 5.255_88)
}

fn wind(reader: &mut Reader<'_>, air: &Table<'_>) -> Option<Wind> {
    let (key, node) = air.get("wind")?;
    let table = reader.table(node, &key.span, "air.wind", &WIND_KEYS)?;
    let terrain = table
        .get("terrain")
        .and_then(|(key, node)| reader.word(node, &key.span, "a kind of terrain", &TERRAINS));
    let speed = What::not_negative(Dimension::Speed).within(0.0, 120.0);
    Some(Wind {
        speed: reader.number(&table, "speed", speed),
        towards: reader.number(&table, "towards", What::any(Dimension::Angle).or(0.0)),
        height: reader.number(&table, "height", What::positive(Dimension::Length).or(10.0)),
        terrain: terrain.unwrap_or_default(),
        turbulence: turbulence::read(reader, &table, terrain.unwrap_or_default()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Mechanical Engineers' Handbook, vol. 4, table 6 (read): 0.8988 bar
    /// at 1000 m, 0.7012 bar at 3000 m, both geometric.
    #[test]
    fn pressure_falls_with_altitude_as_in_the_standard_atmosphere() {
        assert!((pressure_at(0.0) - 101_325.0).abs() < 1e-9);
        assert!((pressure_at(1000.0) - 89_875.0).abs() < 10.0);
        assert!((pressure_at(3000.0) - 70_115.0).abs() < 20.0);
    }
}
