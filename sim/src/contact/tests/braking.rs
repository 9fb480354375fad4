//! A target that brakes or steers, in closed form.

use super::{
    super::{Brakes, Manoeuvre, Steers, crossing},
    *,
};

/// Speed left after a gap, at constant braking after a reaction.
fn arrival_speed(speed: f64, gap: f64, reaction: f64, braking: f64) -> f64 {
    let braked = (gap - speed * reaction).max(0.0);
    (speed * speed - 2.0 * braking * braked).max(0.0).sqrt()
}

/// A window that comes towards the release at 20 m/s from 30 m.
fn oncoming(brakes: Option<Brakes>, steers: Option<Steers>) -> Scenery {
    let mut scenery = window(30.0, 1.4, 1.0);
    scenery.velocity = DVec3::X * -20.0;
    scenery.manoeuvre = Manoeuvre::new(scenery.velocity, brakes, steers);
    scenery
}

fn hangs() -> Glide {
    Glide { position: DVec3::Z, ..Glide::default() }
}

/// Source: speed left after a gap, v² = u² - 2 a s (motion under constant
/// acceleration).
#[test]
fn a_window_that_brakes_strikes_as_slowly_as_its_braking_leaves_it() {
    let body = ball(0.2, 1.5);
    for (after, at) in [(0.0, 4.0), (0.5, 5.0), (1.2, 6.0), (1.4, 6.9), (2.0, 9.0)] {
        let scenery = oncoming(Some(Brakes { after, at }), None);
        let touch = touches(fly(&body, &scenery, &hangs(), 4.0), Surface::Face(0));
        let wanted = arrival_speed(20.0, 29.9, after, at);
        near(touch.closing_speed, wanted, 1e-5);
        near_all(touch.relative_velocity, DVec3::X * wanted, 1e-5);
        near_all(touch.state.position, DVec3::Z, 0.0);
        near_all(touch.point, DVec3::new(0.1, 0.0, 1.0), 2e-6);
        near(touch.total_energy, 0.75 * wanted * wanted, 1e-3);
    }
}

/// Source: way to a stop: 20 · 1 + 20²/(2 · 21) = 29.52 m, with 29.9 m to go;
/// at 20 m/s² it would need 30 m.
#[test]
fn a_window_that_stops_short_strikes_nothing() {
    let body = ball(0.2, 1.5);
    let after_a_second = |at| oncoming(Some(Brakes { after: 1.0, at }), None);
    assert!(fly(&body, &after_a_second(21.0), &hangs(), 30.0).is_none());
    assert!(fly(&body, &after_a_second(20.0), &hangs(), 30.0).is_some());
}

/// Source: ½ a t²: at 1.495 s, 1 s after it began, it is over by 1.25 m at
/// 2.5 m/s²; half its width and the ball's radius are 0.8 m.
#[test]
fn a_window_that_is_steered_aside_is_missed_by_how_far_it_went() {
    let (body, still) = (ball(0.2, 1.5), hangs());
    let steers = |at| Some(Steers { after: 0.495, at, left: 9.0 });
    assert!(fly(&body, &oncoming(None, steers(2.5)), &still, 3.0).is_none());
    let passed = crossing(&oncoming(None, steers(2.5)), 0, &still, [0.0, 3.0]);
    let passed = passed.expect("it comes past");
    near(passed.time, 1.5, 1e-9);
    near(passed.on_face[0].abs(), 0.5 * 2.5 * 1.005 * 1.005, 1e-9);
    // 1.0 m/s² take it 0.5 m aside: it strikes there.
    let touch = touches(fly(&body, &oncoming(None, steers(1.0)), &still, 3.0), Surface::Face(0));
    near(touch.time, 1.495, 1e-6);
    near(touch.on_face[0].abs(), 0.5, 1e-5);
    near_all(touch.relative_velocity, DVec3::new(20.0, 1.0, 0.0), 1e-5);
}

#[test]
fn what_falls_in_front_of_it_meets_the_road_as_it_falls() {
    let scenery = oncoming(Some(Brakes { after: 0.1, at: 8.0 }), None);
    let motion = Glide { velocity: DVec3::X * 3.0, acceleration: DVec3::Z * -G, ..hangs() };
    let touch = touches(fly(&ball(0.2, 1.5), &scenery, &motion, 2.0), Surface::Ground);
    let time = (2.0 * 0.9 / G).sqrt();
    near(touch.time, time, 1e-6);
    near_all(touch.relative_velocity, DVec3::new(3.0, 0.0, -G * time), 1e-5);
    near_all(touch.point, DVec3::X * (3.0 * time), 1e-5);
}
