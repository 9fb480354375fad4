//! One step of one flight, as a scene sees it.

use super::{Path, State, motion::SIZE, path::Powers};
use crate::aero::Extremes;
use glam::{DQuat, DVec3};

/// One accepted step: its two ends and everything between them.
#[derive(Clone, Debug)]
pub struct Step {
    pub(super) from: f64,
    pub(super) to: f64,
    /// Every number of the state as a polynomial in the share of the step.
    ///
    /// Source: the fourth-order interpolant of Tsitouras 2011.
    pub(super) powers: Powers,
    pub(super) end: [f64; SIZE],
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
        self.turned(&self.powers[0], self.from)
    }

    /// State at its end.
    #[must_use]
    pub fn end(&self) -> State {
        self.turned(&self.end, self.to)
    }

    /// State at a `time` inside the step, in s, as accurate as the step itself.
    #[must_use]
    pub fn state(&self, time: f64) -> State {
        self.turned(&self.row(time), time)
    }

    /// Position of the centre of mass at a `time` inside the step: a fraction
    /// of the work of [`Step::state`].
    #[must_use]
    pub fn position(&self, time: f64) -> DVec3 {
        let share = self.share(time);
        self.powers
            .iter()
            .rev()
            .fold(DVec3::ZERO, |sum, power| sum * share + DVec3::new(power[0], power[1], power[2]))
    }

    /// Where the body stays from one time to another inside the step, in s.
    #[must_use]
    pub fn path(&self, span: [f64; 2]) -> Path {
        Path::of(&self.powers, self.spinning_since.is_none(), span.map(|time| self.share(time)))
    }

    /// How far this flight has gone so far, at the ends of steps: for the
    /// models' limits.
    #[must_use]
    pub fn extremes(&self) -> Extremes {
        self.extremes
    }

    fn share(&self, time: f64) -> f64 {
        (time - self.from) / (self.to - self.from)
    }

    fn row(&self, time: f64) -> [f64; SIZE] {
        let share = self.share(time);
        let [a, b, c, d, e] = &self.powers;
        core::array::from_fn(|i| {
            a[i] + share * (b[i] + share * (c[i] + share * (d[i] + share * e[i])))
        })
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
