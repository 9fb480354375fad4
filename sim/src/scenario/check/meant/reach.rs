//! Can it get there at all?
//!
//! In still air what flies never gains energy; in an even wind neither does it,
//! seen from the air. That bounds how high it comes. How far it comes is bounded by
//! the vacuum for what has no lift, and by a glide for the rest, and by how long
//! the wind can carry it.

use super::{Parts, doubt, half_spread, most, scene::Scene};
use crate::{
    body::{Form, Shape},
    quantity::{Dimension, Show, format},
    scenario::{Face, InputId, Release},
    text::reader::Reader,
};
use glam::DVec3;

/// Gravity, in m/s² (the least on the ground's surface, 9.78: reach is the longer).
const GRAVITY: f64 = 9.78;
/// Way flown by height lost, of the best glider among things that are none: more
/// than any flat plate shows (judgement, on the safe side).
const GLIDE: f64 = 10.0;
/// Largest drag coefficient on the largest shadow (judgement: above any measured).
const DRAG: f64 = 2.5;
/// Densest air, in kg/m³.
const DENSITY: f64 = 1.5;

pub(super) fn look(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) {
    if behind(reader, scene, parts) || parts.bounces() {
        return;
    }
    let gusty = parts.air.wind.as_ref().is_some_and(|wind| wind.turbulence.is_some());
    if gusty {
        return;
    }
    let bound = Bound::new(reader, scene, parts);
    let aimed = |face: &&Face| face.aim;
    let lowest = scene.aimed().map(|(_, face)| face.centre.z - face.half[1] * face.axes[1].z.abs());
    let lowest = lowest.fold(f64::INFINITY, f64::min);
    let say = |length: f64| format(length, Dimension::Length, Show::Si);
    let Some(face) = parts.target.faces.iter().find(aimed) else { return };
    if lowest > bound.top {
        let message = format!("nothing from this release comes as high as `{}`", face.name);
        let found = format!("its speed lifts it to {} at the very most", say(bound.top));
        let mend = "release it higher or faster, or lower the face";
        doubt(reader, "setup::too_high", face.centre[2], message, &found, mend);
        return;
    }
    if scene.moves.length() > 0.0 || most(reader, parts.target.motion.speed) > 0.0 {
        return;
    }
    let away = scene.aimed().map(|(_, face)| {
        let way = (face.centre - scene.start).truncate().length();
        way - face.reach()
    });
    let spread: f64 = places(parts).map(|id| half_spread(reader, id)).iter().sum();
    let nearest = away.fold(f64::INFINITY, f64::min) - spread - scene.body.bounding_radius();
    if nearest > bound.far {
        let message = format!("nothing from this release comes as far as `{}`", face.name);
        let found = format!("it flies {} at the very most", say(bound.far));
        let mend = "look for a slip of units in `at`, the speed or the wind";
        doubt(reader, "setup::too_far", parts.target.motion.at, message, &found, mend);
    }
}

fn places(parts: Parts<'_>) -> [InputId; 4] {
    let (motion, [x, y, _]) = (&parts.target.motion, *parts.release.place());
    [motion.at, motion.left, x, y]
}

/// How far something may come.
struct Bound {
    /// Height of its highest point, m.
    top: f64,
    /// Way over the ground, m.
    far: f64,
}

impl Bound {
    fn new(reader: &Reader<'_>, scene: &Scene, parts: Parts<'_>) -> Self {
        let (speed, drags) = match parts.release {
            Release::Launched(shot) => {
                let factor = shot.speed_factor.map_or(1.0, |id| most(reader, id));
                (most(reader, shot.speed) * factor, 0.0)
            }
            Release::Shed(shed) => {
                let speed = most(reader, shed.carrier_speed);
                (speed, if shed.wake.is_some() { speed } else { 0.0 })
            }
            Release::Dropped(_) | Release::Blown(_) => (0.0, 0.0),
        };
        let wind = parts.air.wind.as_ref().map_or(0.0, |wind| {
            // Twice: the wind higher up is stronger.
            2.0 * most(reader, wind.speed)
        }) + drags;
        let spin = parts.release.pose().spin.map(|id| {
            let ends = [0.001, 0.999].map(|share| super::quantile(reader, id, share).abs());
            ends[0].max(ends[1])
        });
        let spin = DVec3::from_array(spin);
        let turning = spin.dot(scene.body.inertia * spin) / scene.body.mass;
        let in_air = speed + wind;
        let height = most(reader, parts.release.place()[2]);
        let energy = height + (in_air * in_air + turning) / (2.0 * GRAVITY);
        let shape = scene.body.shape;
        let lifts =
            !matches!(shape, Shape::Sphere { .. } | Shape::Irregular { .. }) || turning > 0.0;
        let vacuum = in_air / GRAVITY * (in_air * in_air + 2.0 * GRAVITY * height).sqrt();
        let flown = if lifts { vacuum.max(GLIDE * energy) } else { vacuum };
        let radius = Form::of(&scene.body).bounding_radius();
        let factor = most(reader, parts.object.drag_factor).max(1.0);
        let area = std::f64::consts::PI * radius * radius * factor;
        let sinks = (2.0 * scene.body.mass * GRAVITY / (DENSITY * area * DRAG)).sqrt();
        let time = 2.0 * in_air / GRAVITY + (2.0 * energy / GRAVITY).sqrt() + 2.0 * energy / sinks;
        Self { top: energy + radius, far: flown + wind * time }
    }
}

/// Whether the target lies where nothing takes the object.
fn behind(reader: &mut Reader<'_>, scene: &Scene, parts: Parts<'_>) -> bool {
    let spread: f64 = places(parts).map(|id| half_spread(reader, id)).iter().sum();
    let room = spread + scene.body.bounding_radius();
    // Everything that counts lies against this direction.
    let against = |way: DVec3| {
        let way = DVec3::new(way.x, way.y, 0.0);
        way.length() > 1e-9
            && scene.aimed().all(|(_, face)| {
                (face.centre - scene.start).dot(way.normalize()) + face.reach() + room < 0.0
            })
    };
    let at = parts.target.motion.at;
    let winds: Vec<DVec3> = parts.air.wind.as_ref().map_or_else(Vec::new, |wind| {
        [0.02, 0.25, 0.5, 0.75, 0.98]
            .map(|share| super::quantile(reader, wind.towards, share))
            .map(|angle| DVec3::new(crate::math::cos(angle), crate::math::sin(angle), 0.0))
            .into()
    });
    let blows_there = winds.iter().any(|wind| !against(*wind));
    let level = scene.velocity.truncate().length();
    match parts.release {
        Release::Launched(_) | Release::Shed(_) => {
            // A steep lob may fall anywhere, and who is driven comes to it.
            let steep = level < 0.2 * scene.velocity.length();
            let comes = scene.moves.length() > 0.0 && !against(-scene.moves);
            let wind = blows_there && 2.0 * scene.wind.length() > 0.3 * level;
            if steep || comes || wind || !against(scene.velocity - scene.moves) {
                return false;
            }
            let message = "the target is behind the release".to_owned();
            let found = "it leaves the other way";
            let mend = "x is downrange: a positive `at` lies ahead, and `bearing` turns the aim";
            doubt(reader, "setup::behind", at, message, found, mend);
            true
        }
        Release::Dropped(_) | Release::Blown(_) => {
            let upwind = !winds.is_empty() && !blows_there && scene.moves.length() <= 0.0;
            if upwind {
                let message = "the target is upwind of the release".to_owned();
                let mend = "`towards` is where the wind blows to: 0 deg is downrange, where `at` is positive";
                doubt(reader, "setup::upwind", at, message, "the wind blows the other way", mend);
            }
            upwind
        }
    }
}
