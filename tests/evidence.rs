//! Pictures of what other commands than `run` find, alone and on a page.

use crate::util::{Dir, SCENARIO};
use serde_json::Value;
use std::fs;

const MADE_UP: &str = include_str!("made_up_findings.json");

fn in_dir(test: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("a.yaml", SCENARIO).file("findings.json", MADE_UP);
    dir
}

/// Runs a command that has to succeed and keeps its answer in a file.
fn kept(dir: &Dir, name: &str, args: &[&str]) -> Value {
    let answer = dir.longodds(args);
    assert_eq!(answer.status, 0, "{args:?}: {}", answer.err);
    dir.file(name, &answer.out);
    serde_json::from_str(&answer.out).unwrap()
}

const LINE: [&str; 8] =
    ["sweep", "a.yaml", "barrier.median", "--from", "5 J", "--to", "60 J", "--steps"];

#[test]
fn a_sweep_can_be_drawn() {
    let dir = in_dir("a_sweep_can_be_drawn");
    let common = ["--flights", "200"];
    let line = [&LINE[..], &["5", "--picture", "line.svg"], &common].concat();
    let answer = dir.longodds(&line);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("wrote line.svg\nTo go on: longodds run a.yaml"), "{}", answer.out);
    let svg = fs::read_to_string(dir.path("line.svg")).unwrap();
    assert!(
        svg.contains("barrier.median") && svg.contains("as the scenario has it: 16.7 J"),
        "{svg}"
    );
    let second = ["--and", "mass", "--and-from", "0.5 kg", "--and-to", "2 kg"];
    let map = [&LINE[..], &["3", "--picture", "map.png"], &common, &second].concat();
    assert_eq!(dir.longodds(&map).status, 0);
    assert_eq!(fs::read(dir.path("map.png")).unwrap()[1..4], *b"PNG");
    let wrong = [&LINE[..], &["2", "--picture", "line.doc"], &common].concat();
    let answer = dir.longodds(&wrong);
    assert_eq!(answer.status, 2, "{}", answer.err);
    assert!(answer.err.contains("`.svg` or `.png`"), "{}", answer.err);
}

#[test]
fn what_other_commands_find_stands_on_the_page() {
    let dir = in_dir("what_other_commands_find_stands_on_the_page");
    let few = ["--flights", "400", "--json"];
    kept(&dir, "line.json", &[&LINE[..], &["4"], &few].concat());
    kept(&dir, "search.json", &[&LINE[..7], &["--chance", "50%"], &few].concat());
    let second = ["--and", "mass", "--and-from", "0.5 kg", "--and-to", "2 kg"];
    kept(&dir, "map.json", &[&LINE[..], &["3"], &few, &second].concat());
    kept(&dir, "compare.json", &[&["compare", "a.yaml", "a.yaml"][..], &few].concat());
    kept(&dir, "rare.json", &["trials", "rare", "--below", "10 %", "--json"]);
    let threshold = ["trials", "threshold", "--guess", "40 mph", "--shots", "6", "--json"];
    kept(&dir, "threshold.json", &threshold);
    let debris = ["exclusion", "a.yaml", "--no-rare", "--flights", "1000", "--json"];
    kept(&dir, "debris.json", &debris);
    let sequential = ["trials", "sequential", "--low", "10 %", "--high", "30 %", "--json"];
    kept(&dir, "sequential.json", &sequential);
    let mut args = vec!["report", "findings.json"];
    let files = ["line.json", "search.json", "map.json", "compare.json", "rare.json"];
    for name in files.into_iter().chain(["threshold.json", "sequential.json", "debris.json"]) {
        args.extend(["--with", name]);
    }
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let page = fs::read_to_string(dir.path("report.html")).unwrap();
    for part in [
        "What would have to be true",
        "The claim against the rig",
        "How many shots",
        "Where debris goes",
    ] {
        assert!(page.contains(&format!(">{part}</h2>")), "{part}");
    }
    assert_eq!(page.matches("<svg").count(), 10 + 8, "ten charts of the run, eight beside it");
    assert!(page.contains("The run on this page is of another file."));
    let mut ids: Vec<_> = page.split(" id=\"").skip(1).map(|t| t.split('"').next()).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id stands twice");
}

#[test]
fn what_is_no_answer_is_one_clear_error() {
    let dir = in_dir("what_is_no_answer_is_one_clear_error");
    dir.file("text.json", "no").file("bare.json", "{}");
    dir.file("old.json", r#"{"kind": "sweep", "version": 999}"#);
    dir.file("half.json", r#"{"kind": "map", "version": 1}"#);
    for name in ["text.json", "bare.json", "old.json", "half.json", "findings.json"] {
        let answer = dir.longodds(&["report", "findings.json", "--with", name]);
        assert_eq!((answer.status, answer.out.as_str()), (1, ""), "{name}");
        assert!(answer.err.contains(name) && answer.err.contains("help"), "{}", answer.err);
    }
    assert!(!dir.path("report.html").exists());
}

#[test]
fn every_plan_of_shots_can_be_drawn() {
    let dir = in_dir("every_plan_of_shots_can_be_drawn");
    let plans: [&[&str]; 4] = [
        &["rare", "--below", "10 %"],
        &["compare", "--chances", "10 %", "50 %"],
        &["threshold", "--guess", "45 mph", "--shots", "6"],
        &["sequential", "--low", "10 %", "--high", "30 %"],
    ];
    for plan in plans {
        let name = format!("{}.svg", plan[0]);
        let answer = dir.longodds(&[&["trials"], plan, &["--picture", &name]].concat());
        assert_eq!(answer.status, 0, "{}", answer.err);
        let svg = fs::read_to_string(dir.path(&name)).unwrap();
        assert!(svg.matches("<path").count() > 8, "{name}: no bars");
        let lines = ["on or over this line: say 30 % or more", "between them: shoot on"];
        assert!(plan[0] != "sequential" || lines.iter().all(|line| svg.contains(line)), "{svg}");
    }
}
