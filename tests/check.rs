use crate::util::{Dir, SCENARIO};

#[test]
fn a_scenario_is_shown_as_it_was_understood() {
    let dir = Dir::new("a_scenario_is_shown_as_it_was_understood");
    dir.file("a.yaml", SCENARIO);
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!((answer.status, answer.err.as_str()), (0, ""));
    insta::assert_snapshot!(answer.out, @r"
    Claim: A spanner knocked off a platform falls through the roof light below.
    Understood: The rod starts lying, 8 m up; 0.2 m to `roof_light`, 2 m by 1.8 m.

      input                                    as written                            5 %         50 %     95 %       50 % in imperial
     ──────────────────────────────────────── ───────────────────────────────────── ─────────── ──────── ────────── ────────────────── ─────────
      object.shape.rod.length                  32 cm                                             0.32 m              1 ft 0.6 in
      object.shape.rod.diameter                22 mm                                             22 mm               0.866 in
      object.mass                              0.9 kg                                            900 g               1.98 lb
      release.dropped.height                   anything from 7 m to 9 m              7.1 m       8 m      8.9 m      26 ft 3 in         varying
      release.dropped.spin                     normal: mean 0 rpm, sd 60 rpm         -98.7 rpm   0 rpm    98.7 rpm                      varying
      target.stands.at                         0.2 m                                             0.2 m               7.87 in
      target.faces.roof_light.centre.x         0 m                                               0 mm                0 in
      target.faces.roof_light.centre.y         0 m                                               0 mm                0 in
      target.faces.roof_light.centre.z         3 m                                               3 m                 9 ft 10.1 in
      target.faces.roof_light.width            2 m                                               2 m                 6 ft 6.7 in
      target.faces.roof_light.height           1.8 m                                             1.8 m               5 ft 10.9 in
      target.faces.roof_light.rake             85 deg                                            85 deg
      target.faces.roof_light.barrier.median   between 8 J and 35 J, 9 times in 10   8 J         16.7 J   35 J       12.3 ft lbf        unknown

    Assumed, because not written: air.temperature 15 degC, air.pressure 101 kPa, air.humidity 50 %, object.drag_factor 1, target.faces.roof_light.facing 180 deg, target.faces.roof_light.barrier.spread 0.4.

    The claim holds if
      1. released: the rod starts to move
      2. reaches: it comes as far as the plane of roof_light
      3. strikes: the first thing it touches is roof_light (2 m by 1.8 m)
      4. perforates: it goes through roof_light

    Barrier of roof_light: as told in the scenario.
    Holds for: blows like those it was measured with: one shot at an undamaged barrier.
    What strikes: hard (assumed: `made_of` is not told), as in its test.

    a.yaml: no problems found
    To go on: longodds run a.yaml
    ");
}

#[test]
fn every_problem_is_shown_where_it_is() {
    let dir = Dir::new("every_problem_is_shown_where_it_is");
    let text = SCENARIO
        .replace("diameter: 22 mm", "diametre: 22 mm")
        .replace("0.9 kg", "0.9")
        .replace("[7 m, 9 m]", "[7 m, 9 kg]")
        .replace("0.2 m", "0,2 m")
        .replace("0 m, 3 m", "0 m, -3 m");
    dir.file("a.yaml", &text);
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!((answer.status, answer.out.as_str()), (1, ""));
    insta::assert_snapshot!(answer.err, @r"
    error[scenario::unknown_key]: `object.shape.rod` has no key `diametre`
     --> a.yaml:3:32
      |
    3 |   shape: {rod: {length: 32 cm, diametre: 22 mm}}
      |                                ^^^^^^^^ not known here
      |
      = help: did you mean `diameter`?

    error[units::missing]: expected a mass, found `0.9`
     --> a.yaml:4:9
      |
    4 |   mass: 0.9
      |         ^^^ the unit is missing
      |
      = help: accepted units: kg, g, mg, t, lb, oz

    error[units::dimension]: expected a length, found `9 kg`
     --> a.yaml:7:27
      |
    7 |     height: {range: [7 m, 9 kg]}
      |                           ^^^^ this is a mass
      |
      = help: accepted units: m, cm, mm, km, um, ft, in, yd, mi, nmi

    error[units::missing]: expected a length, found `0`
      --> a.yaml:10:16
       |
    10 |   stands: {at: 0,2 m}
       |                ^ the unit is missing
       |
       = help: accepted units: m, cm, mm, km, um, ft, in, yd, mi, nmi

    error[scenario::unknown_key]: `target.stands` has no key `2 m`
      --> a.yaml:10:18
       |
    10 |   stands: {at: 0,2 m}
       |                  ^^^ not known here
       |
       = help: its keys are: at, left

    error[scenario::sense]: `roof_light` reaches into the ground
      --> a.yaml:13:26
       |
    13 |       centre: [0 m, 0 m, -3 m]
       |                          ^^^^ its lowest point is at -3.08 m
       |
       = help: `centre` is [downrange, to the left, up], up from the ground
    ");
}

#[test]
fn a_doubt_is_shown_and_does_not_stop() {
    let dir = Dir::new("a_doubt_is_shown_and_does_not_stop");
    dir.file("a.yaml", SCENARIO.replace("0.9 kg", "{normal: {mean: 1 kg, sd: 0.5 kg}}"));
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(answer.status, 0);
    // Source: standard normal table, P(Z < -2) = 0.02275.
    insta::assert_snapshot!(answer.err, @r"
    warning[scenario::truncated]: part of this spread is impossible
     --> a.yaml:4:10
      |
    4 |   mass: {normal: {mean: 1 kg, sd: 0.5 kg}}
      |          ^^^^^^ 2.3 % of it is cut off
      |
      = help: must be greater than zero
    ");
    assert!(answer.out.contains("a.yaml: one doubt, see above\n"));
}

#[test]
fn json_says_the_same_in_si() {
    let dir = Dir::new("json_says_the_same_in_si");
    dir.file("a.yaml", SCENARIO);
    let answer = dir.longodds(&["check", "--json", "a.yaml"]);
    assert_eq!(answer.status, 0);
    let json: serde_json::Value = serde_json::from_str(&answer.out).unwrap();
    let inputs = json["inputs"].as_array().unwrap();
    let height = inputs.iter().find(|i| i["name"] == "release.dropped.height").unwrap();
    assert_eq!(height["written"], "anything from 7 m to 9 m");
    let quantiles: Vec<f64> =
        height["quantiles"].as_array().unwrap().iter().map(|q| q.as_f64().unwrap()).collect();
    for (found, wanted) in quantiles.iter().zip([7.1, 8.0, 8.9]) {
        assert!((found - wanted).abs() < 1e-12);
    }
    let median = inputs.iter().find(|i| i["name"] == "target.faces.roof_light.barrier.median");
    assert_eq!(median.unwrap()["unknown"], true);
    assert_eq!(json["chain"][3]["gate"], "perforates");
}

#[test]
fn standard_input_is_read_as_a_scenario() {
    let dir = Dir::new("standard_input_is_read_as_a_scenario");
    let answer = dir.longodds_with(&["check", "-"], SCENARIO);
    assert_eq!(answer.status, 0);
    assert!(answer.out.ends_with("standard input: no problems found\n"));
    let answer = dir.longodds_with(&["check", "-"], "claim: 3\n");
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("--> standard input:"), "{}", answer.err);
}

#[test]
fn line_ends_and_marks_of_other_systems_are_read() {
    let dir = Dir::new("line_ends_and_marks_of_other_systems_are_read");
    dir.file("crlf.yaml", SCENARIO.replace('\n', "\r\n"));
    dir.file("bom.yaml", format!("\u{feff}{SCENARIO}"));
    // But for where in the text things stand.
    let read = |out: &str| {
        let mut found: serde_json::Value = serde_json::from_str(out).unwrap();
        for input in found["inputs"].as_array_mut().unwrap() {
            input["at"] = serde_json::Value::Null;
        }
        found
    };
    let plain = dir.longodds_with(&["check", "--json", "-"], SCENARIO);
    for name in ["crlf.yaml", "bom.yaml"] {
        let answer = dir.longodds(&["check", "--json", name]);
        assert_eq!(answer.status, 0, "{name}: {}", answer.err);
        assert_eq!(read(&answer.out), read(&plain.out), "{name}");
    }
}

#[test]
fn colours_are_for_terminals_only() {
    let dir = Dir::new("colours_are_for_terminals_only");
    dir.file("a.yaml", "claim: [");
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert!(!answer.err.contains('\u{1b}'));
    let forced = dir.command(&["check", "a.yaml"]).env("CLICOLOR_FORCE", "1").output().unwrap();
    assert!(forced.stderr.contains(&0x1b));
    let mut command = dir.command(&["check", "a.yaml"]);
    let plain = command.env("NO_COLOR", "1").output().unwrap();
    assert!(!plain.stderr.contains(&0x1b));
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let dir = Dir::new("a_reader_that_goes_away_is_no_error");
    let mut command = dir.command(&["schema"]);
    command.stdout(std::process::Stdio::piped()).stderr(std::process::Stdio::piped());
    let mut child = command.spawn().unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!((output.status.code(), output.stderr), (Some(0), Vec::new()));
}

#[test]
fn the_schema_is_json() {
    let answer = Dir::new("the_schema_is_json").longodds(&["schema"]);
    let json: serde_json::Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(json["title"], "longodds scenario");
    assert_eq!(answer.out, include_str!("../scenarios/scenario.schema.json"));
}

/// The set-up is drawn by the ending of its name, or nothing is.
#[test]
fn the_set_up_is_drawn() {
    let dir = Dir::new("the_set_up_is_drawn");
    dir.file("a.yaml", SCENARIO);
    let answer = dir.longodds(&["check", "a.yaml", "--picture", "set-up.svg"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("wrote set-up.svg"), "{}", answer.out);
    let svg = std::fs::read_to_string(dir.path("set-up.svg")).unwrap();
    for word in ["from the side", "from above", "roof light", "The rod starts 8 m up"] {
        assert!(svg.contains(word), "{word}: {svg}");
    }
    assert_eq!(dir.longodds(&["check", "a.yaml", "--picture", "a.png"]).status, 0);
    assert_eq!(std::fs::read(dir.path("a.png")).unwrap()[1..4], *b"PNG");
    let piped = dir.longodds_with(&["check", "-", "--picture", "b.svg"], SCENARIO);
    assert!(piped.status == 0 && dir.path("b.svg").exists(), "{}", piped.err);
    let wrong = dir.longodds(&["check", "a.yaml", "--picture", "a.doc"]);
    assert!(wrong.status == 2 && wrong.err.contains("`.svg` or `.png`"), "{}", wrong.err);
    let nowhere = dir.longodds(&["check", "a.yaml", "--picture", "no/a.svg"]);
    assert!(nowhere.status > 0 && nowhere.err.contains("no/a.svg"), "{}", nowhere.err);
    let spoilt =
        dir.file("a.yaml", "claim: none").longodds(&["check", "a.yaml", "--picture", "c.svg"]);
    assert!(spoilt.status == 1 && !dir.path("c.svg").exists());
}
