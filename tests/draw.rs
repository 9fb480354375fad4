//! `report` and `draw` on a record of our own invention (`made_up_findings.json`,
//! kept current by a test of the library that draws).

use crate::util::Dir;
use std::fs;

const MADE_UP: &str = include_str!("made_up_findings.json");

#[test]
fn a_page_is_drawn_again_from_findings_alone() {
    let dir = Dir::new("a_page_is_drawn_again_from_findings_alone");
    dir.file("findings.json", MADE_UP);
    let answer = dir.longodds(&["report", "findings.json"]);
    assert_eq!((answer.status, answer.err.as_str()), (0, ""));
    assert_eq!(answer.out, "report.html\nTo go on: longodds draw findings.json\n");
    let page = fs::read_to_string(dir.path("report.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("goes through the shop window"));
    let streamed = dir.longodds_with(&["report", "-", "--out", "-"], MADE_UP);
    assert_eq!(streamed.out, page);
}

#[test]
fn what_is_no_findings_is_one_clear_error() {
    let dir = Dir::new("what_is_no_findings_is_one_clear_error");
    dir.file("claim.yaml", "claim: no").file("other.json", "{}");
    dir.file("new.json", r#"{"version": 999}"#).file("half.json", r#"{"version": 1}"#);
    for name in ["claim.yaml", "other.json", "new.json", "half.json"] {
        let answer = dir.longodds(&["report", name]);
        assert_eq!((answer.status, answer.out.as_str()), (1, ""), "{name}");
        assert!(answer.err.contains(name) && answer.err.contains("help"), "{}", answer.err);
    }
    assert_eq!(dir.longodds(&["draw", "nowhere.json"]).status, 3);
}

#[test]
fn charts_frames_and_films_go_into_a_folder() {
    let dir = Dir::new("charts_frames_and_films_go_into_a_folder");
    dir.file("findings.json", MADE_UP);
    let names = |folder: &str| -> Vec<String> {
        let entries = fs::read_dir(dir.path(folder)).unwrap();
        entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect()
    };
    assert_eq!(dir.longodds(&["draw", "findings.json"]).status, 0);
    assert_eq!(names("pictures").len(), 20, "ten charts, each as SVG and PNG");
    let frames = ["draw", "findings.json", "--camera", "wide", "--out", "frames"];
    assert_eq!(dir.longodds(&frames).status, 0);
    let odds = fs::read(dir.path("frames/odds.png")).unwrap();
    // Source: PNG (third edition), 11.2.2: width and height follow the first
    // chunk's name, four bytes each, most significant first.
    assert_eq!(odds[16..24], [0, 0, 7, 128, 0, 0, 4, 56]);
    let film = [&frames[..4], &["--film", "0.1", "--out", "film"]].concat();
    assert_eq!(dir.longodds(&film).status, 0);
    assert!(names("film").contains(&"film.gif".to_owned()));
    let animated = fs::read(dir.path("film/film.apng")).unwrap();
    // Source: PNG (third edition), 11.3.4.1: an animated PNG has the chunk acTL.
    assert!(animated.windows(4).any(|name| name == b"acTL"));
    for (size, pixels) in [("large", [3840_u32, 2160]), ("tall", [1080, 1920])] {
        let args = ["draw", "findings.json", "--camera", size, "--ground", "light", "--filled"];
        assert_eq!(dir.longodds(&[&args[..], &["--out", size]].concat()).status, 0);
        let odds = fs::read(dir.path(&format!("{size}/odds.png"))).unwrap();
        assert_eq!(odds[16..24], pixels.map(u32::to_be_bytes).concat()[..]);
        let svg = fs::read_to_string(dir.path(&format!("{size}/odds.svg"))).unwrap();
        assert!(svg.contains("fill=\"#ffffff\""), "the ground is filled");
    }
    assert_eq!(dir.longodds(&["draw", "findings.json", "--filled"]).status, 2);
    let wrong = [&frames[..4], &["--film", "0"]].concat();
    assert_eq!(dir.longodds(&wrong).status, 1);
}
