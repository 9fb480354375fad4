//! The error budget, and how the error falls with the step.

use super::{
    at_deadline,
    bodies::{each_shape, flight, the, windy},
    flown, moving,
    neighbours::variety,
};
use crate::{
    body::Body,
    flight::{Ending, Flight, Settings, State, fly},
    world::{MeanWind, Terrain},
};
use glam::DVec3;

/// Kinetic energy, in J.
fn energy(body: &Body, state: &State) -> f64 {
    0.5 * body.mass * state.velocity.length_squared()
        + 0.5 * (body.inertia * state.rates).dot(state.rates)
}

/// Flies these flights again at half the step.
///
/// Limit: 1 mm per 50 m flown and 0.1 % of the energy, for 99 % of them; the
/// rest are near-chaotic and are counted by every run.
pub(super) fn half_steps_keep_the_budget(name: &str, flights: Vec<Flight>) {
    let (body, count) = (flights[0].body, flights.len());
    let mut full = flown(flights.clone(), &Settings::default());
    let mut half = flown(flights, &Settings { step_scale: 0.5, ..Settings::default() });
    full.crossings.sort_by_key(|(draw, ..)| *draw);
    half.crossings.sort_by_key(|(draw, ..)| *draw);
    assert_eq!(full.crossings.len(), half.crossings.len());
    let outside = full.crossings.iter().zip(&half.crossings).filter(|((_, _, a), (_, _, b))| {
        let allowed = 1e-3 * a.position.length() / 50.0;
        let energy = energy(&body, a) / energy(&body, b) - 1.0;
        (a.position - b.position).length() > allowed || energy.abs() > 1e-3
    });
    let (outside, all) = (outside.count(), full.crossings.len());
    assert!(2 * all > count && outside * 100 <= all, "{name}: {outside} of {all}");
}

#[test]
fn half_steps_move_the_impact_by_less_than_the_budget() {
    for (name, body) in each_shape() {
        half_steps_keep_the_budget(name, variety(body, 300, Terrain::Open));
    }
}

#[test]
fn half_the_step_takes_about_twice_the_work() {
    for (name, body) in each_shape() {
        let work = |step_scale| {
            let mut list = super::List(variety(body, 60, Terrain::Open).into_iter());
            let settings = Settings { step_scale, ..Settings::default() };
            fly(&settings, &mut list, &mut super::Logbook::default()).evaluations as f64
        };
        let ratio = work(0.5) / work(1.0);
        assert!((1.4..2.3).contains(&ratio), "{name}: {ratio}");
    }
}

/// Source: order 5 of the method (Tsitouras 2011): the error falls with the
/// fifth power of the number of steps; 4.3 to 6 is accepted.
#[test]
fn the_error_falls_with_the_fifth_power_of_the_step() {
    let body = the("block");
    let wind = MeanWind::new(8.0, 0.4, 10.0, Terrain::Uniform);
    let start =
        State { rates: DVec3::new(5.0, -7.0, 9.0), ..moving([0.0, 0.0, 100.0], [25.0, 2.0, 5.0]) };
    let one = || flight(body, windy(wind), start, 2.0);
    let exact = at_deadline(one(), &Settings { tolerance: 1e-14, ..Settings::default() }).position;
    let error_and_steps = |tolerance| {
        let settings = Settings { tolerance, ..Settings::default() };
        let mut log = super::Logbook::default();
        let work = fly(&settings, &mut super::List(vec![one()].into_iter()), &mut log);
        ((log.ends[0].2.state.position - exact).length(), work.steps as f64)
    };
    let (coarse, few) = error_and_steps(1e-6);
    let (fine, many) = error_and_steps(1e-10);
    let order = libm::log(coarse / fine) / libm::log(many / few);
    assert!((4.3..6.0).contains(&order), "{order}");
}

/// Whatever flies: with few steps to take, each flight ends as it does with many,
/// bit for bit, or as spent with no more steps than it was given.
#[test]
fn a_flight_ends_as_ever_or_when_its_steps_are_spent() {
    for (name, body) in each_shape() {
        let flights = || variety(body, 60, Terrain::Open);
        let free = flown(flights(), &Settings::default());
        for most_steps in [3.0, 40.0, 120.0] {
            let settings = Settings { most_steps, ..Settings::default() };
            let (mut log, mut list) =
                (super::Logbook::default(), super::List(flights().into_iter()));
            let work = fly(&settings, &mut list, &mut log);
            assert!((work.steps + work.rejected) as f64 <= most_steps * 60.0, "{name}: {work:?}");
            let spent = log.ends.iter().filter(|(_, ending, _)| *ending == Ending::Spent).count();
            assert!(most_steps > 3.0 || spent > 50, "{name}: {spent}");
            for (draw, _, state) in &log.crossings {
                let same = free.crossings.iter().find(|(other, ..)| other == draw).unwrap();
                assert_eq!(*state, same.2, "{name}");
            }
            for (draw, ending, last) in &log.ends {
                let same = free.ends.iter().find(|(other, ..)| other == draw);
                let alike = same.is_some_and(|(_, _, other)| other.state == last.state);
                assert!(*ending == Ending::Spent || alike, "{name}: {ending:?}");
            }
            assert_eq!(log.crossings.len() + log.ends.len(), 60);
        }
    }
}
