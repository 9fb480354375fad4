//! The frame's keys.

use super::{count, optional};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    rig::frame::{Frame, STEEL_MODULUS, Section, Support},
    text::{
        reader::{Reader, Table},
        what::What,
        yaml::Node,
    },
};

const SECTIONS: [&str; 3] = ["square_tube", "round_tube", "solid"];

pub(super) fn read(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Frame> {
    let others = ["span", "support", "beams", "yield_strength", "modulus", "section_factor"];
    let keys: Vec<&str> = SECTIONS.into_iter().chain(others).collect();
    let table = reader.table(node, at, "frame", &keys)?;
    let section = section(reader, &table);
    let span = reader.value_of(&table, "span", What::positive(Dimension::Length));
    let supports = [("both_ends", Support::BothEnds), ("one_end", Support::OneEnd)];
    let support = table
        .get("support")
        .and_then(|(key, node)| reader.word(node, &key.span, "how it is held", &supports));
    let strength = What::any(Dimension::Pressure).within(1e6, 5e9);
    let yield_strength = reader.value_of(&table, "yield_strength", strength);
    let stiffness = What::any(Dimension::Pressure).within(1e8, 1e12);
    let modulus = optional(reader, &table, "modulus", stiffness);
    let share = What::positive(Dimension::Ratio).within(0.1, 1.0);
    let factor = optional(reader, &table, "section_factor", share);
    let beams = count(reader, &table, "beams");
    let section = section?;
    let nominal = if matches!(section, Section::Solid { .. }) { 1.0 } else { 0.88 };
    Some(Frame {
        section,
        span: span?,
        support: support.unwrap_or(Support::BothEnds),
        beams: beams.unwrap_or(1),
        yield_strength: yield_strength?,
        modulus: modulus.unwrap_or(STEEL_MODULUS),
        section_factor: factor.unwrap_or(nominal),
    })
}

fn section(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Section> {
    let (key, node) = reader.one_of(table, &SECTIONS)?;
    let names = match key.name.as_str() {
        "square_tube" => ["width", "wall"],
        "round_tube" => ["diameter", "wall"],
        _ => ["width", "height"],
    };
    let inner = reader.table(node, &key.span, &format!("frame.{}", key.name), &names)?;
    let [first, second] =
        names.map(|name| reader.value_of(&inner, name, What::positive(Dimension::Length)));
    let (first, second) = (first?, second?);
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
