//! Our stepper alone, on flights made beforehand: no sampling, no contact.

use crate::Aim;
use longodds_sim::flight::{
    Ending, Flight, Last, Scene, Settings, Source, State, Step, Verdict, Work, fly,
};

/// How a flight ended.
#[derive(Clone, Copy, Debug, Default)]
pub struct Landing {
    /// 0 at the deadline, 1 in the plane, 2 on the ground.
    pub code: u8,
    /// When, in s.
    pub time: f64,
    /// Where the centre was, in m.
    pub place: [f64; 3],
    /// Kinetic energy, in J.
    pub energy: f64,
}

impl Landing {
    /// As a row of results.
    #[must_use]
    pub fn row(&self) -> [f64; 6] {
        let [x, y, z] = self.place;
        [f64::from(self.code), self.time, x, y, z, self.energy]
    }
}

/// Flies `flights` one way and notes how each ended.
///
/// `landings`: as many as there are flights.
pub fn fly_single(
    flights: &[Flight],
    aim: &Aim,
    settings: &Settings,
    landings: &mut [Landing],
) -> Work {
    let Some(first) = flights.first() else { return Work::default() };
    let mut scene = Landings { aim, first: first.draw, landings };
    fly(settings, &mut List(flights.iter()), &mut scene)
}

struct List<'a>(std::slice::Iter<'a, Flight>);

impl Source for List<'_> {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.next().cloned()
    }
}

struct Landings<'a> {
    aim: &'a Aim,
    first: u64,
    landings: &'a mut [Landing],
}

impl Landings<'_> {
    #[expect(clippy::cast_possible_truncation, reason = "a place in a list in memory")]
    fn note(&mut self, flight: &Flight, code: u8, time: f64, state: &State) {
        let w = state.rates;
        let turning = (flight.body.inertia * w).dot(w);
        self.landings[(flight.draw - self.first) as usize] = Landing {
            code,
            time,
            place: state.position.to_array(),
            energy: 0.5 * (flight.body.mass * state.velocity.length_squared() + turning),
        };
    }
}

impl Scene for Landings<'_> {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let plane = crossing(step, |t| step.position(t).x - self.aim.plane);
        let ground = crossing(step, |t| step.position(t).z);
        let (code, time) = match (plane, ground) {
            (Some(a), Some(b)) if a > b => (2, b),
            (Some(a), _) => (1, a),
            (None, Some(b)) => (2, b),
            (None, None) => return Verdict::Continue,
        };
        self.note(flight, code, time, &step.state(time));
        Verdict::Stop
    }

    fn ended(&mut self, flight: &Flight, _: Ending, last: Last) {
        self.note(flight, 0, last.time, &last.state);
    }
}

/// Where in a step a distance vanishes: regula falsi, the stale end halved.
fn crossing(step: &Step, distance: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (step.from(), step.to());
    let (mut at_a, mut at_b) = (distance(a), distance(b));
    if at_a * at_b > 0.0 || at_a == 0.0 {
        return None;
    }
    for _ in 0..40 {
        let t = (a * at_b - b * at_a) / (at_b - at_a);
        let at_t = distance(t);
        if at_t.abs() < 1e-10 {
            return Some(t);
        }
        if at_t * at_b < 0.0 {
            (a, at_a) = (b, at_b);
        } else {
            at_a *= 0.5;
        }
        (b, at_b) = (t, at_t);
    }
    Some(b)
}
