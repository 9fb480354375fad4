//! Flying one draw again to write down its path.

use crate::{
    chain::{Claim, Course, Encounter, Outcome},
    flight::{self, Ending, Flight, Last, Scene, Source, State, Step, Verdict},
};

/// A path written down: moments in order, and how the draw ended.
#[derive(Clone, Debug)]
pub struct Path {
    /// Times (s) and states, from release to the end; where it touches something
    /// and goes on, as it came and as it left.
    pub moments: Vec<(f64, State)>,
    /// What it touched and went on from, in order.
    pub encounters: Vec<Encounter>,
    /// The outcome.
    pub outcome: Outcome,
}

/// Points written down within one step of the integrator.
const POINTS_PER_STEP: u32 = 4;

/// Flies one draw and writes down its path; a draw that never comes loose has
/// an empty one. `row`: the draw's values, SI.
#[must_use]
pub fn record(claim: &Claim, draw: u64, row: &[f64]) -> Path {
    let mut course = Course::default();
    let first = claim.begin(draw, row, &mut course).map(|mut flight| {
        flight.watch.every_step = true;
        flight
    });
    let mut moments: Vec<_> = first.iter().map(|flight| (0.0, flight.start)).collect();
    let mut once = Once(first);
    let mut recorder = Recorder { claim, course: &mut course, moments: &mut moments };
    flight::fly(claim.settings(), &mut once, &mut recorder);
    let encounters = course.encounters().to_vec();
    Path { moments, encounters, outcome: course.outcome().clone() }
}

/// One flight and no more.
pub(super) struct Once(pub(super) Option<Flight>);

impl Source for Once {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.take()
    }
}

/// Until when a step was flown that was looked at with this verdict: to the
/// first touch after the `met` that came before, to the end of the flight, or to
/// its own end.
pub(super) fn flown_until(course: &Course, met: usize, verdict: &Verdict, step: &Step) -> f64 {
    let touched = course.encounters().get(met).map(|encounter| encounter.time);
    touched.unwrap_or_else(|| match verdict {
        Verdict::Stop => course.stopped_at().unwrap_or(step.to()),
        Verdict::Redirect { time, .. } => *time,
        Verdict::Continue => step.to(),
    })
}

struct Recorder<'a> {
    claim: &'a Claim,
    course: &'a mut Course,
    moments: &'a mut Vec<(f64, State)>,
}

impl Scene for Recorder<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let (met, noted) = (self.course.encounters().len(), self.course.places().len());
        let verdict = self.course.look(self.claim, flight, step);
        let start = step.from();
        let end = flown_until(self.course, met, &verdict, step);
        for k in 1..=POINTS_PER_STEP {
            let time = start + (end - start) * f64::from(k) / f64::from(POINTS_PER_STEP);
            self.moments.push((time, step.state(time)));
        }
        self.moments.extend_from_slice(&self.course.places()[noted..]);
        // As it leaves a touch: the moment before is as it came.
        if let Verdict::Redirect { time, state } = verdict {
            self.moments.push((time, state));
        }
        verdict
    }

    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last) {
        self.moments.push((last.time, last.state));
        self.course.ended(self.claim, flight, ending, &last);
    }
}
