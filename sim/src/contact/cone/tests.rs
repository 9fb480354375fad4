//! Against the textbook's rolling cone, and what must hold of any.

use super::*;
use crate::{
    body::{Body, Shape},
    contact::{
        Motion as _,
        tests::{anything, flight_in},
    },
    world::Air as Weather,
};
use glam::DQuat;
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

const HELD: Rub = Rub { friction: 50.0, rolling: 0.0 };

fn tan(angle: f64) -> f64 {
    sin(angle) / cos(angle)
}

/// A flight of a cone of this height (m) and half angle (deg) where there is no air.
fn flight(height: f64, half: f64) -> Flight {
    let diameter = 2.0 * height * tan(half.to_radians());
    flight_in(Weather::vacuum(), Body::solid(Shape::Cone { length: height, diameter }, 3.0), 0.0)
}

/// It lies with its apex towards +x and goes round at `round`, in rad/s.
fn rolling(flight: &Flight, half: f64, round: f64) -> State {
    let half = half.to_radians();
    let Shape::Cone { length, .. } = flight.body.shape else { panic!("it is a cone") };
    let attitude = DQuat::from_rotation_y(half);
    State {
        position: DVec3::Z * (0.75 * length * sin(half)),
        velocity: DVec3::Y * (-0.75 * length * cos(half) * round),
        attitude,
        rates: attitude.inverse() * DVec3::X * (round / tan(half)),
    }
}

fn heading(state: &State) -> f64 {
    let along = state.attitude * DVec3::X;
    crate::math::atan2(along.y, along.x)
}

/// Source: `T = 2π √(h (1 + 5 cos² α)/(5 g sin β cos α))`, small swings of a cone on a
/// slope (derived from the textbook's kinetic energy): 5.2048 s and 2.7621 s.
#[test]
fn a_cone_swings_on_a_slope_in_its_period() {
    for (height, half, slope, wanted) in [(0.5, 15.0, 5.0_f64, 5.2048), (0.3, 30.0, 10.0, 2.7621)] {
        let flight = flight(height, half);
        let slope = slope.to_radians();
        // Downhill is where the base points, -x.
        let pull = DVec3::new(-sin(slope), 0.0, -cos(slope)) * GRAVITY;
        let start = rolling(&flight, half, 0.01);
        let mut cone = Cone::under(&flight, &start, 0.0, HELD, pull).expect("it lies");
        let mut crossed = Vec::new();
        while crossed.len() < 2 {
            let (before, since) = (heading(cone.state()), cone.time());
            cone.next(60.0).expect("it swings on");
            let after = heading(cone.state());
            if before < 0.0 && after >= 0.0 {
                crossed.push(since + (cone.time() - since) * before / (before - after));
            }
        }
        let period = crossed[1] - crossed[0];
        assert!((period - wanted).abs() < 2e-3, "{period} s is not {wanted} s");
    }
}

/// Source: `3 m h² φ̇² (1 + 5 cos² α)/40` (derived; a point-mass sum gives
/// 0.10618 m for h 0.5 m and 15 deg).
#[test]
fn a_rolling_cone_has_the_textbook_energy() {
    let flight = flight(0.5, 15.0);
    let energy = flight.kinetic_energy(&rolling(&flight, 15.0, 2.0));
    assert!((energy / (3.0 * 4.0) - 0.10622).abs() < 5e-6, "{energy}");
}

/// Source: the base rolls off a circle of the cone's side: 1/sin α turns a circuit, 3.864
/// for 15 deg and exactly 2 for 30 deg (derived); the apex stays where it is.
#[test]
fn a_cone_turns_as_often_as_its_base_goes_into_the_circle() {
    for (half, wanted) in [(15.0, 3.8637), (30.0, 2.0)] {
        let flight = flight(0.5, half);
        let start = rolling(&flight, half, 1.0);
        let mut cone = Cone::new(&flight, &start, 0.0, HELD).expect("it lies");
        let apex = |state: &State| state.position + state.attitude * DVec3::X * 0.375;
        let about = |state: &State| {
            let up = state.attitude.inverse() * DVec3::Z;
            crate::math::atan2(up.z, up.y)
        };
        let (mut turned, mut before) = (0.0_f64, about(&start));
        while cone.next(TAU).is_some() {
            let now = about(cone.state());
            turned += (now - before + PI).rem_euclid(TAU) - PI;
            before = now;
            assert!((apex(cone.state()) - apex(&start)).length() < 1e-9);
        }
        assert!((turned.abs() / TAU - wanted).abs() < 1e-4, "{} turns", turned / TAU);
        assert!((cone.state().position - start.position).length() < 1e-9, "round once");
    }
}

/// Source: moments about the apex (derived): the load is at the base's edge at 5.174 rad/s
/// for h 0.5 m and 15 deg, and that needs friction of 0.989.
#[test]
fn the_apex_lifts_where_the_load_leaves_the_line() {
    let flight = flight(0.5, 15.0);
    let stays = |round: f64, friction: f64| {
        let start = rolling(&flight, 15.0, round);
        let rub = Rub { friction, rolling: 0.0 };
        let mut cone = Cone::new(&flight, &start, 0.0, rub).expect("it lies");
        let apex = |state: &State| state.position + state.attitude * DVec3::X * 0.375;
        let from = apex(&start);
        while cone.next(1.0).is_some() {}
        (cone.time() >= 1.0, (apex(cone.state()) - from).length() < 1e-6)
    };
    assert_eq!(stays(5.17, 50.0), (true, true));
    assert!(!stays(5.18, 50.0).0, "its apex lifts");
    let needs = 5.0 * 5.0 * 0.75 * 0.5 * cos(15_f64.to_radians()) / GRAVITY;
    assert_eq!(stays(5.0, 1.3 * needs), (true, true));
    assert!(!stays(5.0, 0.97 * needs).1, "it slips first");
}

/// Source: what resists rolling works over the way of the centre of mass.
#[test]
fn rolling_resistance_brings_it_to_rest() {
    let flight = flight(0.5, 15.0);
    let start = rolling(&flight, 15.0, 2.0);
    let rub = Rub { friction: 2.0, rolling: 0.02 };
    let mut cone = Cone::new(&flight, &start, 0.0, rub).expect("it lies");
    let mut way = 0.0;
    let mut before = heading(&start);
    while cone.next(60.0).is_some() {
        let now = heading(cone.state());
        way += ((now - before + PI).rem_euclid(TAU) - PI).abs() * 0.375 * cos(15_f64.to_radians());
        before = now;
    }
    assert!(cone.stands_still() && cone.time() < 60.0);
    let wanted = flight.kinetic_energy(&start) / (0.02 * 3.0 * GRAVITY);
    assert!((way / wanted - 1.0).abs() < 1e-6, "{way} m, not {wanted} m");
}

#[test]
fn what_stands_on_its_base_or_is_no_cone_does_not_roll_round() {
    let cone = flight(0.5, 15.0);
    let start = rolling(&cone, 15.0, 1.0);
    let stands = State { attitude: DQuat::from_rotation_y(-PI / 2.0), ..start };
    assert!(Cone::new(&cone, &stands, 0.0, HELD).is_none());
    let ball = flight_in(Weather::vacuum(), Body::solid(Shape::Sphere { diameter: 0.2 }, 1.0), 0.0);
    assert!(Cone::new(&ball, &start, 0.0, HELD).is_none());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..Default::default() })]

    /// However it comes to lie: work is the change of energy, the ground gives none, and
    /// the world mirrored leads to the mirrored place.
    #[test]
    fn whatever_a_cone_does_on_its_side_its_books_add_up(
        from in anything(), height in 0.2..1.5, half in 5.0..50.0,
        friction in 0.05..1.2, rolling_share in 0.0..0.1, scale in 0.02..0.5_f64,
    ) {
        let flight = flight(height, half);
        let lies = rolling(&flight, half, 0.0);
        let start = State {
            velocity: (from.velocity * scale).with_z(0.0),
            rates: from.rates * scale,
            ..lies
        };
        let rub = Rub { friction, rolling: rolling_share };
        let end = |start: &State| {
            let mut cone = Cone::new(&flight, start, 0.0, rub).expect("it lies");
            while cone.next(1.5).is_some() {}
            (cone.time(), *cone.state(), cone.within(cone.time()).1)
        };
        let energy = |state: &State| flight.kinetic_energy(state) + 3.0 * GRAVITY * state.position.z;
        let (time, after, work) = end(&start);
        let had = flight.kinetic_energy(&start);
        let change = energy(&after) - energy(&start);
        prop_assert!((change - work.done).abs() < 1e-4 * had, "{change} J and {work:?} of {had} J");
        prop_assert!(work.gained < 1e-6 * had, "{work:?} of {had} J");
        let flip = |v: DVec3| DVec3 { y: -v.y, ..v };
        let DVec3 { x, y, z } = start.rates;
        let mirrored =
            State { velocity: flip(start.velocity), rates: DVec3::new(-x, y, -z), ..start };
        let (then, other, _) = end(&mirrored);
        prop_assert!((time - then).abs() < 1e-6, "{time} {then}");
        prop_assert!((flip(after.position) - other.position).length() < 1e-5);
    }
}

/// A stretch says what the steps say.
#[test]
fn stretches_join() {
    let flight = flight(0.5, 15.0);
    let start = State { velocity: DVec3::new(3.0, 1.0, 0.0), ..rolling(&flight, 15.0, 1.0) };
    let rub = Rub { friction: 0.5, rolling: 0.02 };
    let mut cone = Cone::new(&flight, &start, 0.0, rub).expect("it lies");
    let mut before = *cone.state();
    while let Some(stretch) = cone.next(1.0) {
        let [from, to] = stretch.span();
        for (time, state) in [(from, &before), (to, cone.state())] {
            assert!((stretch.state(time).position - state.position).length() < 1e-12);
        }
        before = *cone.state();
    }
}
