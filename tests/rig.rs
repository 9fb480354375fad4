//! Rigs, cameras, calibration, trials and judgement as a user runs them.

use crate::util::{Answer, Dir, SCENARIO};

const RIG: &str = include_str!("../scenarios/rigs/crossbow.yaml");
const SHOTS: &str = include_str!("../scenarios/rigs/crossbow.csv");

fn dir(test: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("rig.yaml", RIG).file("shots.csv", SHOTS);
    dir
}

fn json(answer: &Answer) -> serde_json::Value {
    assert_eq!((answer.status, answer.err.as_str()), (0, ""), "{}", answer.out);
    serde_json::from_str(&answer.out).unwrap()
}

/// Common practice, no source: 17 frames over a foot at 1,000 per second are
/// 58.8 ft/s, 40 mph.
#[test]
fn frames_become_a_speed_in_the_users_units() {
    let dir = Dir::new("frames_become_a_speed");
    let args = ["speed", "--frames", "17", "--distance", "1 ft", "--frame-rate", "1000 frames/s"];
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.starts_with("40.1 mph, give or take 0.96 mph"), "{}", answer.out);
    assert!(answer.out.contains("58.8 ft/s") && answer.out.contains("For 2 %: 21 frames"));
    let all: Vec<&str> = args.into_iter().chain(["--json"]).collect();
    let speed = json(&dir.longodds(&all));
    assert!((speed["speed"]["speed"].as_f64().unwrap() - 304.8 / 17.0).abs() < 1e-9);
}

#[test]
fn a_wrong_command_line_is_status_two_and_says_what_to_write() {
    let dir = dir("wrong_rig_command_lines");
    for (args, said) in [
        (vec!["speed", "--frames", "17", "--distance", "1", "--frame-rate", "1000 Hz"], "length"),
        (vec!["rig", "rig.yaml", "--setting", "3 kg"], "pull-back"),
        (vec!["trials", "rare", "--below", "3"], "between 0 and 1"),
        (vec!["trials", "say", "--shots", "3", "--events", "4"], "more events"),
        (vec!["judge", "x.json", "shots.csv", "--weight", "2"], "between 0 and 1"),
    ] {
        let answer = dir.longodds(&args);
        assert_eq!(answer.status, 2, "{args:?}: {}", answer.err);
        assert!(answer.err.contains(said), "{args:?}: {}", answer.err);
        assert_eq!(answer.out, "");
    }
}

#[test]
fn a_rig_is_told_forwards_and_backwards_with_its_cautions() {
    let dir = dir("rig_forwards_and_backwards");
    let there = json(&dir.longodds(&["rig", "rig.yaml", "--speed", "40 mph", "--json"]));
    let p = &there["predictions"][0];
    let speed = p["speed"][1].as_f64().unwrap();
    assert!((speed - 40.0 * 0.44704).abs() < 1e-3, "{speed}");
    assert!(p["cautions"].as_array().unwrap().len() >= 5);
    let answer = dir.longodds(&["rig", "rig.yaml", "--setting", "6 ft"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    for word in ["pull on winch", "x gravity", "comes off at 50 %", "CAUTION", "stored energy"] {
        assert!(answer.out.contains(word), "{word}: {}", answer.out);
    }
}

#[test]
fn a_setting_over_a_limit_is_said_loudly() {
    let dir = dir("rig_over_a_limit");
    let answer = dir.longodds(&["rig", "rig.yaml", "--setting", "11 ft"]);
    assert!(answer.out.contains("DO NOT SHOOT THIS"), "{}", answer.out);
    let answer = dir.longodds(&["rig", "rig.yaml", "--speed", "2000 mph"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("out of this rig's reach"), "{}", answer.err);
}

/// Where nothing is told, nothing is "kept": it is said first what to find out.
#[test]
fn a_rig_without_limits_says_so_before_anything_else() {
    let dir = Dir::new("a_rig_without_limits");
    dir.file("bare.yaml", "rig: tower\nshow: si\nobject: {mass: 4 lb}\nlauncher: {drop: }\n");
    for args in [vec!["rig", "bare.yaml"], vec!["rig", "bare.yaml", "--setting", "3 m"]] {
        let answer = dir.longodds(&args);
        assert_eq!(answer.status, 0, "{}", answer.err);
        let first = answer.out.find("NO LIMIT IS TOLD").unwrap_or_else(|| panic!("{}", answer.out));
        assert!(answer.out.find("m/s").is_some_and(|number| first < number), "{}", answer.out);
        assert!(answer.out.contains("`winch: {limit: ...}`"), "{}", answer.out);
        assert!(!answer.out.contains("kept\n") && !answer.out.contains(" kept "), "{}", answer.out);
    }
    let told = json(&dir.longodds(&["rig", "bare.yaml", "--setting", "3 m", "--json"]));
    assert!(told["predictions"][0]["limits_kept"].is_null());
    dir.file("drops.csv", "shot,setting,speed\n1,3 m,7.5 m/s\n2,4 m,8.7 m/s\n");
    let args = ["calibrate", "bare.yaml", "drops.csv", "--speed", "8 m/s"];
    let answer = dir.longodds(&args);
    let first = answer.out.find("NO LIMIT IS TOLD").unwrap_or_else(|| panic!("{}", answer.out));
    assert!(answer.out.find("For 8 m/s").is_some_and(|number| first < number), "{}", answer.out);
    let told = json(&dir.longodds(&[&args[..], &["--json"]].concat()));
    assert!(told["next"]["limits_kept"].is_null() && told["loads"]["limits_kept"].is_null());
    let full = self::dir("a_rig_with_limits").longodds(&["rig", "rig.yaml"]);
    assert!(!full.out.contains("LIMIT IS TOLD") && full.out.contains("kept"), "{}", full.out);
}

#[test]
fn shots_calibrate_the_rig_and_warn_beyond_what_was_tried() {
    let dir = dir("shots_calibrate");
    let args = ["calibrate", "rig.yaml", "shots.csv", "--speed", "50 mph", "--within", "3 mph"];
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 0, "{}", answer.err);
    for word in ["WARNING: that is beyond", "Do not go there in one step", "linear spring"] {
        assert!(answer.out.contains(word), "{word}: {}", answer.out);
    }
    let all: Vec<&str> = args.into_iter().chain(["--json"]).collect();
    let answer = json(&dir.longodds(&all));
    assert_eq!(answer["shots"].as_array().unwrap().len(), 3);
    assert!(answer["advice"]["target"]["beyond_tried"].as_bool().unwrap());
    assert!(answer["curve"].as_array().unwrap().len() > 20);
}

#[test]
fn problems_of_a_rig_and_a_log_are_shown_where_they_are() {
    let dir = dir("rig_problems");
    dir.file("bad.yaml", RIG.replace("count: 8 ", "count: 8.5 "));
    let answer = dir.longodds(&["rig", "bad.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("bad.yaml:11:12"), "{}", answer.err);
    dir.file("bad.csv", SHOTS.replace("4 ft 6 in", "4 kg"));
    let answer = dir.longodds(&["calibrate", "rig.yaml", "bad.csv"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("bad.csv:4:3"), "{}", answer.err);
    assert_eq!(dir.longodds(&["rig", "nowhere.yaml"]).status, 3);
}

#[test]
fn the_sheet_is_written_and_reads_back() {
    let dir = dir("rig_sheet");
    let answer = dir.longodds(&["rig", "rig.yaml", "--speed", "30 mph", "--sheet", "day.html"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert_eq!(dir.names(), ["day.csv", "day.html", "rig.yaml", "shots.csv"]);
    let empty = dir.longodds(&["calibrate", "rig.yaml", "day.csv"]);
    assert_eq!(empty.status, 1, "nothing filled in yet");
    let sheet = std::fs::read_to_string(dir.path("day.csv")).unwrap();
    let filled = sheet.replacen(",,,,,,,,\n", ",29 mph,,,,,,stopped,\n", 1);
    dir.file("filled.csv", filled);
    let answer = dir.longodds(&["calibrate", "rig.yaml", "filled.csv"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    // What may have been filled in is not overwritten.
    let again = dir.longodds(&["rig", "rig.yaml", "--speed", "30 mph", "--sheet", "day.html"]);
    assert_eq!(again.status, 3);
}

/// 59 and 29: 95 %, 5 % and 10 % (any table of success-run tests).
#[test]
fn trials_are_planned_in_words_and_numbers() {
    let dir = Dir::new("trials_planned");
    let answer = dir.longodds(&["trials", "rare", "--below", "5 %", "--target-cost", "40"]);
    assert!(answer.out.starts_with("59 shots without a single event"), "{}", answer.out);
    assert!(answer.out.contains("2360") && answer.out.contains("What it would not"));
    let two = dir.longodds(&["trials", "say", "--shots", "2", "--events", "0"]);
    assert!(two.out.contains("at most 78 in 100"), "{}", two.out);
    let plan =
        json(&dir.longodds(&["trials", "sequential", "--low", "10 %", "--high", "30 %", "--json"]));
    assert_eq!(plan["courses"].as_array().unwrap().len(), 5);
    let plan = json(&dir.longodds(&["trials", "compare", "--chances", "10 %", "50 %", "--json"]));
    assert_eq!(plan["smallest"]["shots_each"], 23);
    let args = ["trials", "threshold", "--guess", "45 mph", "--shots", "4", "--json"];
    assert!(json(&dir.longodds(&args))["results"].as_array().unwrap().len() >= 5);
}

#[test]
fn shots_are_weighed_against_a_run() {
    let dir = Dir::new("shots_weighed");
    dir.file("claim.yaml", SCENARIO);
    let run = dir.longodds(&["run", "claim.yaml", "--flights", "2000"]);
    assert_eq!(run.status, 0, "{}", run.err);
    dir.file("two.csv", "speed,result\n5 m/s,stopped\n5 m/s,stopped\n");
    let answer = dir.longodds(&["judge", "claim.findings.json", "two.csv"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    for word in ["The claim stands as", "2 shots", "What would change this", "They do not say"] {
        assert!(answer.out.contains(word), "{word}: {}", answer.out);
    }
    let (assumed, stands) = (answer.out.find("ASSUMED"), answer.out.find("The claim stands"));
    assert!(assumed < stands && answer.out.contains("for want of --rig"), "{}", answer.out);
    let camera = answer.out.find("To say on camera: At 5 m/s").unwrap();
    let last = answer.out[camera..].lines().next().unwrap();
    assert!(last.contains("says nothing of another speed"), "{last}");
    let judged = json(&dir.longodds(&["judge", "claim.findings.json", "two.csv", "--json"]));
    let alone = json(&dir.longodds(&[
        "judge",
        "claim.findings.json",
        "two.csv",
        "--weight",
        "0",
        "--json",
    ]));
    let chance =
        |answer: &serde_json::Value| answer["judgement"]["both"]["probability"].as_f64().unwrap();
    assert!(chance(&judged) > 0.0 && chance(&judged) < 1.0);
    assert!((chance(&judged) - chance(&alone)).abs() > 1e-6);
    assert!(judged["judgement"]["barrier"]["above"].as_f64().unwrap() > 0.0);
    // An empty log changes nothing.
    dir.file("none.csv", "speed,result\n");
    let none = json(&dir.longodds(&["judge", "claim.findings.json", "none.csv", "--json"]));
    let judged_model = none["judgement"]["model"]["probability"].as_f64().unwrap();
    assert!((chance(&none) - judged_model).abs() < 1e-15);
    // A plan starts from the run's chance.
    let plan =
        dir.longodds(&["trials", "rare", "--below", "10 %", "--findings", "claim.findings.json"]);
    assert!(plan.out.contains("the model's for"), "{} {}", plan.out, plan.err);
    dir.file("no.json", "{\"version\": 1}");
    assert_eq!(dir.longodds(&["judge", "no.json", "two.csv"]).status, 1);
}

/// The spanner of the claim, launched at the same roof light, which leans back
/// by 60 degrees from upright.
const RAKED: &str = "\
claim: The launcher sends a billet at a roof light that leans back.
object:
  shape: {cylinder: {length: 20 cm, diameter: 6 cm}}
  mass: 0.5 kg
release:
  launched: {height: 1.6 m, speed: {range: [18 m/s, 22 m/s]}, elevation: 2 deg, scatter: 0.5 deg}
target:
  stands: {at: 4 m}
  faces:
    roof_light:
      centre: [0 m, 0 m, 1.2 m]
      width: 2 m
      height: 2 m
      rake: 60 deg
      barrier: {energy: {between: [8 J, 60 J], skew: true, unknown: true}}
      aim: true
chain: [released, reaches, strikes, perforates]
";

#[test]
fn a_shot_through_a_raked_pane_is_booked_as_the_rig_strikes_it() {
    let dir = Dir::new("judged_raked");
    dir.file("claim.yaml", RAKED);
    assert_eq!(dir.longodds(&["run", "claim.yaml", "--flights", "2000"]).status, 0);
    dir.file("one.csv", "shot,speed,result\n1,20 m/s,through\n");
    let bare = ["judge", "claim.findings.json", "one.csv", "--json"];
    let rigged = [&bare[..], &["--rig", "claim.yaml"]].concat();
    let (bare, rigged) = (json(&dir.longodds(&bare)), json(&dir.longodds(&rigged)));
    let size = |answer: &serde_json::Value| answer["blows"]["blows"][0]["size"].as_f64().unwrap();
    let run = std::fs::read_to_string(dir.path("claim.findings.json")).unwrap();
    let run: serde_json::Value = serde_json::from_str(&run).unwrap();
    let middle = run["barrier"]["demanded"]["quantiles"][3].as_f64().unwrap();
    // Square on it were 0.5 * 0.5 * 20^2 = 100 J; the run says far less, and for
    // want of a rig it may be anything between.
    let doubt = bare["blows"]["blows"][0]["doubt"].as_f64().unwrap();
    assert!((size(&bare) / (100.0 * middle).sqrt() - 1.0).abs() < 0.1 && doubt > 0.3, "{bare}");
    assert!(
        size(&rigged) < 60.0 && (size(&rigged) / middle - 1.0).abs() < 0.25,
        "{middle}: {}",
        size(&rigged)
    );
    assert!(rigged["says"]["on_camera"].as_str().unwrap().contains("off square"), "{rigged}");
    assert!(bare["assumed"][0].as_str().unwrap().contains("for want of --rig"));
}

#[test]
fn a_judgement_is_drawn_and_stands_on_the_page() {
    let dir = Dir::new("judged_page");
    dir.file("claim.yaml", RAKED);
    assert_eq!(dir.longodds(&["run", "claim.yaml", "--flights", "2000"]).status, 0);
    dir.file(
        "shots.csv",
        "shot,speed,result\n1,12 m/s,stopped\n2,16 m/s,stopped\n3,20 m/s,through\n",
    );
    let judge = ["judge", "claim.findings.json", "shots.csv", "--rig", "claim.yaml"];
    let answer = dir.longodds(&[&judge[..], &["--json", "--picture", "judged.svg"]].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    dir.file("judged.json", &answer.out);
    assert!(
        std::fs::read_to_string(dir.path("judged.svg")).unwrap().contains("the claim's own blows")
    );
    let page = dir.longodds(&["report", "claim.findings.json", "--with", "judged.json"]);
    assert_eq!(page.status, 0, "{}", page.err);
    let page = std::fs::read_to_string(dir.path("report.html")).unwrap();
    assert!(page.contains(">Shots against the claim</h2>") && page.contains("To say on camera."));
}

#[test]
fn one_shot_leaves_the_scatter_open_and_a_shot_written_thrice_is_asked_about() {
    let dir = dir("one_shot_scatter");
    dir.file("one.csv", "shot,setting,speed\n1,4 ft,30 mph\n");
    dir.file("thrice.csv", "shot,setting,speed\n1,4 ft,30 mph\n1,4 ft,30 mph\n1,4 ft,30 mph\n");
    let one = dir.longodds(&["calibrate", "rig.yaml", "one.csv"]);
    assert!(one.out.contains("One shot tells nothing of how far shots scatter"), "{}", one.out);
    let thrice = dir.longodds(&["calibrate", "rig.yaml", "thrice.csv"]);
    assert!(thrice.out.contains("one shot written down 3 times, or 3 shots?"), "{}", thrice.out);
    let judged = dir.longodds(&["trials", "say", "--shots", "8", "--events", "8"]);
    assert!(judged.out.contains("at least 68 in 100"), "{}", judged.out);
}
