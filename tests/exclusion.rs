//! Where debris goes, as people ask it.

use crate::util::Dir;
use serde_json::Value;
use std::fs;

/// A ball thrown level in still air that does not brake it; ours.
const BALL: &str = "\
claim: A ball goes through a window.
show: si
object: {shape: {sphere: {diameter: 20 mm}}, mass: 1 kg, drag_factor: 0}
release: {launched: {height: 10 m, speed: {normal: {mean: 20 m/s, sd: 2 m/s}}}}
target:
  stands: {at: 5 m}
  faces: {window: {centre: [0 m, 0 m, 9 m], width: 9 m, height: 9 m, aim: true}}
chain: [released, reaches, strikes]
";

fn in_dir(test: &str, text: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("a.yaml", text);
    dir
}

/// Source: a fall of 9.99 m takes 1.42736 s (√(2h/g)); the speed is normal with
/// the handbook's percentage points 1.281552, 3.090232 and 4.753424; half the
/// ball is added.
#[test]
fn distances_without_air_are_speed_times_time() {
    let dir = in_dir("distances_without_air", BALL);
    let answer = dir.longodds(&["exclusion", "a.yaml", "--json", "--flights", "40000"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let found: Value = serde_json::from_str(&answer.out).unwrap();
    let away = &found["as_told"]["reaches"][0]["exceeded"];
    for (i, z) in [1.281_552, 3.090_232, 4.753_424].into_iter().enumerate() {
        let known = (20.0 + 2.0 * z) * 1.427_36 + 0.01;
        let number = |key: &str| away[i][key].as_f64().unwrap();
        assert!(number("low") <= known && known <= number("high"), "{known}: {}", away[i]);
        assert!((number("distance") / known - 1.0).abs() < 0.015, "{known}: {}", away[i]);
    }
    assert_eq!((&away[1]["how"], &away[2]["how"]), (&"counted".into(), &"searched".into()));
    // ½ m v² of the median: 20² + 2 g h.
    let energy = found["as_told"]["energy"]["median"].as_f64().unwrap();
    assert!((energy / 297.97 - 1.0).abs() < 0.01, "{energy}");
    assert!(found["cautions"].as_array().unwrap().len() > 2);
}

#[test]
fn the_answer_comes_first_and_the_cautions_last() {
    let dir = in_dir("the_exclusion_answer_comes_first", BALL);
    let args = ["exclusion", "a.yaml", "--flights", "2000", "--picture", "map.svg"];
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let text = answer.out;
    assert!(text.starts_with("1 in 10 goes beyond "), "{text}");
    assert!(text.contains(" (32.2 m if all were exactly as written)."), "{text}");
    assert!(text.contains("1 in 1 million goes beyond"), "{text}");
    for said in
        ["not told: elevation, bearing", "Not taken as exact", "`release.launched.elevation`"]
    {
        assert!(text.contains(said), "{said}: {text}");
    }
    for said in ["bounces, roll and skid", "not a clearance", "local codes", "eyes, throat"] {
        assert!(text.contains(said), "{said}: {text}");
    }
    let map = fs::read_to_string(dir.path("map.svg")).unwrap();
    assert!(map.contains("this is not a clearance"), "the map says so, too");
}

#[test]
fn too_few_flights_give_no_distance_but_what_they_show() {
    let dir = in_dir("too_few_flights_give_no_distance", BALL);
    let args = ["exclusion", "a.yaml", "--flights", "2000", "--no-rare"];
    let text = dir.longodds(&args).out;
    assert!(text.contains("1 in 1 million: too few flights to tell; it is at least"), "{text}");
    assert!(text.contains("None of 2,000 went beyond"), "{text}");
    // 3/n, the rule of three.
    assert!(text.contains("at most 1 in 660 does"), "{text}");
}

#[test]
fn threads_change_nothing_and_nothing_that_is_held_is_mapped() {
    let dir = in_dir("exclusion_threads_change_nothing", BALL);
    let held = BALL.replace(
        "launched: {height: 10 m, speed: {normal: {mean: 20 m/s, sd: 2 m/s}}}",
        "blown: {height: 10 m, held: {times_weight: 9}}",
    );
    let windy = format!("{held}air: {{wind: {{speed: 5 m/s}}}}\n");
    dir.file("held.yaml", windy);
    let once = |threads: &str| {
        let args = ["exclusion", "a.yaml", "--json", "--flights", "3000", "--one-in", "100000"];
        let mut command = dir.command(&args);
        command.env("RAYON_NUM_THREADS", threads);
        String::from_utf8(command.output().unwrap().stdout).unwrap()
    };
    assert!(once("1").contains("\"how\""));
    assert_eq!(once("1"), once("7"));
    let answer = dir.longodds(&["exclusion", "held.yaml", "--flights", "1000"]);
    assert_eq!((answer.status, answer.out.as_str()), (1, ""));
    assert!(answer.err.contains("did not come loose in any of 1,000"), "{}", answer.err);
}

/// A ball that bounces and rolls comes to rest beyond its first touch; without
/// `ground` the answer says that bounces are not in it.
#[test]
fn with_a_ground_that_it_bounces_on_distances_are_those_of_rest() {
    let dir = in_dir("exclusion_to_rest", BALL);
    let ground = "ground: {restitution: 0.4, friction: 0.5, rolling: 0.1}\n";
    dir.file("bounces.yaml", format!("{BALL}{ground}"));
    let far = |name: &str| {
        let args =
            ["exclusion", name, "--json", "--flights", "2000", "--one-in", "10", "--no-rare"];
        let answer = dir.longodds(&args);
        assert_eq!(answer.status, 0, "{}", answer.err);
        serde_json::from_str::<Value>(&answer.out).unwrap()
    };
    let (touch, rest) = (far("a.yaml"), far("bounces.yaml"));
    let at =
        |found: &Value| found["as_told"]["reaches"][0]["exceeded"][0]["distance"].as_f64().unwrap();
    assert!(at(&rest) > at(&touch) + 5.0, "{} and {}", at(&rest), at(&touch));
    assert_eq!(
        (&touch["followed_to_rest"], &rest["followed_to_rest"]),
        (&false.into(), &true.into())
    );
    // The energy is that of the first touch, whatever comes after.
    assert_eq!(touch["as_told"]["energy"], rest["as_told"]["energy"]);
    let text = dir.longodds(&["exclusion", "bounces.yaml", "--flights", "1000", "--no-rare"]).out;
    assert!(text.contains("comes to rest") && !text.contains("bounces, roll and skid"), "{text}");
}

#[test]
fn an_interrupt_gives_what_was_found_and_says_so() {
    let dir = in_dir("an_interrupt_gives_what_was_found", BALL);
    let args = ["exclusion", "a.yaml", "--flights", "5000000"];
    let answer = dir.interrupted(&args);
    assert_eq!(answer.status, 130, "{}", answer.err);
    assert!(answer.out.starts_with("Stopped early: this is what "), "{}", answer.out);
    assert!(answer.out.contains("1 in 10 goes beyond "), "{}", answer.out);
    assert!(answer.out.contains("1 in 1 million: too few flights to tell"), "{}", answer.out);
}
