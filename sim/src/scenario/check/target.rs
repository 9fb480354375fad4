//! `target`: where it is, its faces, its solids, the attitude asked for.

use super::{
    barrier, bounce,
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    scenario::{
        AttitudeDemand, Brakes, Face, InputId, Motion, Outline, Solid, SolidShape, Steers, Target,
    },
    text::yaml::{Key, Node},
    uncertain::Distribution,
};
use std::f64::consts::PI;

pub(in crate::scenario) const KEYS: [&str; 7] =
    ["stands", "moves", "mass", "faces", "solids", "direct", "attitude"];
pub(in crate::scenario) const STANDS: [&str; 2] = ["at", "left"];
pub(in crate::scenario) const MOVES: [&str; 6] =
    ["at", "left", "speed", "heading", "brakes", "steers"];
pub(in crate::scenario) const BRAKES: [&str; 2] = ["after", "at"];
pub(in crate::scenario) const STEERS: [&str; 4] = ["after", "to", "at", "by"];
/// To which side, and whether that is the driver's left.
pub(in crate::scenario) const SIDES: [(&str, bool); 2] = [("left", true), ("right", false)];
pub(in crate::scenario) const FACE: [&str; 10] = [
    "centre", "width", "height", "diameter", "facing", "rake", "barrier", "surface", "aim",
    "occupant",
];
pub(in crate::scenario) const SOLID: [&str; 6] =
    ["centre", "size", "cylinder", "wedge", "turn", "surface"];
pub(in crate::scenario) const CYLINDER: [&str; 3] = ["diameter", "height", "length"];
pub(in crate::scenario) const AXES: [(&str, usize); 3] =
    [("length", 0), ("width", 1), ("thickness", 2)];

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Target> {
    let (key, node) = reader.required(scenario, "target", "{stands: {at: 14 m}, faces: {…}}")?;
    let table = reader.table(node, &key.span, "target", &KEYS)?;
    let motion = motion(reader, &table);
    let mass =
        table.get("mass").map(|_| reader.number(&table, "mass", What::positive(Dimension::Mass)));
    let faces = faces(reader, &table);
    let solids = solids(reader, &table);
    let direct = reader.flag(&table, "direct");
    let attitude = attitude(reader, &table);
    Some(Target { motion: motion?, mass, faces: faces?, solids, direct, attitude })
}

fn motion(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<Motion> {
    let (key, node) = reader.one_of_two(target, "stands", "moves")?;
    let path = target.path_of(&key.name);
    let moves = key.name == "moves";
    let known: &[&str] = if moves { &MOVES } else { &STANDS };
    let table = reader.table(node, &key.span, &path, known)?;
    let along = What::any(Dimension::Length);
    let at = reader.number(&table, "at", along);
    let left = reader.number(&table, "left", along.or(0.0));
    let (speed, heading) = if moves {
        let speed = reader.number(&table, "speed", What::not_negative(Dimension::Speed));
        (speed, reader.number(&table, "heading", What::any(Dimension::Angle)))
    } else {
        let mut none = |name: &str, dimension| {
            let fixed = Distribution::fixed(0.0);
            reader.assume(format!("{path}.{name}"), dimension, fixed, key.span.clone())
        };
        (none("speed", Dimension::Speed), none("heading", Dimension::Angle))
    };
    let brakes = brakes(reader, &table);
    let steers = steers(reader, &table);
    Some(Motion { at, left, speed, heading, brakes, steers })
}

fn brakes(reader: &mut Reader<'_>, moves: &Table<'_>) -> Option<Brakes> {
    let (key, node) = moves.get("brakes")?;
    let table = reader.table(node, &key.span, &moves.path_of("brakes"), &BRAKES)?;
    let after = reader.number(&table, "after", What::not_negative(Dimension::Time));
    let at = reader.number(&table, "at", What::not_negative(Dimension::Acceleration));
    Some(Brakes { after, at })
}

fn steers(reader: &mut Reader<'_>, moves: &Table<'_>) -> Option<Steers> {
    let (key, node) = moves.get("steers")?;
    let table = reader.table(node, &key.span, &moves.path_of("steers"), &STEERS)?;
    let after = reader.number(&table, "after", What::not_negative(Dimension::Time));
    let at = reader.number(&table, "at", What::not_negative(Dimension::Acceleration));
    let by = reader.number(&table, "by", What::not_negative(Dimension::Length));
    let (key, node) = reader.required(&table, "to", "left")?;
    let to_left = reader.word(node, &key.span, "a side of the driver", &SIDES)?;
    Some(Steers { after, at, by, to_left })
}

fn faces(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<Vec<Face>> {
    let example = "{window: {centre: [0 m, 0 m, 2 m], width: 1 m, height: 1 m, aim: true}}";
    let (key, node) = reader.required(target, "faces", example)?;
    let table = reader.open_table(node, &key.span, "target.faces")?;
    let faces: Vec<Option<Face>> = table
        .entries()
        .iter()
        .map(|(key, node)| {
            good_name(reader, &key.name, &key.span);
            face(reader, &key.name, node, &key.span, &table.path_of(&key.name))
        })
        .collect();
    let faces: Vec<Face> = faces.into_iter().collect::<Option<_>>()?;
    if !faces.iter().any(|face| face.aim) {
        reader.report(
            Diagnostic::error("scenario::aim", "no face is aimed at")
                .at(key.span.clone(), "a hit on none of these would count")
                .help("add `aim: true` to the face that the claim is about"),
        );
    }
    Some(faces)
}

/// Names go into paths: letters, digits and underscores.
fn good_name(reader: &mut Reader<'_>, name: &str, span: &Span) {
    let good = name.chars().all(|c| c.is_alphanumeric() || c == '_') && !name.is_empty();
    if !good {
        reader.report(
            Diagnostic::error("scenario::name", format!("`{name}` is not a name"))
                .at(span.clone(), "letters, digits and `_` only")
                .help("write, for example, `shop_window`"),
        );
    }
}

fn face(reader: &mut Reader<'_>, name: &str, node: &Node, at: &Span, path: &str) -> Option<Face> {
    let table = reader.table(node, at, path, &FACE)?;
    let centre = point(reader, &table, "centre", What::any(Dimension::Length));
    let outline = outline(reader, &table);
    let facing = reader.number(&table, "facing", What::any(Dimension::Angle).or(PI));
    let rake = What::any(Dimension::Angle).within(-PI / 2.0, PI / 2.0).or(0.0);
    let rake = reader.number(&table, "rake", rake);
    let barrier = match table.get("barrier") {
        Some((key, node)) => {
            let sides = outline.map(|outline| match outline {
                Outline::Rectangle { width, height } => [width, height],
                Outline::Disc { diameter } => [diameter; 2],
            });
            Some(barrier::read(reader, (key, node), &table.path_of("barrier"), sides)?)
        }
        None => None,
    };
    let bounce = bounce::surface_of(reader, &table);
    let aim = reader.flag(&table, "aim");
    let occupant = reader.flag(&table, "occupant");
    Some(Face {
        name: name.to_owned(),
        centre: centre?,
        outline: outline?,
        facing,
        rake,
        barrier,
        aim,
        occupant,
        bounce,
    })
}

fn outline(reader: &mut Reader<'_>, face: &Table<'_>) -> Option<Outline<InputId>> {
    let length = What::positive(Dimension::Length);
    if let Some((key, _)) = face.get("diameter") {
        if face.get("width").is_some() || face.get("height").is_some() {
            reader.report(
                Diagnostic::error("scenario::alternatives", "a face is round or rectangular")
                    .at(key.span.clone(), "`width` or `height` is there too")
                    .help("keep `diameter`, or `width` and `height`"),
            );
            return None;
        }
        return Some(Outline::Disc { diameter: reader.number(face, "diameter", length) });
    }
    let width = reader.number(face, "width", length);
    Some(Outline::Rectangle { width, height: reader.number(face, "height", length) })
}

/// A list of three numbers, along x, y and z.
fn point(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    name: &str,
    what: What,
) -> Option<[InputId; 3]> {
    let (key, node) = reader.required(table, name, "[0 m, 0 m, 2 m]")?;
    triple(reader, table, (key, node), what)
}

fn triple(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    (key, node): (&Key, &Node),
    what: What,
) -> Option<[InputId; 3]> {
    let name = &key.name;
    let items = reader.list(node, &key.span, 3, &format!("{name}: [0 m, 0 m, 2 m]"))?;
    let path = table.path_of(name);
    let mut axis = |i: usize, axis: &str| {
        reader.number_at(&items[i], &key.span, format!("{path}.{axis}"), what)
    };
    Some([axis(0, "x"), axis(1, "y"), axis(2, "z")])
}

fn solids(reader: &mut Reader<'_>, target: &Table<'_>) -> Vec<Solid> {
    let Some((key, node)) = target.get("solids") else { return Vec::new() };
    let Some(table) = reader.open_table(node, &key.span, "target.solids") else {
        return Vec::new();
    };
    let mut solids = Vec::new();
    for (key, node) in table.entries() {
        good_name(reader, &key.name, &key.span);
        let path = table.path_of(&key.name);
        let Some(inner) = reader.table(node, &key.span, &path, &SOLID) else { continue };
        let centre = point(reader, &inner, "centre", What::any(Dimension::Length));
        let form = form(reader, &inner);
        let turn = reader.number(&inner, "turn", What::any(Dimension::Angle).or(0.0));
        let bounce = bounce::surface_of(reader, &inner);
        if let (Some(centre), Some((shape, size))) = (centre, form) {
            solids.push(Solid { name: key.name.clone(), centre, shape, size, turn, bounce });
        }
    }
    solids
}

/// What a solid looks like, and the extents of the box about it.
fn form(reader: &mut Reader<'_>, solid: &Table<'_>) -> Option<(SolidShape, [InputId; 3])> {
    let length = What::positive(Dimension::Length);
    let chosen = ["size", "cylinder", "wedge"].map(|name| solid.get(name));
    let Some((key, node)) = chosen.into_iter().flatten().next() else {
        reader.missing(solid, "size", "[2 m, 1 m, 1 m]");
        return None;
    };
    if let Some((second, _)) = chosen.into_iter().flatten().nth(1) {
        reader.report(
            Diagnostic::error("scenario::alternatives", "a solid has one shape")
                .at(second.span.clone(), format!("`{}` is there too", key.name))
                .help("keep `size` (a box), `cylinder` or `wedge`"),
        );
        return None;
    }
    match key.name.as_str() {
        "cylinder" => {
            let table = reader.table(node, &key.span, &solid.path_of("cylinder"), &CYLINDER)?;
            let (key, _) = reader.one_of_two(&table, "height", "length")?;
            let long = reader.number(&table, &key.name, length);
            let wide = reader.number(&table, "diameter", length);
            Some(if key.name == "height" {
                (SolidShape::Cylinder { axis: 2 }, [wide, wide, long])
            } else {
                (SolidShape::Cylinder { axis: 0 }, [long, wide, wide])
            })
        }
        "wedge" => Some((SolidShape::Wedge, triple(reader, solid, (key, node), length)?)),
        _ => Some((SolidShape::Boxed, triple(reader, solid, (key, node), length)?)),
    }
}

fn attitude(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<AttitudeDemand> {
    let (key, node) = target.get("attitude")?;
    let table = reader.table(node, &key.span, "target.attitude", &["axis", "within"])?;
    let within = What::positive(Dimension::Angle).within(1e-3, PI / 2.0);
    let within = reader.number(&table, "within", within);
    let (key, node) = reader.required(&table, "axis", "length")?;
    let axis = reader.word(node, &key.span, "an axis of the object", &AXES)?;
    Some(AttitudeDemand { axis, within })
}
