//! What decides, as people ask it.

use crate::util::Dir;
use serde_json::Value;

/// A ball in still air that does not brake it; ours.
const BALL: &str = "\
claim: A ball strikes a board.
object: {shape: {sphere: {diameter: 50 mm}}, mass: {range: [1 kg, 3 kg]}, drag_factor: 0}
release: {launched: {height: 1.5 m, speed: {range: [10 m/s, 20 m/s]}, elevation: 0 deg}}
target:
  stands: {at: 1 mm}
  faces: {board: {centre: [0 m, 0 m, 1.5 m], width: 2 m, height: 2 m, aim: true}}
chain: [released, reaches, strikes]
";

/// Source: E = m v² / 2 with m and v² independent, by hand: the variance of a
/// product splits into Var(m) E(v²)², E(m)² Var(v²) and their product, in the
/// shares 0.3566, 0.5939 and 0.0495.
#[test]
fn the_energy_that_arrives_is_shared_out_as_the_closed_form_says() {
    let dir = Dir::new("the_energy_that_arrives_is_shared_out");
    dir.file("ball.yaml", BALL);
    let answer = dir.longodds(&["drivers", "ball.yaml", "--totals", "--json"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(found["strikes"], 100_000);
    let share = |list: &Value, input: &str, kind: &str| {
        let list = list.as_array().unwrap().clone();
        let own = list.into_iter().find(|one| {
            one["input"] == input || one["inputs"].as_array().is_some_and(|all| all[0] == input)
        });
        own.unwrap()[kind]["estimate"].as_f64().unwrap()
    };
    for (input, first, total) in
        [("object.mass", 0.3566, 0.4061), ("release.launched.speed", 0.5939, 0.6434)]
    {
        // Standard error of the rank estimator 1/sqrt(100,000); four of them.
        assert!((share(&found["arriving_energy"], input, "first") - first).abs() < 0.013);
        assert!((share(&found["energy_totals"], input, "first") - first).abs() < 0.03);
        assert!((share(&found["energy_totals"], input, "total") - total).abs() < 0.03);
    }
}

#[test]
fn where_nothing_is_uncertain_nothing_decides() {
    let dir = Dir::new("where_nothing_is_uncertain");
    dir.file(
        "ball.yaml",
        BALL.replace("{range: [1 kg, 3 kg]}", "2 kg")
            .replace("{range: [10 m/s, 20 m/s]}", "15 m/s"),
    );
    let answer = dir.longodds(&["drivers", "ball.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("no input of the scenario is uncertain"), "{}", answer.err);
    assert!(answer.err.contains("spread at least one of them"), "{}", answer.err);
}

/// What arrives alike is not shared out, by neither sample; and nobody is told to
/// hold what differs of itself.
#[test]
fn a_constant_has_no_shares_and_chance_no_limits() {
    let dir = Dir::new("a_constant_has_no_shares");
    let constant = BALL
        .replace("{range: [1 kg, 3 kg]}", "2 kg")
        .replace("{range: [10 m/s, 20 m/s]}", "15 m/s, left: {range: [-20 cm, 20 cm]}")
        .replace("aim: true", "aim: true, barrier: {energy: {between: [180 J, 270 J]}}")
        .replace("strikes]", "strikes, perforates]");
    dir.file("ball.yaml", constant);
    let answer = dir.longodds(&["drivers", "ball.yaml", "--totals", "--flights", "20000"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let text = answer.out;
    assert!(text.contains("arrive alike, so that there is nothing to share out"), "{text}");
    assert!(text.contains("it does not vary, so that there is nothing to share out"), "{text}");
    assert!(text.contains("barrier.scatter") && text.contains("nobody can hold it"), "{text}");
    assert!(!text.contains("below -"), "{text}");
}
