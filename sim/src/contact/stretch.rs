//! What goes on over the ground step by step: short stretches, one after another.

use super::{Motion, Work, clear::parabola};
use crate::flight::{Path, State};
use glam::DVec3;

/// A body that is followed over the ground.
pub trait Follow {
    /// When it is, in s.
    fn time(&self) -> f64;

    /// What it does then.
    fn state(&self) -> &State;

    /// What it does at `time` (s, in its last stretch), stepped there from where that
    /// began, and the work done on it until then by the ground and the air.
    fn within(&self, time: f64) -> (State, Work);

    /// Whether it has come to rest as it is.
    fn stands_still(&self) -> bool;

    /// The next stretch, which ends at `deadline` (s) at the latest; `None` where
    /// it goes on in another way.
    fn next(&mut self, deadline: f64) -> Option<Stretch>;
}

/// The work done on what is followed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ledger {
    work: Work,
    /// Until the last stretch began.
    before: Work,
}

impl Ledger {
    /// Begins with this `work`.
    pub(super) fn new(work: Work) -> Self {
        Self { work, before: work }
    }

    /// Work done at one moment.
    pub(super) fn add(&mut self, work: Work) {
        self.work += work;
    }

    /// Work done in the next stretch.
    pub(super) fn stretch(&mut self, work: Work) {
        self.before = self.work;
        self.work += work;
    }

    /// All of it.
    pub(super) fn whole(&self) -> Work {
        self.work
    }

    /// All of it until some time in the last stretch, of which so much was done then.
    pub(super) fn with(&self, done: Work) -> Work {
        self.before + done
    }
}

/// How the ground rubs.
#[derive(Clone, Copy, Debug)]
pub struct Rub {
    /// Coefficient of friction, >= 0.
    pub friction: f64,
    /// Rolling resistance over the load, >= 0.
    pub rolling: f64,
}

/// The last stretch of what is followed: a bound on its way from its two ends, and its
/// state at any time stepped from its beginning, so that what it meets on the way it
/// meets with the energy that it has.
#[derive(Debug)]
pub struct Within<'a, F>(pub &'a F, pub Stretch);

impl<F: Follow> Motion for Within<'_, F> {
    fn state(&self, time: f64) -> State {
        self.0.within(time).0
    }

    /// Exact at both ends; in between off by far less than matters to a miss.
    fn position(&self, time: f64) -> DVec3 {
        self.1.state(time).position
    }

    fn path(&self, span: [f64; 2]) -> Option<Path> {
        self.1.path(span)
    }
}

/// A short stretch of such a motion: an even acceleration between two states.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    span: [f64; 2],
    ends: [State; 2],
    /// How far turning carries a point of the body from where it is in the
    /// middle, as a share of its distance.
    turned: f64,
}

impl Stretch {
    /// Between two states over a `span` of time (s); `turned`: see there.
    pub(super) fn new(span: [f64; 2], ends: [State; 2], turned: f64) -> Self {
        Self { span, ends, turned }
    }

    /// When it begins and ends, in s.
    #[must_use]
    pub fn span(&self) -> [f64; 2] {
        self.span
    }
}

impl Motion for Stretch {
    fn state(&self, time: f64) -> State {
        let [from, to] = &self.ends;
        let whole = self.span[1] - self.span[0];
        let since = time - self.span[0];
        let share = if whole > 0.0 { since / whole } else { 0.0 };
        // The place at both ends is exact. The spin is even as the world sees it;
        // the body turns under it.
        let bend = (to.position - from.position - from.velocity * whole) * (share * share);
        let spin = (from.attitude * from.rates).lerp(to.attitude * to.rates, share);
        let attitude = from.attitude.lerp(to.attitude, share);
        State {
            position: from.position + from.velocity * since + bend,
            velocity: from.velocity.lerp(to.velocity, share),
            attitude,
            rates: attitude.inverse() * spin,
        }
    }

    fn path(&self, span: [f64; 2]) -> Option<Path> {
        let centre = parabola(span, |time| self.state(time).position);
        let attitude = self.state(f64::midpoint(span[0], span[1])).attitude;
        Some(Path { centre, attitude, turned: self.turned })
    }
}
