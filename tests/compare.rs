//! A claim against a rig, as people ask it.

use crate::util::Dir;
use serde_json::Value;

/// A ball in still air that does not brake it; ours.
const BALL: &str = "\
claim: A ball strikes a board.
object: {shape: {sphere: {diameter: 50 mm}}, mass: 2 kg, drag_factor: 0}
release: {launched: {height: 1.5 m, speed: SPEED, elevation: 0 deg}}
target:
  stands: {at: 1 mm}
  faces: {board: {centre: [0 m, 0 m, 1.5 m], width: 2 m, height: 2 m, aim: true}}
chain: [released, reaches, strikes]
";

fn ball(speed: &str) -> String {
    BALL.replace("SPEED", speed)
}

/// Source: E = m v² / 2 by hand. Speeds spread evenly over 10 to 20 m/s have
/// 15, 19, 19.5 and 19.9 m/s as their 50, 90, 95 and 99 %, and a shot at 16 m/s
/// is at least as hard as 60 % of them.
#[test]
fn the_speeds_that_cover_a_claim_are_its_quantiles() {
    let dir = Dir::new("the_speeds_that_cover");
    dir.file("claim.yaml", ball("{range: [10 m/s, 20 m/s]}")).file("rig.yaml", ball("16 m/s"));
    let answer = dir.longodds(&["compare", "claim.yaml", "rig.yaml", "--json"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    let number = |value: &Value| value.as_f64().unwrap();
    let hard = &found["as_hard"];
    assert!(number(&hard["low"]) < 0.6 && 0.6 < number(&hard["high"]), "{hard}");
    assert!((number(&hard["estimate"]) - 0.6).abs() < 0.01, "{hard}");
    for (speed, wanted) in
        found["covers"]["speeds"].as_array().unwrap().iter().zip([15.0, 19.0, 19.5, 19.9])
    {
        let [low, high] = ["low", "high"].map(|end| number(&speed[end]));
        assert!((number(&speed["speed"]) / wanted - 1.0).abs() < 0.01, "{speed}");
        assert!(low < high && (low / wanted - 1.0).abs() < 0.02, "{speed}");
    }
}

/// A rig whose slowest shot tried is harder than half of the claim covers that
/// half; it is not out of its reach. (16 m/s against 1 to 20: a quarter is 4.)
#[test]
fn what_the_slowest_shot_covers_is_not_out_of_reach() {
    let dir = Dir::new("what_the_slowest_shot_covers");
    let claim = ball("{choice: [{value: 1 m/s, weight: 80}, {value: 12 m/s, weight: 20}]}");
    dir.file("claim.yaml", claim).file("rig.yaml", ball("16 m/s"));
    let args = ["compare", "claim.yaml", "rig.yaml", "--flights", "4000"];
    let text = dir.longodds(&args).out;
    assert!(text.contains("less than 4 m/s") && text.contains("12 m/s"), "{text}");
    assert!(!text.contains("out of reach"), "{text}");
    let slow = BALL.replace("SPEED", "1 m/s");
    dir.file("slow.yaml", slow);
    let text = dir.longodds(&["compare", "claim.yaml", "slow.yaml", "--flights", "4000"]).out;
    assert!(text.contains("out of reach: more than 6 m/s"), "{text}");
}

#[test]
fn a_claim_is_no_harder_than_itself() {
    let dir = Dir::new("a_claim_is_no_harder_than_itself");
    dir.file("claim.yaml", ball("{range: [10 m/s, 20 m/s]}"));
    let answer = dir.longodds(&["compare", "claim.yaml", "claim.yaml", "--flights", "4000"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("speed at the strike: no difference seen"), "{}", answer.out);
    assert!(answer.out.contains("can kill"), "{}", answer.out);
}

#[test]
fn what_never_strikes_is_not_compared() {
    let dir = Dir::new("what_never_strikes");
    dir.file("claim.yaml", ball("15 m/s"));
    dir.file("rig.yaml", ball("15 m/s").replace("0 m, 1.5 m]", "9 m, 1.5 m]"));
    let answer = dir.longodds(&["compare", "claim.yaml", "rig.yaml", "--flights", "400"]);
    assert_eq!(answer.status, 1);
    assert!(answer.out.is_empty());
    assert!(answer.err.contains("the claim struck in 400 and the rig in 0"), "{}", answer.err);
}
