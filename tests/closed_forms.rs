//! Whole runs whose chance is known in closed form: no air, and an aim whose
//! scatter is normal on the target's plane.

use longodds_sim::{
    chain::Claim,
    engine::{Order, Unwatched, run},
    findings::{Method, Origin, findings},
    math::{erfc, exp},
    scenario,
    study::{Ask, study},
};
use std::path::Path;

const FLIGHTS: u64 = 60_000;

/// A speck of dust, so that its size is nothing, thrown at a face.
fn thrown(outline: &str, sd_left: f64, sd_up: f64, aside: f64) -> Claim {
    let text = format!(
        "
claim: A speck of dust flies straight at a face; made up for a closed form.
object: {{shape: {{sphere: {{diameter: 0.001 mm}}}}, mass: 1 g, drag_factor: 0}}
release:
  launched:
    speed: 100 m/s
    elevation: 0 deg
    height: {{normal: {{mean: 50 m, sd: {sd_up} m}}}}
    left: {{normal: {{mean: {aside} m, sd: {sd_left} m}}}}
target:
  stands: {{at: 100 m}}
  faces:
    # It falls for one second: g/2 = 4.903325 m.
    sheet: {{centre: [0 m, 0 m, 45.096675 m], {outline}, aim: true}}
chain: [strikes]
"
    );
    Claim::new(scenario::parse(&text, Path::new(".")).unwrap())
}

fn share_struck(outline: &str, sd_left: f64, sd_up: f64) -> f64 {
    let claim = thrown(outline, sd_left, sd_up, 0.0);
    let tally = run(&claim, &Order::new(7, 0..FLIGHTS), &Unwatched);
    assert_eq!(tally.flights(), FLIGHTS);
    tally.passed(0) as f64 / FLIGHTS as f64
}

/// Chance that a normal number of this mean lies within `half` of 0.
fn window(half: f64, mean: f64, sd: f64) -> f64 {
    let below = |x: f64| 0.5 * erfc(-(x - mean) / (sd * std::f64::consts::SQRT_2));
    let above = |x: f64| 0.5 * erfc((x - mean) / (sd * std::f64::consts::SQRT_2));
    // From the nearer tail, so that small chances keep their digits.
    if mean > 0.0 { below(half) - below(-half) } else { above(-half) - above(half) }
}

/// Source: the product of two normal integrals, one of them far off centre.
/// The printed interval is a 95 % one: with the fixed seed each case either
/// holds or does not; three cases at 95 % all hold six times in seven.
#[test]
fn the_printed_interval_of_something_rare_holds_the_closed_form() {
    for (aside, flights) in [(3.43, 1000), (5.35, 20_000), (6.6, 20_000)] {
        let claim = thrown("width: 2 m, height: 2 m", 1.2, 1.0, aside);
        let exact = window(1.0, aside, 1.2) * window(1.0, 0.0, 1.0);
        let ask = Ask { flights: Some(flights), ..Ask::new(3) };
        let found = findings(&claim, &study(&claim, &ask, &Unwatched), &origin());
        let chance = &found.claim;
        assert!(!chance.is_counted(), "{exact:.2e}: {chance:?}");
        assert!(chance.low < exact && exact < chance.high, "{exact:.3e}: {chance:?}");
        let [low, high] = chance.by_ways.unwrap();
        assert!(low < exact && exact < high && high < 2.0 * low, "{exact:.3e}: {chance:?}");
        assert!(chance.high > 3.0 / flights as f64, "{exact:.3e}: {chance:?}");
        assert_ne!(chance.method, Method::Plain);
        let way = found.most_likely.unwrap();
        assert!(way.flight.struck, "{way:?}");
        assert_eq!(way.inputs[0].name, "release.launched.left", "{way:?}");
        // The nearest way in is the near edge, height in the middle.
        assert!((way.inputs[0].value - 1.0).abs() < 0.1, "{way:?}");
    }
}

/// Plain sampling needs (1 - p) / (p e²) flights for a relative standard error
/// e: 100 million at one in a million and 10 %.
#[test]
fn one_in_a_million_takes_a_two_hundredth_of_plain_sampling() {
    let (aside, relative) = (6.6, 0.1);
    let claim = thrown("width: 2 m, height: 2 m", 1.2, 1.0, aside);
    let exact = window(1.0, aside, 1.2) * window(1.0, 0.0, 1.0);
    assert!((5e-7..2e-6).contains(&exact), "{exact:.2e}");
    let ask = Ask { flights: Some(20_000), doubts: false, ..Ask::new(3) };
    let found = study(&claim, &ask, &Unwatched).rare.unwrap();
    assert!(found.relative_error < relative, "{found:?}");
    let plain = (1.0 - exact) / (exact * relative * relative);
    let used = (20_000 + found.calls) as f64;
    assert!(used < plain / 200.0, "{used} of {plain}");
    let off = found.probability / exact - 1.0;
    // Four standard errors: false alarm 6e-5.
    assert!(off.abs() < 4.0 * found.relative_error, "{off}");
}

/// Source: two branches weighed exactly; in each the chance that a normal number
/// falls in a window, and another in its own.
#[test]
fn a_branch_of_one_in_100_000_is_neither_missed_nor_overstated() {
    // Falls 20 m in half of all cases onto nothing: the pane stands aside but
    // for one event in 100,000.
    let text = "
claim: A speck falls on a pane that is out of reach but for one event in 100,000; made up.
object: {shape: {sphere: {diameter: 0.001 mm}}, mass: 1 g, drag_factor: 0}
release:
  dropped:
    height: 20 m
    nose_up: 0 deg
    at: {normal: {mean: 0 m, sd: 0.1 m}}
target:
  stands: {at: {choice: [{value: 0.62 m, weight: 99999}, {value: 0 m, weight: 1}]}}
  faces:
    pane: {centre: [0 m, 0 m, 0.5 m], rake: 90 deg, width: 0.4 m, height: 0.2 m, aim: true}
chain: [released, reaches, strikes]
";
    let claim = Claim::new(scenario::parse(text, Path::new(".")).unwrap());
    let rare = 1e-5;
    let exact = rare * window(0.1, 0.0, 0.1) + (1.0 - rare) * window(0.1, 0.62, 0.1);
    for (seed, flights) in [(1, 20_000), (2, 20_000), (3, 100_000), (4, 100_000)] {
        let ask = Ask { flights: Some(flights), doubts: false, ..Ask::new(seed) };
        let studied = study(&claim, &ask, &Unwatched);
        let event = studied.rare.as_ref().unwrap();
        assert_eq!(event.strata, 2);
        // Four standard errors: false alarm 6e-5.
        let off = event.probability / exact - 1.0;
        assert!(off.abs() < 4.0 * event.relative_error.max(0.03), "{exact:e}: {event:?}");
        let found = findings(&claim, &studied, &origin());
        let chance = &found.claim;
        assert!(chance.low < exact && exact < chance.high, "{exact:e}: {chance:?}");
        // The chain ends in the chance of the claim.
        assert_eq!(&found.gates.last().unwrap().so_far, chance);
        assert_eq!(found.most_likely.unwrap().inputs[0].name, "target.stands.at");
    }
}

fn origin() -> Origin {
    Origin { scenario_name: "dust.yaml".to_owned() }
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
