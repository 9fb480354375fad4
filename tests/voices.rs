//! One voice: terminal, page and camera frames say the same numbers, which are
//! the record's. Each is read back here without the words that wrote it.

use crate::{
    sayings::{interval, share},
    util::Dir,
};
use longodds_reports::camera::{Format, Ground, frames};
use longodds_sim::findings::{Chance, Findings};
use std::{fs, path::Path};

/// A share as it was read, with half a unit of its last digit.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Told {
    p: f64,
    half: f64,
}

/// Every share in a text, be it plain or in type.
fn told(text: &str) -> Vec<Told> {
    let text = text.replace('\u{a0}', " ").replace(" %", " in 100");
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(place) = text[from..].find(|c: char| c.is_ascii_digit() || c == 'a') {
        let at = from + place;
        let before = text[..at].chars().next_back();
        let starts = before.is_none_or(|c| c.is_whitespace() || "(“,;".contains(c));
        from = at + 1;
        let rest = &text[at..];
        if !starts || rest.starts_with('a') && !rest.starts_with("all but ") {
            continue;
        }
        let whole = |rest: &str| !rest.starts_with(|c: char| c.is_ascii_digit());
        let single = share(rest).filter(|said| whole(said.rest));
        match interval(rest) {
            Some(([low, high], after)) if whole(after) => {
                // Both ends have the digits of the upper.
                let to = rest.find(" to ").map_or(rest, |to| &rest[to + 4..]);
                let half = share(to).map_or(0.0, |said| said.half);
                let first = single.map_or(half, |said| said.half);
                found.extend([Told { p: low, half: first }, Told { p: high, half }]);
                from = text.len() - after.len();
            }
            _ => {
                if let Some(said) = single {
                    found.push(Told { p: said.p, half: said.half });
                    from = text.len() - said.rest.len();
                }
            }
        }
    }
    found
}

/// What a reader sees of a piece of a page.
fn seen(html: &str) -> String {
    let mut text = String::new();
    for part in html.split('<') {
        let (_, words) = part.split_once('>').unwrap_or(("", part));
        text.push_str(words);
        text.push('\n');
    }
    text.replace("&amp;", "&").replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">")
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let (_, rest) = text.split_once(from).unwrap();
    rest.split_once(to).unwrap().0
}

/// Every share that the record knows.
fn known(f: &Findings) -> Vec<f64> {
    let chance = |c: &Chance| {
        let mut all = vec![c.probability, c.low, c.high];
        all.extend(c.ends());
        all.extend(c.by_ways.into_iter().flatten());
        all
    };
    let mut all = chance(&f.claim);
    for gate in &f.gates {
        all.extend(chance(&gate.given_before));
        all.extend(chance(&gate.so_far));
    }
    for gate in f.by_face.iter().flat_map(|face| &face.gates) {
        all.extend(chance(&gate.given_before));
    }
    if let Some(b) = &f.band {
        let rest = 0.5 * (1.0 - b.share);
        all.extend([b.low, b.high, b.mean, b.never, b.always, 1.0 - b.never - b.always]);
        all.extend([b.low_interval, b.high_interval].into_iter().flatten());
        all.extend([rest, 1.0 - rest, 1.0 / b.flights.max(1) as f64]);
        all.push(1.0 - 1.0 / b.flights.max(1) as f64);
    }
    all.extend(f.shaky.iter().map(|one| one.probability));
    all.extend(f.breaches.iter().map(|one| one.share));
    for input in f.most_likely.iter().flat_map(|way| &way.inputs) {
        all.extend([input.below, 1.0 - input.below]);
    }
    if let Some(found) = &f.contacts {
        let p = longodds_sim::estimate::Proportion::printed(found.touched, found.flights, 0.95);
        all.extend([p.estimate, p.low, p.high]);
    }
    all.extend(f.left_share.iter().flat_map(|share| share.quantiles));
    all.extend([f.step_error.energy_max, f.step_error.energy_median]);
    all.extend(f.energy_audit.iter().map(|audit| audit.worst.max(1e-5)));
    all.extend(f.search.iter().flat_map(|search| search.plain));
    all.extend(f.enough.iter().map(|enough| enough.floor));
    for head in f.harm.iter().filter_map(|harm| harm.reading) {
        all.extend(head.lognormal.into_iter().chain(head.logistic));
    }
    // Levels and budgets.
    all.extend([0.95, 0.9, 0.05, 0.001, 1.0 / 40.0, 1e-5]);
    all
}

/// Shares said that the record does not know; rounded outwards they are off by
/// a whole unit.
fn unknown(text: &str, known: &[f64]) -> Vec<Told> {
    let stands = |told: &Told| known.iter().any(|p| (told.p - p).abs() <= 2.1 * told.half + 1e-9);
    told(text).into_iter().filter(|told| !stands(told)).collect()
}

/// The text of the chart of the chain: what goes on at each gate.
fn go_on(chain: &str) -> Vec<String> {
    let lines = chain.lines().map(str::trim);
    let says = |l: &&str| l.ends_with(" go on") || l.ends_with(" goes on");
    lines.filter(|l| says(l) && !l.starts_with("None")).map(str::to_owned).collect()
}

/// Everything on which terminal, page and frames differ from the record or
/// from each other.
fn differences(out: &str, page: &str, f: &Findings) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut hold = |good: bool, what: String| wrong.extend((!good).then_some(what));
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    let known = known(f);
    let head = seen(between(page, "<header>", "</header>"));
    let chain = seen(between(page, "<section id=\"chain\"", "</section>"));
    let doubts = seen(between(page, "<section id=\"doubts\"", "</section>"));
    let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let pictures = frames(f, Format::Wide, Ground::Light);
    let framed = |name: &str| pictures.iter().find(|one| one.name == name);
    let drawn: Vec<_> = pictures.iter().map(|one| (one.name.as_str(), one.title.clone())).collect();
    let pages = [("terminal", words.clone()), ("head", joined(&head)), ("chain", joined(&chain))];
    for (place, text) in pages.into_iter().chain([("doubts", joined(&doubts))]).chain(drawn) {
        for gone in ["NaN", "0.00 %", "e-1", "times in 100", "(middle values)", "100.0 in 100"] {
            hold(!text.contains(gone), format!("{place}: `{gone}`"));
        }
        let text = text.replace(f.claim_text.trim(), "");
        let text = text.split(" Harm: ").next().unwrap_or_default();
        let missed = unknown(text, &known);
        hold(missed.is_empty(), format!("{place} says what the record does not: {missed:?}"));
        let missed = crate::quantities::unknown(text, f);
        hold(missed.is_empty(), format!("{place} tells what the record does not: {missed:?}"));
    }
    // The number in big type is the first of the answer, and the frames'.
    let number = seen(between(page, "class=\"number", "</p>"));
    if let Some(first) = told(&joined(&number)).first().filter(|_| f.claim.probability > 0.0) {
        let counted = f.claim.held == f.claim.flights && f.claim.is_counted();
        let same = |text: &str| told(text).iter().any(|one| (one.p - first.p).abs() < 1e-12);
        hold(counted || same(&words), format!("{first:?} is not in: {words}"));
        for name in ["stream", "odds"] {
            let title = framed(name).map(|one| one.title.clone()).unwrap_or_default();
            let field = title.trim_start_matches("At most ").split_once(" in ");
            let field = field.and_then(|(lit, of)| {
                let number = |text: &str| text.replace(',', "").parse::<f64>().ok();
                Some(number(lit)? / number(of.split(' ').next()?)?)
            });
            let so = same(&title) || field.is_some_and(|p| (p - first.p).abs() < 1e-12);
            hold(counted || so, format!("{first:?} is not in the frame {name}: {title}"));
        }
    }
    // What goes on at a gate is what the terminal's row says of it.
    let came: Vec<_> = f.gates.iter().filter(|gate| gate.came > 0 && gate.passed > 0).collect();
    let go_on = go_on(&chain);
    for (gate, line) in came.iter().zip(&go_on) {
        let row = out.lines().find(|l| l.trim_start().starts_with(&gate.meaning)).unwrap_or("");
        let row = row.rsplit_once("  ").map_or("", |(_, said)| said);
        let bare = |said: &str| {
            let said = said.to_lowercase().replace("anything from never to ", "");
            said.replace("anything from 0 to ", "")
        };
        let always = bare(row).starts_with("every time") && bare(line).starts_with("100 %");
        let (row_told, line_told) = (told(row), told(line));
        let same = !row_told.is_empty() && row_told == line_told;
        hold(always || same, format!("{}: `{row}` and `{line}`", gate.meaning));
    }
    hold(came.len() == go_on.len(), format!("{} gates, {go_on:?}", came.len()));
    // Whoever is told the likeliest way is shown it.
    if let (Some(way), Some(closest)) = (&f.most_likely, framed("closest")) {
        let shown = closest.title.ends_with("six moments of the likeliest way");
        hold(shown || way.flight.path.len() < 2, closest.title.clone());
    }
    // No part is larger than its whole.
    let told: Vec<&str> = words.split(" of ").collect();
    for pair in told.windows(2) {
        let number = |text: Option<&str>| text?.replace(',', "").parse::<f64>().ok();
        let part = number(pair[0].rsplit(' ').next());
        let whole = number(pair[1].split(' ').next());
        let flights = pair[1].split(' ').nth(1).is_some_and(|word| word.starts_with("flight"));
        if let (Some(part), Some(whole), true) = (part, whole, flights) {
            hold(part <= whole, format!("{part} of {whole} flights"));
        }
    }
    wrong
}

#[test]
fn terminal_page_and_frames_of_every_demo_say_the_numbers_of_its_record() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let dir = Dir::new("terminal_page_and_frames_say_the_same");
    let mut wrong = Vec::new();
    let mut demos = 0;
    for entry in fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ext| ext != "yaml") {
            continue;
        }
        demos += 1;
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let args = ["run", path.to_str().unwrap(), "--flights", "400", "--no-rare"];
        let answer = dir.longodds(&[&args[..], &["--into", "."]].concat());
        assert_eq!(answer.status, 0, "{name}: {}", answer.err);
        let read = |end: &str| fs::read_to_string(dir.path(&format!("{name}.{end}"))).unwrap();
        let findings: Findings = serde_json::from_str(&read("findings.json")).unwrap();
        let found = differences(&answer.out, &read("report.html"), &findings);
        wrong.extend(found.into_iter().map(|what| format!("{name}: {what}")));
    }
    assert!(demos >= 5 && wrong.is_empty(), "{wrong:#?}");
}

/// A search finds what plain flights do not: its way is told and drawn, its
/// number said alike.
#[test]
fn what_a_search_finds_is_said_alike_everywhere() {
    let dir = Dir::new("what_a_search_finds_is_said_alike");
    let scenario = crate::util::SCENARIO.replace("[8 J, 35 J]", "[60 J, 100 J]");
    dir.file("a.yaml", scenario);
    let answer = dir.longodds(&["run", "a.yaml", "--flights", "1000", "--no-doubts"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    let read = |name: &str| fs::read_to_string(dir.path(name)).unwrap();
    let findings: Findings = serde_json::from_str(&read("a.findings.json")).unwrap();
    let wrong = differences(&answer.out, &read("a.report.html"), &findings);
    assert!(wrong.is_empty(), "{wrong:#?}\n{}", answer.out);
    assert!(findings.search.is_some() && findings.most_likely.is_some(), "{}", answer.out);
}

/// Run and judgement call one interval by one word.
#[test]
fn where_no_shot_speaks_the_judgement_is_that_of_the_run() {
    let dir = Dir::new("where_no_shot_speaks");
    dir.file("a.yaml", crate::util::SCENARIO);
    dir.file("shots.csv", "speed,result\n9 m/s,missed\n");
    let run = dir.longodds(&["run", "a.yaml", "--flights", "300", "--no-rare", "--no-doubts"]);
    assert_eq!(run.status, 0, "{}", run.err);
    let found = fs::read_to_string(dir.path("a.findings.json")).unwrap();
    let found: Findings = serde_json::from_str(&found).unwrap();
    let judged = dir.longodds(&["judge", "a.findings.json", "shots.csv"]);
    assert_eq!(judged.status, 0, "{}", judged.err);
    let said = format!("The claim stands as {}, on the model alone", found.claim.likelihood());
    assert!(judged.out.contains(&said), "{said}: {}", judged.out);
    assert!(run.out.contains(&found.claim.likelihood().to_string()), "{}", run.out);
}

#[test]
fn the_reader_reads_both_letterings() {
    let read = |text| told(text).into_iter().map(|told| told.p).collect::<Vec<f64>>();
    let near = |text, want: &[f64]| {
        let read = read(text);
        let same =
            read.len() == want.len() && read.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-12);
        assert!(same, "{text}: {read:?}");
    };
    near("of 212 that come to it, 31 in 100 pass", &[0.31]);
    near("31\u{a0}% go on; all but 1 in 3,300 stay", &[0.31, 1.0 - 1.0 / 3300.0]);
    near("leaves 1 in 4,300 to 1 in 1,900 (95 % confidence", &[1.0 / 4300.0, 1.0 / 1900.0, 0.95]);
    near("31 of 212 that come to it: 10.1 to 20.3 %.", &[0.101, 0.203]);
    near("1 in 100,000 and 1 in 2 million, 5.2 m", &[1e-5, 5e-7]);
    assert_eq!(unknown("41 %", &[0.31, 0.5]).len(), 1);
    assert!(unknown("at most 32 %", &[0.311]).is_empty());
}
