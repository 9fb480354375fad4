//! What a change is answered with.

use super::{last, lines, open, served, usual};
use crate::{
    util::{Dir, SCENARIO},
    wire::now,
};
use longodds_sim::{answer, findings::Findings, sweep::WhatIf, words::Voice};
use serde_json::{Value, json};
use std::{fs, io::Write, ops::ControlFlow, thread, time::Duration};

fn edit(digest: &Value, sets: &Value) -> Value {
    json!({ "digest": digest, "sets": sets, "seq": 3 })
}

/// What `longodds run` says of the same.
fn ran(dir: &Dir, more: &[&str]) -> Value {
    let args = [&["run", "claim.yaml", "--json"], more].concat();
    let answer = dir.longodds(&args);
    assert_eq!(answer.status, 0, "{}", answer.err);
    serde_json::from_str(&answer.out).unwrap()
}

/// To the letter: the settled page says what the command says of the same version.
#[test]
fn the_settled_number_is_that_of_a_run() {
    let (dir, served) = usual("the_settled_number_is_that_of_a_run");
    let digest = &open(&served)["digest"];
    // A common one, the file as it is, and one that needs the search.
    let cases = [("target.stands.at", "0.4 m"), ("object.mass", "0.9 kg"), ("gap", "2.6 m")];
    for (key, value) in cases {
        let all = lines(&served, &edit(digest, &json!([[key, value]])));
        let done = all.last().unwrap();
        assert_eq!((&done["event"], &done["phase"]), (&json!("done"), &json!("settled")));
        assert!(all.iter().all(|line| line["seq"] == 3));
        let set = format!("{key}={value}");
        let findings: Findings = serde_json::from_value(ran(&dir, &["--set", &set])).unwrap();
        let chance = longodds_reports::chance(&findings).into_string();
        assert_eq!(last(&all, "chance"), chance, "{set}");
        assert_eq!(last(&all, "note"), longodds_reports::story(&findings).into_string());
        let frame = longodds_reports::Frame::page();
        let chart = longodds_reports::chart::chain(&findings, frame).inline();
        assert_eq!(last(&all, "chain"), chart, "{set}");
        // Again, it is remembered, and is the same.
        let again = lines(&served, &edit(digest, &json!([[key, value]])));
        assert_eq!(last(&again, "chance"), chance);
    }
}

/// Estimates sharpen: each number rests on more flights than the one before.
#[test]
fn a_better_number_is_never_replaced_by_a_worse_one() {
    let (_dir, served) = usual("a_better_number_is_never_replaced_by_a_worse_one");
    let all = lines(&served, &edit(&open(&served)["digest"], &json!([["gap", "0.5 m"]])));
    let kinds: Vec<&str> = all.iter().map(|line| line["event"].as_str().unwrap()).collect();
    assert_eq!(kinds[0], "form");
    let chance: Vec<&Value> = all.iter().filter(|line| line["into"] == "chance").collect();
    assert_eq!(chance[0]["phase"], "first");
    let flights: Vec<u64> = chance.iter().map(|line| line["flights"].as_u64().unwrap()).collect();
    assert!(flights.is_sorted() && flights[0] <= 2048 && flights.len() > 2, "{flights:?}");
    // Once it is settled it stays so.
    let settled = |line: &&&Value| ["settled", "search"].iter().any(|it| line["phase"] == *it);
    let first = chance.iter().position(|line| settled(&line)).unwrap();
    assert!(first > 0 && chance[first..].iter().all(|line| settled(&line)));
    let drawn = all.iter().find(|line| line["into"] == "flights").unwrap();
    assert!(drawn["html"].as_str().unwrap().starts_with("<svg"));
}

#[test]
fn a_change_is_held_against_the_pinned_version_as_a_run_does() {
    let (dir, served) = usual("a_change_is_held_against_the_pinned_version");
    let digest = &open(&served)["digest"];
    let sets = json!([["target.stands.at", "0.6 m"], ["object.mass", "0.7 kg"]]);
    let asked = json!({ "digest": digest, "sets": sets, "pinned": [] });
    let all = lines(&served, &asked);
    let what = &ran(&dir, &["--set", "gap=0.6 m", "--set", "mass=0.7 kg"])["what_if"];
    let found: WhatIf = serde_json::from_value(what.clone()).unwrap();
    let said = answer::what_if(&found, Voice::set(longodds_sim::quantity::Show::Si));
    let html = last(&all, "difference");
    for words in [said.before, said.after, said.change[1..].to_owned(), said.draws.unwrap()] {
        assert!(html.contains(&words), "{words}: {html}");
    }
    // The other way about, what was gained is lost.
    let other = json!({ "digest": digest, "sets": [], "pinned": sets });
    let back = lines(&served, &other);
    let gained = format!("{} no longer do", longodds_sim::words::count(found.change.gained));
    assert!(last(&back, "difference").contains(&gained), "{}", last(&back, "difference"));
    // Against itself, nothing changes; one that is wrong says why.
    let same = json!({ "digest": digest, "sets": sets, "pinned": sets });
    assert!(
        last(&lines(&served, &same), "difference").contains("each of 20,000 draws ends the same")
    );
    let wrong = json!({ "digest": digest, "sets": [], "pinned": [["object.mass", "-1 kg"]] });
    assert!(last(&lines(&served, &wrong), "difference").contains("cannot be flown"));
}

/// While something is dragged, the picture of the set-up stands still under it.
#[test]
fn the_views_that_a_page_holds_are_kept() {
    let (_dir, served) = usual("the_views_that_a_page_holds_are_kept");
    let digest = &open(&served)["digest"];
    let of = |gap: &str, views: &Value| {
        let asked = json!({ "digest": digest, "sets": [["gap", gap]], "views": views });
        let mut found = Value::Null;
        let until_set_up = |line: &Value, _| match line["into"] == "setup" {
            true => {
                found = line["views"].clone();
                ControlFlow::Break(())
            }
            false => ControlFlow::Continue(()),
        };
        served.lines("/api/edit", &asked, until_set_up).unwrap();
        found
    };
    let first = of("0.3 m", &Value::Null);
    assert!(first["scale"].as_f64().is_some_and(|scale| scale > 1.0), "{first}");
    assert_eq!(of("2.5 m", &first), first);
    let own = of("2.5 m", &Value::Null);
    assert_ne!(own, first);
    // What was never handed out is not drawn in.
    let with = |key: &str, value: Value| {
        let mut views = first.clone();
        views[key] = value;
        views
    };
    let odd = [
        json!({}),
        json!("scale"),
        with("scale", json!(1e300)),
        with("scale", json!(-1.0)),
        with("height", json!(1e9)),
        with("side", json!({ "across": [5.0, 1.0], "up": [0.0, 9.0], "corner": [0.0, 0.0] })),
    ];
    for views in odd {
        assert_eq!(of("2.5 m", &views), own, "{views}");
    }
}

#[test]
fn what_is_wrong_is_said_at_its_field_and_nothing_is_flown() {
    let (_dir, served) = usual("what_is_wrong_is_said_at_its_field");
    let digest = &open(&served)["digest"];
    for (key, value) in [
        ("object.mass", "heavy"),
        ("object.mass", "-3 kg"),
        ("release.dropped.height", "{range: [9 m, 7 kg]}"),
        ("target.faces.roof_light.width", "]"),
        ("target.faces.roof_light.widht", "2 m"),
    ] {
        let all = lines(&served, &edit(digest, &json!([[key, value]])));
        assert_eq!(all.len(), 1, "{all:?}");
        let problem = &all[0]["problems"][0];
        assert_eq!(problem["key"], key, "{problem}");
        assert!(problem["message"].as_str().is_some_and(|words| !words.is_empty()));
    }
    // And right again.
    let all = lines(&served, &edit(digest, &json!([["object.mass", "3 kg"]])));
    assert_eq!(all.last().unwrap()["event"], "done");
}

#[test]
fn a_file_that_is_wrong_is_served_and_says_so() {
    let (dir, served) =
        served("a_file_that_is_wrong_is_served", &SCENARIO.replace("0.9 kg", "0.9"));
    let told = open(&served);
    assert_eq!(told["problems"][0]["key"], "object.mass", "{told}");
    // Mended by a value, or in the file.
    let all = lines(&served, &edit(&told["digest"], &json!([["object.mass", "1 kg"]])));
    assert_eq!(all.last().unwrap()["event"], "done");
    fs::write(dir.path("claim.yaml"), SCENARIO).unwrap();
    let told = open(&served);
    assert!(told["problems"].as_array().unwrap().is_empty() && told["form"] != "", "{told}");
}

#[test]
fn a_file_that_changed_is_said_before_anything_is_flown() {
    let (dir, served) = usual("a_file_that_changed_is_said");
    let before = open(&served)["digest"].clone();
    let looked = |digest: &Value| {
        served.post("/api/file", &json!({ "digest": digest })).unwrap().json().unwrap()
    };
    assert_eq!(looked(&before)["changed"], false);
    fs::write(dir.path("claim.yaml"), SCENARIO.replace("0.9 kg", "1.1 kg")).unwrap();
    let now = looked(&before);
    assert_eq!(now["changed"], true);
    let all = lines(&served, &edit(&before, &json!([])));
    assert!(all.len() == 1 && all[0]["event"] == "stale" && all[0]["digest"] == now["digest"]);
    assert_eq!(open(&served)["digest"], now["digest"]);
}

/// It bounces and rolls: many times the work of a flight through the air.
fn bounces() -> String {
    SCENARIO.replace("chain:", "ground: concrete\nchain:")
}

/// A newer change of a page ends its older one, which has had its first number.
#[test]
fn a_new_change_ends_the_old_one_but_for_its_first_number() {
    let (_dir, served) = usual("a_new_change_ends_the_old_one");
    let digest = open(&served)["digest"].clone();
    let far = |gap: u32| json!({ "digest": digest, "sets": [["gap", format!("{gap} m")]], "page": "one" });
    thread::scope(|scope| {
        let old = scope.spawn(|| lines(&served, &far(30)));
        thread::sleep(Duration::from_millis(400));
        let new = scope.spawn(|| {
            lines(
                &served,
                &json!({
                    "digest": digest, "sets": [["gap", "0.3 m"]], "page": "one"
                }),
            )
        });
        let old = old.join().unwrap();
        assert_ne!(old.last().unwrap()["event"], "done");
        assert!(old.iter().any(|line| line["into"] == "chance"));
        assert_eq!(new.join().unwrap().last().unwrap()["event"], "done");
    });
}

/// Two pages do not end each other: both come to their end.
#[test]
fn two_pages_are_both_answered() {
    let (_dir, served) = usual("two_pages_are_both_answered");
    let digest = open(&served)["digest"].clone();
    let of =
        |page: &str, gap: &str| json!({ "digest": digest, "sets": [["gap", gap]], "page": page });
    thread::scope(|scope| {
        let one = scope.spawn(|| lines(&served, &of("one", "0.5 m")));
        thread::sleep(Duration::from_millis(300));
        let other = scope.spawn(|| lines(&served, &of("other", "0.6 m")));
        for all in [one.join().unwrap(), other.join().unwrap()] {
            assert_eq!(all.last().unwrap()["event"], "done");
            let of = |line: &&Value| line["into"] == "chance";
            let flights: Vec<u64> =
                all.iter().filter(of).map(|line| line["flights"].as_u64().unwrap()).collect();
            assert!(flights.is_sorted(), "{flights:?}");
        }
    });
}

/// CPU-seconds of a program so far; `None` where the system does not tell.
fn spent(pid: u32) -> Option<f64> {
    let stat = fs::read_to_string(format!("/proc/{pid}/stat")).ok()?;
    let mut fields = stat.rsplit_once(')')?.1.split_whitespace().skip(11);
    let mut ticks = || fields.next()?.parse::<f64>().ok();
    Some((ticks()? + ticks()?) / 100.0)
}

#[test]
fn a_page_that_is_closed_costs_no_more_flights() {
    let (_dir, served) = served("a_page_that_is_closed_costs_no_more", &bounces());
    let digest = open(&served)["digest"].clone();
    let asked = edit(&digest, &json!([["target.stands.at", "45 m"]]));
    let until_first = |line: &Value, _| match line["into"] == "chance" {
        true => ControlFlow::Break(()),
        false => ControlFlow::Continue(()),
    };
    served.lines("/api/edit", &asked, until_first).unwrap();
    // Whatever was begun is ended.
    let settled = now();
    loop {
        let Some(before) = spent(served.pid()) else { return };
        thread::sleep(Duration::from_millis(500));
        if spent(served.pid()).unwrap() - before < 0.05 {
            break;
        }
        assert!(settled.elapsed() < Duration::from_secs(8), "it flies on for nobody");
    }
}

/// A page that asks and does not read holds up no other.
#[test]
fn a_page_that_does_not_read_holds_up_no_other() {
    let (_dir, served) = usual("a_page_that_does_not_read");
    let digest = open(&served)["digest"].clone();
    let body = edit(&digest, &json!([["gap", "1 m"]])).to_string();
    let deaf: Vec<_> = (0..8)
        .map(|_| {
            let mut socket = served.socket().unwrap();
            let head = served.head("/api/edit", body.len(), "");
            socket.write_all(format!("{head}{body}").as_bytes()).unwrap();
            socket
        })
        .collect();
    let all = lines(&served, &edit(&digest, &json!([["gap", "0.5 m"]])));
    assert_eq!(all.last().unwrap()["event"], "done");
    drop(deaf);
}
