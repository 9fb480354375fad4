//! `release`: how the object starts to move.

use super::{rig, scatter, secured, wake};
use crate::{
    diagnostic::Diagnostic,
    quantity::Dimension,
    scenario::{Blown, Dropped, Held, InputId, Launched, Place, Pose, Release, Shed},
    text::{
        reader::{Reader, Table},
        row::{Group, Kind, Row, number, sub, text},
        what::What,
        yaml::Value,
    },
    uncertain::Distribution,
};

/// Force coefficient on the plan area of a sheet that the wind gets under.
/// Source: Wills, Lee & Wyatt 2002: of the order of 1 (from memory).
const LIFT_COEFFICIENT: f64 = 1.0;

/// Reads the keys of one kind; with the object's mass, to be held against the
/// rig's.
type Read = fn(&mut Reader<'_>, &Table<'_>, Place, Option<InputId>) -> Release;

/// The row of every kind beside what reads it.
fn kinds() -> [(Row, Read); 6] {
    let speed = What::not_negative(Dimension::Speed);
    let angle = |name, doc| number(name, What::any(Dimension::Angle), doc).or(0.0);
    let aim = || {
        vec![
            angle("elevation", "Of the aim above the horizontal."),
            angle("bearing", "Of the aim, from x to the left."),
            scatter::row(),
        ]
    };
    let file = "The rig's own file, from the scenario's folder; `longodds rig` shows it.";
    let shots =
        "Its shot log, from the scenario's folder: what it has shot narrows what it will shoot.";
    let kind = |name, about, rows| sub(name, Group::new(about, rows).and(place_and_pose()));
    let launched = || vec![number("speed", speed, "With which it leaves.")];
    let with = |mut first: Vec<Row>, then: Vec<Row>| {
        first.extend(then);
        first
    };
    [
        (kind("launched", "Fired from a fixed place.", with(launched(), aim())), fired),
        (kind("thrown", "The same as `launched`.", with(launched(), aim())), fired),
        (
            kind(
                "rig",
                "Fired by a rig at a setting: its scatter, and the doubt that all its shots share, come along.",
                with(
                    vec![
                        text("file", "rigs/crossbow.yaml", file),
                        text("setting", "6 ft", "What the rig is set to, with its unit."),
                        text("shots", "rigs/crossbow.csv", shots)
                            .may("the rig's own, if it names any"),
                    ],
                    aim(),
                ),
            ),
            by_rig,
        ),
        (kind("dropped", "Let go.", Vec::new()), |r, t, place, _| {
            Release::Dropped(Dropped { place, pose: pose(r, t) })
        }),
        (
            kind(
                "shed",
                "Lost by a carrier that moves along x; time starts when it leaves, at the place told here.",
                vec![number("speed", speed, "Of the carrier."), secured::row(), wake::row()],
            ),
            shed,
        ),
        (kind("blown", "Taken by the wind.", vec![held_row()]), |r, t, place, _| {
            Release::Blown(Blown { place, pose: pose(r, t), held: held(r, t) })
        }),
    ]
}

pub(super) fn row() -> Row {
    let rows = kinds().into_iter().map(|(row, _)| row).collect();
    let about = "How the object starts to move.";
    sub("release", Group::choice(about, rows)).like("{dropped: {height: 6 m}}")
}

/// What goes with every kind of release.
fn place_and_pose() -> Vec<Row> {
    let along = What::any(Dimension::Length);
    let angle = |name, doc| number(name, What::any(Dimension::Angle), doc).or(0.0);
    let rate = What::any(Dimension::Rotation);
    let axes =
        ["x", "y", "z"].map(|axis| number(axis, rate, "About the object's own axis.").or(0.0));
    let axes = Group::new("Spin about each of its own axes.", axes.into());
    let spin = Kind::Either(vec![Kind::Number(rate), Kind::Group(axes)]);
    vec![
        number("at", along, "Where along x.").or(0.0),
        number("left", along, "Where along y.").or(0.0),
        number("height", What::positive(Dimension::Length), "Of its centre above the ground."),
        angle("nose_up", "How far its nose is up."),
        angle("nose_left", "How far its nose is to the left."),
        angle("roll", "How far it is rolled about its length, left side up."),
        Row::new(
            "spin",
            spin,
            "End over end, about its width, nose down if positive; or about each axis.",
        )
        .or(0.0),
    ]
}

fn held_row() -> Row {
    let positive = What::positive(Dimension::Number);
    let rows = vec![
        number("times_weight", positive, "The hold, in its own weights."),
        number("lift_coefficient", positive, "Of the wind under it, on its plan area.")
            .or(LIFT_COEFFICIENT),
    ];
    sub("held", Group::new("What holds it down until the wind lifts it.", rows)).may("nothing")
}

/// `mass`: the object's, to be held against the rig's.
pub(super) fn read(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    mass: Option<InputId>,
) -> Option<Release> {
    let kinds = reader.open(scenario, "release")?;
    let (key, node) = reader.chosen(&kinds)?;
    let (own, path) = (kinds.row(&key.name).kind.group()?, kinds.path_of(&key.name));
    // What belongs to another kind of release gets an answer of its own.
    let table = reader.group(node, &key.span, &path, own, &["wake"])?;
    if let (Some((wake, _)), false) = (table.get("wake"), own.row("wake").is_some()) {
        reader.report(
            Diagnostic::error("scenario::wake", "a wake needs a carrier that drags it along")
                .at(wake.span.clone(), format!("nothing carries what is `{}`", key.name))
                .help("take it out, or let a moving carrier shed the object: `shed: {speed: 50 mph, ...}`"),
        );
    }
    let (_, read) = self::kinds().into_iter().find(|(row, _)| row.name == key.name)?;
    let place = place(reader, &table);
    Some(read(reader, &table, place, mass))
}

fn fired(reader: &mut Reader<'_>, table: &Table<'_>, place: Place, _: Option<InputId>) -> Release {
    let speed = reader.number(table, "speed");
    Release::Launched(launched(reader, table, place, speed, None))
}

fn by_rig(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    place: Place,
    mass: Option<InputId>,
) -> Release {
    let shot = rig::read(reader, table, mass);
    Release::Launched(launched(reader, table, place, shot.speed, Some(shot.doubt)))
}

fn shed(reader: &mut Reader<'_>, table: &Table<'_>, place: Place, _: Option<InputId>) -> Release {
    Release::Shed(Shed {
        place,
        carrier_speed: reader.number(table, "speed"),
        pose: pose(reader, table),
        secured: secured::read(reader, table),
        wake: wake::read(reader, table),
    })
}

/// Along x and y from the origin (0 where not written), and the height.
fn place(reader: &mut Reader<'_>, table: &Table<'_>) -> Place {
    ["at", "left", "height"].map(|name| reader.number(table, name))
}

fn launched(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    place: Place,
    speed: InputId,
    speed_factor: Option<InputId>,
) -> Launched {
    let elevation = reader.number(table, "elevation");
    let bearing = reader.number(table, "bearing");
    let (error_up, error_left) = scatter::read(reader, table);
    let pose = pose(reader, table);
    Launched { place, speed, speed_factor, elevation, bearing, error_up, error_left, pose }
}

/// How it is held and turned; level and without spin where not written.
///
/// A plain `spin` turns the object end over end, about its width axis: how
/// sheets, planks and tools tumble. Positive: the nose goes down. Spin about
/// the other axes is written `spin: {x: …, y: …, z: …}`.
fn pose(reader: &mut Reader<'_>, table: &Table<'_>) -> Pose {
    Pose {
        nose_up: reader.number(table, "nose_up"),
        nose_left: reader.number(table, "nose_left"),
        roll: reader.number(table, "roll"),
        spin: spin(reader, table),
    }
}

fn spin(reader: &mut Reader<'_>, table: &Table<'_>) -> Place {
    const AXES: [&str; 3] = ["x", "y", "z"];
    let path = table.path_of("spin");
    let by_axis = table.get("spin").filter(|(_, node)| match &node.value {
        Value::Map(entries) => entries.iter().any(|(key, _)| AXES.contains(&key.name.as_str())),
        Value::Empty | Value::Text(_) | Value::List(_) => false,
    });
    if let Some((key, node)) = by_axis
        && let Some(inner) = reader.opened(table, key, node)
    {
        return AXES.map(|axis| reader.number(&inner, axis));
    }
    let still = |reader: &mut Reader<'_>, axis: &str| {
        let fixed = Distribution::fixed(0.0);
        reader.assume(format!("{path}.{axis}"), Dimension::Rotation, fixed, table.at.clone())
    };
    let about_x = still(reader, "x");
    let end_over_end = reader.number(table, "spin");
    [about_x, end_over_end, still(reader, "z")]
}

fn held(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Held> {
    let inner = reader.open(table, "held")?;
    Some(Held {
        times_weight: reader.number(&inner, "times_weight"),
        lift_coefficient: reader.number(&inner, "lift_coefficient"),
    })
}
