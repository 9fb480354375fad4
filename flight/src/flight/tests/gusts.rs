//! Flights in gusts.

use super::{
    at_deadline,
    bodies::{calm, each_shape, flight, windy},
    budget::half_steps_keep_the_budget,
    flown, moving,
    neighbours::{jumble, variety},
    strict,
};
use crate::{
    body::{Body, Shape},
    flight::{Family, Flight, GRAVITY, Settings},
    world::{AirNow, Gusts, MeanWind, Terrain, Turbulence},
};

/// A lively wind: two or three gusts a second.
const TURBULENCE: Turbulence =
    Turbulence { intensity: 0.3, scale: 10.0, across: 0.8, upwards: 0.5 };

/// The same flight in gusts of its own.
pub(super) fn gusty(flight: Flight, turbulence: Turbulence) -> Flight {
    let start = flight.start.position;
    let mean = flight.air.wind.at(start.z);
    let first = [97, 98, 99].map(|place| 4.0 * jumble(flight.draw, place) - 2.0);
    let number = |number| 0.001 + 0.998 * jumble(flight.draw, 100 + u64::from(number));
    let gusts = Some(Gusts::new(turbulence, mean, start, first, number));
    Flight { air: AirNow { gusts, ..flight.air }, ..flight }
}

#[test]
fn half_steps_move_the_impact_by_less_than_the_budget_in_gusts() {
    for (name, body) in each_shape() {
        let steady = variety(body, 200, Terrain::Open);
        let gusts = steady.into_iter().map(|flight| gusty(flight, TURBULENCE)).collect();
        half_steps_keep_the_budget(name, gusts);
    }
}

#[test]
fn gusts_of_no_strength_have_the_bits_of_a_steady_wind() {
    for family in Family::available() {
        let settings = Settings { family, ..Settings::default() };
        for (name, body) in each_shape() {
            let none = Turbulence { intensity: 0.0, ..TURBULENCE };
            let steady = variety(body, 30, Terrain::Open);
            let calm = steady.iter().map(|flight| gusty(flight.clone(), none)).collect();
            let bits = |flights| {
                let log = flown(flights, &settings);
                let ends = log.ends.iter().map(|(draw, _, last)| (*draw, last.state));
                let met = log.crossings.iter().map(|(draw, _, state)| (*draw, *state));
                let all =
                    ends.chain(met).map(|(draw, state)| (draw, state.to_array().map(f64::to_bits)));
                let mut all: Vec<_> = all.collect();
                all.sort_unstable();
                all
            };
            assert!(bits(steady) == bits(calm), "{name}, {}", family.name());
        }
    }
}

/// Source: a flake without weight to speak of goes where the air goes, and the
/// air keeps its gust as it goes (frozen turbulence): steady motion at the wind
/// and gust that it started in.
#[test]
fn a_flake_goes_with_its_own_gust() {
    let body = Body::solid(Shape::Sphere { diameter: 0.002 }, 1e-8);
    let wind = MeanWind::new(8.0, 0.4, 10.0, Terrain::Uniform);
    for draw in 0..20 {
        let mut one = flight(body, windy(wind), moving([0.0, 0.0, 50.0], [0.0; 3]), 4.0);
        one.draw = draw;
        let mean = wind.at(50.0);
        one.start.velocity = [mean[0], mean[1], 0.0].into();
        let slow = Turbulence { intensity: 0.1, scale: 200.0, across: 0.8, upwards: 0.0 };
        let one = gusty(one, slow);
        let air = one.air;
        let end = at_deadline(one, &strict());
        let wind = air.wind_at(end.position, 4.0);
        let apart = (end.velocity - wind).truncate().length();
        assert!(apart < 0.02, "{draw}: {} for {wind}", end.velocity);
    }
}

/// Source: for a stone that hardly slows, the push of a gust is ½ ρ Cd A of the
/// square of the speed through the air at that moment: a step of the flight is
/// compared with that, force by force.
#[test]
fn the_drag_of_a_moment_is_that_of_the_wind_of_the_moment() {
    let body = Body::solid(Shape::Block { length: 0.2, width: 0.2, height: 0.2 }, 1e4);
    let wind = MeanWind::new(15.0, 0.0, 10.0, Terrain::Uniform);
    let start = moving([0.0, 0.0, 100.0], [0.0; 3]);
    let rest = |deadline| {
        let one = flight(body, AirNow { wind, ..calm() }, start, deadline);
        let one = gusty(Flight { draw: 5, ..one }, TURBULENCE);
        (one.air, one.coefficients, at_deadline(one, &strict()).velocity)
    };
    // It falls as in a vacuum and does not drift: the impulse of the drag over two
    // seconds, by the midpoint rule.
    let (air, coefficients, gained) = rest(2.0);
    let steps = 2000;
    let impulse: glam::DVec3 = (0..steps)
        .map(|i| {
            let time = 2.0 * (f64::from(i) + 0.5) / f64::from(steps);
            let wind = air.wind_at(start.position, time);
            let through = glam::DVec3::new(0.0, 0.0, -GRAVITY * time) - wind;
            coefficients.load(through, glam::DVec3::ZERO).0 * 2.0 / f64::from(steps)
        })
        .sum();
    let weight = GRAVITY * (1.0 - air.air.density * body.volume() / body.mass);
    let pushed = gained + glam::DVec3::Z * weight * 2.0;
    let wanted = impulse / body.mass;
    for axis in 0..3 {
        let near = (pushed[axis] - wanted[axis]).abs() < 2e-3 * wanted.length();
        assert!(near, "{axis}: {pushed} {wanted}");
    }
    // Across and upwards there is something to compare.
    let calm = coefficients.load(-GRAVITY * glam::DVec3::Z, glam::DVec3::ZERO).0.z * 2.0;
    assert!(wanted.y.abs() > 0.01 * wanted.length() && calm > 0.0, "{wanted}");
}
