//! Where it starts: above the ground, and in nothing.

use super::{
    Parts, doubt, quantile,
    scene::{Scene, depth, surface},
};
use crate::{
    body::Form,
    quantity::{Dimension, Show, format},
    scenario::{InputId, turned},
    text::reader::Reader,
};
use glam::DVec3;

/// How deep something may stand in another by rounding, in m.
pub(super) const SLACK: f64 = 2e-3;

/// Where in its spread an input is looked at.
const SHARES: [f64; 5] = [0.05, 0.275, 0.5, 0.725, 0.95];

const UNDER: &str = "setup::under_ground";

pub(super) fn look(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    under_ground(reader, scene, parts);
    in_something(reader, scene, parts);
    across_a_face(reader, scene, parts);
}

fn under_ground(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    let form = Form::of(&scene.body);
    let height = parts.release.place()[2];
    let low = |deep: f64| format(deep, Dimension::Length, Show::Si);
    let name = parts.object.shape.noun();
    let mend = "`height` is that of the object's centre: raise it, or turn the object with `nose_up` and `roll`";
    let deep = depth(form, scene.attitude) - scene.start.z;
    if deep > SLACK {
        let message = format!("the {name} starts {} under the ground, turned as it is", low(deep));
        doubt(reader, UNDER, height, message, "too low for its size and attitude", mend);
        return;
    }
    let pose = parts.release.pose();
    let mut deepest = f64::MIN;
    let aim = parts.release.aim();
    let [heading, climb] = aim.map_or([0.0; 2], |aim| aim.map(|id| reader.middle(id)));
    let at = |id: InputId, share: f64| quantile(reader, id, share);
    let lowest = at(height, SHARES[0]);
    for up in SHARES {
        for roll in SHARES {
            let angles = [at(pose.nose_up, up), reader.middle(pose.nose_left), at(pose.roll, roll)];
            deepest = deepest.max(depth(form, turned(angles, heading, climb)) - lowest);
        }
    }
    if deepest > SLACK {
        let message = format!("the {name} may start as much as {} under the ground", low(deepest));
        doubt(
            reader,
            UNDER,
            height,
            message,
            "too low where its spread or its attitude's reaches",
            mend,
        );
    }
}

fn in_something(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    let points = surface(Form::of(&scene.body));
    let place = parts.release.place();
    let name = parts.object.shape.noun();
    let touches = |start: DVec3, solid: &super::scene::Block| {
        points.iter().any(|point| solid.holds(start + scene.attitude * *point))
    };
    let ends: Vec<DVec3> = (0..3)
        .flat_map(|axis| SHARES.map(|share| (axis, share)))
        .map(|(axis, share)| {
            let mut start = scene.start;
            start[axis] = quantile(reader, place[axis], share);
            start
        })
        .collect();
    for solid in &scene.solids {
        let now = touches(scene.start, solid);
        if now || ends.iter().any(|start| touches(*start, solid)) {
            let may = if now { "starts" } else { "may start" };
            let message = format!("the {name} {may} inside `{}`", solid.name);
            let mend =
                "move the target away with `at`, or the release with `height`, `at` and `left`";
            doubt(
                reader,
                "setup::in_solid",
                place[2],
                message,
                "its centre is here, and its size reaches in",
                mend,
            );
        }
    }
}

fn across_a_face(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    let points: Vec<DVec3> = surface(Form::of(&scene.body))
        .into_iter()
        .map(|point| scene.start + scene.attitude * point)
        .collect();
    for face in &scene.faces {
        let off = |point: &DVec3| (*point - face.centre).dot(face.normal);
        let on = |point: &DVec3| {
            (0..2).all(|i| (*point - face.centre).dot(face.axes[i]).abs() < face.half[i])
        };
        let before = points.iter().any(|point| off(point) > SLACK);
        let behind = points.iter().any(|point| off(point) < -SLACK);
        if before && behind && points.iter().any(on) {
            let message =
                format!("the {} starts across `{}`", parts.object.shape.noun(), face.name);
            let mend =
                "move the target away with `at`, or the release with `height`, `at` and `left`";
            doubt(
                reader,
                "setup::across_face",
                parts.release.place()[2],
                message,
                "it touches both sides of that face",
                mend,
            );
        }
    }
}
