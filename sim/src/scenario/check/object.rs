//! `object`: shape, mass and doubt about the drag.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    body::Shape,
    quantity::Dimension,
    scenario::{InputId, Object},
};

pub(in crate::scenario) const KEYS: [&str; 3] = ["shape", "mass", "drag_factor"];
/// Every shape with its keys.
pub(in crate::scenario) const SHAPES: [(&str, &[&str]); 10] = [
    ("sphere", &["diameter"]),
    ("irregular", &["diameter", "sphericity"]),
    ("plate", &["length", "width", "thickness"]),
    ("disc", &["diameter", "thickness"]),
    ("wheel", &["diameter", "width", "hub"]),
    ("rod", &["length", "diameter"]),
    ("cylinder", &["length", "diameter"]),
    ("cone", &["length", "diameter"]),
    ("tube", &["length", "diameter", "wall"]),
    ("block", &["length", "width", "height"]),
];
/// Those of them that may be left out.
pub(in crate::scenario) const OPTIONAL: [&str; 1] = ["hub"];

/// Share of a wheel's diameter inside which there is next to no mass: gives a
/// radius of gyration of 0.79 radii, as of car wheels with their tyres (common
/// practice, no source).
const HUB: f64 = 0.5;

/// What a key of a shape measures.
pub(in crate::scenario) fn dimension(key: &str) -> Dimension {
    match key {
        "sphericity" | "hub" => Dimension::Ratio,
        _ => Dimension::Length,
    }
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Object> {
    let (key, node) = reader.required(scenario, "object", "{shape: …, mass: 4 kg}")?;
    let table = reader.table(node, &key.span, "object", &KEYS)?;
    let shape = shape(reader, &table);
    let mass = reader.number(&table, "mass", What::positive(Dimension::Mass));
    // 0 takes the air away: bare ballistics, for comparison.
    let factor = What::not_negative(Dimension::Number).within(0.0, 100.0).or(1.0);
    let drag_factor = reader.number(&table, "drag_factor", factor);
    Some(Object { shape: shape?, mass, drag_factor })
}

fn shape(reader: &mut Reader<'_>, object: &Table<'_>) -> Option<Shape<InputId>> {
    let (key, node) = reader.required(object, "shape", "{sphere: {diameter: 10 cm}}")?;
    let names = SHAPES.map(|(name, _)| name);
    let table = reader.table(node, &key.span, "object.shape", &names)?;
    let (key, node) = reader.one_of(&table, &names)?;
    let path = table.path_of(&key.name);
    let keys = SHAPES.iter().find(|(name, _)| *name == key.name).map_or(&[][..], |(_, keys)| keys);
    let table = reader.table(node, &key.span, &path, keys)?;
    let mut side = |name| {
        let what = What::positive(dimension(name));
        reader.number(
            &table,
            name,
            if name == "hub" { what.within(0.0, 0.95).or(HUB) } else { what },
        )
    };
    Some(match key.name.as_str() {
        "sphere" => Shape::Sphere { diameter: side("diameter") },
        "irregular" => {
            Shape::Irregular { diameter: side("diameter"), sphericity: side("sphericity") }
        }
        "disc" => Shape::Disc { diameter: side("diameter"), thickness: side("thickness") },
        "wheel" => {
            Shape::Wheel { diameter: side("diameter"), width: side("width"), hub: side("hub") }
        }
        "cylinder" => Shape::Cylinder { length: side("length"), diameter: side("diameter") },
        "cone" => Shape::Cone { length: side("length"), diameter: side("diameter") },
        "tube" => {
            Shape::Tube { length: side("length"), diameter: side("diameter"), wall: side("wall") }
        }
        "plate" => Shape::Plate {
            length: side("length"),
            width: side("width"),
            thickness: side("thickness"),
        },
        "rod" => Shape::Rod { length: side("length"), diameter: side("diameter") },
        _ => Shape::Block { length: side("length"), width: side("width"), height: side("height") },
    })
}
