//! How fast a body can approach something during a step.

use super::{Motion, hull::Form};
use crate::flight::State;
use glam::DVec3;

/// Instants at which a step is sampled.
const SAMPLES: usize = 5;

/// Velocities over a step, sampled once and asked for every obstacle.
///
/// A bound between samples is the largest sample and, for what happens in
/// between, the largest difference between neighbours: enough for anything
/// that an error-controlled step can do.
///
/// Turning counts as far as it moves the body's surface: what is round about
/// its own axis may spin about it as fast as it likes, and a long thing that
/// rolls on its side does not come nearer by its length.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pace {
    form: Form,
    start: f64,
    spacing: f64,
    states: [State; SAMPLES],
}

impl Pace {
    /// Samples `motion` of a body of this form over `[t0, t1]`.
    pub(super) fn of<M: Motion>(motion: &M, [t0, t1]: [f64; 2], form: &Form) -> Self {
        let spacing = (t1 - t0) / (SAMPLES - 1) as f64;
        let states = std::array::from_fn(|i| motion.state(t0 + spacing * i as f64));
        Self { form: *form, start: t0, spacing, states }
    }

    /// How fast the body closes against `axis` on something that moves at
    /// `velocity`.
    pub(super) fn along(&self, axis: DVec3, velocity: DVec3) -> Closing {
        let states = &self.states;
        Closing {
            axis,
            start: self.start,
            spacing: self.spacing,
            centre: states.each_ref().map(|state| axis.dot(velocity - state.velocity)),
            turning: states.each_ref().map(|state| self.turning(state, axis)),
            scale: states.each_ref().map(|state| state.velocity.length() + velocity.length()),
        }
    }

    /// Bound on what turning adds to the closing speed about a sample, in m/s.
    ///
    /// The point at r closes against `axis` at -(ω × r)·axis = r·(ω × axis), of
    /// which the most is the extent along ω × axis; until half way to the next
    /// sample no point turns farther than its distance times the angle.
    fn turning(&self, state: &State, axis: DVec3) -> f64 {
        let reach = self.form.reach;
        if reach <= 0.0 {
            return 0.0;
        }
        let spin = state.attitude * self.form.swinging(state.rates);
        let swing = spin.cross(axis);
        let most = swing.length() * reach;
        let angle = spin.length() * 0.5 * self.spacing;
        let hull = self.form.placed(state.attitude, DVec3::ZERO);
        most.min(hull.core_extent(swing) + most * angle)
    }

    /// Bound on the speed of any point of the body relative to `velocity`, in
    /// m/s.
    pub(super) fn speed(&self, velocity: DVec3) -> f64 {
        let own = |state: &State| (state.velocity - velocity).length();
        let turning = |state: &State| self.form.swinging(state.rates).length() * self.form.reach;
        bound(0, |i| own(&self.states[i]) + turning(&self.states[i]))
    }
}

/// Closing speeds along one axis at the samples of a step, in m/s.
#[derive(Clone, Copy, Debug)]
pub(super) struct Closing {
    /// The axis.
    pub(super) axis: DVec3,
    start: f64,
    spacing: f64,
    centre: [f64; SAMPLES],
    turning: [f64; SAMPLES],
    scale: [f64; SAMPLES],
}

impl Closing {
    /// Bound on the closing speed from `time` to the end; <= 0 if the body
    /// cannot come nearer.
    pub(super) fn from(&self, time: f64) -> f64 {
        let last = |i: &usize| self.start + self.spacing * *i as f64 <= time;
        let first = (1..SAMPLES - 1).rev().find(last).unwrap_or(0);
        // The position of a step and its velocity agree to its own error only.
        bound(first, |i| self.centre[i])
            + bound(first, |i| self.turning[i])
            + 1e-6 * self.scale[first]
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
