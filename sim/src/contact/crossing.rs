//! Passing the plane of a face, and how near a body is to it.

use super::{Motion, Scenery, gap::exact_gap, hull::Form};
use crate::{body::Body, flight::State};

/// A centre of mass this near to a plane is in it, in m.
const CLOSE: f64 = 1e-12;

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
    let distance = |time: f64| scenery.distance(face, motion.position(time), time);
    let time = zero(distance, [t0, t1])?;
    let place = scenery.faces[face];
    let on_face = place.on_face(motion.position(time) - scenery.centre(face, time));
    Some(Crossing { time, on_face, miss: place.miss(on_face) })
}

/// Where `distance` vanishes in `[low, high]`, if it changes its sign there.
///
/// Regula falsi that halves the weight of an end which stays too long: a step
/// is nearly straight, so that a few looks do; each narrows the bracket.
fn zero(distance: impl Fn(f64) -> f64, [mut low, mut high]: [f64; 2]) -> Option<f64> {
    let (mut at_low, mut at_high) = (distance(low), distance(high));
    if at_low * at_high > 0.0 {
        return None;
    }
    if at_low.abs() <= CLOSE {
        return Some(low);
    }
    for _ in 0..100 {
        if at_high.abs() <= CLOSE {
            break;
        }
        let time = (low * at_high - high * at_low) / (at_high - at_low);
        let at_time = distance(time);
        if at_time * at_high <= 0.0 {
            (low, at_low) = (high, at_high);
        } else {
            at_low *= 0.5;
        }
        (high, at_high) = (time, at_time);
    }
    Some(high)
}

/// Distance between the body and a face at `time`, in m; 0 if they touch.
#[must_use]
pub fn separation(body: &Body, state: &State, scenery: &Scenery, face: usize, time: f64) -> f64 {
    let obstacle = scenery.faces[face].obstacle(scenery.velocity);
    let centre = scenery.seen(state.position, time) - obstacle.centre_at(time);
    let hull = Form::of(body).placed(state.attitude, centre);
    exact_gap(&hull, &obstacle.figure).distance
}
