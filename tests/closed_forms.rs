//! Whole runs whose chance is known in closed form: no air, and an aim whose
//! scatter is normal on the target's plane.

use longodds_sim::{
    chain::Claim,
    engine::{Order, Unwatched, run},
    math::{erfc, exp},
    scenario,
};
use std::path::Path;

const FLIGHTS: u64 = 60_000;

/// Share of flights that strike; a speck of dust, so that its size is nothing.
fn share_struck(outline: &str, sd_left: f64, sd_up: f64) -> f64 {
    let text = format!(
        "
claim: A speck of dust flies straight at a face; made up for a closed form.
object: {{shape: {{sphere: {{diameter: 0.001 mm}}}}, mass: 1 g, drag_factor: 0}}
release:
  launched:
    speed: 100 m/s
    elevation: 0 deg
    height: {{normal: {{mean: 50 m, sd: {sd_up} m}}}}
    left: {{normal: {{mean: 0 m, sd: {sd_left} m}}}}
target:
  stands: {{at: 100 m}}
  faces:
    # It falls for one second: g/2 = 4.903325 m.
    sheet: {{centre: [0 m, 0 m, 45.096675 m], {outline}, aim: true}}
chain: [strikes]
"
    );
    let scenario = scenario::parse(&text, Path::new(".")).unwrap();
    let claim = Claim::new(scenario, false);
    let tally = run(&claim, &Order::new(7, 0..FLIGHTS), &Unwatched);
    assert_eq!(tally.flights(), FLIGHTS);
    tally.passed(0) as f64 / FLIGHTS as f64
}

/// Four standard errors: false alarm 6e-5.
fn close(found: f64, wanted: f64) {
    let error = (wanted * (1.0 - wanted) / FLIGHTS as f64).sqrt();
    assert!((found - wanted).abs() < 4.0 * error, "{found} is not {wanted} +- {error}");
}

/// Source: the normal distribution in two dimensions, a product of normal
/// integrals: `P = erf(w / (2√2 σ_y)) erf(h / (2√2 σ_z))`.
#[test]
fn a_rectangle_is_hit_by_the_product_of_two_normal_integrals() {
    let found = share_struck("width: 2 m, height: 1 m", 0.8, 0.5);
    let within = |half: f64, sd: f64| 1.0 - erfc(half / (sd * std::f64::consts::SQRT_2));
    close(found, within(1.0, 0.8) * within(0.5, 0.5));
}

/// Source: the Rayleigh distribution: P = 1 - exp(-R² / 2σ²).
#[test]
fn a_disc_is_hit_by_the_circular_normal_integral() {
    let found = share_struck("diameter: 1 m", 0.5, 0.5);
    close(found, 1.0 - exp(-0.25 / (2.0 * 0.25)));
}
