//! How fast a body can approach something during a step.

use super::Motion;
use crate::flight::State;
use glam::DVec3;

/// Instants at which a step is sampled.
const SAMPLES: usize = 5;

/// Velocities over a step, sampled once and asked for every obstacle.
///
/// A bound between samples is the largest sample and, for what happens in
/// between, the largest difference between neighbours: enough for anything
/// that an error-controlled step can do.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pace {
    start: f64,
    spacing: f64,
    velocity: [DVec3; SAMPLES],
    spin: [DVec3; SAMPLES],
    reach: f64,
}

impl Pace {
    /// Samples `motion` over `[t0, t1]`; `reach`: see `Form::reach`.
    pub(super) fn of<M: Motion>(motion: &M, [t0, t1]: [f64; 2], reach: f64) -> Self {
        let spacing = (t1 - t0) / (SAMPLES - 1) as f64;
        let states: [State; SAMPLES] =
            std::array::from_fn(|i| motion.state(t0 + spacing * i as f64));
        Self {
            start: t0,
            spacing,
            velocity: states.map(|state| state.velocity),
            spin: states.map(|state| state.attitude * state.rates),
            reach,
        }
    }

    /// Bound on the speed at which the body closes against `axis` on something
    /// that moves at `velocity`, from `time` to the end, in m/s; <= 0 if it
    /// cannot come nearer.
    pub(super) fn closing(&self, axis: DVec3, velocity: DVec3, time: f64) -> f64 {
        let first = self.first(time);
        let centre = bound(first, |i| axis.dot(velocity - self.velocity[i]));
        let turning = bound(first, |i| self.spin[i].cross(axis).length() * self.reach);
        let scale = self.velocity[first].length() + velocity.length();
        // The position of a step and its velocity agree to its own error only.
        centre + turning + 1e-6 * scale
    }

    /// Bound on the speed of any point of the body relative to `velocity`, in
    /// m/s.
    pub(super) fn speed(&self, velocity: DVec3) -> f64 {
        bound(0, |i| (self.velocity[i] - velocity).length() + self.spin[i].length() * self.reach)
    }

    /// The last sample at or before `time`.
    fn first(&self, time: f64) -> usize {
        (1..SAMPLES - 1).rev().find(|&i| self.start + self.spacing * i as f64 <= time).unwrap_or(0)
    }
}

/// Largest of the samples from `first` on, with a margin for the stretches
/// between them.
fn bound(first: usize, of: impl Fn(usize) -> f64) -> f64 {
    let mut last = of(first);
    let (mut largest, mut change) = (last, 0.0_f64);
    for i in first + 1..SAMPLES {
        let value = of(i);
        largest = largest.max(value);
        change = change.max((value - last).abs());
        last = value;
    }
    largest + change
}
