//! Against the steady motions of a thin rolling disc and what keeps energy.

use super::*;
use crate::{
    body::{Body, Shape},
    contact::{Motion as _, tests::flight_in},
    math::{cos, sin},
    world::Air,
};
use glam::{DMat3, DQuat};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Radius of the discs, in m.
const RADIUS: f64 = 0.25;

fn disc() -> Body {
    Body::solid(Shape::Disc { diameter: 2.0 * RADIUS, thickness: 1e-7 }, 2.0)
}

/// A flight of this body where there is no air.
pub(super) fn flight(body: Body) -> Flight {
    flight_in(Air::vacuum(), body, 0.0)
}

/// A thin disc whose plane is at `tilt` from the ground, precessing at
/// `precession` about the vertical and spinning at `spin` about its own axis,
/// and rolling so.
fn rolling(tilt: f64, precession: f64, spin: f64) -> State {
    // e1 level, e2 up the disc's plane, e3 its axis.
    let up_plane = DVec3::new(0.0, cos(tilt), sin(tilt));
    let axis = DVec3::new(0.0, -sin(tilt), cos(tilt));
    let attitude = DQuat::from_mat3(&DMat3::from_cols(DVec3::X, up_plane, axis));
    State {
        position: up_plane * RADIUS,
        velocity: DVec3::X * (-RADIUS * spin),
        attitude,
        rates: DVec3::new(0.0, precession * sin(tilt), spin),
    }
}

const SMOOTH: Rub = Rub { friction: 0.0, rolling: 0.0 };
const ROUGH: Rub = Rub { friction: 5.0, rolling: 0.0 };

/// Follows it for `time`, in s, or to its end.
fn follow<'f>(flight: &'f Flight, start: &State, rub: Rub, time: f64) -> Lean<'f> {
    let mut lean = Lean::new(flight, start, 0.0, rub).expect("it leans");
    while lean.next(time).is_some() {}
    lean
}

fn tilt(lean: &Lean<'_>) -> f64 {
    crate::math::acos((lean.state().attitude * DVec3::Z).z)
}

fn energy(flight: &Flight, state: &State) -> f64 {
    flight.kinetic_energy(state) + flight.body.mass * GRAVITY * state.position.z
}

/// The spin at which a thin disc rolls round and round at this tilt.
///
/// Source: steady motion of a rolling disc, `(A + m a²) n Ω sin α - B Ω² sin α
/// cos α + m g a cos α = 0` with moments A about the axis and B across it
/// (standard derivation, Routh).
fn steady_spin(tilt: f64, precession: f64) -> f64 {
    let across = 0.25 * precession * precession * sin(tilt) * cos(tilt);
    -(GRAVITY / RADIUS * cos(tilt) - across) / (1.5 * precession * sin(tilt))
}

/// Source: see [`steady_spin`].
#[test]
fn a_disc_rolls_round_in_a_circle_at_the_tilt_it_has() {
    for (degrees, precession) in [(75.0, 1.0), (60.0, 2.0), (40.0, 3.5), (20.0, -6.0)] {
        let angle = f64::to_radians(degrees);
        let flight = flight(disc());
        let start = rolling(angle, precession, steady_spin(angle, precession));
        let lean = follow(&flight, &start, ROUGH, TAU / f64::abs(precession));
        assert!((tilt(&lean) - angle).abs() < 1e-5, "{degrees} deg became {}", tilt(&lean));
        let off = lean.state().position - start.position;
        assert!(off.length() < 1e-4, "{degrees} deg: not round but {off} off");
    }
}

/// Source: a disc that rolls round on the spot, `Ω² = 4 g / (a sin α)`
/// (standard derivation; K. Moffatt, Nature 404 (2000) 833, from memory).
#[test]
fn a_disc_that_rings_on_the_spot_keeps_its_centre_still() {
    let angle = f64::to_radians(15.0);
    let precession = (4.0 * GRAVITY / (RADIUS * sin(angle))).sqrt();
    let flight = flight(disc());
    let start = rolling(angle, precession, 0.0);
    let lean = follow(&flight, &start, ROUGH, 1.0);
    assert!((lean.state().position - start.position).length() < 1e-3);
    assert!((tilt(&lean) - angle).abs() < 1e-3);
}

/// Source: a thin disc that rolls upright stays up above √(g a / 3) (standard
/// derivation, Routh).
#[test]
fn a_disc_stays_up_only_above_its_least_speed() {
    let least = (GRAVITY * RADIUS / 3.0).sqrt();
    let leans_most = |speed: f64| {
        let flight = flight(disc());
        let mut start = rolling(FRAC_PI_2 - 1e-3, 0.0, -speed / RADIUS);
        start.velocity = DVec3::X * speed;
        let mut lean = Lean::new(&flight, &start, 0.0, ROUGH).unwrap();
        let mut most = 0.0_f64;
        while lean.next(3.0).is_some() {
            most = most.max((tilt(&lean) - FRAC_PI_2).abs());
        }
        most
    };
    assert!(leans_most(1.1 * least) < 0.02, "{}", leans_most(1.1 * least));
    assert!(leans_most(0.9 * least) > 0.2, "{}", leans_most(0.9 * least));
}

#[test]
fn what_neither_slips_nor_resists_keeps_its_energy() {
    let flight = flight(disc());
    let start = rolling(1.2, 1.5, 9.0);
    let before = energy(&flight, &start);
    for rub in [ROUGH, SMOOTH] {
        let lean = follow(&flight, &start, rub, 3.0);
        assert!((lean.time() - 3.0).abs() < 1e-12, "it ended at {} s", lean.time());
        let after = energy(&flight, lean.state());
        assert!((after / before - 1.0).abs() < 3e-5, "{rub:?}: {before} J became {after} J");
    }
}

/// Without friction nothing pushes it aside.
#[test]
fn on_ice_the_centre_goes_straight_on() {
    let flight = flight(disc());
    let start = rolling(1.0, 2.0, 12.0);
    let lean = follow(&flight, &start, SMOOTH, 0.5);
    let level = |state: &State| state.velocity.with_z(0.0);
    assert!((level(lean.state()) - level(&start)).length() < 1e-9);
}

/// Height of the centre of mass of what stands on the ground, in m.
fn lean_height(flight: &Flight, state: &State) -> f64 {
    Lean::new(flight, state, 0.0, SMOOTH).expect("it leans").state().position.z
}

/// What friction and resistance do is what the body loses, its weight's energy too.
#[test]
fn work_is_what_energy_it_loses() {
    let body = Body::solid(Shape::Wheel { diameter: 0.6, width: 0.18, hub: 0.5 }, 15.0);
    let flight = flight(body);
    let attitude = DQuat::from_rotation_x(-FRAC_PI_2 + 0.5);
    let rates = DVec3::new(0.5, -1.0, 4.0);
    let start = State { position: DVec3::Z, velocity: DVec3::new(9.0, 1.0, 0.0), attitude, rates };
    let rub = Rub { friction: 0.5, rolling: 0.03 };
    let lean = follow(&flight, &start, rub, 5.0);
    let level = State { position: DVec3::Z * lean_height(&flight, &start), ..start };
    let change = energy(&flight, lean.state()) - energy(&flight, &level);
    let (Work { done: work, gained }, whole) =
        (lean.within(lean.time()).1, flight.kinetic_energy(&start));
    assert!(gained < 1e-6 * whole, "{gained} J of {whole}");
    assert!(change < -0.1 * whole, "it slipped: {change} J of {whole}");
    assert!((work - change).abs() < 1e-4 * whole, "{work} J of work, {change} J lost");
}

/// A wheel that leans by less than its tread can bear falls back upright.
///
/// Source: fall about an edge, `½ (B + m (a² + w²/4)) ω² = m g Δh` (standard
/// derivation).
#[test]
fn a_wheel_with_a_broad_tread_falls_back_on_it() {
    let (radius, half) = (0.3, 0.1);
    let shape = Shape::Wheel { diameter: 2.0 * radius, width: 2.0 * half, hub: 0.5 };
    let flight = flight(Body::solid(shape, 15.0));
    let lean_by = f64::to_radians(6.0);
    let attitude = DQuat::from_rotation_x(-FRAC_PI_2 + lean_by);
    let start = State { position: DVec3::Z, velocity: DVec3::ZERO, attitude, rates: DVec3::ZERO };
    let lean = follow(&flight, &start, ROUGH, 5.0);
    assert!(lean.time() < 1.0, "{} s", lean.time());
    assert!((tilt(&lean) - FRAC_PI_2).abs() < 1e-6, "{}", tilt(&lean));
    let falls = radius * cos(lean_by) + half * sin(lean_by) - radius;
    let Body { mass, inertia, .. } = flight.body;
    let about_edge = inertia.x + mass * (radius * radius + half * half);
    let turning = (2.0 * mass * GRAVITY * falls / about_edge).sqrt();
    let rates = lean.state().rates.length();
    assert!((rates / turning - 1.0).abs() < 1e-5, "{rates} is not {turning}");
}

/// A coin set down leaning falls over, and ends all but flat.
#[test]
fn a_disc_that_leans_at_rest_falls_flat() {
    let flight = flight(disc());
    let start = State { velocity: DVec3::ZERO, rates: DVec3::ZERO, ..rolling(1.3, 0.0, 0.0) };
    for rub in [SMOOTH, ROUGH, Rub { friction: 0.4, rolling: 0.02 }] {
        let lean = follow(&flight, &start, rub, 5.0);
        assert!(tilt(&lean).min(PI - tilt(&lean)) < LEVEL && lean.time() < 1.0, "{}", tilt(&lean));
    }
}

#[test]
fn what_hops_or_lies_or_is_not_round_does_not_lean() {
    let flight_of = flight;
    let flight = flight(disc());
    let start = rolling(1.0, 0.0, 0.0);
    let hops = State { velocity: DVec3::Z, ..start };
    assert!(Lean::new(&flight, &hops, 0.0, ROUGH).is_none());
    let all_but_flat = |turns: f64| {
        let start = State { rates: DVec3::X * turns, ..rolling(0.01, 0.0, 0.0) };
        Lean::new(&flight, &start, 0.0, ROUGH).is_some()
    };
    assert!(all_but_flat(0.01) && !all_but_flat(-0.01), "one rises, the other lies down");
    let block = flight_of(Body::solid(Shape::Block { length: 1.0, width: 0.5, height: 0.2 }, 5.0));
    assert!(Lean::new(&block, &start, 0.0, ROUGH).is_none());
}

/// A stretch says what the steps say, and stays within what it promises.
#[test]
fn stretches_join_and_keep_within_their_path() {
    let flight = flight(disc());
    let start = rolling(1.2, 1.5, 9.0);
    let mut lean = Lean::new(&flight, &start, 0.0, ROUGH).unwrap();
    let mut before = *lean.state();
    while let Some(stretch) = lean.next(0.5) {
        let [from, to] = stretch.span();
        for (time, state) in [(from, &before), (to, lean.state())] {
            let there = stretch.state(time);
            assert!((there.position - state.position).length() < 1e-12);
            assert!((there.rates - state.rates).length() < 1e-12);
        }
        // Half-way, too, to within a thousandth of its energy.
        let halfway = flight.kinetic_energy(&stretch.state(f64::midpoint(from, to)));
        let mean = 0.5 * (flight.kinetic_energy(&before) + flight.kinetic_energy(lean.state()));
        assert!((halfway / mean - 1.0).abs() < 1e-3, "{halfway} J between {mean} J");
        let path = stretch.path([from, to]).unwrap();
        for share in [0.0, 0.3, 0.5, 0.8, 1.0] {
            let axis = stretch.state(from + share * (to - from)).attitude * DVec3::Z;
            assert!((axis - path.attitude * DVec3::Z).length() <= path.turned);
        }
        before = *lean.state();
    }
}

/// By how much work and energy differ, and what friction gave it, over the most energy
/// that a small wheel has while it leans; `None`: it does not.
fn books(
    tilt: f64,
    velocity: [f64; 2],
    rates: [f64; 3],
    (wide, radius): (f64, f64),
    rub: Rub,
) -> Option<[f64; 2]> {
    let shape = Shape::Wheel { diameter: 2.0 * radius, width: wide * radius, hub: 0.5 };
    let flight = flight(Body::solid(shape, 15.0));
    let start = State {
        velocity: DVec3::new(velocity[0], velocity[1], 0.0),
        attitude: DQuat::from_rotation_x(-FRAC_PI_2 + tilt),
        rates: DVec3::from_array(rates),
        position: DVec3::Z,
    };
    let mut lean = Lean::new(&flight, &start, 0.0, rub)?;
    let level = State { position: lean.state().position, ..start };
    let mut largest = flight.kinetic_energy(&start);
    while lean.next(5.0).is_some() {
        largest = largest.max(flight.kinetic_energy(lean.state()));
    }
    let change = energy(&flight, lean.state()) - energy(&flight, &level);
    let work = lean.within(lean.time()).1;
    Some([(work.done - change).abs() / largest, work.gained / largest])
}

/// Once found: a small wheel that stands still on rough ground and is dragged over it.
#[test]
fn what_is_pushed_over_at_once_keeps_its_books() {
    let rub = Rub { friction: 1.949_792_116_130_459_4, rolling: 0.016 };
    let told = books(0.2, [0.0, 4.556_088_424_512_518], [0.0; 3], (0.123_232_123, 0.05), rub);
    let [gap, gained] = told.unwrap();
    assert!(gap < 5e-4 && gained < 5e-4, "{gap} and {gained}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..Default::default() })]

    /// However fast it turns and however rough the ground is: work is what it loses, to
    /// within what a run allows.
    #[test]
    fn work_is_what_energy_it_loses_up_to_thousands_of_turns_a_minute(
        tilt in 0.2..1.4, velocity in [-10.0..10.0, -10.0..10.0],
        rates in [-5.0..5.0, -5.0..5.0, -250.0..250.0_f64], (wide, radius) in (0.02..0.4, 0.05..0.4),
        (friction, rolling) in (0.02..2.5, 0.0..0.04),
    ) {
        let size = (wide, radius);
        let told = books(tilt, velocity, rates, size, Rub { friction, rolling });
        let Some([gap, gained]) = told else { return Ok(()) };
        prop_assert!(gap < 1e-3 && gained < 1e-3, "{gap} and {gained} of its energy");
    }

    /// The world turned about the vertical, and mirrored in y, leads to the turned
    /// and the mirrored place.
    #[test]
    fn the_way_of_a_leaning_wheel_turns_and_mirrors_with_the_world(
        tilt in 0.5..1.3, velocity in [-8.0..8.0, -8.0..8.0], rates in [-3.0..3.0, -3.0..3.0, -20.0..20.0],
        turn in -PI..PI, friction in 0.1..0.9,
    ) {
        let body = Body::solid(Shape::Wheel { diameter: 0.6, width: 0.05, hub: 0.5 }, 15.0);
        let flight = flight(body);
        let rub = Rub { friction, rolling: 0.02 };
        let start = State {
            velocity: DVec3::new(velocity[0], velocity[1], 0.0),
            attitude: DQuat::from_rotation_x(tilt),
            rates: DVec3::from_array(rates),
            ..rolling(1.0, 0.0, 0.0)
        };
        let end = |start: &State| {
            let mut lean = Lean::new(&flight, start, 0.0, rub)?;
            while lean.next(0.4).is_some() {}
            Some((lean.time(), *lean.state()))
        };
        let plain = end(&start);
        let by = DQuat::from_rotation_z(turn);
        let turned = end(&State {
            position: by * start.position,
            velocity: by * start.velocity,
            attitude: by * start.attitude,
            ..start
        });
        let flip = |v: DVec3| DVec3 { y: -v.y, ..v };
        let DQuat { x, y, z, w } = start.attitude;
        let DVec3 { x: p, y: q, z: r } = start.rates;
        let mirrored = end(&State {
            position: flip(start.position),
            velocity: flip(start.velocity),
            attitude: DQuat::from_xyzw(-x, y, -z, w),
            rates: DVec3::new(-p, q, -r),
        });
        prop_assert_eq!(plain.is_some(), turned.is_some());
        prop_assert_eq!(plain.is_some(), mirrored.is_some());
        if let (Some((time, so)), Some((then, there)), Some((at, other))) = (plain, turned, mirrored) {
            prop_assert!((time - then).abs() < 1e-6 && (time - at).abs() < 1e-6);
            prop_assert!((by * so.position - there.position).length() < 1e-5);
            prop_assert!((flip(so.position) - other.position).length() < 1e-5);
        }
    }
}
