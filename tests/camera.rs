//! A camera's place and what it sees, as people ask for it.

use crate::util::{Dir, SCENARIO};
use serde_json::Value;
use std::fs;

/// A brick thrown at a pane; ours.
const THROWN: &str = "\
claim: A brick thrown from the kerb goes through the pane.
show: imperial
object: {shape: {block: {length: 215 mm, width: 102 mm, height: 65 mm}}, mass: 2.3 kg}
release: {launched: {height: 5 ft, speed: {range: [25 mph, 35 mph]}, elevation: 5 deg, scatter: 2 deg}}
target:
  stands: {at: 20 ft}
  faces: {pane: {centre: [0 m, 0 m, 5 ft], width: 6 ft, height: 6 ft, aim: true}}
chain: [released, reaches, strikes]
";

fn flown(test: &str) -> Dir {
    let dir = Dir::new(test);
    let run = ["run", "a.yaml", "--flights", "2000", "--no-rare", "--no-doubts"];
    let answer = dir.file("a.yaml", THROWN).longodds(&run);
    assert_eq!(answer.status, 0, "{}", answer.err);
    dir
}

const LENS: [&str; 6] = ["camera", "a.findings.json", "--sensor", "0.5 in", "--lens", "2 in"];

fn asked(dir: &Dir, more: &[&str]) -> Value {
    let answer = dir.longodds(&[&LENS[..], more, &["--json"]].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    serde_json::from_str(&answer.out).unwrap()
}

fn number(value: &Value, path: &str) -> f64 {
    let found = value.pointer(path).and_then(Value::as_f64);
    assert!(found.is_some(), "{path} of {value}");
    found.unwrap()
}

/// The doubt of the plan is the doubt that `speed` tells of the pictures it plans.
#[test]
fn plan_and_speed_agree() {
    let dir = flown("plan_and_speed_agree");
    let none = ["--scale-error", "0.000001", "--pixels", "100000"];
    let plan = asked(&dir, &none);
    let frames = number(&plan, "/camera/view/frames/2").to_string();
    let track = format!("{} m", number(&plan, "/camera/view/track"));
    let rate = format!("{} fps", number(&plan, "/camera/view/rate"));
    let speed =
        ["speed", "--frames", &frames, "--distance", &track, "--frame-rate", &rate, "--json"];
    let told: Value = serde_json::from_str(&dir.longodds(&speed).out).unwrap();
    let relative = number(&told, "/speed/uncertainty") / number(&told, "/speed/speed");
    let planned = number(&plan, "/camera/view/uncertainty");
    assert!((relative / planned - 1.0).abs() < 1e-3, "{relative} beside {planned}");
    let fast = number(&plan, "/camera/lane/speed/2");
    assert!((number(&told, "/speed/speed") / fast - 1.0).abs() < 1e-9);
}

#[test]
fn it_stands_outside_the_zone_or_says_that_it_does_not() {
    let dir = flown("it_stands_outside_the_zone");
    let zone =
        ["exclusion", "a.yaml", "--flights", "2000", "--no-rare", "--one-in", "10", "--json"];
    dir.file("zone.json", dir.longodds(&zone).out);
    let plain = dir.longodds(&LENS);
    assert!(plain.out.contains("NO ZONE IS TOLD"), "{}", plain.out);
    assert!(plain.out.lines().last().unwrap().contains("exclusion a.yaml --json > a.zone.json"));
    let with = ["--zone", "zone.json"];
    let chosen = asked(&dir, &with);
    assert!(number(&chosen, "/camera/stand/clear") >= 0.9, "{chosen}");
    let words = dir.longodds(&[&LENS[..], &with].concat());
    assert!(words.out.contains(" outside the zone (1 in 10 of debris"), "{}", words.out);
    assert!(words.out.contains("CAUTION"), "{}", words.out);
    let near = dir.longodds(&[&LENS[..], &with, &["--distance", "9 ft"]].concat());
    assert!(near.out.contains("THAT IS INSIDE THE ZONE"), "{}", near.out);
    let no_zone = dir.longodds(&[&LENS[..], &["--zone", "a.findings.json"]].concat());
    assert!(no_zone.status == 1 && !no_zone.err.is_empty(), "{}", no_zone.err);
}

#[test]
fn it_is_drawn_and_has_a_card() {
    let dir = flown("it_is_drawn_and_has_a_card");
    let files = ["--slate", "slate.html", "--picture", "plan.svg", "--behind"];
    let answer = dir.longodds(&[&LENS[..], &files].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    let slate = fs::read_to_string(dir.path("slate.html")).unwrap();
    let plan = asked(&dir, &["--behind"]);
    let rate = number(&plan, "/camera/view/rate");
    assert!(slate.contains(&format!("{rate} frames/s")) && slate.contains("ft/s"), "{slate}");
    assert!(fs::read_to_string(dir.path("plan.svg")).unwrap().contains("No zone is told"));
    // What comes out behind is in the picture: the strike stands in its middle.
    let before = asked(&dir, &[]);
    let part = |plan: &Value| {
        (number(plan, "/camera/view/track") + 0.215) / number(plan, "/camera/view/field")
    };
    assert!((part(&plan) - 0.5).abs() < 1e-3 && (part(&before) - 1.0).abs() < 1e-3);
    assert!((number(&plan, "/camera/stand/at/0") - number(&plan, "/camera/lane/at/0")).abs() < 0.2);
}

#[test]
fn what_cannot_be_filmed_is_one_clear_error() {
    let dir = flown("what_cannot_be_filmed");
    for (args, words) in [
        (&["camera", "a.findings.json"][..], "neither the lens nor the distance"),
        (&["camera", "a.findings.json", "--field", "10 deg", "--distance", "2 in"], "does not fit"),
        (&["camera", "a.findings.json", "--field", "190 deg"], "between 0 and 180 deg"),
        (&["camera", "a.findings.json", "--sensor", "1 in"], "--lens"),
        (&["camera", "a.findings.json", "--field", "30 deg", "--smear", "0"], "above zero"),
        (&["camera", "a.findings.json", "--field", "30 deg", "--rate", "90 ft/s"], "frequency"),
    ] {
        let answer = dir.longodds(args);
        assert!(answer.status > 0 && answer.err.contains(words), "{args:?}: {}", answer.err);
    }
    // A lens that is too long for the speed is said, not passed over.
    let slow = [
        "camera",
        "a.findings.json",
        "--distance",
        "9 ft",
        "--field",
        "12 deg",
        "--rate",
        "25 fps",
    ];
    let answer = dir.longodds(&slow);
    assert!(answer.out.contains("IT DOES NOT REACH") || answer.out.contains("IT TELLS NO SPEED"));
    // Nothing struck: there is no track.
    dir.file("a.yaml", SCENARIO.replace("at: 0.2 m", "at: 20 m"));
    let run = ["run", "a.yaml", "--flights", "500", "--no-rare", "--no-doubts", "--into", "far"];
    assert_eq!(dir.longodds(&run).status, 0);
    let answer = dir.longodds(&["camera", "far/a.findings.json", "--field", "30 deg"]);
    assert!(answer.status == 1 && answer.err.contains("no track to film"), "{}", answer.err);
}
