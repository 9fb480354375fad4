//! Conservative advancement to the first touch of one obstacle.
//!
//! Source: B. V. Mirtich, Impulse-based Dynamic Simulation of Rigid Body
//! Systems, thesis, Berkeley 1996 (from memory).

use super::{Motion, gap::gap, hull::Form, obstacle::Obstacle, pace::Pace};
use crate::flight::State;

/// At this distance two things touch, in m.
pub(super) const TOUCHING: f64 = 1e-6;
/// Slower than this is not an approach, in m/s.
const STILL: f64 = 1e-6;
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
    let fastest = pace.speed(obstacle.velocity).max(STILL);
    let (mut time, mut hop, mut rounds) = (t0, TOUCHING / fastest, 0);
    let mut touching = TOUCHING;
    while time <= t1 {
        let state = motion.state(time);
        let centre = obstacle.centre_at(time);
        let gap = gap(&form.placed(&state, state.position - centre), &obstacle.figure);
        if gap.distance <= touching {
            let offset = gap.point + centre - state.position;
            let velocity = state.velocity_at(offset) - obstacle.velocity;
            if -velocity.dot(gap.axis) > STILL {
                return Some(Meeting { time, state });
            }
            // It leaves: look again a little later, then later still.
            time += hop;
            hop *= 2.0;
        } else {
            let closing = pace.closing(gap.axis, obstacle.velocity, time);
            if closing <= 0.0 {
                return None;
            }
            time += gap.distance / closing;
        }
        rounds += 1;
        if rounds % PATIENCE == 0 {
            touching *= 2.0;
        }
    }
    None
}
