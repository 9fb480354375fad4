//! Free rotation.

use super::{
    at_deadline,
    bodies::{flight, vacuum},
    moving, strict,
};
use crate::{
    body::{Body, Shape},
    flight::{Settings, State},
};
use glam::DVec3;

const BOX: Shape<f64> = Shape::Block { length: 0.02, width: 0.1, height: 0.2 };

fn spun_for(body: Body, rates: [f64; 3], time: f64, settings: &Settings) -> State {
    let start = State { rates: rates.into(), ..moving([0.0, 0.0, 1e6], [0.0; 3]) };
    at_deadline(flight(body, vacuum(), start, time), settings)
}

/// Angular momentum in the world frame and twice the rotational energy.
fn invariants(body: &Body, state: &State) -> (DVec3, f64) {
    let momentum = body.inertia * state.rates;
    (state.attitude * momentum, momentum.dot(state.rates))
}

/// Source: closed form of the symmetric top, I = (1, 1, 2), rates (.1, 0, 10):
/// after 1 s (-.08390715, -.05440211, 10).
#[test]
fn a_symmetric_top_precesses_as_the_closed_form_says() {
    let body = Body { inertia: DVec3::new(1.0, 1.0, 2.0), ..Body::solid(BOX, 1.0) };
    let end = spun_for(body, [0.1, 0.0, 10.0], 1.0, &strict());
    let wanted = DVec3::new(-0.083_907_15, -0.054_402_11, 10.0);
    assert!((end.rates - wanted).length() < 1e-8, "{}", end.rates);
}

/// Source: Landau & Lifshitz, Mechanics, section 37: a box spun about its
/// middle axis flips with the period 4.44178088 s, 3.20410883 s or 2.12228554
/// s. After a full period the rates are back.
#[test]
fn a_box_spun_about_its_middle_axis_flips_on_time() {
    let inertia = DVec3::new(0.0104, 0.0404, 0.05) / 12.0;
    let body = Body { inertia, ..Body::solid(BOX, 1.0) };
    let table = [
        ([0.01, 10.0, 0.0], 4.441_780_88),
        ([0.1, 10.0, 0.0], 3.204_108_83),
        ([1.0, 10.0, 1.0], 2.122_285_54),
    ];
    for (rates, period) in table {
        let full = spun_for(body, rates, period, &strict());
        // Rates change by up to 100 rad/s² here, and the period has 9 digits.
        assert!((full.rates - DVec3::from(rates)).length() < 1e-5, "{rates:?}: {}", full.rates);
    }
    let half = spun_for(body, [0.01, 10.0, 0.0], 4.441_780_88 / 2.0, &strict());
    assert!((half.rates.y + 10.0).abs() < 1e-5);
}

/// Source: conservation of angular momentum and energy; limit 1e-6 over 10 s
/// at 50 rad/s.
#[test]
fn energy_and_momentum_hardly_drift_in_ten_seconds() {
    let body = Body::solid(BOX, 1.0);
    let rates = [20.0, 40.0, 22.0];
    let end = spun_for(body, rates, 10.0, &Settings { tolerance: 1e-8, ..Settings::default() });
    let start = State { rates: rates.into(), ..moving([0.0; 3], [0.0; 3]) };
    let ((l0, e0), (l1, e1)) = (invariants(&body, &start), invariants(&body, &end));
    assert!((l1 - l0).length() / l0.length() < 1e-6, "{}", (l1 - l0).length() / l0.length());
    assert!((e1 / e0 - 1.0).abs() < 1e-6, "{}", e1 / e0 - 1.0);
}

/// Source: closed form: a ball turns at constant rates about its own axes.
#[test]
fn a_spinning_ball_turns_at_its_own_rate() {
    let body = Body::solid(Shape::Sphere { diameter: 0.1 }, 1.0);
    let end = spun_for(body, [0.0, 0.0, 200.0], 1.5, &Settings::default());
    let turned = end.attitude * DVec3::X;
    let (sine, cosine) = libm::sincos(300.0);
    assert!((turned - DVec3::new(cosine, sine, 0.0)).length() < 1e-9);
}
