//! The safety officer's page, as people ask for it.

use crate::util::{Dir, SCENARIO};
use std::fs;

const RIG: &str = include_str!("../scenarios/rigs/crossbow.yaml");

fn flown(test: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("a.yaml", SCENARIO).file("bow.yaml", RIG);
    let run = ["run", "a.yaml", "--flights", "2000", "--no-rare", "--no-doubts"];
    assert_eq!(dir.longodds(&run).status, 0);
    dir
}

#[test]
fn the_page_holds_what_was_told_and_asks_for_the_rest() {
    let dir = flown("the_page_holds_what_was_told");
    let answer = dir.longodds(&["safety", "a.findings.json"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("exclusion a.yaml --json > a.zone.json && longodds safety"));
    let bare = fs::read_to_string(dir.path("safety.html")).unwrap();
    assert_eq!(bare.matches("NOT TOLD").count(), 3);
    let zone =
        ["exclusion", "a.yaml", "--flights", "2000", "--no-rare", "--one-in", "10", "--json"];
    dir.file("zone.json", dir.longodds(&zone).out);
    let all = ["safety", "a.findings.json", "--zone", "zone.json", "--rig", "bow.yaml"];
    let answer = dir.longodds(&[&all[..], &["--setting", "4 ft", "--out", "all.html"]].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    let page = fs::read_to_string(dir.path("all.html")).unwrap();
    assert_eq!(page.matches("NOT TOLD").count(), 1);
    // The loads are those that `rig` tells.
    let told = dir.longodds(&["rig", "bow.yaml", "--setting", "4 ft"]);
    let held = told.out.lines().find(|line| line.contains("energy held by the rig")).unwrap();
    let held = held.trim().strip_prefix("energy held by the rig").unwrap().trim();
    assert!(page.contains(&format!("Holds <strong>{held}</strong>")), "{held}");
    assert!(
        page.contains("roof light") && page.contains("1 in 10") && page.contains("garden crossbow")
    );
}

#[test]
fn a_rig_alone_has_a_page_and_what_is_wrong_is_said() {
    let dir = flown("a_rig_alone_has_a_page");
    let alone = ["safety", "--rig", "bow.yaml", "--speed", "30 mph", "--out", "-"];
    let answer = dir.longodds(&alone);
    assert!(answer.status == 0 && answer.out.contains("Safety: garden crossbow"), "{}", answer.err);
    for (args, words) in [
        (&["safety"][..], "required"),
        (&["safety", "--rig", "bow.yaml"], "at which setting"),
        (&["safety", "a.findings.json", "--zone", "a.findings.json"], "no answer that a page"),
        (&["safety", "--rig", "bow.yaml", "--setting", "4 kg"], "must be"),
    ] {
        let answer = dir.longodds(args);
        assert!(answer.status > 0 && answer.err.contains(words), "{args:?}: {}", answer.err);
        assert!(!dir.path("safety.html").exists());
    }
}
