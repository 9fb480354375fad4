//! Where a job stands, told from what lies in its folder.

use crate::util::{Dir, SCENARIO};
use std::{thread, time::Duration};

fn next(dir: &Dir) -> (String, String) {
    let answer = dir.longodds(&["next", "a.yaml", "--shots", "shots.csv"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let last = answer.out.lines().last().unwrap().to_owned();
    (answer.out, last)
}

/// Following what it says leads through the whole job, and never twice to one step.
#[test]
fn each_step_done_is_followed_by_another() {
    let dir = Dir::new("each_step_done");
    dir.file("a.yaml", SCENARIO);
    let (_, line) = next(&dir);
    assert_eq!(line, "To go on: longodds run a.yaml");
    let run = ["run", "a.yaml", "--flights", "2000", "--no-rare", "--no-doubts"];
    assert_eq!(dir.longodds(&run).status, 0);
    let (_, line) = next(&dir);
    assert!(line.contains("exclusion a.yaml --json > a.zone.json && longodds safety"), "{line}");
    let zone = ["exclusion", "a.yaml", "--flights", "2000", "--no-rare", "--json"];
    dir.file("a.zone.json", dir.longodds(&zone).out);
    assert_eq!(next(&dir).1, "To go on: longodds drivers a.yaml");
    dir.file("shots.csv", "speed,result\n10 m/s,stopped\n18 m/s,through\n");
    let (all, line) = next(&dir);
    assert!(line.contains("judge a.findings.json shots.csv --json > a.judge.json"), "{line}");
    assert!(all.contains("open  shots weighed"), "{all}");
    let judged = dir.longodds(&["judge", "a.findings.json", "shots.csv", "--json"]);
    dir.file("a.judge.json", judged.out);
    let (all, line) = next(&dir);
    assert!(all.contains("done  shots weighed") && line.contains("report"), "{all}");
    let report = ["report", "a.findings.json", "--with", "a.judge.json", "--out", "a.report.html"];
    assert_eq!(dir.longodds(&report).status, 0);
    assert_eq!(next(&dir).1, "To go on: longodds drivers a.yaml");
    // One shot more: what was weighed is to be weighed again.
    thread::sleep(Duration::from_millis(20));
    dir.file("shots.csv", "speed,result\n10 m/s,stopped\n18 m/s,through\n19 m/s,through\n");
    let (all, line) = next(&dir);
    assert!(all.contains("again shots weighed") && line.contains("judge"), "{all}");
    // Another claim: everything is.
    dir.file("a.yaml", SCENARIO.replace("0.9 kg", "0.8 kg"));
    let (all, line) = next(&dir);
    assert!(all.contains("again flown") && line == "To go on: longodds run a.yaml", "{all}");
}

#[test]
fn a_rig_that_has_not_shot_asks_for_its_sheet() {
    let dir = Dir::new("a_rig_that_has_not_shot");
    let claim = include_str!("../scenarios/crossbow_billet.yaml");
    std::fs::create_dir_all(dir.path("rigs")).unwrap();
    dir.file("rigs/crossbow.yaml", include_str!("../scenarios/rigs/crossbow.yaml"));
    dir.file("a.yaml", claim);
    let run = ["run", "a.yaml", "--flights", "2000", "--no-rare", "--no-doubts"];
    assert_eq!(dir.longodds(&run).status, 0);
    dir.file("a.zone.json", "{}");
    let (all, line) = next(&dir);
    assert!(all.contains("open  shot with rigs/crossbow.yaml: no shot yet"), "{all}");
    assert_eq!(line, "To go on: longodds rig rigs/crossbow.yaml --sheet day.html");
    assert_eq!(dir.longodds(&["next", "-"]).status, 2);
}
