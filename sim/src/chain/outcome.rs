//! The outcome of one draw.

use super::{Among, Breach, Breaches};
use crate::{
    contact::{Surface, Touch},
    scenario::Gate,
};
use glam::DVec3;

/// How far one draw got, why it stopped, and by what margin.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The draw.
    pub draw: u64,
    /// Did it come loose at all?
    pub released: bool,
    /// Speed over the ground with which it came off a carrier that shook it
    /// loose, in m/s, and that by the carrier's speed before.
    pub left_with: Option<[f64; 2]>,
    /// How many gates of the chain it passed.
    pub passed: usize,
    /// The first gate of the chain it did not pass; `None`: the claim held.
    pub stopped_at: Option<Gate>,
    /// By how much it missed that gate, >= 0, in the gate's own measure: N for
    /// released, m for reaches and strikes, rad for attitude, the barrier's
    /// demand for perforates, J for harms. 0 when the claim held.
    pub margin: f64,
    /// `margin` over what the gate asked for: without unit, for ranking.
    pub shortfall: f64,
    /// First touch of the target (a face or a solid), if any.
    pub touch: Option<Touch>,
    /// Was that touch on an aimed face?
    pub struck: bool,
    /// Distance of the centre of mass from the nearest aimed outline where it
    /// crossed the plane of the aimed face (0 inside the outline), in m;
    /// `None` if it never did.
    pub miss: Option<f64>,
    /// Where on that plane it crossed: right and up from the face's centre as
    /// seen from outside, in m; of a strike, on the face that it struck.
    pub crossing: Option<[f64; 2]>,
    /// Demand on the barrier that was struck (J or m/s).
    pub demand: Option<f64>,
    /// The same blow in units of the barrier's median: by what its formula says
    /// of it, where it has one.
    pub blow: Option<f64>,
    /// This draw's resistance of that barrier (J or m/s).
    pub resistance: Option<f64>,
    /// Whether no bound says of that blow that it cannot go through.
    pub could: bool,
    /// Speed after perforation, in m/s; `None` if it did not perforate.
    pub residual_speed: Option<f64>,
    /// Kinetic energy of what arrives: behind the barrier if there is one, at
    /// the face if not, in J.
    pub arriving_energy: Option<f64>,
    /// Where the flight was decided or ended, world frame, in m.
    pub end: DVec3,
    /// Speed over the ground there, in m/s.
    pub end_speed: f64,
    /// Kinetic energy over the ground there, in J.
    pub end_energy: f64,
    /// When, in s.
    pub time: f64,
    /// How many times it touched anything and went on, where bounces are
    /// followed.
    pub contacts: u32,
    /// How many of them came before the strike on the aimed face.
    pub contacts_before: u32,
    /// Where its centre came to rest on the ground, world frame, in m; `None`
    /// if it was not followed that far.
    pub rest: Option<DVec3>,
    /// Whether it was let go where it rolled on, away from everything.
    pub let_go: bool,
    /// Validity ranges that this draw left.
    pub breaches: Breaches,
    /// Validity ranges of blows and arrivals that it was held against.
    pub checked: Breaches,
}

impl Outcome {
    /// The aimed face that it struck, by its place in the target's list.
    #[must_use]
    pub fn face(&self) -> Option<usize> {
        match self.touch.filter(|_| self.struck)?.surface {
            Surface::Face(i) => Some(i),
            Surface::Ground | Surface::Solid(_) => None,
        }
    }

    /// Notes that it was held against a validity range, and whether it left it.
    pub(super) fn check(&mut self, breach: Breach, left: bool) {
        self.checked.add(breach);
        if left {
            self.breaches.add(breach);
        }
    }

    /// Whether this draw is one of those that a breach is a share of.
    #[must_use]
    pub(crate) fn concerns(&self, breach: Breach) -> bool {
        match breach.among() {
            Among::Flights => true,
            Among::Loose => self.released,
            Among::Touching => self.contacts > 0 || self.breaches.has(breach),
            Among::Blows | Among::Arrivals => self.checked.has(breach),
        }
    }

    /// Whether it was cut off before its fate was known: the claim did not hold,
    /// but might have, had it been followed on.
    #[must_use]
    pub(crate) fn is_open(&self) -> bool {
        let ended = [Breach::Deadline, Breach::Failed, Breach::Spent];
        let cut = ended.into_iter().any(|breach| self.breaches.has(breach));
        let to_come = !self.struck || self.arriving_energy.is_some_and(|energy| energy <= 0.0);
        cut && self.stopped_at.is_some() && to_come
    }

    /// Score of the claim for rare-event methods: 0 when it held, above 0 when
    /// not, and smaller the nearer the draw came. Gates passed count whole;
    /// inside a gate the shortfall ranks.
    #[must_use]
    pub fn score(&self, gates: usize) -> f64 {
        if self.stopped_at.is_none() {
            return 0.0;
        }
        #[expect(clippy::cast_precision_loss, reason = "a handful of gates")]
        let left = (gates - self.passed) as f64;
        // Tells shortfalls apart however large they are, unlike an exponential.
        (left - 1.0 / (1.0 + self.shortfall)).max(f64::MIN_POSITIVE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(passed: usize, shortfall: f64) -> f64 {
        let stopped_at = Some(Gate::Strikes);
        Outcome { passed, shortfall, stopped_at, ..Outcome::default() }.score(3)
    }

    #[test]
    fn nearer_is_always_a_smaller_score_and_only_success_is_zero() {
        let falling = [
            short(0, 1e6),
            short(0, 1e6 - 1.0),
            short(0, 40.0),
            short(0, 0.1),
            short(1, 1e9),
            short(2, 1e9),
            short(2, 1e-9),
            short(2, 0.0),
        ];
        assert!(falling.windows(2).all(|pair| pair[1] < pair[0]), "{falling:?}");
        assert!(falling.iter().all(|score| *score > 0.0));
        assert!(Outcome { passed: 3, ..Outcome::default() }.score(3) <= 0.0);
    }
}
