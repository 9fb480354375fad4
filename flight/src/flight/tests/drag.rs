//! Closed forms of flight without drag and with quadratic drag.

use super::{
    at_deadline,
    bodies::{compact, each_shape, flight, vacuum},
    met, moving, strict,
};
use crate::flight::{Flight, Plane, Watch};
use glam::DVec3;

const G: f64 = 9.806_65;

fn watched(flight: Flight, normal: DVec3, offset: f64) -> Flight {
    let plane = Some(Plane { normal, offset, rate: 0.0 });
    Flight { watch: Watch { zone: None, plane, every_step: false }, ..flight }
}

/// Source: closed form.
#[test]
fn without_air_every_shape_flies_a_parabola() {
    for (name, body) in each_shape() {
        let start = moving([1.0, -2.0, 50.0], [20.0, 3.0, 12.0]);
        let end = at_deadline(flight(body, vacuum(), start, 3.0), &strict());
        let wanted = DVec3::new(61.0, 7.0, 50.0 + 36.0 - 4.5 * G);
        assert!((end.position - wanted).length() < 1e-9, "{name}: {}", end.position);
        assert!((end.velocity - DVec3::new(20.0, 3.0, 12.0 - 3.0 * G)).length() < 1e-9);
    }
}

/// Source: v = vt tanh(g t / vt), y = (vt²/g) ln cosh(g t / vt); vt 42 m/s,
/// 5 s: 34.585138 m/s, 101.941310 m.
#[test]
fn a_drop_follows_the_hyperbolic_tangent() {
    let end = at_deadline(compact(42.0, moving([0.0, 0.0, 1000.0], [0.0; 3]), 5.0), &strict());
    assert!((end.velocity.z + 34.585_138).abs() < 1e-6);
    assert!((1000.0 - end.position.z - 101.941_310).abs() < 1e-5);
}

/// Source: v(y) = vt sqrt(1 - exp(-2 g y / vt²)), t(y) = (vt/g) acosh(exp(g y
/// / vt²)).
#[test]
fn a_fall_to_a_height_has_the_speed_and_time_of_the_closed_form() {
    for (terminal, fall, speed, time) in
        [(9.0, 10.0, 8.591_123, 1.726_156), (60.0, 1000.0, 59.870_732, 20.900_953)]
    {
        let start = moving([0.0, 0.0, 2000.0], [0.0; 3]);
        let flight = watched(compact(terminal, start, 60.0), DVec3::Z, 2000.0 - fall);
        let (t, state) = met(flight, &strict());
        assert!((t - time).abs() < 1e-5 && (state.velocity.z + speed).abs() < 1e-5);
    }
}

/// Source: H = (vt²/2g) ln(1 + v0²/vt²), v back = v0 / sqrt(1 + v0²/vt²);
/// vt 42, v0 30: up 2.656410 s, 37.076872 m; back at 24.412004 m/s after
/// 2.845200 s more.
#[test]
fn a_throw_straight_up_returns_slower() {
    let start = moving([0.0, 0.0, 100.0], [0.0, 0.0, 30.0]);
    let top = at_deadline(compact(42.0, start, 2.656_410), &strict());
    assert!((top.position.z - 137.076_872).abs() < 1e-5 && top.velocity.z.abs() < 1e-5);
    let (t, state) = met(watched(compact(42.0, start, 9.0), DVec3::Z, 99.999_999_9), &strict());
    assert!((t - 2.656_410 - 2.845_200).abs() < 2e-5);
    assert!((state.velocity.z + 24.412_004).abs() < 1e-5);
}

/// Source: reference integration (Dormand-Prince 8, relative tolerance 1e-12)
/// of the same equations; the hodograph integral below holds there to 1e-13.
#[test]
fn a_shot_with_drag_lands_where_the_reference_says() {
    let (s, c) = libm::sincos(35.0_f64.to_radians());
    let (s2, c2) = libm::sincos(45.0_f64.to_radians());
    // vt, v0x, v0z, drop, t, x, vx, vz
    let table = [
        [42.0, 45.0 * c, 45.0 * s, 0.0, 4.497_718_3, 114.575_900, 18.097_058, -19.874_774],
        [9.0, 30.0 * c2, 30.0 * s2, 0.0, 2.178_559_4, 13.570_518, f64::NAN, f64::NAN],
        [30.0, 20.0, 0.0, 2.0, 0.653_036_8, 12.204_216, 17.467_727, -5.994_912],
    ];
    for [terminal, vx, vz, drop, t, x, end_x, end_z] in table {
        let start = moving([0.0, 0.0, 500.0 + 1e-9], [vx, 0.0, vz]);
        let flight = watched(compact(terminal, start, 20.0), DVec3::Z, 500.0 - drop);
        let (time, state) = met(flight, &strict());
        assert!((time - t).abs() < 1e-6 && (state.position.x - x).abs() < 1e-5, "{time}");
        let off = |got: f64, wanted: f64| !wanted.is_nan() && (got - wanted).abs() > 1e-5;
        assert!(!off(state.velocity.x, end_x) && !off(state.velocity.z, end_z));
    }
}

/// Source: 1/vx² + [q sqrt(1+q²) + asinh q] / vt² is constant in still air,
/// q = vz/vx (hodograph, first integral).
#[test]
fn the_hodograph_keeps_its_integral() {
    let integral = |v: DVec3| {
        let q = v.z / v.x;
        let arc = q * (1.0 + q * q).sqrt() + libm::asinh(q);
        1.0 / (v.x * v.x) + arc / (42.0 * 42.0)
    };
    let start = moving([0.0, 0.0, 500.0], [38.0, 0.0, 25.0]);
    let end = at_deadline(compact(42.0, start, 6.0), &strict());
    assert!((integral(end.velocity) / integral(start.velocity) - 1.0).abs() < 1e-8);
}
