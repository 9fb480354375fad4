//! How a target that brakes or steers leaves its even course.
//!
//! Assumes: braking at one deceleration until it stands, and stays; steering
//! aside at one sideways acceleration, half of the way out and half of it back,
//! so that it goes on along its heading beside its old line. Valid for road
//! vehicles on a dry, level road. Ignores: that brakes take time to bite, that
//! the body turns, dives and rolls (its axes stay as they were), and that tyres
//! share their grip between the two.
//!
//! Source: motion under constant acceleration.

use super::{Motion, clear::parabola};
use crate::flight::{Path, State};
use crate::note::{Kind, Note, Subject};
use glam::DVec3;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject {
    key: "course of the target",
    claims: "Where a driver's braking and steering take the target",
};

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "course of the target",
    how: "braking at one deceleration until it stands, and stays; steering aside at one sideways acceleration, half of the way out and half of it back, onto a line beside the old one",
    source: "motion under constant acceleration; what drivers do: AASHTO (from memory)",
    kind: Kind::Memory,
    range: "road vehicles on a dry, level road",
    leaves_out: "the time that brakes take to bite; the body does not turn, dive or roll, and tyres do not share their grip between braking and steering",
};

/// Most changes of a course: brakes on, still; steering out, back, done.
const MOST: usize = 5;

/// Braking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brakes {
    /// When it begins, in s after release.
    pub after: f64,
    /// Deceleration, in m/s².
    pub at: f64,
}

/// Moving over to one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steers {
    /// When it begins, in s after release.
    pub after: f64,
    /// Sideways acceleration, in m/s².
    pub at: f64,
    /// How far over, to the left of the heading, in m.
    pub left: f64,
}

/// From `since` on: away from the even course by `away`, `drift` faster than it,
/// and ever more by `gain`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Leg {
    since: f64,
    away: DVec3,
    drift: DVec3,
    gain: DVec3,
}

impl Leg {
    fn away(&self, time: f64) -> DVec3 {
        let t = time - self.since;
        self.away + self.drift * t + self.gain * (0.5 * t * t)
    }

    fn drift(&self, time: f64) -> DVec3 {
        self.drift + self.gain * (time - self.since)
    }
}

/// Where a target that brakes or steers is, less where it would be had it gone
/// on as it was: stretches of constant acceleration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Manoeuvre {
    legs: [Leg; MOST],
    count: usize,
}

impl Manoeuvre {
    /// Of a target that sets out at `velocity`; `None` where nothing comes of
    /// it: it stands, or brakes and steers at nothing.
    #[must_use]
    pub fn new(velocity: DVec3, brakes: Option<Brakes>, steers: Option<Steers>) -> Option<Self> {
        let ahead = velocity.try_normalize()?;
        let left = DVec3::new(-ahead.y, ahead.x, 0.0);
        let brakes = brakes.filter(|brakes| brakes.at > 0.0);
        let steers = steers.filter(|steers| steers.at > 0.0 && steers.left.abs() > 0.0);
        let stands = brakes.map_or(f64::INFINITY, |b| b.after + velocity.length() / b.at);
        let slows = brakes.map(|b| ([b.after, stands], -ahead * b.at));
        let over = steers.map(|s| {
            let half = (s.left.abs() / s.at).sqrt();
            let [begin, middle, end] = [0.0, half, 2.0 * half].map(|t| s.after + t);
            let push = left * s.at.copysign(s.left);
            [([begin, middle], push), ([middle, end], -push)]
        });
        let pushes = || slows.into_iter().chain(over.into_iter().flatten());
        let mut changes = [f64::INFINITY; 2 * MOST];
        for (place, change) in changes.iter_mut().zip(pushes().flat_map(|(span, _)| span)) {
            *place = change;
        }
        changes.sort_unstable_by(f64::total_cmp);
        let mut made = Self { legs: [Leg::default(); MOST], count: 0 };
        for since in changes.into_iter().filter(|since| *since <= stands && since.is_finite()) {
            if made.last().is_some_and(|last| since <= last.since) {
                continue;
            }
            let (away, drift) = (made.away(since), made.drift(since));
            let pushed = pushes().filter(|([from, to], _)| (*from..*to).contains(&since));
            let leg = if since < stands {
                Leg { since, away, drift, gain: pushed.map(|(_, push)| push).sum() }
            } else {
                // What stands goes nowhere, sideways neither.
                Leg { since, away, drift: -velocity, gain: DVec3::ZERO }
            };
            made.legs[made.count] = leg;
            made.count += 1;
        }
        (made.count > 0).then_some(made)
    }

    /// How far it is from its even course at `time`, in m.
    #[must_use]
    pub fn away(&self, time: f64) -> DVec3 {
        self.leg(time).map_or(DVec3::ZERO, |leg| leg.away(time))
    }

    /// Its velocity less that of its even course at `time`, in m/s.
    #[must_use]
    pub fn drift(&self, time: f64) -> DVec3 {
        self.leg(time).map_or(DVec3::ZERO, |leg| leg.drift(time))
    }

    /// The stretches of `[from, to]` in which its acceleration is constant.
    pub(super) fn stretches(&self, [from, to]: [f64; 2]) -> impl Iterator<Item = [f64; 2]> {
        let changes = self.legs[..self.count].iter().map(|leg| leg.since);
        let inside = changes.filter(move |since| *since > from && *since < to);
        let mut start = from;
        inside.chain([to]).map(move |end| {
            let stretch = [start, end];
            start = end;
            stretch
        })
    }

    fn leg(&self, time: f64) -> Option<&Leg> {
        self.legs[..self.count].iter().rev().find(|leg| leg.since <= time)
    }

    fn last(&self) -> Option<&Leg> {
        self.legs[..self.count].last()
    }
}

/// A motion as a target that brakes or steers sees it, were its own course even:
/// what is touched is then the same, and moves evenly. Heights stay as they are,
/// and with them what the ground meets.
#[derive(Debug)]
pub(super) struct Seen<'a, M> {
    pub(super) motion: &'a M,
    pub(super) from: &'a Manoeuvre,
}

impl<M: Motion> Motion for Seen<'_, M> {
    fn state(&self, time: f64) -> State {
        let state = self.motion.state(time);
        State {
            position: state.position - self.from.away(time),
            velocity: state.velocity - self.from.drift(time),
            ..state
        }
    }

    fn position(&self, time: f64) -> DVec3 {
        self.motion.position(time) - self.from.away(time)
    }

    /// Over a stretch of constant acceleration.
    fn path(&self, span: [f64; 2]) -> Option<Path> {
        let path = self.motion.path(span)?;
        let away = parabola(span, |time| self.from.away(time));
        Some(Path { centre: std::array::from_fn(|i| path.centre[i] - away[i]), ..path })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const CAR: DVec3 = DVec3::new(-25.0, 0.0, 0.0);

    fn near(a: DVec3, b: DVec3) {
        assert!((a - b).length() <= 1e-9, "{a} is not {b}");
    }

    /// Source: way to a stop v t + v²/2a, AASHTO's design driver (read
    /// second-hand): 154.41 m from 25 m/s in 2.5 s and at 3.4 m/s².
    #[test]
    fn a_car_that_brakes_stops_after_its_stopping_distance() {
        let brakes = Some(Brakes { after: 2.5, at: 3.4 });
        let course = Manoeuvre::new(CAR, brakes, None).expect("it brakes");
        let gone = |time: f64| CAR * time + course.away(time);
        near(gone(2.0), CAR * 2.0);
        let halfway: f64 = 2.5 + 3.0;
        near(gone(halfway), DVec3::X * (-25.0 * halfway + 0.5 * 3.4 * 9.0));
        let stop: f64 = 25.0 * 2.5 + 25.0 * 25.0 / (2.0 * 3.4);
        assert!((stop - 154.41).abs() < 5e-3);
        for time in [2.5 + 25.0 / 3.4, 12.0, 100.0] {
            near(gone(time), DVec3::X * -stop);
        }
        near(CAR + course.drift(100.0), DVec3::ZERO);
    }

    /// Source: motion under constant acceleration: out by ½ a t², over by `left`
    /// after twice the root of it over a.
    #[test]
    fn a_car_that_steers_is_over_by_what_was_told() {
        let course = |left: f64| {
            let steers = Some(Steers { after: 1.0, at: 3.0, left });
            Manoeuvre::new(CAR, None, steers).expect("it steers")
        };
        // It drives towards -x: its left is -y.
        near(course(3.0).away(1.8), DVec3::Y * (-0.5 * 3.0 * 0.64));
        near(course(3.0).away(2.0), DVec3::Y * -1.5);
        near(course(-3.0).away(2.5), DVec3::Y * (3.0 - 0.5 * 3.0 * 0.25));
        near(course(-3.0).away(9.0), DVec3::Y * 3.0);
        near(course(-3.0).drift(9.0), DVec3::ZERO);
    }

    #[test]
    fn what_has_stopped_is_not_carried_aside() {
        let (brakes, steers) = (
            Brakes { after: 0.0, at: 25.0 },
            // One metre over would take 2 s.
            Steers { after: 0.5, at: 1.0, left: 1.0 },
        );
        let course = Manoeuvre::new(CAR, Some(brakes), Some(steers)).expect("it does both");
        near(course.away(1.0), DVec3::new(12.5, -0.5 * 0.25, 0.0));
        near(CAR * 5.0 + course.away(5.0), DVec3::new(-12.5, -0.125, 0.0));
    }

    #[test]
    fn nothing_comes_of_braking_at_nothing_or_at_a_stand() {
        let brakes = |at| Some(Brakes { after: 1.0, at });
        let steers = |left| Some(Steers { after: 1.0, at: 3.0, left });
        assert!(Manoeuvre::new(CAR, brakes(0.0), steers(0.0)).is_none());
        assert!(Manoeuvre::new(DVec3::ZERO, brakes(5.0), steers(1.0)).is_none());
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        #[test]
        fn place_and_speed_agree_between_all_changes(
            (after, at) in (0.0..3.0, 0.0..9.0),
            (later, aside, left) in (0.0..3.0, 0.0..5.0, -5.0..5.0),
        ) {
            let brakes = Some(Brakes { after, at });
            let steers = Some(Steers { after: later, at: aside, left });
            let course = Manoeuvre::new(CAR, brakes, steers).expect("it does something");
            for [from, to] in course.stretches([0.0, 30.0]) {
                let middle = f64::midpoint(from, to);
                let mean = course.drift(middle);
                // The end of a stretch belongs to the next.
                let end = to - 1e-9 * (to - from);
                let gone = course.away(end) - course.away(from);
                prop_assert!((gone - mean * (end - from)).length() < 1e-5);
            }
        }
    }
}
