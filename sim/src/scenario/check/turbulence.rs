//! `air.wind.turbulence`: gusts within a flight.

use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    scenario::{GustSize, Input, InputId, Terrain, Turbulence},
    text::{
        reader::{Reader, Table},
        row::{Group, Kind, Row, number},
        what::What,
        yaml::Value,
    },
    uncertain::Distribution,
    world::WEAKER,
};

/// The keys of the two directions whose gusts are weaker.
const WEAKER_KEYS: [&str; 2] = ["across", "upwards"];

/// The word for what the standard has for the terrain.
const BY_TERRAIN: [(&str, GustSize); 1] = [("by_terrain", GustSize::ByTerrain)];

pub(super) fn row() -> Row {
    let intensity = What::not_negative(Dimension::Ratio).within(0.0, 0.5);
    let scale = What::positive(Dimension::Length).within(1.0, 1000.0);
    let part = What::any(Dimension::Number).within(0.0, 2.0);
    let told = vec![
        number("intensity", intensity, "Standard deviation over mean speed.").like("15 %"),
        number("scale", scale, "How wide gusts are along the wind.").like("60 m"),
        number(WEAKER_KEYS[0], part, "Swing across the wind, over that along it.").or(WEAKER[0]),
        number(WEAKER_KEYS[1], part, "Swing upwards, over that along it.").or(WEAKER[1]),
    ];
    let told = Group::new("Gusts as told.", told);
    let doc = "Gusts along each flight, which starts in one of its own: by the standard for the \
               terrain, or as told. The wind's `speed` is then a mean over ten minutes.";
    Row::new("turbulence", Kind::Either(vec![Kind::words(&BY_TERRAIN), Kind::Group(told)]), doc)
        .may("a steady wind")
}

/// The gusts of a wind over this terrain, if they are told.
pub(super) fn read(
    reader: &mut Reader<'_>,
    wind: &Table<'_>,
    terrain: Terrain,
) -> Option<Turbulence> {
    let (key, node) = wind.get("turbulence")?;
    let path = wind.path_of("turbulence");
    let usual = |reader: &mut Reader<'_>, i: usize| {
        reader.assume(
            format!("{path}.{}", WEAKER_KEYS[i]),
            Dimension::Number,
            Distribution::fixed(WEAKER[i]),
            key.span.clone(),
        )
    };
    let (size, across, upwards) = if let Value::Text(_) = node.value {
        let size = reader.word(node, &key.span, "`by_terrain` or a group of keys", &BY_TERRAIN)?;
        if terrain == Terrain::Uniform {
            reader.report(
                Diagnostic::error("scenario::sense", "gusts by terrain need a terrain")
                    .at(node.span.clone(), "over uniform ground there is nothing to make them")
                    .help("name a `terrain`, or write `{intensity: 15 %, scale: 60 m}`"),
            );
        }
        (size, usual(reader, 0), usual(reader, 1))
    } else {
        let table = reader.opened(wind, key, node)?;
        let mut told = |name| reader.number(&table, name);
        let size = GustSize::Told { intensity: told("intensity"), scale: told("scale") };
        (size, told(WEAKER_KEYS[0]), told(WEAKER_KEYS[1]))
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
