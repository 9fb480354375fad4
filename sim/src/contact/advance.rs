//! Conservative advancement to the first touch of one obstacle.
//!
//! Source: B. V. Mirtich, Impulse-based Dynamic Simulation of Rigid Body
//! Systems, thesis, Berkeley 1996 (from memory).

use super::{
    Motion,
    gap::{Gap, gap},
    hull::Form,
    obstacle::Obstacle,
    pace::{Closing, Pace},
};
use crate::flight::State;

/// At this distance two things touch, in m.
pub(super) const TOUCHING: f64 = 1e-6;
/// Slower than this is not an approach, in m/s.
const STILL: f64 = 1e-6;
/// Longest way that a body which leaves a contact may go between two looks, in
/// m; doubles with every round of patience, so that a body that stays in
/// contact for long (under something that drives over it) comes to an end.
const FARTHEST_HOP: f64 = 1e-4;
/// After so many rounds the distance that counts as touching doubles, so that
/// a long graze ends; see [`meet`].
const PATIENCE: u32 = 64;

/// A touch of one obstacle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Meeting {
    /// When, in s.
    pub(super) time: f64,
    /// The body then.
    pub(super) state: State,
}

/// The earliest touch of `obstacle` in `[t0, t1]`.
///
/// A body that is in contact at `t0` counts as touching only if it approaches;
/// one that leaves can touch again later. A graze that would take more than a
/// few hundred rounds to tell from a near miss counts as a touch where the gap
/// is some tens of micrometres.
pub(super) fn meet<M: Motion>(
    motion: &M,
    form: &Form,
    obstacle: &Obstacle,
    pace: &Pace,
    [t0, t1]: [f64; 2],
) -> Option<Meeting> {
    let look = |time: f64| Look::at(motion, form, obstacle, time);
    let fastest = pace.speed(obstacle.velocity).max(STILL);
    let (mut time, mut rounds, mut touching) = (t0, 0, TOUCHING);
    // While it leaves a contact: the last look that said so.
    let mut leaving: Option<f64> = None;
    let (mut hop, mut farthest) = (TOUCHING / fastest, FARTHEST_HOP);
    // Most looks at a side, and all at the ground, are along the same axis.
    let mut paces: Option<Closing> = None;
    // The last look that saw the two apart.
    let mut apart: Option<f64> = None;
    while time <= t1 {
        let mut now = look(time);
        if now.gap.distance <= 0.0
            && let Some(since) = apart.take()
        {
            now = nearly(since, now, touching, look);
            time = now.time;
        }
        if now.gap.distance <= touching {
            if now.closes {
                let found = leaving.map_or(now, |since| first_closing(since, now, look));
                return Some(Meeting { time: found.time, state: found.state });
            }
            // It leaves: look again a little later, then later still.
            leaving = Some(time);
            time += hop;
            hop = (2.0 * hop).min(farthest / fastest);
        } else {
            leaving = None;
            apart = Some(time);
            let axis = now.gap.axis;
            let along = match paces {
                Some(known) if known.axis == axis => known,
                _ => pace.along(axis, obstacle.velocity),
            };
            paces = Some(along);
            let closing = along.from(time);
            if closing <= 0.0 {
                return None;
            }
            time += now.gap.distance / closing;
        }
        rounds += 1;
        if rounds % PATIENCE == 0 {
            touching *= if leaving.is_some() { 1.0 } else { 2.0 };
            farthest *= if leaving.is_some() { 2.0 } else { 1.0 };
        }
    }
    None
}

/// A look at one instant.
#[derive(Clone, Copy)]
struct Look {
    time: f64,
    state: State,
    gap: Gap,
    /// Whether the nearest point comes nearer.
    closes: bool,
}

impl Look {
    fn at<M: Motion>(motion: &M, form: &Form, obstacle: &Obstacle, time: f64) -> Self {
        let state = motion.state(time);
        let centre = obstacle.centre_at(time);
        let gap = gap(&form.placed(state.attitude, state.position - centre), &obstacle.figure);
        let offset = gap.point + centre - state.position;
        let velocity = state.velocity_at(offset) - obstacle.velocity;
        Self { time, state, gap, closes: -velocity.dot(gap.axis) > STILL }
    }
}

/// A look at the two all but touching, between one that saw them apart and one
/// that saw them overlap: a way that is known to the last bit ends in contact
/// itself, where the direction between them is lost. What [`super::gap`] finds
/// there, from a slightly smaller obstacle, is right for a side or a corner and
/// wrong for two edges that cross.
fn nearly(apart: f64, overlap: Look, touching: f64, look: impl Fn(f64) -> Look) -> Look {
    let (mut low, mut high) = (apart, overlap.time);
    for _ in 0..60 {
        let now = look(f64::midpoint(low, high));
        if now.gap.distance > touching {
            low = now.time;
        } else if now.gap.distance > 0.0 {
            return now;
        } else {
            high = now.time;
        }
    }
    overlap
}

/// The first look that closes, between one that left and one that closes: one
/// corner rises and another comes down in the same hop.
fn first_closing(left: f64, closes: Look, look: impl Fn(f64) -> Look) -> Look {
    let (mut low, mut found) = (left, closes);
    for _ in 0..40 {
        let now = look(f64::midpoint(low, found.time));
        if now.closes { found = now } else { low = now.time }
    }
    found
}
