//! `run` as people use it, and the promises about its numbers.

use crate::util::{Dir, SCENARIO};
use longodds_sim::{
    chain::Claim,
    engine::{Order, Tally, Unwatched, run, tuned},
    findings::{Findings, Origin, findings},
    scenario,
    study::Study,
};
use std::{fs, path::Path};

fn read(dir: &Dir, name: &str) -> String {
    fs::read_to_string(dir.path(name)).unwrap()
}

fn spanner() -> Claim {
    tuned(Claim::new(scenario::parse(SCENARIO, Path::new(".")).unwrap()), 3)
}

fn record(claim: &Claim, tally: &Tally, flights: u64) -> String {
    let origin = Origin { scenario_name: "spanner".to_owned() };
    let found = findings(claim, &Study::plain(3, flights, tally.clone()), &origin);
    serde_json::to_string(&found).unwrap()
}

#[test]
fn the_number_of_threads_changes_nothing() {
    let dir = Dir::new("the_number_of_threads_changes_nothing");
    dir.file("a.yaml", SCENARIO);
    let with = |threads: &str| {
        let args = ["run", "a.yaml", "--json", "--flights", "5000", "--threads", threads];
        let output = dir.longodds(&args);
        assert_eq!(output.status, 0, "{}", output.err);
        output.out
    };
    let one = with("1");
    assert!(one.len() > 1000);
    assert!(one == with("16"), "1 and 16 threads differ");
}

#[test]
fn two_shards_merged_are_the_whole_run() {
    let pumpkin = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/barn_pumpkin.yaml");
    let pumpkin = scenario::parse(&fs::read_to_string(pumpkin).unwrap(), Path::new(".")).unwrap();
    for claim in [spanner(), tuned(Claim::new(pumpkin), 3)] {
        let part = |draws| run(&claim, &Order::new(3, draws), &Unwatched);
        let whole = part(0..3000);
        // Merged the wrong way round, and cut where no chunk ends.
        let merged = part(1234..3000).merged(part(0..1234));
        assert_eq!(record(&claim, &whole, 3000), record(&claim, &merged, 3000));
    }
}

#[test]
fn the_answer_comes_first_and_the_files_are_whole() {
    let dir = Dir::new("the_answer_comes_first_and_the_files_are_whole");
    dir.file("spanner.yaml", SCENARIO);
    let output = dir.longodds(&["run", "spanner.yaml", "--flights", "3000", "--into", "out"]);
    assert_eq!(output.status, 0, "{}", output.err);
    let text = output.out;
    let first = text.split_once(" in 100 on what we know (").map_or("", |(number, _)| number);
    assert!(first.parse::<f64>().is_ok_and(|p| (40.0..90.0).contains(&p)), "{text}");
    assert!(text.contains("Where it breaks") && text.contains("Caution"), "{text}");
    let json = read(&dir, "out/spanner.findings.json");
    let found: Findings = serde_json::from_str(&json).unwrap();
    assert_eq!(found.claim.flights, 3000);
    assert!(found.claim.low < found.claim.probability);
    assert!(found.claim.probability < found.claim.high);
    assert_eq!(found.scenario_text, SCENARIO);
    let page = read(&dir, "out/spanner.report.html");
    assert!(page.ends_with("</html>") || page.trim_end().ends_with("</html>"));
    assert!(page.len() < 3_000_000, "the page has {} bytes", page.len());
}

#[test]
fn a_folder_that_cannot_be_written_is_found_before_the_flights() {
    let dir = Dir::new("a_folder_that_cannot_be_written");
    dir.file("a.yaml", SCENARIO).file("taken", "a file, not a folder");
    let output = dir.longodds(&["run", "a.yaml", "--into", "taken"]);
    assert_eq!(output.status, 3);
    let said = output.err;
    assert!(said.contains("cannot write into `taken`"), "{said}");
    assert_eq!(read(&dir, "taken"), "a file, not a folder");
}

#[test]
fn a_wrong_scenario_writes_nothing() {
    let dir = Dir::new("a_wrong_scenario_writes_nothing");
    dir.file("a.yaml", SCENARIO.replace("mass:", "mas:"));
    let output = dir.longodds(&["run", "a.yaml", "--into", "out"]);
    assert_eq!(output.status, 1);
    assert_eq!(output.out, "");
    assert!(!dir.path("out").exists());
}

#[test]
fn an_interrupt_keeps_what_was_done_and_says_so() {
    let dir = Dir::new("an_interrupt_keeps_what_was_done");
    dir.file("a.yaml", SCENARIO);
    let args = ["run", "a.yaml", "--json", "--flights", "10000000000"];
    let output = dir.interrupted(&args);
    assert_eq!(output.status, 130, "{}", output.err);
    let found: Findings = serde_json::from_str(&output.out).unwrap();
    assert!(found.partial && found.claim.flights > 0);
    assert_eq!(found.claim.flights % 1024, 0, "whole waves only");
}

/// What never leaves has no step error, and is no evidence of a small one.
#[test]
fn only_flights_that_left_are_evidence_for_the_step() {
    let text = include_str!("../scenarios/haystack_sheet.yaml");
    let claim = tuned(Claim::new(scenario::parse(text, Path::new(".")).unwrap()), 1);
    let tally = run(&claim, &Order::new(1, 0..256), &Unwatched);
    let origin = Origin { scenario_name: "sheet".to_owned() };
    let found = findings(&claim, &Study::plain(1, 256, tally), &origin);
    let step = &found.step_error;
    assert_eq!(step.flights, found.gates[0].passed, "those that came loose");
    assert!(step.flights < 100 && 40 * step.outside <= step.flights, "{step:?}");
}

/// A quick look, and a run that was stopped, leave the better answer where it can be
/// found; an equal one takes its place.
#[test]
fn a_better_answer_is_kept() {
    let dir = Dir::new("a_better_answer_is_kept");
    dir.file("a.yaml", SCENARIO);
    let run = |flights: &str| dir.longodds(&["run", "a.yaml", "--no-rare", "--flights", flights]);
    let flown = |name: &str| {
        let found: Findings = serde_json::from_str(&read(&dir, name)).unwrap();
        (found.claim.flights, found.partial)
    };
    assert!(!run("3000").out.contains("Kept: "));
    assert!(!run("3000").out.contains("Kept: "), "the same again is no worse");
    let best = read(&dir, "a.report.html");
    let quick = run("500").out;
    assert!(
        quick.contains("Kept: the better answer that stood here, as ./a.1.report.html"),
        "{quick}"
    );
    assert!(read(&dir, "a.1.report.html") == best, "the page is the meeting's");
    assert_eq!(
        (flown("a.findings.json"), flown("a.1.findings.json")),
        ((500, false), (3000, false))
    );
    let stopped = dir.interrupted(&["run", "a.yaml", "--no-rare", "--flights", "10000000000"]);
    assert!(
        stopped.out.contains("as ./a.2.report.html and ./a.2.findings.json"),
        "{}",
        stopped.out
    );
    assert!(flown("a.findings.json").1 && flown("a.2.findings.json") == (500, false));
    assert!(!run("500").out.contains("Kept: "), "what was stopped is not the better one");
    assert_eq!(dir.names().iter().filter(|name| name.starts_with("a.")).count(), 7);
}

/// The time is kept, what it was too short for is named, and more of it is told.
#[test]
fn an_answer_in_the_time_there_is() {
    let dir = Dir::new("an_answer_in_the_time_there_is");
    dir.file("a.yaml", SCENARIO.replace("at: 0.2 m", "at: 2.2 m"));
    let args = ["run", "a.yaml", "--budget", "2000000"];
    let answer = dir.longodds(&[&args[..], &["--for", "1 ms"]].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    let said = answer.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("The time was up after 8,192 flights."), "{said}");
    assert!(said.contains("There was no time for what was assumed, what the unknown leaves open and how rare it is."), "{said}");
    let kept = fs::read_to_string(dir.path("a.findings.json")).unwrap();
    assert!(kept.contains("\"stop\": \"time_up\"") && kept.contains("\"partial\": false"));
    // It is the same answer as that many flights give, and never takes a better one's place.
    let counted = |text: &str| {
        let at = text.find("\"claim\": {").unwrap();
        text[at..].split("\"level\"").next().unwrap().to_owned()
    };
    let asked = ["run", "a.yaml", "--flights", "8192", "--no-rare", "--no-doubts", "--json"];
    assert_eq!(counted(&kept), counted(&dir.longodds(&asked).out));
    let more = dir.longodds(&["run", "a.yaml", "--flights", "20000", "--no-rare", "--no-doubts"]);
    assert_eq!(more.status, 0, "{}", more.err);
    let worse = dir.longodds(&[&args[..], &["--for", "1 ms"]].concat());
    assert!(worse.out.contains("Kept: the better answer"), "{}", worse.out);
    let wrong = dir.longodds(&["run", "a.yaml", "--for", "3 m"]);
    assert!(wrong.status == 2 && wrong.err.contains("a time"), "{}", wrong.err);
}

/// The next step does not ask for what the same answer says would teach little.
#[test]
fn who_is_told_that_flying_on_teaches_little_is_not_told_to_fly_on() {
    let dir = Dir::new("who_is_told_that_flying_on");
    dir.file("a.yaml", SCENARIO.replace("at: 0.2 m", "at: 20 m"));
    let (words, _) = dir.told_twice(&["run", "a.yaml", "--no-doubts", "--for", "10 min"]);
    assert!(words.contains("flying on at random would teach little"), "{words}");
    assert!(!words.contains("Fly more") && words.contains("Next: "), "{words}");
}
