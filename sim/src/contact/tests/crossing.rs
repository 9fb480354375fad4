//! Where the centre goes through a face's plane, and how near the body came.

use super::{
    super::{crossing, separation},
    *,
};
use crate::scenario::{self, InputId, Target};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, PI};

#[test]
fn a_crossing_is_told_in_right_and_up_with_its_miss() {
    let mut scenery = window(5.0, 1.0, 0.6);
    scenery.velocity = DVec3::X * -5.0;
    let motion =
        Glide { position: DVec3::new(0.0, 0.9, 1.4), velocity: DVec3::X * 5.0, ..Glide::default() };
    let crossing = crossing(&scenery, 0, &motion, [0.0, 1.0]).expect("it passes");
    near(crossing.time, 0.5, 1e-9);
    // One who looks along x has y > 0 on the left hand.
    near(crossing.on_face[0], -0.9, 1e-9);
    near(crossing.on_face[1], 0.4, 1e-9);
    near(crossing.miss, (0.4_f64 * 0.4 + 0.1 * 0.1).sqrt(), 1e-9);
}

#[test]
fn there_is_no_crossing_on_one_side() {
    let motion = Glide { velocity: DVec3::X, ..Glide::default() };
    assert!(crossing(&window(5.0, 1.0, 1.0), 0, &motion, [0.0, 1.0]).is_none());
}

#[test]
fn inside_the_outline_nothing_is_missed() {
    let disc = face(DVec3::Z, -DVec3::X, Outline::Disc { diameter: 1.0 });
    near(disc.miss([0.3, 0.4]), 0.0, 1e-15);
    near(disc.miss([0.6, 0.8]), 0.5, 1e-15);
}

#[test]
fn the_gap_of_a_block_beside_a_face_is_measured_from_its_nearest_point() {
    let body = block(0.4, 0.2, 0.2, 1.0);
    // Beside the face: right of its rim by 0.3 m and behind it by 0.4 m.
    let motion = Glide { position: DVec3::new(5.6, 0.9, 1.0), ..Glide::default() };
    let gap = separation(&body, &motion.state(0.0), &window(5.0, 1.0, 1.0), 0, 0.0);
    near(gap, 0.5, 1e-5);
}

#[test]
fn the_zone_holds_every_corner_and_moves() {
    let mut scenery = window(5.0, 1.0, 0.6);
    scenery.velocity = DVec3::X;
    scenery.solids = solid(DVec3::new(7.0, 0.0, 0.5), DVec3::ONE).solids;
    let zone = scenery.zone();
    near_all(zone.centre - zone.half, DVec3::new(5.0, -0.5, 0.0), 1e-12);
    near_all(zone.centre + zone.half, DVec3::new(7.5, 0.5, 1.3), 1e-12);
    near_all(zone.velocity, DVec3::X, 0.0);
    let plane = scenery.plane(scenery.aimed().next().expect("one is aimed at"));
    near(plane.distance(DVec3::ZERO, 1.0), 6.0, 1e-12);
}

/// A target of one raked face and one turned solid, its numbers in a row.
fn target() -> (Target, Vec<f64>) {
    let mut row = Vec::new();
    let mut id = |value: f64| {
        row.push(value);
        InputId(row.len() - 1)
    };
    let motion = scenario::Motion {
        at: id(20.0),
        left: id(1.0),
        speed: id(4.0),
        heading: id(FRAC_PI_2),
        brakes: None,
        steers: None,
    };
    let front = scenario::Face {
        name: "screen".into(),
        centre: [id(-0.5), id(0.2), id(1.1)],
        outline: Outline::Rectangle { width: id(1.4), height: id(0.8) },
        facing: id(PI),
        rake: id(FRAC_PI_3),
        barrier: None,
        aim: true,
        occupant: false,
        bounce: None,
    };
    let body = scenario::Solid {
        name: "body".into(),
        shape: SolidShape::Boxed,
        centre: [id(0.5), id(0.2), id(0.7)],
        size: [id(2.0), id(1.0), id(1.4)],
        turn: id(FRAC_PI_2),
        bounce: None,
    };
    (
        Target {
            motion,
            mass: None,
            faces: vec![front],
            solids: vec![body],
            direct: false,
            attitude: None,
        },
        row,
    )
}

#[test]
fn a_target_is_placed_from_a_row_and_moves_along_its_heading() {
    let (target, row) = target();
    let mut scenery = Scenery::new();
    scenery.place(&target, &row);
    let face = scenery.faces[0];
    near_all(scenery.velocity, DVec3::Y * 4.0, 1e-12);
    near_all(scenery.centre(0, 2.0), DVec3::new(19.5, 9.2, 1.1), 1e-12);
    // Raked by 60 deg it looks back and mostly up; right of it is -y.
    near_all(face.normal, DVec3::new(-0.5, 0.0, 0.75_f64.sqrt()), 1e-12);
    near_all(face.right, -DVec3::Y, 1e-12);
    near_all(face.up, DVec3::new(0.75_f64.sqrt(), 0.0, 0.5), 1e-12);
    // The solid's length lies along y after a quarter turn.
    let zone = scenery.zone();
    near(zone.half.y, 1.0, 1e-12);
    near(zone.centre.x + zone.half.x, 21.0, 1e-12);
}

#[test]
fn placing_a_second_draw_allocates_nothing_new() {
    let (target, row) = target();
    let mut scenery = Scenery::new();
    scenery.place(&target, &row);
    let before = (scenery.faces.as_ptr(), scenery.solids.as_ptr());
    scenery.place(&target, &row);
    assert_eq!(before, (scenery.faces.as_ptr(), scenery.solids.as_ptr()));
    assert_eq!((scenery.faces.len(), scenery.solids.len()), (1, 1));
}
