//! Traffic that meets what came loose, from a scenario's text to its answer.

use crate::util::Dir;
use longodds_sim::{
    chain::{Claim, Outcome},
    engine::{Draws, Path, record},
    scenario,
};

/// A ball off a carrier and a front that comes up behind, in no air; ours.
const BALL: &str = "
claim: A ball off a boat meets a boat.
object: {shape: {sphere: {diameter: 20 cm}}, mass: 5 kg, drag_factor: 0}
release: {shed: {speed: 29 m/s, height: 5 m}}
target:
  moves: {at: AT, speed: 29 m/s, heading: HEADING MORE}
  faces:
    front: {centre: [0 m, 0 m, 3 m], width: 2 m, height: 6 m, facing: HEADING, aim: true}
chain: [reaches, strikes]
";

fn told(at: &str, heading: &str, more: &str) -> String {
    BALL.replace("AT", at).replace("HEADING", heading).replace("MORE", more)
}

fn flown(text: &str) -> Path {
    let scenario = scenario::parse(text, std::path::Path::new(".")).unwrap();
    let claim = Claim::new(scenario);
    let draws = Draws::new(&claim.scenario().inputs, 1, &[]);
    record(&claim, 0, &draws.middle())
}

fn closing(text: &str) -> f64 {
    let outcome: Outcome = flown(text).outcome;
    outcome.touch.filter(|_| outcome.struck).map_or(0.0, |touch| touch.closing_speed)
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-4, "{a} is not {b}");
}

/// Source: relative speed at impact: sum of the two for who comes towards it,
/// follower less object for who follows (both at 29 m/s: 58 m/s).
#[test]
fn traffic_meets_what_came_loose_with_the_sum_or_the_difference() {
    near(closing(&told("50 m", "180 deg", "")), 58.0);
    let dropped =
        told("-20 m", "0 deg", "").replace("speed: 29 m/s, height", "speed: 4 m/s, height");
    near(closing(&dropped), 25.0);
    // Both as fast as each other, and no air: they never meet.
    near(closing(&told("-20 m", "0 deg", "")), 0.0);
}

/// Source: v² = u² - 2 a s: from 29 m/s over 20 m to a ball that hangs as good as
/// still, less the ball's radius.
#[test]
fn a_follower_who_brakes_arrives_as_slowly_as_the_gap_lets_it() {
    let still = |more: &str| {
        told("-15 m", "0 deg", more).replace("speed: 29 m/s, height", "speed: 0 m/s, height")
    };
    near(closing(&still("")), 29.0);
    let brakes = still(", brakes: {after: 0.2 s, at: 0.9 gn}");
    near(closing(&brakes), (29.0_f64 * 29.0 - 2.0 * 0.9 * 9.806_65 * (14.9 - 29.0 * 0.2)).sqrt());
    // Over by 3.5 m in half a second of a strong push: it is past.
    let aside = still(", steers: {after: 0 s, to: right, at: 6 gn, by: 3.5 m}");
    near(closing(&aside), 0.0);
}

#[test]
fn braking_and_steering_at_nothing_leave_every_bit_as_it_was() {
    let dir = Dir::new("braking_and_steering_at_nothing");
    let more =
        ", brakes: {after: 0.5 s, at: 0 gn}, steers: {after: 1 s, to: left, at: 0 gn, by: 3 m}";
    let answer = |more: &str| {
        let text = told("{range: [20 m, 40 m]}", "180 deg", more);
        dir.file("a.yaml", text.replace("speed: 29 m/s,", "speed: {range: [20 m/s, 30 m/s]},"));
        let args = ["run", "a.yaml", "--json", "--flights", "500", "--no-doubts", "--no-rare"];
        let mut found: serde_json::Value = serde_json::from_str(&dir.longodds(&args).out).unwrap();
        for told in ["inputs", "scenario_text", "models"] {
            found.as_object_mut().unwrap().remove(told);
        }
        found
    };
    assert_eq!(answer(""), answer(more));
}

#[test]
fn a_side_that_is_none_is_told_where_it_stands() {
    let dir = Dir::new("a_side_that_is_none");
    dir.file(
        "a.yaml",
        told("50 m", "180 deg", ", steers: {after: 1 s, to: lift, at: 0.3 gn, by: 3 m}"),
    );
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("did you mean `left`?"), "{}", answer.err);
    assert!(answer.err.contains("a side of the driver"), "{}", answer.err);
}

/// Source: conservation of momentum: 5 kg at 25 m/s meets 1500 kg at 25 m/s and
/// stays: 5/1505 of 50 m/s, 0.166113 m/s; in the fifth of a second before it falls
/// at 1.95 m/s, which makes that 0.1662.
#[test]
fn a_strike_hardly_changes_the_speed_of_a_car() {
    let dir = Dir::new("a_strike_hardly_changes");
    let text = told("10 m", "180 deg", "").replace("29 m/s", "25 m/s");
    dir.file("a.yaml", text.replace("  faces:", "  mass: 1500 kg\n  faces:"));
    let args = ["run", "a.yaml", "--flights", "50", "--no-doubts", "--no-rare"];
    let (words, _) = dir.told_twice(&args);
    assert!(words.contains("what is struck (1500 kg) by 0.166 m/s"), "{words}");
    assert!(words.contains("not what hurts whoever is inside"), "{words}");
}
