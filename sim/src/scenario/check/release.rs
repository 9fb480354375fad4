//! `release`: how the object starts to move.

use super::{
    reader::{Reader, Table},
    rig, scatter, secured, wake,
    what::What,
};
use crate::{
    diagnostic::Diagnostic,
    quantity::Dimension,
    scenario::{Blown, Dropped, Held, InputId, Launched, Place, Pose, Release, Shed},
    text::yaml::Value,
    uncertain::Distribution,
};

/// Every kind of release with its own keys; `PLACE` and `POSE` go with all.
pub(in crate::scenario) const KINDS: [(&str, &[&str]); 6] = [
    ("launched", &["speed", "elevation", "bearing", "scatter"]),
    ("thrown", &["speed", "elevation", "bearing", "scatter"]),
    ("rig", &["file", "setting", "elevation", "bearing", "scatter"]),
    ("dropped", &[]),
    ("shed", &["speed", "secured", "wake"]),
    ("blown", &["held"]),
];
pub(in crate::scenario) const PLACE: [&str; 3] = ["at", "left", "height"];
pub(in crate::scenario) const POSE: [&str; 4] = ["nose_up", "nose_left", "roll", "spin"];
pub(in crate::scenario) const HELD: [&str; 2] = ["times_weight", "lift_coefficient"];

/// Force coefficient on the plan area of a sheet that the wind gets under.
/// Source: Wills, Lee & Wyatt 2002: of the order of 1 (from memory).
const LIFT_COEFFICIENT: f64 = 1.0;

/// `mass`: the object's, to be held against the rig's.
pub(super) fn read(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    mass: Option<InputId>,
) -> Option<Release> {
    let (key, node) = reader.required(scenario, "release", "{dropped: {height: 6 m}}")?;
    let names = KINDS.map(|(name, _)| name);
    let table = reader.table(node, &key.span, "release", &names)?;
    let (key, node) = reader.one_of(&table, &names)?;
    let own = KINDS.iter().find(|(name, _)| *name == key.name).map_or(&[][..], |(_, own)| own);
    // What belongs to another kind of release gets an answer of its own.
    let known: Vec<&str> =
        own.iter().chain(&PLACE).chain(&POSE).chain(&["wake"]).copied().collect();
    let table = reader.table(node, &key.span, &table.path_of(&key.name), &known)?;
    if let (Some((wake, _)), false) = (table.get("wake"), own.contains(&"wake")) {
        reader.report(
            Diagnostic::error("scenario::wake", "a wake needs a carrier that drags it along")
                .at(wake.span.clone(), format!("nothing carries what is `{}`", key.name))
                .help("take it out, or let a moving carrier shed the object: `shed: {speed: 50 mph, ...}`"),
        );
    }
    let place = place(reader, &table);
    let release = match key.name.as_str() {
        "launched" | "thrown" => {
            let speed = reader.number(&table, "speed", What::not_negative(Dimension::Speed));
            Release::Launched(launched(reader, &table, place, speed, None))
        }
        "rig" => {
            let shot = rig::read(reader, &table, mass);
            Release::Launched(launched(reader, &table, place, shot.speed, Some(shot.doubt)))
        }
        "dropped" => Release::Dropped(Dropped { place, pose: pose(reader, &table) }),
        "shed" => Release::Shed(Shed {
            place,
            carrier_speed: reader.number(&table, "speed", What::not_negative(Dimension::Speed)),
            pose: pose(reader, &table),
            secured: secured::read(reader, &table),
            wake: wake::read(reader, &table),
        }),
        _ => {
            Release::Blown(Blown { place, pose: pose(reader, &table), held: held(reader, &table) })
        }
    };
    Some(release)
}

/// Along x and y from the origin (0 where not written), and the height.
fn place(reader: &mut Reader<'_>, table: &Table<'_>) -> Place {
    let along = What::any(Dimension::Length).or(0.0);
    [
        reader.number(table, "at", along),
        reader.number(table, "left", along),
        reader.number(table, "height", What::positive(Dimension::Length)),
    ]
}

fn launched(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    place: Place,
    speed: InputId,
    speed_factor: Option<InputId>,
) -> Launched {
    let angle = What::any(Dimension::Angle).or(0.0);
    let elevation = reader.number(table, "elevation", angle);
    let bearing = reader.number(table, "bearing", angle);
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
    let angle = What::any(Dimension::Angle).or(0.0);
    Pose {
        nose_up: reader.number(table, "nose_up", angle),
        nose_left: reader.number(table, "nose_left", angle),
        roll: reader.number(table, "roll", angle),
        spin: spin(reader, table),
    }
}

fn spin(reader: &mut Reader<'_>, table: &Table<'_>) -> Place {
    const AXES: [&str; 3] = ["x", "y", "z"];
    let rate = What::any(Dimension::Rotation).or(0.0);
    let path = table.path_of("spin");
    let by_axis = table.get("spin").filter(|(_, node)| match &node.value {
        Value::Map(entries) => entries.iter().any(|(key, _)| AXES.contains(&key.name.as_str())),
        Value::Empty | Value::Text(_) | Value::List(_) => false,
    });
    if let Some((key, node)) = by_axis
        && let Some(inner) = reader.table(node, &key.span, &path, &AXES)
    {
        return AXES.map(|axis| reader.number(&inner, axis, rate));
    }
    let still = |reader: &mut Reader<'_>, axis: &str| {
        let fixed = Distribution::fixed(0.0);
        reader.assume(format!("{path}.{axis}"), Dimension::Rotation, fixed, table.at.clone())
    };
    let about_x = still(reader, "x");
    let end_over_end = reader.number(table, "spin", rate);
    [about_x, end_over_end, still(reader, "z")]
}

fn held(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Held> {
    let (key, node) = table.get("held")?;
    let inner = reader.table(node, &key.span, &table.path_of("held"), &HELD)?;
    let number = What::positive(Dimension::Number);
    Some(Held {
        times_weight: reader.number(&inner, "times_weight", number),
        lift_coefficient: reader.number(&inner, "lift_coefficient", number.or(LIFT_COEFFICIENT)),
    })
}
