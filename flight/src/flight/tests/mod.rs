//! What the stepper owes: closed forms, conservation, the error budget, and
//! flights that do not see each other.

mod autorotation;
mod bodies;
mod budget;
mod debris;
mod drag;
mod energy;
mod gusts;
mod light;
mod neighbours;
mod regimes;
mod rigid;
mod spin;
mod symmetry;
mod terminal;
mod wake;
mod work;

use super::{Ending, Flight, Last, Plane, Scene, Settings, Source, State, Step, Verdict, fly};
use glam::{DQuat, DVec3};

/// Flights in order.
pub(super) struct List(pub(super) std::vec::IntoIter<Flight>);

impl Source for List {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.next()
    }
}

/// Notes where each flight crosses its plane or the ground and where it ends.
#[derive(Default)]
pub(super) struct Logbook {
    /// Draw, time and state at the first crossing.
    pub(super) crossings: Vec<(u64, f64, State)>,
    /// Draw, kind and place of each end.
    pub(super) ends: Vec<(u64, Ending, Last)>,
    /// Looks.
    pub(super) looks: usize,
}

/// Time inside a step at which `distance` vanishes, if it changes sign.
fn zero(step: &Step, distance: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (step.from(), step.to());
    let before = distance(a);
    if before * distance(b) > 0.0 {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (a + b);
        if before * distance(middle) > 0.0 {
            a = middle;
        } else {
            b = middle;
        }
    }
    Some(b)
}

impl Scene for Logbook {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        self.looks += 1;
        let plane = flight.watch.plane.unwrap_or(GROUND);
        let plane = zero(step, |t| plane.distance(step.position(t), t));
        let ground = zero(step, |t| step.position(t).z);
        // Whichever comes first.
        let met = [plane, ground].into_iter().flatten().reduce(f64::min);
        let Some(time) = met else { return Verdict::Continue };
        self.crossings.push((flight.draw, time, step.state(time)));
        Verdict::Stop
    }

    fn ended(&mut self, flight: &Flight, ending: Ending, last: Last) {
        self.ends.push((flight.draw, ending, last));
    }
}

/// The ground.
pub(super) const GROUND: Plane = Plane { normal: DVec3::Z, offset: 0.0, rate: 0.0 };

/// Flies these flights and notes what happens.
pub(super) fn flown(flights: Vec<Flight>, settings: &Settings) -> Logbook {
    let mut log = Logbook::default();
    fly(settings, &mut List(flights.into_iter()), &mut log);
    log
}

/// State of one flight at its deadline.
pub(super) fn at_deadline(flight: Flight, settings: &Settings) -> State {
    let log = flown(vec![flight], settings);
    let (_, ending, last) = log.ends[0];
    assert_eq!(ending, Ending::Deadline);
    last.state
}

/// Where one flight meets its plane or the ground: time and state.
pub(super) fn met(flight: Flight, settings: &Settings) -> (f64, State) {
    let log = flown(vec![flight], settings);
    let (_, time, state) = log.crossings[0];
    (time, state)
}

/// A hundred times as strict as the default: for closed forms.
pub(super) fn strict() -> Settings {
    Settings { tolerance: 1e-10, ..Settings::default() }
}

/// A state without attitude or rates.
pub(super) fn moving(position: [f64; 3], velocity: [f64; 3]) -> State {
    State {
        position: position.into(),
        velocity: velocity.into(),
        attitude: DQuat::IDENTITY,
        rates: DVec3::ZERO,
    }
}
