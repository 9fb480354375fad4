//! `air.wind.turbulence`: gusts within a flight.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    scenario::{GustSize, Input, InputId, Terrain, Turbulence, yaml::Value},
    uncertain::Distribution,
};

/// The word for what the standard has for the terrain.
pub(in crate::scenario) const BY_TERRAIN: &str = "by_terrain";
pub(in crate::scenario) const KEYS: [&str; 2] = ["intensity", "scale"];

/// The gusts of a wind over this terrain, if they are told.
pub(super) fn read(
    reader: &mut Reader<'_>,
    wind: &Table<'_>,
    terrain: Terrain,
) -> Option<Turbulence> {
    let (key, node) = wind.get("turbulence")?;
    let path = wind.path_of("turbulence");
    let size = if let Value::Text(_) = node.value {
        let words = [(BY_TERRAIN, GustSize::ByTerrain)];
        let size = reader.word(node, &key.span, "`by_terrain` or a group of keys", &words)?;
        if terrain == Terrain::Uniform {
            reader.report(
                Diagnostic::error("scenario::sense", "gusts by terrain need a terrain")
                    .at(node.span.clone(), "over uniform ground there is nothing to make them")
                    .help("name a `terrain`, or write `{intensity: 15 %, scale: 60 m}`"),
            );
        }
        size
    } else {
        let table = reader.table(node, &key.span, &path, &KEYS)?;
        let intensity = What::not_negative(Dimension::Ratio).within(0.0, 0.5);
        let scale = What::positive(Dimension::Length).within(1.0, 1000.0);
        GustSize::Told {
            intensity: needed(reader, &table, "intensity", intensity, "15 %"),
            scale: needed(reader, &table, "scale", scale, "60 m"),
        }
    };
    Some(Turbulence {
        size,
        at_release: drawn(
            reader,
            format!("{path}.at_release"),
            Dimension::Number,
            Distribution::normal(0.0, 1.0).ok()?,
            "the gust it starts in, in standard deviations of the gusts",
            &key.span,
        ),
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
