//! The frame's keys.

use super::{count, counted};
use crate::{
    diagnostic::Diagnostic,
    quantity::Dimension,
    rig::frame::{Frame, STEEL_MODULUS, Section, Support},
    text::{
        reader::{Reader, Table},
        row::{Group, Row, sub, value, word},
        what::What,
    },
};

const SUPPORTS: [(&str, Support); 2] =
    [("both_ends", Support::BothEnds), ("one_end", Support::OneEnd)];

pub(super) fn row() -> Row {
    let length = What::positive(Dimension::Length);
    let section = |name, about, keys: [&'static str; 2]| {
        let rows = keys.map(|key| match key {
            "wall" => value(key, length, "Thickness of its wall.").like("3 mm"),
            key => value(key, length, "Outside.").like("5 cm"),
        });
        sub(name, Group::new(about, rows.into()))
    };
    let pressure = What::any(Dimension::Pressure);
    let share = What::positive(Dimension::Ratio);
    let rows = vec![
        section("square_tube", "A square tube.", ["width", "wall"]),
        section("round_tube", "A round tube.", ["diameter", "wall"]),
        section("solid", "A full bar.", ["width", "height"]),
        value("span", length, "Between its supports, or to its free end."),
        word("support", &SUPPORTS, "How it is held.").may("`both_ends`"),
        count("beams", "Beams that share the load."),
        value("yield_strength", pressure.within(1e6, 5e9), "Of its metal.").like("315 MPa"),
        value("modulus", pressure.within(1e8, 1e12), "Young's modulus of its metal.")
            .or(STEEL_MODULUS),
        value(
            "section_factor",
            share.within(0.1, 1.0),
            "Share of the nominal section that is there.",
        )
        .may("88 % of a tube, all of a full bar"),
    ];
    let frame = Group::new("The beam that holds the launcher's pull.", rows);
    sub("frame", frame.choose(&["square_tube", "round_tube", "solid"])).may("not told")
}

pub(super) fn read(reader: &mut Reader<'_>, rig: &Table<'_>) -> Option<Frame> {
    let table = reader.open(rig, "frame")?;
    let section = section(reader, &table);
    let support = reader.word_of(&table, "support", "how it is held", &SUPPORTS);
    let [span, yield_strength, modulus, factor] =
        ["span", "yield_strength", "modulus", "section_factor"]
            .map(|name| reader.value_of(&table, name));
    let beams = counted(reader, &table, "beams");
    let section = section?;
    let nominal = if matches!(section, Section::Solid { .. }) { 1.0 } else { 0.88 };
    Some(Frame {
        section,
        span: span?,
        support: support.unwrap_or(Support::BothEnds),
        beams: beams?,
        yield_strength: yield_strength?,
        modulus: modulus?,
        section_factor: factor.unwrap_or(nominal),
    })
}

fn section(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Section> {
    let (key, inner) = reader.chosen_group(table)?;
    let mut keys = inner.group.names().map(|name| reader.value_of(&inner, name));
    let (first, second) = (keys.next()??, keys.next()??);
    if key.name == "solid" {
        return Some(Section::Solid { width: first, height: second });
    }
    if 2.0 * second > first {
        let place = inner.get("wall").map_or(key.span.clone(), |(_, node)| node.span.clone());
        reader.report(
            Diagnostic::error("rig::section", "the wall is thicker than half the tube")
                .at(place, "must be less than half the outside"),
        );
        return None;
    }
    Some(if key.name == "square_tube" {
        Section::SquareTube { width: first, wall: second }
    } else {
        Section::RoundTube { diameter: first, wall: second }
    })
}
