//! Touches whose instant and place follow from a formula.

use super::*;
use crate::math::{cos, sin};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

fn fall(height: f64) -> Glide {
    Glide { position: DVec3::Z * height, acceleration: DVec3::Z * -G, ..Glide::default() }
}

/// How long a fall through `drop` from rest takes.
fn time(drop: f64) -> f64 {
    (2.0 * drop / G).sqrt()
}

#[test]
fn a_ball_falls_on_the_ground_when_its_lowest_point_does() {
    let touch = touches(fly(&ball(0.2, 1.5), &Scenery::new(), &fall(3.0), 2.0), Surface::Ground);
    near(touch.time, time(2.9), 1e-6);
    near(touch.closing_speed, (2.0 * G * 2.9).sqrt(), 1e-5);
    near_all(touch.point, DVec3::ZERO, 2e-6);
    near_all(touch.normal, DVec3::Z, 0.0);
    near(touch.normal_energy, 1.5 * G * 2.9, 1e-4);
    near(touch.total_energy, touch.normal_energy, 1e-9);
    near(touch.obliquity, 0.0, 1e-12);
}

#[test]
fn a_block_on_its_corner_touches_with_that_corner() {
    let motion =
        Glide { attitude: DQuat::from_rotation_y(0.3) * DQuat::from_rotation_x(0.4), ..fall(2.0) };
    let corner = motion.attitude * DVec3::new(0.2, -0.15, -0.05);
    let body = block(0.4, 0.3, 0.1, 2.0);
    let touch = touches(fly(&body, &Scenery::new(), &motion, 2.0), Surface::Ground);
    near(touch.time, time(2.0 + corner.z), 1e-6);
    near_all(touch.point, DVec3::new(corner.x, corner.y, 0.0), 2e-6);
    assert!(touch.effective_mass < 2.0);
    near(touch.total_energy, 0.5 * 2.0 * touch.closing_speed * touch.closing_speed, 1e-9);
}

#[test]
fn a_block_on_its_edge_touches_in_the_middle_of_the_edge() {
    let motion = Glide { attitude: DQuat::from_rotation_x(0.4), ..fall(2.0) };
    let edge = motion.attitude * DVec3::new(0.0, -0.15, -0.05);
    let body = block(0.4, 0.3, 0.1, 2.0);
    let touch = touches(fly(&body, &Scenery::new(), &motion, 2.0), Surface::Ground);
    near(touch.time, time(2.0 + edge.z), 1e-6);
    near_all(touch.point, DVec3::new(0.0, edge.y, 0.0), 2e-6);
}

#[test]
fn a_sheet_that_falls_flat_offers_all_its_mass() {
    let body = Body::solid(Shape::Plate { length: 2.4, width: 1.2, thickness: 0.012 }, 21.0);
    let touch = touches(fly(&body, &Scenery::new(), &fall(3.0), 2.0), Surface::Ground);
    near_all(touch.point, DVec3::ZERO, 2e-6);
    near(touch.effective_mass, 21.0, 1e-9);
    near(touch.axis_angles[2], 0.0, 1e-12);
    near(touch.axis_angles[0], FRAC_PI_2, 1e-12);
}

#[test]
fn a_sheet_that_meets_a_smaller_face_flat_touches_in_the_middle_of_the_face() {
    // The sheet flies with its flat side first, off centre.
    let body = Body::solid(Shape::Plate { length: 2.4, width: 1.2, thickness: 0.02 }, 21.0);
    let motion = Glide {
        position: DVec3::new(0.0, 0.2, 1.3),
        velocity: DVec3::X * 10.0,
        attitude: DQuat::from_rotation_y(FRAC_PI_2),
        ..Glide::default()
    };
    let touch = touches(fly(&body, &window(5.0, 0.4, 0.3), &motion, 1.0), Surface::Face(0));
    near(touch.time, 0.499, 1e-6);
    near(touch.on_face[0], 0.0, 1e-9);
    near(touch.on_face[1], 0.0, 1e-9);
    near(touch.obliquity, 0.0, 1e-12);
}

#[test]
fn a_sheet_that_overhangs_a_face_touches_in_the_middle_of_what_they_share() {
    let body = Body::solid(Shape::Plate { length: 1.0, width: 1.0, thickness: 0.02 }, 21.0);
    let motion = Glide {
        position: DVec3::new(0.0, -0.5, 1.5),
        velocity: DVec3::X * 10.0,
        attitude: DQuat::from_rotation_y(FRAC_PI_2),
        ..Glide::default()
    };
    // The sheet covers y -1..0 and z 1..2, the face -0.5..0.5 and 0.5..1.5;
    // right on the face is -y.
    let touch = touches(fly(&body, &window(5.0, 1.0, 1.0), &motion, 1.0), Surface::Face(0));
    near(touch.on_face[0], 0.25, 1e-9);
    near(touch.on_face[1], 0.25, 1e-9);
}

#[test]
fn a_rod_that_flies_end_on_touches_with_its_end() {
    let motion = Glide { position: DVec3::Z, velocity: DVec3::X * 20.0, ..Glide::default() };
    let touch =
        touches(fly(&rod(2.0, 0.05, 4.0), &window(5.0, 1.0, 1.0), &motion, 1.0), Surface::Face(0));
    near(touch.time, 4.0 / 20.0, 1e-6);
    near_all(touch.point, DVec3::new(5.0, 0.0, 1.0), 2e-6);
    near(touch.effective_mass, 4.0, 1e-9);
    near(touch.axis_angles[0], 0.0, 1e-12);
}

#[test]
fn a_rod_that_flies_across_touches_in_its_middle() {
    let motion = Glide {
        position: DVec3::Z,
        velocity: DVec3::X * 20.0,
        attitude: DQuat::from_rotation_z(FRAC_PI_2),
        ..Glide::default()
    };
    let touch =
        touches(fly(&rod(2.0, 0.05, 4.0), &window(5.0, 1.0, 1.0), &motion, 1.0), Surface::Face(0));
    near(touch.time, 4.975 / 20.0, 1e-6);
    near_all(touch.point, DVec3::new(5.0, 0.0, 1.0), 2e-6);
}

#[test]
fn a_slanting_rod_touches_with_the_end_that_hangs() {
    let motion = Glide { attitude: DQuat::from_rotation_y(FRAC_PI_4), ..fall(3.0) };
    let body = rod(2.0, 0.1, 4.0);
    let touch = touches(fly(&body, &Scenery::new(), &motion, 2.0), Surface::Ground);
    let end = 0.95 * sin(FRAC_PI_4);
    near(touch.time, time(3.0 - end - 0.05), 1e-6);
    near_all(touch.point, DVec3::new(0.95 * cos(FRAC_PI_4), 0.0, 0.0), 2e-6);
}

#[test]
fn an_oncoming_face_adds_its_speed() {
    let mut scenery = window(50.0, 1.0, 1.0);
    scenery.velocity = DVec3::X * -15.0;
    let motion = Glide { position: DVec3::Z, velocity: DVec3::X * 10.0, ..Glide::default() };
    let touch = touches(fly(&ball(0.1, 2.0), &scenery, &motion, 3.0), Surface::Face(0));
    near(touch.time, 49.95 / 25.0, 1e-6);
    near(touch.closing_speed, 25.0, 1e-9);
    near(touch.total_energy, 625.0, 1e-6);
    near(touch.point.x, 50.0 - 15.0 * touch.time, 2e-6);
}

#[test]
fn a_face_is_touched_from_behind_too() {
    let motion = Glide {
        position: DVec3::new(10.0, 0.1, 1.0),
        velocity: DVec3::X * -10.0,
        ..Glide::default()
    };
    let touch =
        touches(fly(&ball(0.1, 2.0), &window(5.0, 1.0, 1.0), &motion, 1.0), Surface::Face(0));
    near_all(touch.normal, DVec3::X, 0.0);
    near(touch.time, 4.95 / 10.0, 1e-6);
    near(touch.on_face[0], -0.1, 1e-9);
}

#[test]
fn a_ball_beside_a_disc_misses_and_nearer_it_grazes_the_rim() {
    let outline = Outline::Disc { diameter: 1.0 };
    let scenery = Scenery {
        faces: vec![face(DVec3::new(5.0, 0.0, 1.0), -DVec3::X, outline)],
        ..Scenery::new()
    };
    let pass = |y: f64| {
        let position = DVec3::new(0.0, y, 1.0);
        fly(
            &ball(0.2, 1.0),
            &scenery,
            &Glide { position, velocity: DVec3::X * 10.0, ..Glide::default() },
            1.0,
        )
    };
    assert!(pass(0.6 + 1e-5).is_none());
    let graze = touches(pass(0.58), Surface::Face(0));
    near(graze.time, (5.0 - (0.01_f64 - 0.0064).sqrt()) / 10.0, 1e-6);
    near_all(graze.push, DVec3::new(-0.06, 0.08, 0.0) / 0.1, 1e-4);
}

#[test]
fn a_corner_of_a_solid_is_touched_between_edges() {
    // A block turned by 45 deg about z, against another by 45 deg about y:
    // their edges cross.
    let body = block(0.2, 0.2, 0.6, 1.0);
    let mut scenery = solid(DVec3::new(5.0, 0.0, 2.0), DVec3::ONE);
    scenery.solids[0].axes = DVec3::AXES.map(|axis| DQuat::from_rotation_y(FRAC_PI_4) * axis);
    let motion = Glide {
        position: DVec3::new(0.0, 0.1, 2.0),
        velocity: DVec3::X * 10.0,
        attitude: DQuat::from_rotation_z(FRAC_PI_4),
        ..Glide::default()
    };
    let touch = touches(fly(&body, &scenery, &motion, 1.0), Surface::Solid(0));
    let reach = 0.5 * 2.0_f64.sqrt() + 0.1 * 2.0_f64.sqrt();
    near(touch.time, (5.0 - reach) / 10.0, 1e-6);
    near_all(touch.normal, -DVec3::X, 1e-6);
    near_all(touch.point, DVec3::new(5.0 - 0.5 * 2.0_f64.sqrt(), 0.1, 2.0), 2e-6);
}

#[test]
fn a_body_that_leaves_a_contact_does_not_touch_and_one_that_comes_back_does() {
    let up = Glide {
        position: DVec3::Z * 0.1,
        velocity: DVec3::Z * 2.0,
        acceleration: DVec3::Z * -G,
        ..Glide::default()
    };
    let body = ball(0.2, 1.0);
    assert!(first_touch(&body, &Scenery::new(), &up, [0.0, 0.3], &[]).is_none());
    let touch = touches(first_touch(&body, &Scenery::new(), &up, [0.0, 1.0], &[]), Surface::Ground);
    near(touch.time, 4.0 / G, 1e-5);
}

#[test]
fn a_surface_that_was_passed_is_not_looked_at() {
    let motion = Glide {
        position: DVec3::new(4.95, 0.0, 1.0),
        velocity: DVec3::X * 20.0,
        ..Glide::default()
    };
    let (body, scenery) = (ball(0.2, 1.0), window(5.0, 1.0, 1.0));
    assert!(first_touch(&body, &scenery, &motion, [0.0, 0.1], &[]).is_some());
    assert!(first_touch(&body, &scenery, &motion, [0.0, 0.1], &[Surface::Face(0)]).is_none());
}

#[test]
fn a_slow_graze_over_a_long_face_ends_in_a_small_number_of_looks() {
    // Climbs away from the ground at 0.2 mm/s after coming as near as 3 um.
    let looks = std::cell::Cell::new(0);
    let glide = Glide {
        position: DVec3::new(0.0, 0.0, 0.1 + 3e-6),
        velocity: DVec3::new(30.0, 0.0, -1e-4),
        acceleration: DVec3::Z * 2e-3,
        ..Glide::default()
    };
    let motion = |time: f64| {
        looks.set(looks.get() + 1);
        glide.state(time)
    };
    let _ = first_touch(&ball(0.2, 1.0), &Scenery::new(), &motion, [0.0, 1.0], &[]);
    assert!(looks.get() < 2000, "{} looks", looks.get());
}

/// Source: closed forms: a cylinder on its end, on its side, and a cone on its
/// apex.
#[test]
fn round_bodies_touch_in_the_middle_of_what_lies_flat() {
    let cylinder = Body::solid(Shape::Cylinder { length: 0.6, diameter: 0.4 }, 5.0);
    let lands = |body: &Body, attitude: DQuat, low: f64| {
        let motion = Glide { attitude, ..fall(2.0) };
        let touch = touches(fly(body, &Scenery::new(), &motion, 2.0), Surface::Ground);
        near(touch.time, time(2.0 - low), 1e-6);
        touch
    };
    let on_end = lands(&cylinder, DQuat::from_rotation_y(FRAC_PI_2), 0.3);
    near_all(on_end.point, DVec3::ZERO, 2e-6);
    near(on_end.effective_mass, 5.0, 1e-9);
    let on_side = lands(&cylinder, DQuat::from_rotation_z(0.3), 0.2);
    near_all(on_side.point, DVec3::ZERO, 2e-6);
    near(on_side.effective_mass, 5.0, 1e-9);
    // Tilted by 0.4 rad it touches with the rim of its lower end.
    let (sine, cosine) = libm::sincos(0.4);
    let tilted = lands(&cylinder, DQuat::from_rotation_y(0.4), 0.3 * sine + 0.2 * cosine);
    near_all(tilted.point, DVec3::new(0.3 * cosine - 0.2 * sine, 0.0, 0.0), 2e-6);

    let cone = Body::solid(Shape::Cone { length: 0.8, diameter: 0.5 }, 5.0);
    let on_apex = lands(&cone, DQuat::from_rotation_y(FRAC_PI_2), 0.6);
    near_all(on_apex.point, DVec3::ZERO, 2e-6);
    let on_base = lands(&cone, DQuat::from_rotation_y(-FRAC_PI_2), 0.2);
    near_all(on_base.point, DVec3::ZERO, 2e-6);
    near(on_base.effective_mass, 5.0, 1e-9);
}

/// A wheel that comes edge on to a small round face touches with its rim.
#[test]
fn a_wheel_meets_a_round_face_with_its_rim() {
    let wheel = Body::solid(Shape::Wheel { diameter: 0.6, width: 0.2, hub: 0.5 }, 15.0);
    let mut scenery = window(5.0, 0.3, 0.3);
    scenery.faces[0].outline = Outline::Disc { diameter: 0.3 };
    let motion = Glide {
        position: DVec3::new(0.0, 0.05, 1.0),
        velocity: DVec3::X * 10.0,
        attitude: DQuat::from_rotation_x(FRAC_PI_2),
        ..Glide::default()
    };
    let touch = touches(fly(&wheel, &scenery, &motion, 1.0), Surface::Face(0));
    near(touch.time, 0.47, 1e-6);
    // A line across the rim, from -0.05 to 0.15 of the face.
    near(touch.point.z, 1.0, 1e-6);
    near(touch.point.y, 0.05, 1e-6);
}
