//! The air that a carrier drags along, from a scenario's text to its answer.

use crate::util::Dir;
use longodds_sim::{
    chain::{Breach, Claim, Course, Outcome},
    engine::{Draws, record},
    findings::Findings,
    flight::Flight,
    scenario,
};
use std::path::Path;

/// A light box off a train and a trolley that follows as fast; ours.
const BOX: &str = "
claim: A foam box off a train meets the trolley behind.
object: {shape: {block: {length: 0.6 m, width: 0.4 m, height: 0.2 m}}, mass: 0.5 kg}
release:
  shed:
    speed: 25 m/s
    height: 3 m
    MORE
target:
  moves: {at: -8 m, speed: 25 m/s, heading: 0 deg}
  faces:
    front: {centre: [0 m, 0 m, 2 m], width: 4 m, height: 4 m, facing: 0 deg, aim: true}
chain: [reaches, strikes]
";

fn claim(more: &str) -> Claim {
    let scenario = scenario::parse(&BOX.replace("MORE", more), Path::new("."));
    Claim::new(scenario.unwrap())
}

fn middle(more: &str) -> (Outcome, Flight) {
    let claim = claim(more);
    let row = Draws::new(&claim.scenario().inputs, 1, &[]).middle();
    let flight = claim.begin(0, &row, &mut Course::default()).unwrap();
    (record(&claim, 0, &row).outcome, flight)
}

fn closing(outcome: &Outcome) -> f64 {
    outcome.touch.map(|touch| touch.closing_speed).unwrap()
}

/// Source: sign: what the air takes along is met more softly by who follows as
/// fast as the train. Of no strength it is, to the bit, as without.
#[test]
fn a_follower_meets_what_flies_in_a_wake_more_softly() {
    let (alone, still) = middle("");
    let with = |strength: f64| {
        middle(&format!("wake: {{drag_area: 6.4 m2, height: 4 m, strength: {strength}}}")).0
    };
    assert!(alone.struck && still.air.wake.is_none());
    assert_eq!(closing(&with(0.0)).to_bits(), closing(&alone).to_bits());
    assert!(!with(0.0).breaches.has(Breach::Wake), "there is no wake to doubt");
    let (weak, half) = (with(0.25), with(0.5));
    assert!(closing(&half) < closing(&weak) && closing(&weak) < closing(&alone));
    assert!(closing(&half) < 0.9 * closing(&alone), "{} {}", closing(&half), closing(&alone));
    assert!(half.breaches.has(Breach::Wake));
    assert!(!with(1.0).struck, "it comes down before the trolley is there");
}

/// Source: motion under constant acceleration, by hand: 0.8 g on friction of
/// 0.45 held and 0.3375 sliding, over 2 m: the load leaves after 0.93910 s, its
/// carrier then goes at 25 - 0.8 · 9.80665 · 0.93910 = 17.6325 m/s.
#[test]
fn a_carrier_goes_on_as_fast_as_it_was_when_the_load_left() {
    let held = "secured: {friction: 0.45, path: 2 m, brakes: {square: {peak: 0.8 gn, lasts: 3 s}}}";
    let wake = "wake: {drag_area: 6.4 m2, height: 4 m, tail: 3 m, dead_air: 1, strength: 1}";
    let (_, flight) = middle(&format!("{held}\n    {wake}"));
    let found = flight.air.wake.unwrap();
    assert!((found.tail_vx - 17.6325).abs() < 1e-3, "{}", found.tail_vx);
    assert!((found.tail_x + 3.0).abs() < 1e-12 && found.tail_y.abs() < 1e-12);
    assert!((found.axis - 2.0).abs() < 1e-12 && (found.dead_air - 4.0).abs() < 1e-12);
}

/// What nobody told about the wake is an unknown of its own, and the answer says
/// what the model is worth.
#[test]
fn the_answer_shows_the_doubt_about_the_wake() {
    let dir = Dir::new("the_answer_shows_the_doubt_about_the_wake");
    let wake = "wake: {drag_area: 6.4 m2, height: 4 m}";
    // A face that only a box that is not slowed much comes over.
    let text = BOX.replace("MORE", wake).replace(
        "[0 m, 0 m, 2 m], width: 4 m, height: 4 m",
        "[0 m, 0 m, 1.3 m], width: 4 m, height: 1 m",
    );
    dir.file("a.yaml", &text);
    let answer = dir.longodds(&["run", "a.yaml", "--json", "--flights", "2000", "--no-rare"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let found: Findings = serde_json::from_str(&answer.out).unwrap();
    assert!(found.models.iter().any(|note| note.what == "wake of the carrier"));
    // The row on the wind does not leave out what this one tells of.
    let wind = found.models.iter().find(|note| note.what == "wind");
    assert!(wind.is_none_or(|note| note.leaves_out.contains("other vehicles")));
    let breach =
        found.breaches.iter().find(|breach| breach.breach.sentence().contains("any law of wakes"));
    assert!((breach.unwrap().share - 1.0).abs() < 1e-12);
    let unknown: Vec<&str> = found
        .inputs
        .iter()
        .filter(|input| input.unknown && input.assumed)
        .map(|input| input.name.as_str())
        .collect();
    assert_eq!(unknown, ["release.shed.wake.dead_air", "release.shed.wake.strength"]);
    let drivers = dir.longodds(&["drivers", "a.yaml", "--flights", "4000"]);
    assert_eq!(drivers.status, 0, "{}", drivers.err);
    assert!(drivers.out.contains("release.shed.wake.strength"), "{}", drivers.out);
    let check = dir.longodds(&["check", "a.yaml"]);
    let line = check.out.lines().find(|line| line.starts_with("Wake of the carrier: "));
    insta::assert_snapshot!(line.unwrap_or(&check.out), @"Wake of the carrier: it trails from a tail 0 mm behind the release, and the carrier goes on as fast as it was. Dead air, in heights of the carrier: anything between 0.7 and 1.5 (assumed). Strength of the whole, times the published wake: anything between 0.6 and 1.3 (assumed).");
}

#[test]
fn impossible_wakes_are_refused_where_they_stand() {
    let dir = Dir::new("impossible_wakes_are_refused_where_they_stand");
    let told = |more: &str| {
        dir.file("a.yaml", BOX.replace("MORE", more));
        let answer = dir.longodds(&["check", "a.yaml"]);
        assert_eq!((answer.status, answer.out.as_str()), (1, ""), "{more}");
        answer.err
    };
    let all = [
        told("wake: {drag_area: -6 m2, height: 4 m}"),
        told("wake: {height: 40 m, strenght: 1}"),
        told("wake: {drag_area: 6 m2, height: 4 m, strength: 3}"),
        told("wake: 1"),
    ];
    insta::assert_snapshot!(all.join("\n"), @r#"
    error[scenario::range]: `-6 m2` is out of range
     --> a.yaml:8:23
      |
    8 |     wake: {drag_area: -6 m2, height: 4 m}
      |                       ^^^^^ must lie between 0.05 m2 and 40 m2


    error[scenario::missing]: `release.shed.wake` needs `drag_area`
     --> a.yaml:8:5
      |
    8 |     wake: {height: 40 m, strenght: 1}
      |     ^^^^ `drag_area` is missing
      |
      = help: write, for example, `drag_area: 0.5 m2`

    error[scenario::range]: `40 m` is out of range
     --> a.yaml:8:20
      |
    8 |     wake: {height: 40 m, strenght: 1}
      |                    ^^^^ must lie between 0.3 m and 10 m

    error[scenario::unknown_key]: `release.shed.wake` has no key `strenght`
     --> a.yaml:8:26
      |
    8 |     wake: {height: 40 m, strenght: 1}
      |                          ^^^^^^^^ not known here
      |
      = help: did you mean `strength`?


    error[scenario::range]: `3` is out of range
     --> a.yaml:8:52
      |
    8 |     wake: {drag_area: 6 m2, height: 4 m, strength: 3}
      |                                                    ^ must lie between 0 and 2


    error[scenario::shape]: `release.shed.wake` is a group of keys
     --> a.yaml:8:11
      |
    8 |     wake: 1
      |           ^ found a single value
    "#);
    dir.file(
        "a.yaml",
        BOX.replace("speed: 25 m/s\n    height", "speed: 0 m/s\n    height")
            .replace("MORE", "wake: {drag_area: 6 m2, height: 4 m}"),
    );
    let stands = dir.longodds(&["check", "a.yaml"]).err;
    dir.file(
        "a.yaml",
        BOX.replace("shed:\n    speed: 25 m/s", "dropped:")
            .replace("MORE", "wake: {drag_area: 6 m2, height: 4 m}"),
    );
    let dropped = dir.longodds(&["check", "a.yaml"]).err;
    dir.file("a.yaml", BOX.replace("MORE", "wake: {drag_area: 20 m2, height: 1.5 m}"));
    let blunt = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(blunt.status, 0);
    insta::assert_snapshot!([stands, dropped, blunt.err].join("\n"), @r#"
    error[scenario::sense]: a carrier that stands in still air has no wake
     --> a.yaml:6:12
      |
    6 |     speed: 0 m/s
      |            ^^^^^ it does not move
      |
      = help: take `wake` out, or let the carrier move


    error[scenario::wake]: a wake needs a carrier that drags it along
     --> a.yaml:7:5
      |
    7 |     wake: {drag_area: 6 m2, height: 4 m}
      |     ^^^^ nothing carries what is `dropped`
      |
      = help: take it out, or let a moving carrier shed the object: `shed: {speed: 50 mph, ...}`


    warning[setup::nothing_varies]: nothing varies: every flight is the same
     --> a.yaml:4:1
      |
    4 | release:
      | ^^^^^^^ every number is fixed
      |
      = help: spread what differs from one event to the next, such as `{range: [7 m, 9 m]}`

    warning[scenario::wake]: is this drag area right for this height?
     --> a.yaml:8:23
      |
    8 |     wake: {drag_area: 20 m2, height: 1.5 m}
      |                       ^^^^^ more than the bluntest vehicle of this height and full width has
      |
      = help: it is the drag coefficient times the frontal area: for cars about 0.6 to 0.8 m2, vans 1.5 to 2, lorries 5 to 7
    "#);
}
