//! Energy is lost to still air and never won from it.

use super::{
    bodies::{calm, each_shape, flight},
    flown, moving,
    neighbours::jumble,
};
use crate::{
    aero::{Coefficients, Figure, Figures},
    body::Body,
    flight::{Ending, Flight, GRAVITY, Last, Scene, Settings, State, Step, Verdict, Watch, fly},
};
use glam::{DQuat, DVec3};

/// Height, translation and rotation, in J; buoyancy is left out of the weight.
fn energy(body: &Body, state: &State) -> f64 {
    let buoyancy = calm().air.density * body.volume();
    body.kinetic_energy(state.velocity, state.rates)
        + (body.mass - buoyancy) * GRAVITY * state.position.z
}

/// The largest rise of energy within a flight over what it began with.
struct Rise(f64);

impl Scene for Rise {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let first = energy(&flight.body, &flight.start);
        let gained = energy(&flight.body, &step.end()) - energy(&flight.body, &step.start());
        self.0 = self.0.max(gained / first);
        Verdict::Continue
    }

    fn ended(&mut self, _: &Flight, _: Ending, _: Last) {}
}

/// Source: conservation of energy. Limit 1e-7 of the energy per step: the step
/// error.
#[test]
fn energy_never_rises_in_still_air() {
    for (name, body) in each_shape() {
        let mut flights = Vec::new();
        for draw in 0..60 {
            let at = |place| jumble(draw, place) - 0.5;
            let start = State {
                attitude: DQuat::from_scaled_axis(6.0 * DVec3::new(at(1), at(2), at(3))),
                rates: 60.0 * DVec3::new(at(4), at(5), at(6)),
                ..moving([0.0, 0.0, 60.0], [50.0 * at(7), 10.0 * at(8), 20.0 * at(9)])
            };
            let watch = Watch { zone: None, plane: None, every_step: true };
            flights.push(Flight { draw, watch, ..flight(body, calm(), start, 2.0) });
        }
        let mut rise = Rise(0.0);
        fly(&Settings::default(), &mut super::List(flights.into_iter()), &mut rise);
        assert!(rise.0 < 1e-7, "{name}: {}", rise.0);
    }
}

/// The same with every figure at either end of its range, in all combinations of two
/// that matter, where a shape's forces are as lively as the sources allow.
#[test]
fn energy_never_rises_at_the_ends_of_what_is_open() {
    for (name, body) in each_shape() {
        let own = Figure::of(&body.shape, body.surface);
        let mut flights = Vec::new();
        for draw in 0..96 {
            let at = |place: u64| jumble(draw, 40 + place) - 0.5;
            let start = State {
                attitude: DQuat::from_scaled_axis(6.0 * DVec3::new(at(1), at(2), at(3))),
                rates: 60.0 * DVec3::new(at(4), at(5), at(6)),
                ..moving([0.0, 0.0, 60.0], [50.0 * at(7), 10.0 * at(8), 20.0 * at(9)])
            };
            let chosen = own.iter().enumerate().fold(Figures::default(), |figures, (i, figure)| {
                figures.with(
                    *figure,
                    figure.range(body.surface, f64::INFINITY)[usize::from(draw >> i & 1 == 1)],
                )
            });
            let watch = Watch { zone: None, plane: None, every_step: true };
            let plan = flight(body, calm(), start, 2.0);
            let coefficients = Coefficients::by(&body, &plan.air.air, 1.0, &chosen);
            flights.push(Flight { draw, watch, coefficients, ..plan });
        }
        let mut rise = Rise(0.0);
        fly(&Settings::default(), &mut super::List(flights.into_iter()), &mut rise);
        assert!(rise.0 < 1e-7, "{name}: {}", rise.0);
    }
}

/// Source: closed form: in a uniform wind a flight is the flight in still air
/// of a frame that moves with the wind.
#[test]
fn a_uniform_wind_is_a_moving_frame() {
    let wind = crate::world::MeanWind::new(9.0, 0.5, 10.0, crate::world::Terrain::Uniform);
    let drift = DVec3::new(wind.x, wind.y, 0.0);
    for (name, body) in each_shape() {
        let start = State {
            attitude: DQuat::from_scaled_axis(DVec3::new(0.4, -0.9, 0.3)),
            rates: DVec3::new(3.0, -4.0, 5.0),
            ..moving([0.0, 0.0, 60.0], [22.0, 3.0, 4.0])
        };
        let end = |air, start| {
            let log = flown(vec![flight(body, air, start, 0.5)], &super::strict());
            log.ends[0].2.state
        };
        let blown = end(super::bodies::windy(wind), start);
        let still = end(calm(), State { velocity: start.velocity - drift, ..start });
        let apart = blown.position - still.position - drift * 0.5;
        assert!(apart.length() < 1e-7, "{name}: {apart}");
    }
}
