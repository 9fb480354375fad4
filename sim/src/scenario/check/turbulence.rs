//! `air.wind.turbulence`: gusts within a flight.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    scenario::{GustSize, Input, InputId, Terrain, Turbulence},
    text::yaml::Value,
    uncertain::Distribution,
    world::WEAKER,
};

/// The word for what the standard has for the terrain.
pub(in crate::scenario) const BY_TERRAIN: &str = "by_terrain";
pub(in crate::scenario) const NEEDED: [&str; 2] = ["intensity", "scale"];
pub(in crate::scenario) const KEYS: [&str; 4] = ["intensity", "scale", "across", "upwards"];

/// The gusts of a wind over this terrain, if they are told.
pub(super) fn read(
    reader: &mut Reader<'_>,
    wind: &Table<'_>,
    terrain: Terrain,
) -> Option<Turbulence> {
    let (key, node) = wind.get("turbulence")?;
    let path = wind.path_of("turbulence");
    let weaker = |reader: &mut Reader<'_>, table: Option<&Table<'_>>, i: usize| {
        let (name, usual) = (["across", "upwards"][i], WEAKER[i]);
        match table {
            Some(table) => {
                let what = What::any(Dimension::Number).within(0.0, 2.0).or(usual);
                reader.number(table, name, what)
            }
            None => reader.assume(
                format!("{path}.{name}"),
                Dimension::Number,
                Distribution::fixed(usual),
                key.span.clone(),
            ),
        }
    };
    let (size, across, upwards) = if let Value::Text(_) = node.value {
        let words = [(BY_TERRAIN, GustSize::ByTerrain)];
        let size = reader.word(node, &key.span, "`by_terrain` or a group of keys", &words)?;
        if terrain == Terrain::Uniform {
            reader.report(
                Diagnostic::error("scenario::sense", "gusts by terrain need a terrain")
                    .at(node.span.clone(), "over uniform ground there is nothing to make them")
                    .help("name a `terrain`, or write `{intensity: 15 %, scale: 60 m}`"),
            );
        }
        (size, weaker(reader, None, 0), weaker(reader, None, 1))
    } else {
        let table = reader.table(node, &key.span, &path, &KEYS)?;
        let intensity = What::not_negative(Dimension::Ratio).within(0.0, 0.5);
        let scale = What::positive(Dimension::Length).within(1.0, 1000.0);
        let size = GustSize::Told {
            intensity: needed(reader, &table, "intensity", intensity, "15 %"),
            scale: needed(reader, &table, "scale", scale, "60 m"),
        };
        (size, weaker(reader, Some(&table), 0), weaker(reader, Some(&table), 1))
    };
    let normal = Distribution::normal(0.0, 1.0).ok()?;
    let mut starts = |name: &str, written: &str| {
        let name = format!("{path}.{name}");
        drawn(reader, name, Dimension::Number, normal.clone(), written, &key.span)
    };
    let at_release = [
        starts("at_release", "the gust it starts in, in standard deviations of the gusts"),
        starts("across_at_release", "the gust across the wind that it starts in, likewise"),
        starts("upwards_at_release", "the gust upwards that it starts in, likewise"),
    ];
    Some(Turbulence {
        size,
        across,
        upwards,
        at_release,
        later: drawn(
            reader,
            format!("{path}.later"),
            Dimension::Ratio,
            Distribution::uniform(0.0, 1.0).ok()?,
            "which gusts come after it: drawn by lot, more or less means nothing",
            &key.span,
        ),
    })
}

/// A number that must be there, with an example of its own.
fn needed(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    name: &str,
    what: What,
    example: &str,
) -> InputId {
    if table.get(name).is_none() {
        reader.missing(table, name, example);
    }
    reader.number(table, name, what.or(f64::NAN))
}

/// An input that differs from flight to flight of itself.
fn drawn(
    reader: &mut Reader<'_>,
    name: String,
    dimension: Dimension,
    distribution: Distribution,
    written: &str,
    place: &Span,
) -> InputId {
    let (slot, written) = (slot_of(&name), written.to_owned());
    let input =
        Input { name, dimension, distribution, slot, unknown: false, assumed: false, written };
    reader.add(input, place.clone())
}
