//! What must not change the answer: mirrors, turns, a shift of the clock, a
//! common velocity.

use super::*;
use proptest::prelude::*;

fn vector(range: std::ops::Range<f64>) -> impl Strategy<Value = DVec3> {
    [range.clone(), range.clone(), range].prop_map(DVec3::from_array)
}

/// A flight that starts 4 m before the target's middle and comes near it.
fn flights() -> impl Strategy<Value = Glide> {
    (vector(-0.6..0.6), vector(-3.0..3.0), vector(-8.0..8.0)).prop_map(|(off, turn, spin)| Glide {
        position: DVec3::new(0.0, 0.0, 3.0) + off,
        velocity: DVec3::X * 12.0,
        acceleration: DVec3::Z * -G,
        attitude: DQuat::from_scaled_axis(turn),
        spin,
    })
}

fn bodies() -> impl Strategy<Value = Body> {
    prop_oneof![
        Just(ball(0.3, 1.0)),
        Just(rod(1.5, 0.06, 3.0)),
        Just(block(0.5, 0.3, 0.2, 5.0)),
        Just(Body::solid(Shape::Plate { length: 1.2, width: 0.8, thickness: 0.01 }, 6.0)),
    ]
}

/// A slanting window, a round one, a block, all moving.
fn scenery() -> Scenery {
    let normal = DVec3::new(-1.0, 0.3, 0.4).normalize();
    let rectangle = Outline::Rectangle { width: 1.0, height: 0.8 };
    let disc = Outline::Disc { diameter: 0.9 };
    Scenery {
        velocity: DVec3::new(-3.0, 1.0, 0.0),
        faces: vec![
            face(DVec3::new(4.0, 0.3, 2.4), normal, rectangle),
            face(DVec3::new(4.2, -0.7, 2.4), normal, disc),
        ],
        ..solid(DVec3::new(4.4, 0.0, 1.0), DVec3::new(0.6, 1.4, 1.2))
    }
}

/// Every direction and place of `scenery` passed through `f`.
fn moved(scenery: &Scenery, f: impl Fn(DVec3) -> DVec3) -> Scenery {
    let mut moved = scenery.clone();
    moved.velocity = f(moved.velocity);
    for face in &mut moved.faces {
        for vector in [&mut face.centre, &mut face.normal, &mut face.right, &mut face.up] {
            *vector = f(*vector);
        }
    }
    for solid in &mut moved.solids {
        solid.centre = f(solid.centre);
        solid.axes = solid.axes.map(&f);
    }
    moved
}

/// The numbers of a touch that do not depend on where one stands.
fn invariants(touch: &Touch) -> [f64; 9] {
    let Touch { time, closing_speed, obliquity, effective_mass, total_energy, .. } = *touch;
    let [a, b, c] = touch.axis_angles;
    [time, closing_speed, obliquity, a, b, c, effective_mass, total_energy, touch.normal_energy]
}

fn same(before: Option<Touch>, after: Option<Touch>, clock: f64) {
    assert_eq!(before.is_some(), after.is_some(), "{before:?}\n{after:?}");
    let (Some(before), Some(mut after)) = (before, after) else { return };
    after.time -= clock;
    assert_eq!(before.surface, after.surface);
    // Either may stop anywhere in the last micrometre, in which a slanting
    // contact point can wander.
    for (a, b) in invariants(&before).into_iter().zip(invariants(&after)) {
        assert!((a - b).abs() < 1e-3 * (1.0 + a.abs()), "{a} is not {b}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_mirrored_flight_touches_the_mirrored_target(body in bodies(), flight in flights()) {
        let mirror = |v: DVec3| DVec3::new(v.x, -v.y, v.z);
        let axial = |v: DVec3| DVec3::new(-v.x, v.y, -v.z);
        let q = flight.attitude;
        let other = Glide {
            position: mirror(flight.position),
            velocity: mirror(flight.velocity),
            acceleration: mirror(flight.acceleration),
            attitude: DQuat::from_xyzw(-q.x, q.y, -q.z, q.w),
            spin: axial(flight.spin),
        };
        let scenery = scenery();
        let before = fly(&body, &scenery, &flight, 1.0);
        same(before, fly(&body, &moved(&scenery, mirror), &other, 1.0), 0.0);
    }

    #[test]
    fn a_turn_about_the_vertical_changes_nothing(
        body in bodies(), flight in flights(), angle in -3.0..3.0
    ) {
        let turn = DQuat::from_rotation_z(angle);
        let other = Glide {
            position: turn * flight.position,
            velocity: turn * flight.velocity,
            acceleration: turn * flight.acceleration,
            attitude: turn * flight.attitude,
            spin: turn * flight.spin,
        };
        let scenery = scenery();
        let before = fly(&body, &scenery, &flight, 1.0);
        same(before, fly(&body, &moved(&scenery, |v| turn * v), &other, 1.0), 0.0);
    }

    #[test]
    fn a_later_start_of_everything_is_a_later_touch(body in bodies(), flight in flights()) {
        // 20 ms are the step of `fly`: the same steps, one later.
        let clock = 0.02;
        let early = scenery();
        let mut late = early.clone();
        late.faces.iter_mut().for_each(|face| face.centre -= early.velocity * clock);
        late.solids.iter_mut().for_each(|solid| solid.centre -= early.velocity * clock);
        let before = first_touch(&body, &early, &flight, [0.0, 1.0], &[]);
        let motion = |time: f64| flight.state(time - clock);
        same(before, first_touch(&body, &late, &motion, [clock, 1.0 + clock], &[]), clock);
    }

    #[test]
    fn a_common_level_velocity_changes_nothing(body in bodies(), flight in flights()) {
        let common = DVec3::new(7.0, -4.0, 0.0);
        let other = Glide { velocity: flight.velocity + common, ..flight };
        let mut scenery = scenery();
        let before = fly(&body, &scenery, &flight, 1.0);
        scenery.velocity += common;
        // The ground does not move along: its obliquity and energy differ.
        if before.is_none_or(|touch| touch.surface != Surface::Ground) {
            same(before, fly(&body, &scenery, &other, 1.0), 0.0);
        }
    }

    #[test]
    fn what_is_offered_never_exceeds_what_there_is(body in bodies(), flight in flights()) {
        if let Some(touch) = fly(&body, &scenery(), &flight, 1.0) {
            prop_assert!(touch.normal_energy <= touch.total_energy * (1.0 + 1e-12));
            prop_assert!(touch.effective_mass <= body.mass * (1.0 + 1e-12));
            prop_assert!(touch.effective_mass > 0.0 && touch.closing_speed >= 0.0);
        }
    }
}
