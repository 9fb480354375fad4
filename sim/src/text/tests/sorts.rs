//! A text of another sort is told as such, once, at its first line.

use super::{Language, scenarios};
use crate::{
    diagnostic::Diagnostic,
    rig::log::{self, Defaults},
    scenario,
};
use std::fs;

fn file(name: &str) -> String {
    fs::read_to_string(scenarios().join(name)).unwrap()
}

fn told(text: &str, problems: &[Diagnostic], message: &str) {
    assert_eq!(problems.len(), 1, "{problems:#?}");
    let problem = &problems[0];
    assert_eq!((problem.code, problem.message.as_str()), ("text::sort", message));
    let (span, _) = problem.label.clone().unwrap();
    let first = text.lines().map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'));
    assert_eq!(Some(&text[span]), first);
    assert!(problem.help.is_some());
}

#[test]
fn each_sort_is_known_in_the_place_of_each_other() {
    let [claims, rigs] = &Language::all();
    let (claim, rig, shots) =
        (file("shop_window.yaml"), file("rigs/crossbow.yaml"), file("rigs/crossbow.csv"));
    let findings = "{\n  \"claim\": {},\n  \"scenario_text\": \"claim: x\"\n}\n";
    told(&rig, &claims.problems(&rig), "this is a rig file, not a scenario");
    told(&shots, &claims.problems(&shots), "this is a shot log, not a scenario");
    told(findings, &claims.problems(findings), "this is a record of a run, not a scenario");
    told(&claim, &rigs.problems(&claim), "this is a scenario, not a rig file");
    told(&shots, &rigs.problems(&shots), "this is a shot log, not a rig file");
    for (text, message) in [
        (&claim, "this is a scenario, not a shot log"),
        (&rig, "this is a rig file, not a shot log"),
    ] {
        told(text, &log::parse(text, &Defaults::default()).unwrap_err(), message);
    }
}

#[test]
fn a_slip_is_no_other_sort() {
    let spoilt = scenario::template().replacen("claim:", "rig: x\nclaim:", 1);
    let problems = Language::all()[0].problems(&spoilt);
    assert!(problems.iter().any(|one| one.code == "scenario::unknown_key"), "{problems:?}");
    assert!(problems.iter().all(|one| one.code != "text::sort"));
}
