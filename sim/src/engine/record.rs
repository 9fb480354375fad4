//! Flying one draw again to write down its path.

use crate::{
    chain::{Claim, Course, Outcome},
    flight::{self, Ending, Flight, Last, Scene, Source, State, Step, Verdict},
};

/// A path written down: moments in order, and how the draw ended.
#[derive(Clone, Debug)]
pub struct Path {
    /// Times (s) and states, from release to the end.
    pub moments: Vec<(f64, State)>,
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
    Path { moments, outcome: course.outcome().clone() }
}

struct Once(Option<Flight>);

impl Source for Once {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.take()
    }
}

struct Recorder<'a> {
    claim: &'a Claim,
    course: &'a mut Course,
    moments: &'a mut Vec<(f64, State)>,
}

impl Scene for Recorder<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let verdict = self.course.look(self.claim, flight, step);
        let start = step.from();
        let end = match verdict {
            Verdict::Stop => self.course.stopped_at().unwrap_or(step.to()),
            Verdict::Redirect { time, .. } => time,
            Verdict::Continue => step.to(),
        };
        for k in 1..=POINTS_PER_STEP {
            let time = start + (end - start) * f64::from(k) / f64::from(POINTS_PER_STEP);
            self.moments.push((time, step.state(time)));
        }
        verdict
    }

    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last) {
        self.moments.push((last.time, last.state));
        self.course.ended(self.claim, flight, ending, &last);
    }
}
