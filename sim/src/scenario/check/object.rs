//! `object`: shape, mass and doubt about the air's forces.

use super::{
    custom,
    reader::{Reader, Table},
    what::What,
};
use crate::{
    body::{Shape, Surface},
    diagnostic::Diagnostic,
    quantity::Dimension,
    scenario::{InputId, Object, Release, Tabulated},
};

pub(in crate::scenario) const KEYS: [&str; 4] =
    ["shape", "mass", "drag_factor", "spin_lift_factor"];
/// Every shape with its keys.
pub(in crate::scenario) const SHAPES: [(&str, &[&str]); 11] = [
    ("sphere", &["diameter", "surface"]),
    ("irregular", &["diameter", "sphericity"]),
    ("plate", &["length", "width", "thickness"]),
    ("disc", &["diameter", "thickness"]),
    ("wheel", &["diameter", "width", "hub"]),
    ("rod", &["length", "diameter"]),
    ("cylinder", &["length", "diameter"]),
    ("cone", &["length", "diameter"]),
    ("tube", &["length", "diameter", "wall"]),
    ("block", &["length", "width", "height"]),
    ("custom", &custom::KEYS),
];
/// Those of them that may be left out.
pub(in crate::scenario) const OPTIONAL: [&str; 4] = ["hub", "surface", "gyration", "reynolds"];

/// Share of a wheel's diameter inside which there is next to no mass: gives a
/// radius of gyration of 0.79 radii, as of car wheels with their tyres (common
/// practice, no source).
const HUB: f64 = 0.5;

/// What a key of a shape measures.
pub(in crate::scenario) fn dimension(key: &str) -> Dimension {
    match key {
        "sphericity" | "hub" => Dimension::Ratio,
        "reference_area" => Dimension::Area,
        "reynolds" => Dimension::Number,
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
    let (shape, told) = shape?;
    let Told { surface, table } = told;
    Some(Object { shape, mass, drag_factor, table, surface, spin_lift_factor: None })
}

/// What multiplies the lift of a sphere's spin, once the release is known: an
/// input where a spin is told or the sphere is not smooth.
pub(super) fn spin(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    object: &mut Object,
    release: Option<&Release>,
) {
    let Some((key, node)) = scenario.get("object") else { return };
    let Some(table) = reader.open_table(node, &key.span, "object") else { return };
    let is_sphere = matches!(object.shape, Shape::Sphere { .. });
    let told = release
        .is_some_and(|release| release.pose().spin.iter().any(|id| !reader.inputs[id.0].assumed));
    if is_sphere && (told || object.surface != Surface::Smooth) {
        let factor = What::any(Dimension::Number).within(-10.0, 10.0).or(1.0);
        object.spin_lift_factor = Some(reader.number(&table, "spin_lift_factor", factor));
    } else if let Some((key, _)) = table.get("spin_lift_factor") {
        let (found, help) = if is_sphere {
            (
                "this one does not spin",
                "tell its `spin` in the release, if only 0 rpm, or drop this",
            )
        } else {
            ("this is no sphere", "leave it out: other shapes have lift of their own")
        };
        reader.report(
            Diagnostic::error("scenario::spin", "`spin_lift_factor` is for spheres that spin")
                .at(key.span.clone(), found)
                .help(help),
        );
    }
}

/// What a shape's keys tell besides its size.
#[derive(Default)]
struct Told {
    surface: Surface,
    table: Option<Tabulated>,
}

fn shape(reader: &mut Reader<'_>, object: &Table<'_>) -> Option<(Shape<InputId>, Told)> {
    let (key, node) = reader.required(object, "shape", "{sphere: {diameter: 10 cm}}")?;
    let names = SHAPES.map(|(name, _)| name);
    let table = reader.table(node, &key.span, "object.shape", &names)?;
    let (key, node) = reader.one_of(&table, &names)?;
    let path = table.path_of(&key.name);
    let keys = SHAPES.iter().find(|(name, _)| *name == key.name).map_or(&[][..], |(_, keys)| keys);
    let table = reader.table(node, &key.span, &path, keys)?;
    if key.name == "custom" {
        let (shape, tabulated) = custom::read(reader, &table)?;
        return Some((shape, Told { table: Some(tabulated), ..Told::default() }));
    }
    let mut side = |name| {
        let what = What::positive(dimension(name));
        reader.number(
            &table,
            name,
            if name == "hub" { what.within(0.0, 0.95).or(HUB) } else { what },
        )
    };
    let shape = match key.name.as_str() {
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
    };
    Some((shape, Told { surface: surface(reader, &table), table: None }))
}

fn surface(reader: &mut Reader<'_>, shape: &Table<'_>) -> Surface {
    let words = Surface::ALL.map(|surface| (surface.name(), surface));
    let told = shape.get("surface");
    told.and_then(|(key, node)| reader.word(node, &key.span, "a surface", &words))
        .unwrap_or_default()
}
