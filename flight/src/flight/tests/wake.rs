//! Flights in the wake of a carrier.

use super::{
    at_deadline,
    bodies::{calm, each_shape, flight, the, windy},
    budget::half_steps_keep_the_budget,
    flown, moving,
    neighbours::{bits, jumble, variety},
    strict,
};
use crate::{
    body::{Body, Shape},
    flight::{Family, Flight, Settings, State},
    world::{AirNow, Carrier, MeanWind, Terrain, Wake},
};
use glam::{DQuat, DVec3};

/// A carrier whose tail the flight starts at. Ours.
const CARRIER: Carrier = Carrier {
    velocity: [25.0, 0.0],
    tail: [0.0; 2],
    height: 4.0,
    drag_area: 6.4,
    dead_air: 4.4,
    strength: 1.0,
};

/// The same flight behind a carrier.
fn behind(flight: Flight, carrier: &Carrier) -> Flight {
    let wind = flight.air.wind.at(0.5 * carrier.height);
    let wake = Some(Wake::behind(carrier, wind));
    Flight { air: AirNow { wake, ..flight.air }, ..flight }
}

/// All different, off all kinds of carriers.
fn shed(body: Body, count: u64, strength: f64) -> Vec<Flight> {
    let off = |flight: Flight| {
        let at = |place: u64| jumble(flight.draw, 50 + place);
        let carrier = Carrier {
            velocity: [15.0 + 15.0 * at(0), 0.0],
            tail: [4.0 * at(1) - 3.0, at(2) - 0.5],
            height: 1.5 + 2.5 * at(3),
            drag_area: 0.7 + 6.0 * at(4),
            dead_air: 5.0 * at(5),
            strength,
        };
        behind(flight, &carrier)
    };
    variety(body, count, Terrain::Open).into_iter().map(off).collect()
}

#[test]
fn half_steps_move_the_impact_by_less_than_the_budget_in_a_wake() {
    for (name, body) in each_shape() {
        half_steps_keep_the_budget(name, shed(body, 300, 1.0));
    }
}

#[test]
fn a_wake_of_no_strength_has_the_bits_of_a_steady_wind() {
    for family in Family::available() {
        let settings = Settings { family, ..Settings::default() };
        for (name, body) in each_shape() {
            let steady = variety(body, 30, Terrain::Open);
            let same =
                bits(&flown(steady, &settings)) == bits(&flown(shed(body, 30, 0.0), &settings));
            assert!(same, "{name}, {}", family.name());
        }
    }
}

#[test]
fn flights_in_wakes_do_not_see_each_other() {
    for family in Family::available() {
        let settings = Settings { family, ..Settings::default() };
        let body = the("plate");
        let flights = shed(body, 60, 1.2);
        let together = bits(&flown(flights.clone(), &settings));
        let alone: Vec<_> =
            flights.into_iter().flat_map(|flight| bits(&flown(vec![flight], &settings))).collect();
        assert!(together == alone, "{}", family.name());
    }
}

/// Source: a flake that is hardly heavier than air goes where the air goes. In the
/// dead air that is where the carrier goes; farther behind, on the axis, it falls
/// back by dξ/dt = U (1 - F(ξ)), which is integrated here by the midpoint rule.
#[test]
fn a_flake_goes_with_the_air_of_the_wake() {
    let body = Body::solid(Shape::Sphere { diameter: 0.001 }, 6.44e-10);
    let aloft = Carrier { height: 200.0, ..CARRIER };
    let end = |from: f64, speed: f64| {
        let start = moving([-from, 0.0, 100.0], [speed, 0.0, 0.0]);
        at_deadline(behind(flight(body, calm(), start, 2.0), &aloft), &strict()).position
    };
    let kept = end(2.0, 25.0);
    assert!((kept.x - (50.0 - 2.0)).abs() < 0.01 && kept.y.abs() < 1e-9, "{kept}");
    let wake = Wake::behind(&aloft, [0.0; 2]);
    let air = |x: f64, time: f64| wake.at(DVec3::new(x, 0.0, 100.0), time)[0];
    for from in [6.0, 15.0] {
        let mut x = -from;
        let steps = 4000;
        let step = 2.0 / f64::from(steps);
        for i in 0..steps {
            let time = step * f64::from(i);
            let half = x + 0.5 * step * air(x, time);
            x += step * air(half, time + 0.5 * step);
        }
        let found = end(from, air(-from, 0.0));
        assert!((found.x - x).abs() < 0.02 * (x + from), "{from}: {found} {x}");
    }
}

/// Source: sign: air that goes along pushes less against what goes along.
#[test]
fn a_light_thing_off_a_carrier_comes_farther_along_than_in_still_air() {
    let foam = Body::solid(Shape::Block { length: 0.6, width: 0.5, height: 0.4 }, 3.0);
    let start = moving([0.0, 0.0, 2.0], [25.0, 0.0, 0.0]);
    let still = flight(foam, calm(), start, 0.5);
    let along = |flight: Flight| at_deadline(flight, &strict()).position.x;
    let alone = along(still.clone());
    let mut last = alone;
    for strength in [0.3, 0.6, 1.0] {
        let now = along(behind(still.clone(), &Carrier { strength, ..CARRIER }));
        assert!(now > last + 0.05, "{strength}: {now} {last}");
        last = now;
    }
    assert!(last < 12.5, "never farther than the carrier: {last}");
}

/// Limit 1e-7: rounding, magnified by half a second of tumbling.
#[test]
fn turning_or_mirroring_the_world_changes_no_flight_in_a_wake() {
    let wind = MeanWind { x: 6.0, y: -4.0, height: 10.0, terrain: Terrain::Open };
    let turn = DQuat::from_rotation_z(1.1);
    let mirror = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
    let q = DQuat::from_scaled_axis(DVec3::new(0.4, -0.9, 0.3));
    let start = State {
        attitude: q,
        rates: DVec3::new(3.0, -4.0, 5.0),
        ..moving([0.0, 0.0, 3.0], [22.0, 3.0, 4.0])
    };
    let images = [
        (&(|v| turn * v) as &dyn Fn(DVec3) -> DVec3, turn * q, start.rates),
        (&mirror, DQuat::from_xyzw(-q.x, q.y, -q.z, q.w), -mirror(start.rates)),
    ];
    for (name, body) in each_shape() {
        let still = at_deadline(behind(flight(body, windy(wind), start, 0.5), &CARRIER), &strict());
        for (change, attitude, rates) in &images {
            let flat = |[x, y]: [f64; 2]| {
                let v = change(DVec3::new(x, y, 0.0));
                [v.x, v.y]
            };
            let [x, y] = flat([wind.x, wind.y]);
            let carrier =
                Carrier { velocity: flat(CARRIER.velocity), tail: flat(CARRIER.tail), ..CARRIER };
            let image = State {
                position: change(start.position),
                velocity: change(start.velocity),
                attitude: *attitude,
                rates: *rates,
            };
            let one = flight(body, windy(MeanWind { x, y, ..wind }), image, 0.5);
            let end = at_deadline(behind(one, &carrier), &strict());
            let apart = (end.position - change(still.position)).length();
            assert!(apart < 1e-7, "{name}: {apart}");
        }
    }
}
