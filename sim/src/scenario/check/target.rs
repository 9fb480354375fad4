//! `target`: where it is, its faces, its solids, the attitude asked for.

use super::{barrier, bounce};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    scenario::{
        AttitudeDemand, Brakes, Face, InputId, Motion, Outline, Solid, SolidShape, Steers, Target,
        parts::{self, LIKE, Side},
    },
    text::{
        nearest::nearest,
        reader::{Reader, Table},
        row::{Group, Kind, Row, flag, number, point, sub, word},
        what::What,
        yaml::{Key, Node, Value},
    },
    uncertain::Distribution,
};
use std::f64::consts::PI;

/// To which side, and whether that is the driver's left.
const SIDES: [(&str, bool); 2] = [("left", true), ("right", false)];
const AXES: [(&str, usize); 3] = [("length", 0), ("width", 1), ("thickness", 2)];

pub(super) fn row() -> Row {
    let within = What::positive(Dimension::Angle).within(1e-3, PI / 2.0);
    let attitude = vec![
        word("axis", &AXES, "The axis of the object that points at the face.").like("length"),
        number("within", within, "How far it may be from square to the face."),
    ];
    let rows = vec![
        parts::like_row(Side::Target),
        sub("stands", Group::new("It stands.", place())),
        sub("moves", moving()),
        number(
            "mass",
            What::positive(Dimension::Mass),
            "Makes the answer say by how much a strike changes its speed.",
        )
        .may("not told"),
        Row::new("faces", Kind::Names(face_row()), "Flat faces that may be hit.")
            .like("{window: {centre: [0 m, 0 m, 2 m], width: 1 m, height: 1 m, aim: true}}"),
        Row::new("solids", Kind::Names(solid_row()), "Solids that only block.").may("none"),
        aim_row(),
        flag("direct", "Does a strike count only if nothing threw the object back before?"),
        sub("attitude", Group::new("The attitude that the claim asks for.", attitude)).may("any"),
    ];
    let about = "What has to be hit. Who follows the carrier has `heading: 0 deg` and the gap as \
                 `at: -25 m`; who comes towards it `heading: 180 deg` and `at: 60 m`; strikes are \
                 told as fast as the two close.";
    sub("target", Group::new(about, rows).choose(&["stands", "moves"]).or_by(LIKE))
        .like("{stands: {at: 14 m}, faces: {…}}")
}

fn aim_row() -> Row {
    let names = Kind::Either(vec![Kind::Text, Kind::List(Box::new(Kind::Text))]);
    Row::new("aim", names, "The faces that the claim is about, by name: a hit on no other counts.")
        .may("those with an `aim` of their own")
        .like("window")
}

fn place() -> Vec<Row> {
    let along = What::any(Dimension::Length);
    vec![
        number("at", along, "Where along x, at the release."),
        number("left", along, "Where along y, at the release.").or(0.0),
    ]
}

fn moving() -> Group {
    let after = || {
        let time = What::not_negative(Dimension::Time);
        number("after", time, "From the release: the driver's time to react.")
    };
    let at =
        || number("at", What::not_negative(Dimension::Acceleration), "How hard.").like("0.7 gn");
    let by = number("by", What::not_negative(Dimension::Length), "How far.");
    let to = word("to", &SIDES, "The driver's side.").like("left");
    let rows = vec![
        number("speed", What::not_negative(Dimension::Speed), "How fast."),
        number("heading", What::any(Dimension::Angle), "Where to: 0 deg downrange, 180 deg back."),
        sub("brakes", Group::new("It brakes until it stands.", vec![after(), at()])).may("never"),
        sub(
            "steers",
            Group::new("It moves over to one side of its line.", vec![after(), to, at(), by]),
        )
        .may("never"),
    ];
    Group::new("It moves.", place()).and(rows)
}

fn face_row() -> Group {
    let (length, angle) = (What::positive(Dimension::Length), What::any(Dimension::Angle));
    let round = "needed, unless it has a `diameter`";
    let rows = vec![
        centre(),
        number("width", length, "Of a rectangle.").may(round),
        number("height", length, "Of a rectangle, along its own slope.").may(round),
        number("diameter", length, "Of a disc.").may(""),
        number("facing", angle, "Where it looks: 180 deg back at the release.").or(PI),
        number(
            "rake",
            angle.within(-PI / 2.0, PI / 2.0),
            "0 deg upright, 90 deg looks at the sky.",
        )
        .or(0.0),
        barrier::row(),
        bounce::surface_row("surface"),
        flag("aim", "Does a hit here count? One face at least needs it."),
        flag("occupant", "Is it a person behind the barrier? `harms` is then what comes on it."),
    ];
    Group::new(
        "A flat face. One that is not aimed at and has a barrier is gone through or not on the way.",
        rows,
    )
}

fn solid_row() -> Group {
    let length = What::positive(Dimension::Length);
    let cylinder = vec![
        number("diameter", length, "Across."),
        number("height", length, "Of one that stands upright."),
        number("length", length, "Of one that lies along x."),
    ];
    let cylinder = Group::new("A post or a pipe.", cylinder).choose(&["height", "length"]);
    let size = |name, doc| point(name, length, doc).like("[2 m, 1 m, 1 m]");
    let rows = vec![
        centre(),
        size("size", "A box: its extents."),
        sub("cylinder", cylinder),
        size("wedge", "A ramp that rises along x: extents of the box about it."),
        number("turn", What::any(Dimension::Angle), "How far it is turned to the left.").or(0.0),
        bounce::surface_row("surface"),
    ];
    Group::new("A solid.", rows).choose(&["size", "cylinder", "wedge"])
}

fn centre() -> Row {
    point(
        "centre",
        What::any(Dimension::Length),
        "Downrange, to the left, up, from the target's place.",
    )
    .like("[0 m, 0 m, 2 m]")
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Target> {
    let table = reader.open(scenario, "target")?;
    let motion = motion(reader, &table);
    let mass = reader.told(&table, "mass");
    let faces = faces(reader, &table);
    let solids = solids(reader, &table);
    let direct = reader.flag(&table, "direct");
    let attitude = attitude(reader, &table);
    Some(Target { motion: motion?, mass, faces: faces?, solids, direct, attitude })
}

fn motion(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<Motion> {
    let (key, table) = reader.chosen_group(target)?;
    let path = &table.path;
    let at = reader.number(&table, "at");
    let left = reader.number(&table, "left");
    let (speed, heading, brakes, steers) = if key.name == "moves" {
        let [speed, heading] = ["speed", "heading"].map(|name| reader.number(&table, name));
        (speed, heading, brakes(reader, &table), steers(reader, &table))
    } else {
        let mut none = |name: &str, dimension| {
            let fixed = Distribution::fixed(0.0);
            reader.assume(format!("{path}.{name}"), dimension, fixed, key.span.clone())
        };
        (none("speed", Dimension::Speed), none("heading", Dimension::Angle), None, None)
    };
    Some(Motion { at, left, speed, heading, brakes, steers })
}

fn brakes(reader: &mut Reader<'_>, moves: &Table<'_>) -> Option<Brakes> {
    let table = reader.open(moves, "brakes")?;
    let [after, at] = ["after", "at"].map(|name| reader.number(&table, name));
    Some(Brakes { after, at })
}

fn steers(reader: &mut Reader<'_>, moves: &Table<'_>) -> Option<Steers> {
    let table = reader.open(moves, "steers")?;
    let [after, at, by] = ["after", "at", "by"].map(|name| reader.number(&table, name));
    let to_left = reader.word_of(&table, "to", "a side of the driver", &SIDES)?;
    Some(Steers { after, at, by, to_left })
}

fn faces(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<Vec<Face>> {
    let (key, node) = reader.entry(target, "faces")?;
    let table = reader.opened(target, key, node)?;
    let faces: Vec<Option<Face>> = table
        .entries()
        .iter()
        .map(|(key, node)| {
            good_name(reader, &key.name, &key.span);
            face(reader, &table, key, node)
        })
        .collect();
    let mut faces: Vec<Face> = faces.into_iter().collect::<Option<_>>()?;
    let named = aim(reader, target, &mut faces)?;
    if !named && !faces.iter().any(|face| face.aim) {
        reader.report(
            Diagnostic::error("scenario::aim", "no face is aimed at")
                .at(key.span.clone(), "a hit on none of these would count")
                .help("add `aim: true` to the face that the claim is about"),
        );
    }
    Some(faces)
}

/// The faces that are named by the target's `aim`, and no others, are aimed at.
/// Whether there is one; `None` where it is wrong.
fn aim(reader: &mut Reader<'_>, target: &Table<'_>, faces: &mut [Face]) -> Option<bool> {
    let Some((key, node)) = target.get("aim") else { return Some(false) };
    let list = match &node.value {
        Value::List(items) if !items.is_empty() => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    let mut chosen = Vec::new();
    for item in list {
        let name = reader.text(item, &key.span, "the name of a face, or a list of names")?;
        let Some(place) = faces.iter().position(|face| face.name == name) else {
            let known: Vec<&str> = faces.iter().map(|face| face.name.as_str()).collect();
            let near = nearest(name, known.iter().copied())
                .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            reader.report(
                Diagnostic::error("scenario::aim", format!("no face is called `{name}`"))
                    .at(item.span.clone(), "not a face of this target")
                    .help(format!("{near}its faces are: {}", known.join(", "))),
            );
            return None;
        };
        chosen.push(place);
    }
    for (place, face) in faces.iter_mut().enumerate() {
        face.aim = chosen.contains(&place);
    }
    Some(true)
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

fn face(reader: &mut Reader<'_>, faces: &Table<'_>, key: &Key, node: &Node) -> Option<Face> {
    let path = faces.path_of(&key.name);
    let table = reader.group(node, &key.span, &path, faces.group, &[])?;
    let name = &key.name;
    let centre = centre_of(reader, &table);
    let outline = outline(reader, &table);
    let facing = reader.number(&table, "facing");
    let rake = reader.number(&table, "rake");
    let barrier = match table.get("barrier") {
        Some((key, node)) => {
            let sides = outline.map(|outline| match outline {
                Outline::Rectangle { width, height } => [width, height],
                Outline::Disc { diameter } => [diameter; 2],
            });
            Some(barrier::read(reader, &table, (key, node), sides)?)
        }
        None => None,
    };
    let bounce = bounce::surface_of(reader, &table);
    let aim = reader.flag(&table, "aim");
    let occupant = reader.flag(&table, "occupant");
    Some(Face {
        name: name.clone(),
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
    if let Some((key, _)) = face.get("diameter") {
        if face.get("width").is_some() || face.get("height").is_some() {
            reader.report(
                Diagnostic::error("scenario::alternatives", "a face is round or rectangular")
                    .at(key.span.clone(), "`width` or `height` is there too")
                    .help("keep `diameter`, or `width` and `height`"),
            );
            return None;
        }
        return Some(Outline::Disc { diameter: reader.number(face, "diameter") });
    }
    let [width, height] = ["width", "height"].map(|name| reader.number(face, name));
    Some(Outline::Rectangle { width, height })
}

fn centre_of(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<[InputId; 3]> {
    let (key, node) = reader.entry(table, "centre")?;
    reader.point(table, key, node)
}

fn solids(reader: &mut Reader<'_>, target: &Table<'_>) -> Vec<Solid> {
    let Some(table) = reader.open(target, "solids") else { return Vec::new() };
    let mut solids = Vec::new();
    for (key, node) in table.entries() {
        good_name(reader, &key.name, &key.span);
        let path = table.path_of(&key.name);
        let Some(inner) = reader.group(node, &key.span, &path, table.group, &[]) else { continue };
        let centre = centre_of(reader, &inner);
        let form = form(reader, &inner);
        let turn = reader.number(&inner, "turn");
        let bounce = bounce::surface_of(reader, &inner);
        if let (Some(centre), Some((shape, size))) = (centre, form) {
            solids.push(Solid { name: key.name.clone(), centre, shape, size, turn, bounce });
        }
    }
    solids
}

/// What a solid looks like, and the extents of the box about it.
fn form(reader: &mut Reader<'_>, solid: &Table<'_>) -> Option<(SolidShape, [InputId; 3])> {
    let (key, node) = reader.chosen(solid)?;
    if key.name == "cylinder" {
        let table = reader.opened(solid, key, node)?;
        let (key, _) = reader.chosen(&table)?;
        let long = reader.number(&table, &key.name);
        let wide = reader.number(&table, "diameter");
        return Some(if key.name == "height" {
            (SolidShape::Cylinder { axis: 2 }, [wide, wide, long])
        } else {
            (SolidShape::Cylinder { axis: 0 }, [long, wide, wide])
        });
    }
    let shape = if key.name == "wedge" { SolidShape::Wedge } else { SolidShape::Boxed };
    Some((shape, reader.point(solid, key, node)?))
}

fn attitude(reader: &mut Reader<'_>, target: &Table<'_>) -> Option<AttitudeDemand> {
    let table = reader.open(target, "attitude")?;
    let within = reader.number(&table, "within");
    let axis = reader.word_of(&table, "axis", "an axis of the object", &AXES)?;
    Some(AttitudeDemand { axis, within })
}
