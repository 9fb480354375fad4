//! One step of one flight, as a scene sees it.

use super::{
    State,
    motion::SIZE,
    tableau::{STAGES, weights_at},
};
use crate::aero::Extremes;
use glam::{DQuat, DVec3};

/// One accepted step: its two ends and everything between them.
#[derive(Clone, Debug)]
pub struct Step {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) start: [f64; SIZE],
    pub(super) end: [f64; SIZE],
    pub(super) stages: [[f64; SIZE]; STAGES],
    /// Since when the body has turned at its rates, where attitude is not part
    /// of the motion.
    pub(super) spinning_since: Option<f64>,
    /// See [`Step::extremes`].
    pub(super) extremes: Extremes,
}

impl Step {
    /// When it begins, in s after release.
    #[must_use]
    pub fn from(&self) -> f64 {
        self.from
    }

    /// When it ends, in s after release.
    #[must_use]
    pub fn to(&self) -> f64 {
        self.to
    }

    /// State at its beginning.
    #[must_use]
    pub fn start(&self) -> State {
        self.turned(&self.start, self.from)
    }

    /// State at its end.
    #[must_use]
    pub fn end(&self) -> State {
        self.turned(&self.end, self.to)
    }

    /// State at a `time` inside the step, in s, as accurate as the step itself.
    ///
    /// Source: the fourth-order interpolant of Tsitouras 2011.
    #[must_use]
    pub fn state(&self, time: f64) -> State {
        self.turned(&self.row(time, SIZE), time)
    }

    /// Position of the centre of mass at a `time` inside the step: a fraction
    /// of the work of [`Step::state`].
    #[must_use]
    pub fn position(&self, time: f64) -> DVec3 {
        let row = self.row(time, 3);
        DVec3::new(row[0], row[1], row[2])
    }

    /// How far this flight has gone so far, at the ends of steps: for the
    /// models' limits.
    #[must_use]
    pub fn extremes(&self) -> Extremes {
        self.extremes
    }

    fn row(&self, time: f64, size: usize) -> [f64; SIZE] {
        let step = self.to - self.from;
        let weights = weights_at((time - self.from) / step);
        let mut row = self.start;
        for (i, number) in row.iter_mut().enumerate().take(size) {
            let slope: f64 = weights.iter().zip(&self.stages).map(|(w, stage)| w * stage[i]).sum();
            *number += step * slope;
        }
        row
    }

    fn turned(&self, row: &[f64; SIZE], time: f64) -> State {
        let state = State::from_array(row);
        self.spinning_since.map_or(state, |since| spun(state, time - since))
    }
}

/// A state after turning for `time` (s) at its own rates. (Those of a ball may
/// have been larger before: its attitude matters for nothing.)
pub(super) fn spun(state: State, time: f64) -> State {
    let turn = DQuat::from_scaled_axis(state.rates * time);
    State { attitude: (state.attitude * turn).normalize(), ..state }
}
