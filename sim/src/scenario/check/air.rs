//! `air`: temperature, pressure, humidity and the wind.

use super::turbulence;
use crate::{
    diagnostic::Diagnostic,
    math::pow,
    quantity::Dimension,
    scenario::{Air, Terrain, Wind},
    text::{
        reader::{Reader, Table},
        row::{Group, Row, Unwritten, number, sub, value, word},
        what::What,
    },
};

const TERRAINS: [(&str, Terrain); 6] = [
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

pub(super) fn row() -> Row {
    let any = What::any;
    let wind = vec![
        number("speed", any(Dimension::Speed).within(0.0, 120.0), "Its mean at `height`."),
        number(
            "towards",
            any(Dimension::Angle),
            "Where it blows to: 0 deg downrange, 90 deg to the left.",
        )
        .or(0.0),
        number(
            "height",
            What::positive(Dimension::Length),
            "Above the ground, where the speed was told.",
        )
        .or(10.0),
        word("terrain", &TERRAINS, "How the wind grows with height.").may("`uniform`"),
        turbulence::row(),
    ];
    let air = vec![
        number(
            "temperature",
            any(Dimension::Temperature).within(180.0, 340.0),
            "Of the air; with an `altitude`, the standard's there.",
        )
        .or(TEMPERATURE),
        number(
            "pressure",
            any(Dimension::Pressure).within(2e4, 1.1e5),
            "Of the air; with an `altitude`, the standard's there.",
        )
        .or(PRESSURE),
        number("humidity", any(Dimension::Ratio), "Relative humidity.").or(HUMIDITY),
        value(
            "altitude",
            any(Dimension::Length).within(-430.0, 9000.0),
            "Height above the sea, in place of `pressure`.",
        )
        .may("sea level"),
        sub("wind", Group::new("The wind.", wind)).may("still air"),
    ];
    sub("air", Group::new("The air.", air)).may("the standard atmosphere at sea level")
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Air> {
    let table = match scenario.get("air") {
        Some(_) => reader.open(scenario, "air")?,
        None => scenario.empty("air"),
    };
    let altitude = altitude(reader, &table).unwrap_or(0.0);
    let temperature = Unwritten::Value(TEMPERATURE - 0.0065 * altitude);
    let pressure = Unwritten::Value(pressure_at(altitude));
    Some(Air {
        temperature: reader.number_or(&table, "temperature", temperature),
        pressure: reader.number_or(&table, "pressure", pressure),
        humidity: reader.number(&table, "humidity"),
        wind: wind(reader, &table),
    })
}

/// A plain height above the sea, which sets the pressure and temperature that
/// are not written.
fn altitude(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<f64> {
    let (key, _) = table.get("altitude")?;
    if table.get("pressure").is_some() {
        reader.report(
            Diagnostic::error("scenario::alternatives", "the air's pressure is given twice")
                .at(key.span.clone(), "`pressure` is there too")
                .help("keep `altitude` or `pressure`"),
        );
    }
    reader.value_of(table, "altitude")
}

/// Source: standard atmosphere, layer up to 11 km: p = p0 (T/T0)^5.25588 with
/// 6.5 K/km (a handbook's table read, see the test).
fn pressure_at(altitude: f64) -> f64 {
    PRESSURE * pow(1.0 - 0.0065 * altitude / TEMPERATURE, 5.255_88)
}

fn wind(reader: &mut Reader<'_>, air: &Table<'_>) -> Option<Wind> {
    let table = reader.open(air, "wind")?;
    let terrain = reader.word_of(&table, "terrain", "a kind of terrain", &TERRAINS);
    Some(Wind {
        speed: reader.number(&table, "speed"),
        towards: reader.number(&table, "towards"),
        height: reader.number(&table, "height"),
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
