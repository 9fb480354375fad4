//! Cylinders and wedges in the way, in closed form.

use super::{
    super::bounce::{Contact, bounce},
    *,
};
use crate::math::{cos, sin};
use proptest::prelude::*;

fn of(shape: SolidShape, centre: DVec3, size: DVec3) -> Scenery {
    let mut scenery = solid(centre, size);
    scenery.solids[0].shape = shape;
    scenery
}

/// A post of 0.6 m and 4 m height at x = 5 m.
fn post() -> Scenery {
    of(SolidShape::Cylinder { axis: 2 }, DVec3::new(5.0, 0.0, 2.0), DVec3::new(0.6, 0.6, 4.0))
}

fn level(position: DVec3) -> Glide {
    Glide { position, velocity: DVec3::X * 10.0, ..Glide::default() }
}

/// Source: closed form: two circles whose middles pass at a distance b touch
/// where their middles are R + r apart: 5 - sqrt((R + r)² - b²) on the way, the
/// normal at an angle whose sine is b/(R + r).
#[test]
fn a_ball_meets_a_post_where_two_circles_touch() {
    for b in [0.0_f64, 0.1, -0.25, 0.39] {
        let motion = level(DVec3::new(0.0, b, 2.5));
        let touch = touches(fly(&ball(0.2, 1.5), &post(), &motion, 1.0), Surface::Solid(0));
        let back = (0.16 - b * b).sqrt();
        near(touch.time, (5.0 - back) / 10.0, 1e-6);
        // Where it grazes, a micrometre of gap turns the normal most.
        near_all(touch.normal, DVec3::new(-back, b, 0.0) / 0.4, 2e-5);
        near_all(touch.push, touch.normal, 0.0);
        near(touch.closing_speed, 10.0 * back / 0.4, 2e-4);
    }
    assert!(fly(&ball(0.2, 1.5), &post(), &level(DVec3::new(0.0, 0.41, 2.5)), 1.0).is_none());
}

/// Source: mirror at the normal: a ball that meets a post at b = (R + r) sin 45
/// deg leaves square to its way.
#[test]
fn a_smooth_lively_ball_glances_off_a_post_square_to_its_way() {
    let body = ball(0.2, 1.5);
    let motion = level(DVec3::new(0.0, 0.4 * consts::FRAC_1_SQRT_2, 2.5));
    let touch = touches(fly(&body, &post(), &motion, 1.0), Surface::Solid(0));
    let smooth = Contact { restitution: 1.0, friction: 0.0, grip_return: 0.0 };
    near_all(bounce(&body, &touch, &smooth).state.velocity, DVec3::Y * 10.0, 1e-4);
}

#[test]
fn a_ball_that_falls_on_a_post_meets_its_flat_top_or_its_rim() {
    let falls = |x: f64| Glide {
        position: DVec3::new(x, 0.0, 6.0),
        velocity: -DVec3::Z * 5.0,
        ..Glide::default()
    };
    let top = touches(fly(&ball(0.2, 1.5), &post(), &falls(5.2), 1.0), Surface::Solid(0));
    near(top.time, 1.9 / 5.0, 1e-6);
    near_all(top.normal, DVec3::Z, 1e-9);
    // 0.06 m beyond the rim: 3-4-5.
    let rim = touches(fly(&ball(0.2, 1.5), &post(), &falls(5.36), 1.0), Surface::Solid(0));
    near(rim.time, (2.0 - 0.08) / 5.0, 1e-6);
    near_all(rim.normal, DVec3::new(0.6, 0.0, 0.8), 2e-5);
}

/// Source: closed form: a box end on meets a post with the middle of its face,
/// and a bar across it in the middle between its ends.
#[test]
fn boxes_and_bars_meet_a_post_on_the_line_that_faces_them() {
    let motion = level(DVec3::new(0.0, 0.1, 2.5));
    let touch = touches(fly(&block(0.4, 0.8, 0.2, 3.0), &post(), &motion, 1.0), Surface::Solid(0));
    near(touch.time, (4.7 - 0.2) / 10.0, 1e-6);
    near_all(touch.point, DVec3::new(4.7, 0.0, 2.5), 2e-5);
    near_all(touch.normal, -DVec3::X, 1e-6);
    // The trunk lies along y: a ball over its top edge rolls off it.
    let mut trunk =
        of(SolidShape::Cylinder { axis: 0 }, DVec3::new(5.0, 0.0, 0.3), DVec3::new(4.0, 0.6, 0.6));
    trunk.solids[0].axes = [DVec3::Y, -DVec3::X, DVec3::Z];
    let touch =
        touches(fly(&ball(0.2, 1.5), &trunk, &level(DVec3::Z * 0.62), 1.0), Surface::Solid(0));
    near(touch.time, (5.0 - 0.24) / 10.0, 1e-6);
    near_all(touch.normal, DVec3::new(-0.6, 0.0, 0.8), 2e-5);
}

/// A ramp of 4 m that rises 3 m from x = 4 m.
fn ramp() -> Scenery {
    of(SolidShape::Wedge, DVec3::new(6.0, 0.0, 1.5), DVec3::new(4.0, 2.0, 3.0))
}

/// Source: mirror at a slope of 3 in 4: what comes level at v leaves at twice the
/// angle of the slope: v (cos 2a, sin 2a) = v (0.28, 0.96), with no friction and
/// restitution 1.
#[test]
fn a_ball_that_meets_a_ramp_is_thrown_up_by_twice_its_angle() {
    let body = ball(0.2, 1.5);
    let touch = touches(fly(&body, &ramp(), &level(DVec3::Z * 0.85), 1.0), Surface::Solid(0));
    // Its middle is r / sin a before the slope at its height.
    near(touch.time, (4.0 + 0.85 / 0.75 - 0.1 / 0.6) / 10.0, 1e-6);
    near_all(touch.normal, DVec3::new(-0.6, 0.0, 0.8), 1e-9);
    near(touch.closing_speed, 6.0, 1e-9);
    let smooth = Contact { restitution: 1.0, friction: 0.0, grip_return: 0.0 };
    let up = bounce(&body, &touch, &smooth).state.velocity;
    near_all(up, DVec3::new(2.8, 0.0, 9.6), 1e-9);
    // From behind it is a wall.
    let back = Glide {
        position: DVec3::new(12.0, 0.3, 2.0),
        velocity: DVec3::X * -10.0,
        ..Glide::default()
    };
    let touch = touches(fly(&body, &ramp(), &back, 1.0), Surface::Solid(0));
    near(touch.time, 0.39, 1e-6);
    near_all(touch.normal, DVec3::X, 1e-9);
}

/// Source: closed form: a sheet that comes down parallel to the slope touches it
/// all over, in the middle of what both share.
#[test]
fn a_sheet_that_lies_down_on_a_ramp_touches_in_the_middle_of_what_they_share() {
    let slope = DVec3::new(-0.6, 0.0, 0.8);
    let motion = Glide {
        position: DVec3::new(6.0, 0.7, 1.5) + slope,
        velocity: -slope * 4.0,
        attitude: DQuat::from_rotation_y(-libm::atan2(3.0, 4.0)),
        ..Glide::default()
    };
    let body = Body::solid(Shape::Plate { length: 1.0, width: 1.0, thickness: 0.02 }, 8.0);
    let touch = touches(fly(&body, &ramp(), &motion, 1.0), Surface::Solid(0));
    near(touch.time, 0.99 / 4.0, 1e-6);
    near_all(touch.normal, slope, 1e-9);
    // The sheet covers y 0.2 to 1.2, the ramp ends at 1.
    near_all(touch.point, DVec3::new(6.0, 0.6, 1.5), 1e-5);
}

/// A block that does not turn comes to lie against the post exactly, to the last
/// bit, with its centre past the post's: it touches all the same.
#[test]
fn a_corner_that_grazes_a_post_touches_it() {
    let cases = [
        ([-0.461_362_148, -0.002_647_976], [-0.464_539_297, 2.356_057_423, -2.776_632_356]),
        ([-0.480_116_728, -0.195_163_717], [-1.474_379_845, 0.689_112_895, 0.067_509_311]),
    ];
    for ([left, up], turn) in cases {
        for nudge in 0..200 {
            let left = left + 1e-9 * f64::from(nudge);
            let motion = Glide {
                attitude: DQuat::from_scaled_axis(DVec3::from_array(turn)),
                ..level(DVec3::new(0.0, left, 2.0 + up))
            };
            let touch = fly(&block(0.5, 0.3, 0.2, 5.0), &post(), &motion, 1.0);
            let touch = touches(touch, Surface::Solid(0));
            assert!(touch.normal.y < -0.9 && touch.normal.x < -0.1, "{}", touch.normal);
            assert!(touch.closing_speed > 1.0);
        }
    }
}

/// Source: two edges that cross touch along the line square to both: here the
/// ridge and an edge that leans by 87.2 deg from the way, whose end passes below
/// the ridge by next to nothing.
#[test]
fn an_edge_that_crosses_a_ridge_touches_square_to_both() {
    let attitude = DQuat::from_scaled_axis(DVec3::new(-1.289_984_57, 1.140_256_96, -1.312_913_83));
    let half = [DVec3::X * 0.25, DVec3::Y * 0.15, DVec3::Z * 0.1];
    let low: f64 = half.iter().map(|edge| (attitude * *edge).z.abs()).sum();
    let boxed = solid(DVec3::new(6.0, 0.0, 1.5), DVec3::new(4.0, 2.0, 3.0));
    for i in 0..200 {
        let motion = Glide {
            position: DVec3::new(12.0, 0.1, 3.0 + low - 1e-9 * f64::from(i)),
            velocity: DVec3::X * -10.0,
            attitude,
            ..Glide::default()
        };
        for scenery in [&ramp(), &boxed] {
            let touch = fly(&block(0.5, 0.3, 0.2, 5.0), scenery, &motion, 1.0);
            let touch = touches(touch, Surface::Solid(0));
            near_all(touch.normal, DVec3::new(0.998_794, 0.0, 0.049_093), 1e-5);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

    /// Source: a post of many flat sides is nearly a cylinder: the same touch as
    /// with the boxes that fill it, turned about, within what their corners miss.
    #[test]
    fn a_post_is_touched_like_the_turned_boxes_that_fill_it(
        off in (-0.5..0.5, -0.5..0.5),
        turn in [-3.0..3.0, -3.0..3.0, -3.0..3.0],
    ) {
        let motion = Glide {
            position: DVec3::new(0.0, off.0, 2.0 + off.1),
            velocity: DVec3::X * 10.0,
            attitude: DQuat::from_scaled_axis(DVec3::from_array(turn)),
            ..Glide::default()
        };
        let body = block(0.5, 0.3, 0.2, 5.0);
        let round = fly(&body, &post(), &motion, 1.0).map(|touch| touch.time);
        // 16 boxes inscribed: their 32 long sides miss the round by 0.3 (1 - cos(pi/32)).
        let mut filled = Scenery::default();
        for i in 0..16 {
            let angle = f64::from(i) * consts::PI / 16.0;
            let half = consts::PI / 32.0;
            let size = DVec3::new(0.6 * cos(half), 0.6 * sin(half), 4.0);
            let mut one = solid(DVec3::new(5.0, 0.0, 2.0), size).solids[0];
            one.axes = DVec3::AXES.map(|axis| DQuat::from_rotation_z(angle) * axis);
            filled.solids.push(one);
        }
        let boxes = fly(&body, &filled, &motion, 1.0).map(|touch| touch.time);
        match (round, boxes) {
            (Some(round), Some(boxes)) => {
                prop_assert!(round <= boxes + 1e-5 && boxes < round + 0.05, "{round} {boxes}");
            }
            (None, Some(_)) => prop_assert!(false, "only the boxes are touched"),
            _ => {}
        }
    }

    /// Source: behind its slope a wedge is the box it is half of: what comes from
    /// there touches both alike, in contact to the last bit or not.
    #[test]
    fn a_ramp_is_touched_from_behind_like_its_box(
        up in proptest::option::of(2.0..3.5),
        depth in 0.0..1e-8,
        turn in [-3.0..3.0, -3.0..3.0, -3.0..3.0],
    ) {
        let body = block(0.5, 0.3, 0.2, 5.0);
        let attitude = DQuat::from_scaled_axis(DVec3::from_array(turn));
        // If not told, its lowest corner passes just below the ridge.
        let half = [DVec3::X * 0.25, DVec3::Y * 0.15, DVec3::Z * 0.1];
        let low: f64 = half.iter().map(|edge| (attitude * *edge).z.abs()).sum();
        let height = up.unwrap_or(3.0 + low - depth);
        let motion = Glide {
            position: DVec3::new(12.0, 0.1, height),
            velocity: DVec3::X * -10.0,
            attitude,
            ..Glide::default()
        };
        let boxed = solid(DVec3::new(6.0, 0.0, 1.5), DVec3::new(4.0, 2.0, 3.0));
        let [wedge, boxed] = [ramp(), boxed].map(|scenery| fly(&body, &scenery, &motion, 1.0));
        prop_assert_eq!(wedge.is_some(), boxed.is_some());
        if let (Some(wedge), Some(boxed)) = (wedge, boxed) {
            // A corner that passes under the ridge by nothing has no one normal, nor
            // one time within what counts as touching.
            let apart = (wedge.time - boxed.time).abs();
            prop_assert!(apart < 1e-4, "{apart}");
            let alike = wedge.normal.dot(boxed.normal) > 0.999 || up.is_none();
            prop_assert!(alike, "{} {}", wedge.normal, boxed.normal);
            prop_assert!(wedge.closing_speed > 0.0);
        }
    }
}
