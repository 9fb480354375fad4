//! One draw, from random numbers to what became of it.

use super::{Draws, Rows, record::Once};
use crate::{
    chain::{Claim, Course, Outcome},
    flight::{self, Ending, Flight, Last, Scene, Step, Verdict},
};

/// Flies one draw, told by where each uncertain input lies in its distribution.
///
/// `u`: one number in (0, 1) an uncertain input, in the order of
/// [`Draws::uncertain`], independent before correlation.
///
/// ```
/// use longodds_sim::{chain::Claim, engine::{Draws, fly_one}, scenario};
/// let text = scenario::template();
/// let claim = Claim::ready(scenario::parse(text, "".as_ref()).expect("it runs as it is"), 1);
/// let inputs = Draws::new(&claim.scenario().inputs, 1, &[]).uncertain().len();
/// let usual = fly_one(&claim, &vec![0.5; inputs]);
/// assert!(usual.released && usual.time > 0.0);
/// ```
#[must_use]
pub fn fly_one(claim: &Claim, u: &[f64]) -> Outcome {
    // From shares to values, ties between inputs and all.
    let draws = Draws::new(&claim.scenario().inputs, 0, &[]);
    let mut rows = Rows { values: draws.middle(), ranks: Vec::new() };
    if !u.is_empty() {
        draws.fill_from(u, &mut rows);
    }
    // Its body, air, target and start; no flight if it never comes loose.
    let mut course = Course::default();
    let flight = claim.begin(0, &rows.values, &mut course);
    // The stepper flies; the course looks at each step for touches, takes the
    // flight on from them, and in the end walks the chain gate by gate.
    flight::fly(claim.settings(), &mut Once(flight), &mut Follower { claim, course: &mut course });
    course.outcome().clone()
}

struct Follower<'a> {
    claim: &'a Claim,
    course: &'a mut Course,
}

impl Scene for Follower<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        self.course.look(self.claim, flight, step)
    }

    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last) {
        self.course.ended(self.claim, flight, ending, &last);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        engine::{Flock, fly_rows},
        scenario,
    };

    #[test]
    fn a_draw_alone_ends_as_it_does_among_others() {
        let scenario = scenario::parse(scenario::template(), "".as_ref()).unwrap();
        let claim = Claim::new(scenario);
        let draws = Draws::new(&claim.scenario().inputs, 5, &[]);
        let mut rows = Rows::default();
        draws.fill(0..40, &mut rows);
        let mut flock = Flock::default();
        let (many, _) = fly_rows(&claim, &rows.values, 0, claim.settings(), &mut flock);
        for (draw, among) in (0..).zip(many) {
            let alone = fly_one(&claim, &draws.points(draw..draw + 1));
            assert_eq!(format!("{alone:?}"), format!("{:?}", Outcome { draw: 0, ..among.clone() }));
        }
    }
}
