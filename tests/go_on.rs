//! Every answer ends with the next command, and that command runs as it stands.

use crate::util::{Answer, Dir, SCENARIO};
use std::{fs, process::Command};

const SHOT: &str = include_str!("../scenarios/crossbow_billet.yaml");
const RIG: &str = include_str!("../scenarios/rigs/crossbow.yaml");
const SHOTS: &str = include_str!("../scenarios/rigs/crossbow.csv");

fn in_dir(test: &str) -> Dir {
    let dir = Dir::new(test);
    fs::create_dir_all(dir.path("my rigs")).unwrap();
    let shot = SHOT.replace("rigs/crossbow.yaml", "my rigs/it's a bow.yaml");
    dir.file("my claim.yaml", SCENARIO)
        .file("my shot.yaml", shot)
        .file("my rigs/it's a bow.yaml", RIG)
        .file("my shots.csv", SHOTS);
    dir
}

/// The command in the last line of an answer.
fn next(answer: &Answer) -> String {
    assert_eq!(answer.status, 0, "{}", answer.err);
    let last = answer.out.lines().last().unwrap_or_default();
    let next = last.strip_prefix("To go on: ");
    assert!(next.is_some(), "ends with {last:?}");
    next.unwrap().to_owned()
}

/// Pastes it into a shell.
fn pasted(dir: &Dir, line: &str) -> Answer {
    let own = format!("longodds() {{ '{}' \"$@\"; }}\n{line}", env!("CARGO_BIN_EXE_longodds"));
    let output = Command::new("sh").args(["-c", &own]).current_dir(dir.path("")).output().unwrap();
    Answer::new(&output)
}

#[test]
fn a_claim_against_a_rig_leads_to_its_sheet_and_the_sheet_to_the_fit() {
    let dir = in_dir("a_claim_against_a_rig_leads");
    let few = ["--flights", "4000"];
    let answer = dir.longodds(&[&["compare", "my shot.yaml", "my shot.yaml"][..], &few].concat());
    let line = next(&answer);
    let first = "longodds rig 'my rigs/it'\\''s a bow.yaml' --speed '";
    assert!(line.starts_with(first) && line.ends_with("mph' --sheet day.html"), "{line}");
    let answer = pasted(&dir, &line);
    let line = next(&answer);
    assert!(line.contains(" day.csv --speed "), "{line}");
    // Nothing is filled in yet, and that is said.
    let answer = pasted(&dir, &line);
    assert!(answer.status == 1 && answer.err.contains("fill in"), "{}", answer.err);
    let line = line.replace("day.csv", "'my shots.csv'");
    let line = next(&pasted(&dir, &line));
    assert!(line.contains("--shots 'my shots.csv' --setting"), "{line}");
    assert_eq!(pasted(&dir, &line).status, 0);
    assert!(dir.path("next.csv").exists());
}

#[test]
fn a_rig_shot_without_a_rig_file_leads_to_the_flight_at_that_speed() {
    let dir = in_dir("a_rig_shot_without_a_rig_file_leads");
    let start = SHOT.find("  rig:\n    file").unwrap();
    let end = SHOT.find("    height: 4 ft").unwrap();
    let shot =
        [&SHOT[..start], "  launched:\n    speed: {range: [40 mph, 60 mph]}\n", &SHOT[end..]];
    dir.file("my shot.yaml", shot.concat());
    let few = ["--flights", "4000"];
    let answer = dir.longodds(&[&["compare", "my shot.yaml", "my shot.yaml"][..], &few].concat());
    let line = next(&answer);
    let first = "longodds run 'my shot.yaml' --set 'release.launched.speed=";
    assert!(line.starts_with(first), "{line}");
    assert_eq!(pasted(&dir, &format!("{line} --flights 500")).status, 0);
}

#[test]
fn what_commands_find_leads_to_the_page() {
    let dir = in_dir("what_commands_find_leads_to_the_page");
    let run = ["run", "my claim.yaml", "--flights", "2000", "--no-rare", "--no-doubts"];
    assert_eq!(dir.longodds(&run).status, 0);
    dir.file("my shots.csv", "speed,result\n10 m/s,stopped\n18 m/s,through\n");
    let judge = ["judge", "my claim.findings.json", "my shots.csv", "--weight", "0.5"];
    let line = next(&dir.longodds(&judge));
    assert!(line.contains("--weight 0.5 --json > 'my claim.judge.json' && "), "{line}");
    assert_eq!(pasted(&dir, &line).status, 0);
    let page = fs::read_to_string(dir.path("report.html")).unwrap();
    assert!(page.contains("of our 2 shots"), "{page}");
    let zone = ["exclusion", "my claim.yaml", "--flights", "2000", "--no-rare", "--one-in", "10"];
    let line = next(&dir.longodds(&zone));
    let line = next(&pasted(&dir, &line));
    assert!(line.contains("--no-rare --json > 'my claim.zone.json' && "), "{line}");
    assert_eq!(pasted(&dir, &line).status, 0);
}

#[test]
fn a_plan_leads_to_the_sheet_of_the_rig_it_names() {
    let dir = in_dir("a_plan_leads_to_the_sheet");
    let rig = ["--rig", "my rigs/it's a bow.yaml"];
    for plan in [
        &["rare", "--below", "10 %"][..],
        &["compare", "--chances", "10 %", "60 %"],
        &["sequential", "--low", "10 %", "--high", "40 %"],
        &["threshold", "--guess", "30 mph", "--shots", "4"],
    ] {
        let plain = [&["trials"][..], plan].concat();
        let line = next(&dir.longodds(&plain));
        assert!(line.starts_with("longodds trials say --shots "), "{line}");
        assert_eq!(pasted(&dir, &line).status, 0, "{line}");
        let line = next(&dir.longodds(&[&plain[..], &rig].concat()));
        assert!(line.contains("it'\\''s a bow.yaml") && line.contains("--repeat "), "{line}");
        let _ = fs::remove_file(dir.path("day.csv"));
        assert_eq!(pasted(&dir, &line).status, 0, "{line}");
    }
}

/// A rig over its limit has no next shot.
#[test]
fn nothing_leads_on_to_what_a_rig_does_not_stand() {
    let dir = in_dir("nothing_leads_on_to_what_a_rig");
    let answer = dir.longodds(&["rig", "my rigs/it's a bow.yaml", "--setting", "9.5 ft"]);
    assert!(answer.out.contains("DO NOT SHOOT"), "{}", answer.out);
    assert!(!answer.out.contains("To go on"), "{}", answer.out);
}
