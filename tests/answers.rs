//! What would have to be true, what drives it, and how rare it is, as a user
//! asks for them.

use crate::util::Dir;
use serde_json::Value;

const PUMPKIN: &str = include_str!("../scenarios/barn_pumpkin.yaml");

fn in_dir(test: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("a.yaml", PUMPKIN);
    dir
}

#[test]
fn a_sweep_tells_a_chance_at_every_setting() {
    let dir = in_dir("a_sweep_tells_a_chance_at_every_setting");
    let args = ["sweep", "a.yaml", "launched.speed", "--from", "20m/s", "--to", "40 m/s"];
    let more = ["--steps", "3", "--flights", "200"];
    let answer = dir.longodds(&[&args[..], &more].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.starts_with("With `release.launched.speed` at"), "{}", answer.out);
    let answer = dir.longodds(&[&args[..], &more, &["--json"]].concat());
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    let points = found["points"].as_array().unwrap();
    assert_eq!(points.len(), 3);
    assert!((points[2]["value"].as_f64().unwrap() - 40.0).abs() < 1e-12);
}

#[test]
fn a_chance_is_turned_round_into_a_setting_or_nothing_in_the_range_does() {
    let dir = in_dir("a_chance_is_turned_round");
    let ask = |from: &str, to: &str| {
        let args = ["sweep", "a.yaml", "barrier.median", "--from", from, "--to", to];
        let answer = dir.longodds(&[&args[..], &["--chance", "50%", "--flights", "300"]].concat());
        assert_eq!(answer.status, 0, "{}", answer.err);
        answer.out
    };
    let found = ask("1 J", "20 kJ");
    assert!(found.contains("For 50 in 100") && found.contains("would have to be"), "{found}");
    assert!(found.contains("more makes it less likely"), "{found}");
    let none = ask("30 kJ", "40 kJ");
    assert!(none.contains("nothing in this range does"), "{none}");
}

#[test]
fn an_input_that_is_not_there_is_named_with_what_is() {
    let dir = in_dir("an_input_that_is_not_there");
    let args = ["sweep", "a.yaml", "object.mas", "--from", "1 kg", "--to", "2 kg"];
    let answer = dir.longodds(&args);
    assert_eq!((answer.status, answer.out.as_str()), (2, ""));
    assert!(answer.err.contains("no input `object.mas`"), "{}", answer.err);
    assert!(answer.err.contains("did you mean `object.mass`?"), "{}", answer.err);
    let args = ["sweep", "a.yaml", "object.mass", "--from", "1 m", "--to", "2 kg"];
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 2, "{}", answer.err);
    assert!(answer.err.contains("`1 m` is no mass"), "{}", answer.err);
}

#[test]
fn drivers_name_where_the_doubt_is() {
    let dir = in_dir("drivers_name_where_the_doubt_is");
    let answer = dir.longodds(&["drivers", "a.yaml", "--flights", "3000"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("of the doubt"), "{}", answer.out);
    assert!(answer.out.contains("The whole claim"), "{}", answer.out);
    let args = ["drivers", "a.yaml", "--flights", "500", "--totals", "--rows", "100", "--json"];
    let answer = dir.longodds(&args);
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(found["gates"].as_array().unwrap().len(), 5);
    assert!(!found["totals"].as_array().unwrap().is_empty());
}

/// Source: 1 - 0.05^(1/2000) = 0.1497 %, the one-sided bound on none of 2,000.
#[test]
fn what_never_happened_is_told_by_one_bound() {
    let dir = Dir::new("what_never_happened_is_told_by_one_bound");
    let sheet = include_str!("../scenarios/haystack_sheet.yaml");
    dir.file("a.yaml", sheet);
    let answer = dir.longodds(&["run", "a.yaml", "--flights", "2000", "--no-rare"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let never = "Never in 2,000 (exceptionally unlikely).";
    // What lies off the models' ground may come before it.
    assert!(answer.out.lines().any(|line| line.starts_with(never)), "{}", answer.out);
    let bound = "0 of 2,000 flights; counting error alone leaves at most 1 in 660 (95 % confidence";
    let whole = answer.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(whole.contains(bound), "{}", answer.out);
    assert!(!answer.out.contains("fewer than"), "{}", answer.out);
}

/// One setting is told as one, whether it holds or not.
#[test]
fn a_sweep_of_one_setting_says_no_more_than_its_chance() {
    let dir = in_dir("a_sweep_of_one_setting");
    let args = ["sweep", "a.yaml", "launched.speed", "--flights", "200"];
    for (speed, wanted) in [("80 mph", " in 100."), ("5 mph", "never in 200.")] {
        let answer = dir.longodds(&[&args[..], &["--from", speed, "--to", speed]].concat());
        let first = answer.out.lines().next().unwrap_or_default();
        assert!(first.ends_with(wanted), "{}", answer.out);
        assert!(!answer.out.contains("Nothing"), "{}", answer.out);
    }
}

/// The settings that were not flown are no evidence for anything.
#[test]
fn a_sweep_that_is_interrupted_says_so_everywhere() {
    let dir = in_dir("a_sweep_that_is_interrupted");
    let sweep = ["sweep", "a.yaml", "launched.speed", "--from", "1 m/s", "--to", "2 m/s"];
    let asked = ["--steps", "100", "--flights", "20000"];
    let answer = dir.interrupted(&[&sweep[..], &asked, &["--picture", "a.svg"]].concat());
    assert_eq!(answer.status, 130, "{}", answer.err);
    assert!(answer.out.starts_with("Stopped early, after "), "{}", answer.out);
    assert!(answer.out.contains(" of 100 settings: the others are not known."), "{}", answer.out);
    assert!(answer.out.contains("Nothing from 2.24 mph to "), "{}", answer.out);
    assert!(!answer.out.contains("to 4.47 mph made"), "only what was flown: {}", answer.out);
    let drawn = std::fs::read_to_string(dir.path("a.svg")).unwrap();
    assert!(drawn.contains("stopped early"), "the picture says it, too");
    let answer = dir.interrupted(&[&sweep[..], &asked, &["--json"]].concat());
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    let flown = found["points"].as_array().unwrap().len();
    assert_eq!(answer.status, 130);
    assert_eq!(found["not_flown"], 100 - flown);
}
