//! Passing the plane of a face, and how near a body is to it.

use super::{Motion, Scenery, gap::exact_gap, hull::Form};
use crate::{body::Body, flight::State};

/// Where the centre of mass went through the plane of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// When, in s.
    pub time: f64,
    /// Where on the plane: right and up from the face's centre as seen from
    /// outside, in m.
    pub on_face: [f64; 2],
    /// Distance from the outline, in m; 0 inside.
    pub miss: f64,
}

/// The crossing of the plane of `face` by the centre of mass in `[t0, t1]`;
/// `None` if it is on the same side at both ends.
#[must_use]
pub fn crossing<M: Motion>(
    scenery: &Scenery,
    face: usize,
    motion: &M,
    [t0, t1]: [f64; 2],
) -> Option<Crossing> {
    let plane = scenery.plane(face);
    let distance = |time: f64| plane.distance(motion.state(time).position, time);
    let (mut low, mut high) = (t0, t1);
    let before = distance(t0);
    if before * distance(t1) > 0.0 {
        return None;
    }
    // Halving cannot fail, and a step needs it once.
    while high - low > 1e-12 * (t1 - t0) {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if distance(middle) * before > 0.0 { low = middle } else { high = middle }
    }
    let time = f64::midpoint(low, high);
    let place = scenery.faces[face];
    let on_face = place.on_face(motion.state(time).position - scenery.centre(face, time));
    Some(Crossing { time, on_face, miss: place.miss(on_face) })
}

/// Distance between the body and a face at `time`, in m; 0 if they touch.
#[must_use]
pub fn separation(body: &Body, state: &State, scenery: &Scenery, face: usize, time: f64) -> f64 {
    let obstacle = scenery.faces[face].obstacle(scenery.velocity);
    let centre = state.position - obstacle.centre_at(time);
    let hull = Form::of(body).placed(state, centre);
    exact_gap(&hull, &obstacle.figure).distance
}
