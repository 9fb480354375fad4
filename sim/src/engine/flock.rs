//! A batch of rows flown together.

use crate::{
    chain::{Claim, Course, Outcome},
    flight::{self, Ending, Flight, Last, Scene, Settings, Source, Step, Verdict, Work},
};
use std::cell::{Cell, RefCell};

/// Room for flying batch after batch without allocating.
#[derive(Debug, Default)]
pub struct Flock {
    courses: RefCell<Courses>,
}

#[derive(Debug, Default)]
struct Courses {
    active: Vec<Course>,
    idle: Vec<Course>,
    outcomes: Vec<Outcome>,
}

/// Flies a batch of rows and returns their outcomes in the order of the rows.
///
/// `rows`: draws x inputs, row-major, SI values; row `k` is draw `first + k`.
pub fn fly_rows<'f>(
    claim: &Claim,
    rows: &[f64],
    first: u64,
    settings: &Settings,
    flock: &'f mut Flock,
) -> (&'f [Outcome], Work) {
    let width = claim.scenario().inputs.len();
    let count = rows.len() / width;
    let courses = flock.courses.get_mut();
    courses.outcomes.clear();
    courses.outcomes.resize(count, Outcome::default());
    let batch = Batch { claim, rows, width, first, next: Cell::new(0), courses: &flock.courses };
    let work = flight::fly(settings, &mut &batch, &mut &batch);
    (&flock.courses.get_mut().outcomes, work)
}

struct Batch<'a> {
    claim: &'a Claim,
    rows: &'a [f64],
    width: usize,
    first: u64,
    next: Cell<usize>,
    courses: &'a RefCell<Courses>,
}

impl Courses {
    #[expect(clippy::expect_used, reason = "a lane only reports flights it was given")]
    fn seat(&self, draw: u64) -> usize {
        let found = self.active.iter().position(|course| course.draw() == draw);
        found.expect("the flight is in the air")
    }

    fn on(&mut self, draw: u64) -> &mut Course {
        let seat = self.seat(draw);
        &mut self.active[seat]
    }

    fn over(&mut self, draw: u64, first: u64) {
        let place = self.seat(draw);
        let course = self.active.swap_remove(place);
        self.keep(&course, first);
        self.idle.push(course);
    }

    fn keep(&mut self, course: &Course, first: u64) {
        let place = course.draw() - first;
        if let Some(outcome) = self.outcomes.get_mut(usize::try_from(place).unwrap_or(usize::MAX)) {
            outcome.clone_from(course.outcome());
        }
    }
}

impl Source for &Batch<'_> {
    fn next_flight(&mut self) -> Option<Flight> {
        let mut courses = self.courses.borrow_mut();
        loop {
            let place = self.next.get();
            let row = self.rows.get(place * self.width..(place + 1) * self.width)?;
            self.next.set(place + 1);
            let mut course = courses.idle.pop().unwrap_or_default();
            let flight = self.claim.begin(self.first + place as u64, row, &mut course);
            if flight.is_some() {
                courses.active.push(course);
                return flight;
            }
            courses.keep(&course, self.first);
            courses.idle.push(course);
        }
    }
}

impl Scene for &Batch<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let mut courses = self.courses.borrow_mut();
        let verdict = courses.on(flight.draw).look(self.claim, flight, step);
        if matches!(verdict, Verdict::Stop) {
            courses.over(flight.draw, self.first);
        }
        verdict
    }

    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last) {
        let mut courses = self.courses.borrow_mut();
        courses.on(flight.draw).ended(self.claim, flight, ending, &last);
        courses.over(flight.draw, self.first);
    }
}
