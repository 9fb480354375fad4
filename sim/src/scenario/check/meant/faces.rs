//! Do the faces look where something comes from, and fit what they are on?

use super::{
    Parts, doubt, doubt_at,
    scene::{Block, Plane, Scene},
};
use crate::{
    math::{cos, sin},
    scenario::{Face, InputId, Outline, Release, SolidShape},
    text::reader::Reader,
};
use glam::DVec3;

/// Words for what looks up or down, and for what stands.
const LIES: [&str; 10] = [
    "roof",
    "skylight",
    "rooflight",
    "floor",
    "deck",
    "lawn",
    "footpath",
    "pavement",
    "ceiling",
    "ground",
];
const STANDS: [&str; 9] =
    ["window", "pane", "door", "wall", "fence", "hoarding", "gate", "windscreen", "windshield"];
/// Words for the whole side of something.
const WHOLE: [&str; 5] = ["wall", "roof", "floor", "deck", "side"];
/// Words for a part of one.
const PART: [&str; 6] = ["window", "door", "light", "pane", "hatch", "skylight"];

/// How far a face may be from the side it is on, in m.
const NEAR: f64 = 0.15;

pub(super) fn look(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    for (place, face) in scene.faces.iter().enumerate() {
        let told = &parts.target.faces[place];
        lies_or_stands(reader, face, told);
        for solid in &scene.solids {
            fits(reader, face, told, solid);
        }
        for twin in &scene.faces[..place] {
            same_place(reader, face, twin, told);
        }
    }
    occupants(reader, scene, parts);
    if parts.bounces() {
        return;
    }
    for (place, face) in scene.aimed() {
        let told = &parts.target.faces[place];
        if !turned_away(reader, scene, face, told) {
            edge_on(reader, scene, parts, face, told);
            hidden(reader, scene, parts, face);
        }
    }
}

fn words(name: &str) -> impl Iterator<Item = String> + '_ {
    name.split('_').map(str::to_lowercase)
}

fn says(name: &str, list: &[&str]) -> bool {
    words(name).any(|word| list.contains(&word.as_str()))
}

fn lies_or_stands(reader: &mut Reader<'_>, face: &Plane, told: &Face) {
    let up = face.normal.z.abs();
    let name = &face.name;
    if says(name, &LIES) && up < sin(5_f64.to_radians()) {
        let message = format!("`{name}` stands upright");
        let mend = "a roof needs a `rake`: 90 deg looks at the sky, 0 deg is upright";
        doubt(reader, "setup::upright", told.rake, message, "its name says that it lies", mend);
    } else if says(name, &STANDS) && !says(name, &LIES) && up > cos(15_f64.to_radians()) {
        let message = format!("`{name}` lies flat");
        let mend = "leave `rake` out for what stands upright: 90 deg looks at the sky";
        doubt(reader, "setup::flat", told.rake, message, "its name says that it stands", mend);
    }
}

/// The input that a face's size is told by.
fn size(told: &Face) -> InputId {
    match told.outline {
        Outline::Rectangle { width, .. } => width,
        Outline::Disc { diameter } => diameter,
    }
}

/// The face against the side of a box that it lies on, if it lies on one.
fn fits(reader: &mut Reader<'_>, face: &Plane, told: &Face, solid: &Block) {
    let deep = face.centre - face.normal * (4.0 * super::begins::SLACK);
    if solid.holds(face.centre + face.normal * super::begins::SLACK) && solid.holds(deep) {
        let message = format!("`{}` is inside `{}`", face.name, solid.name);
        let mend =
            "set its `centre` on the surface, or just outside: what comes meets the solid first";
        doubt(reader, "setup::buried", told.centre[0], message, "nothing can touch it there", mend);
        return;
    }
    if solid.shape != SolidShape::Boxed {
        return;
    }
    let Some(axis) = (0..3).find(|i| face.normal.dot(solid.axes[*i]).abs() > 0.999) else { return };
    let from = face.centre - solid.centre;
    let off = from.dot(face.normal) - solid.half[axis];
    let others = [(axis + 1) % 3, (axis + 2) % 3];
    let on = others.iter().all(|i| from.dot(solid.axes[*i]).abs() < solid.half[*i]);
    if !(-1e-9..=NEAR).contains(&off) || !on {
        return;
    }
    // Half extents of the face along the two axes of the side.
    let along = |i: usize| {
        let parts = face.axes.iter().zip(face.half);
        parts.map(|(axis, half)| axis.dot(solid.axes[i]).abs() * half).fold(0.0, f64::max)
    };
    let over = |i: &usize| along(*i) + from.dot(solid.axes[*i]).abs() - solid.half[*i];
    if others.iter().any(|i| over(i) > 0.01 + 0.02 * solid.half[*i]) {
        let message =
            format!("`{}` is larger than the side of `{}` that it is on", face.name, solid.name);
        let mend = "`width` is level and `height` up the slope, whole and not half; or let the solid be larger";
        doubt(
            reader,
            "setup::overhang",
            size(told),
            message,
            "it sticks out beyond the solid",
            mend,
        );
    } else if says(&face.name, &WHOLE)
        && !says(&face.name, &PART)
        && others.iter().any(|i| along(*i) < 0.8 * solid.half[*i])
    {
        let message =
            format!("`{}` is smaller than the side of `{}` that it is on", face.name, solid.name);
        let mend =
            "`width` and `height` are whole, not half; a hit beside it counts as one on the solid";
        doubt(
            reader,
            "setup::undersize",
            size(told),
            message,
            "its name says that it is the whole side",
            mend,
        );
    }
}

fn same_place(reader: &mut Reader<'_>, face: &Plane, twin: &Plane, told: &Face) {
    let near = (face.centre - twin.centre).length() < super::begins::SLACK;
    if near && face.normal.dot(twin.normal) > 0.999 {
        let message = format!("`{}` and `{}` are in the same place", twin.name, face.name);
        let mend = "move one of them: which is touched first is left to rounding";
        doubt(reader, "setup::same_place", told.centre[0], message, "both look the same way", mend);
    }
}

/// Who sits behind a barrier sits behind it.
fn occupants(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    let told = &parts.target.faces;
    for (place, occupant) in scene.faces.iter().enumerate().filter(|(i, _)| told[*i].occupant) {
        let barriers: Vec<&Plane> = (0..scene.faces.len())
            .filter(|i| *i != place && told[*i].barrier.is_some() && !told[*i].occupant)
            .map(|i| &scene.faces[i])
            .collect();
        let before =
            |barrier: &&Plane| (occupant.centre - barrier.centre).dot(barrier.normal) > 0.0;
        if !barriers.is_empty() && barriers.iter().all(before) {
            let message = format!("`{}` sits in front of every barrier", occupant.name);
            let mend = "set its `centre` behind the barrier, on the side that the barrier does not look to";
            doubt(
                reader,
                "setup::unshielded",
                told[place].centre[0],
                message,
                "nothing is between it and what comes",
                mend,
            );
        }
    }
}

/// Whether what comes only ever sees its back. What looks up may be fallen on.
fn turned_away(reader: &mut Reader<'_>, scene: &Scene, face: &Plane, told: &Face) -> bool {
    let from = scene.start - face.centre;
    let blown_back = scene.wind.dot(face.normal) < -1e-9;
    let away = from.dot(face.normal) < -0.05 * from.length() - face.reach() * 1e-3;
    if !away || face.normal.z > 0.05 || blown_back {
        return false;
    }
    let message = format!("`{}` is turned away from all that can come", face.name);
    let found = "the release is behind it";
    let mend = "`facing` is where it looks: 180 deg back at the release, 0 deg away from it; a `rake` below 0 looks down";
    doubt(reader, "setup::turned_away", told.facing, message, found, mend);
    true
}

/// Whether an aimed launch sees it edge on.
fn edge_on(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>, face: &Plane, told: &Face) {
    let from = scene.start - face.centre;
    let still = scene.wind.length() <= 0.0 && scene.moves.length() <= 0.0;
    let launched =
        matches!(parts.release, Release::Launched(_)) && scene.velocity.truncate().length() > 0.0;
    if launched
        && still
        && from.length() > 2.0 * face.reach()
        && face.normal.z.abs() < 0.05
        && from.dot(face.normal).abs() < 0.02 * from.length()
    {
        let message = format!("`{}` is seen edge on from the release", face.name);
        let mend = "turn it with `facing`: 180 deg looks back at the release";
        doubt(
            reader,
            "setup::edge_on",
            told.facing,
            message,
            "every line from the release runs along it",
            mend,
        );
    }
}

/// Whether something stands before all of it.
fn hidden(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>, face: &Plane) {
    let flat = scene.velocity.z.abs() < 0.5 * scene.velocity.length();
    let aimed = matches!(parts.release, Release::Launched(_)) && flat;
    let out = face.normal * 0.01;
    let blocked = |from: DVec3, to: DVec3| scene.solids.iter().any(|solid| solid.blocks(from, to));
    let shut = face.points(5).all(|point| {
        let point = face.centre.lerp(point, 0.98) + out;
        let above = DVec3::new(point.x, point.y, point.z + 30.0);
        blocked(scene.start, point) && (aimed || blocked(above, point))
    });
    if shut && !scene.solids.is_empty() {
        let place = parts.target.faces.iter().find(|told| told.name == face.name);
        let Some(told) = place else { return };
        let at = reader.place(told.centre[0]);
        let message = format!("no line from the release meets `{}`", face.name);
        let mend = "move the face to the outside of its solid, or the solid out of the way";
        doubt_at(reader, "setup::hidden", at, message, "a solid is before all of it", mend);
    }
}
