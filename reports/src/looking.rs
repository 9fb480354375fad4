//! Checks of every picture of every extreme record, and a way to look at them.

use crate::{
    Frame,
    camera::{self, Format, Ground},
    page,
    picture::Picture,
    pictures, sample, test_day,
};
use longodds_sim::findings::Findings;

fn everything() -> Vec<(&'static str, Picture)> {
    drawn(sample::all())
}

fn drawn(records: Vec<(&'static str, Findings)>) -> Vec<(&'static str, Picture)> {
    let all = |(name, findings): &(&'static str, Findings)| {
        let name = *name;
        pictures(findings).into_iter().map(move |picture| (name, picture)).collect::<Vec<_>>()
    };
    records.iter().flat_map(all).chain(beside()).collect()
}

fn beside() -> Vec<(&'static str, Picture)> {
    let evidence = sample::evidence::all();
    evidence.iter().map(|(name, one)| (*name, one.picture(Frame::page()))).collect()
}

#[test]
fn no_text_leaves_its_frame() {
    for (record, picture) in drawn(sample::in_both_units()) {
        assert_eq!(picture.strays(), Vec::<String>::new(), "{record}/{}", picture.name);
    }
}

#[test]
fn no_text_runs_into_another() {
    for (record, picture) in drawn(sample::in_both_units()) {
        assert_eq!(picture.collisions(), Vec::<String>::new(), "{record}/{}", picture.name);
    }
}

#[test]
fn no_line_runs_through_a_text() {
    for (record, picture) in drawn(sample::in_both_units()) {
        assert_eq!(picture.struck_out(), Vec::<String>::new(), "{record}/{}", picture.name);
    }
}

#[test]
fn no_text_hides_a_mark() {
    for (record, picture) in drawn(sample::in_both_units()) {
        assert_eq!(picture.hiding(), Vec::<String>::new(), "{record}/{}", picture.name);
    }
}

fn folder() -> &'static str {
    let folder = option_env!("LOOK").unwrap_or("target/look");
    std::fs::create_dir_all(folder).unwrap();
    folder
}

/// Not a test: `cargo test -p longodds-reports -- --ignored write_every_picture`
/// with `LOOK` set to a folder writes all of them there.
#[test]
#[ignore = "writes pictures for a person to look at"]
fn write_every_picture() {
    let folder = folder();
    for (record, picture) in everything() {
        let path = format!("{folder}/{record}-{}", picture.name);
        std::fs::write(format!("{path}.svg"), picture.svg()).unwrap();
        std::fs::write(format!("{path}.png"), picture.png(1.0)).unwrap();
    }
}

/// Not a test: writes every page for a browser to look at (`tests/browser`).
#[test]
#[ignore = "writes pages for a browser to look at"]
fn write_every_page() {
    let folder = folder();
    for (record, findings) in sample::all() {
        std::fs::write(format!("{folder}/{record}.html"), page(&findings, &[])).unwrap();
    }
    let beside: Vec<_> = sample::evidence::all().into_iter().map(|(_, one)| one).collect();
    std::fs::write(format!("{folder}/beside.html"), page(&sample::ordinary(), &beside)).unwrap();
    std::fs::write(format!("{folder}/test-day.html"), test_day(&sample::test_day())).unwrap();
    write_frames(&format!("{folder}/frames"));
    // A record of a real run, if one is named.
    if let Some(path) = option_env!("RECORD") {
        let text = std::fs::read_to_string(path).unwrap();
        let findings = serde_json::from_str(&text).unwrap();
        std::fs::write(format!("{folder}/real.html"), page(&findings, &[])).unwrap();
    }
}

/// Camera frames as SVG and as PNG, for a browser to compare.
fn write_frames(folder: &str) {
    std::fs::create_dir_all(folder).unwrap();
    for (name, format) in [("wide", Format::Wide), ("large", Format::Large), ("tall", Format::Tall)]
    {
        for frame in camera::frames(&sample::ordinary(), format, Ground::Light) {
            let (path, scale) = (format!("{folder}/{name}-{}", frame.name), format.scale());
            std::fs::write(format!("{path}.svg"), frame.svg_at(u32::from(scale))).unwrap();
            std::fs::write(format!("{path}.png"), frame.png(f32::from(scale))).unwrap();
        }
    }
}

/// Browsers would fetch these; a page from one file must not need them.
#[test]
fn the_page_asks_for_nothing_from_outside_and_has_one_main_heading() {
    for (record, findings) in sample::all() {
        let html = page(&findings, &[]);
        for outside in ["<script", "<link", "<img", "@import", "src=\"http", "url(http"] {
            assert!(!html.contains(outside), "{record}: {outside}");
        }
        assert_eq!(html.matches("<h1").count(), 1, "{record}");
        assert!(html.len() < 3_000_000, "{record}: {} bytes", html.len());
    }
}

#[test]
fn what_a_user_wrote_is_escaped() {
    let mut findings = sample::ordinary();
    findings.claim_text = "<script>alert(1)</script>".to_owned();
    findings.faces[0].name = "<b>face</b>".to_owned();
    let html = page(&findings, &[]);
    assert!(!html.contains("<script>") && !html.contains("<b>face"));
    assert!(html.contains("&lt;script&gt;"));
}

#[test]
fn every_link_leads_to_a_place_on_the_page_and_every_picture_has_words() {
    let html = page(&sample::ordinary(), &sample::evidence::ordinary());
    for link in html.split("href=\"#").skip(1) {
        let id = link.split('"').next().unwrap();
        assert!(html.contains(&format!("id=\"{id}\"")), "no place `{id}`");
    }
    assert_eq!(html.matches("<svg").count(), html.matches("<desc").count());
    assert_eq!(html.matches("<svg").count(), 17);
}

/// Prose of a page: without its charts, styles and what is quoted as typed.
fn prose_of(html: &str) -> String {
    let mut left = html.to_owned();
    for (from, to) in [("<style", "</style>"), ("<svg", "</svg>"), ("<pre", "</pre>")] {
        while let Some(start) = left.find(from) {
            let end = left[start..].find(to).map_or(left.len(), |at| start + at + to.len());
            left.replace_range(start..end, "");
        }
    }
    left
}

#[test]
fn a_source_stands_once_and_no_mark_of_the_text_is_left() {
    let mut findings = sample::ordinary();
    let barrier = findings.barrier.as_ref().unwrap().source.clone();
    findings.models[0].source.clone_from(&barrier);
    findings.models[0].valid = "slower than sound; tell it by `surface`".to_owned();
    let prose = prose_of(&page(&findings, &[]));
    assert_eq!(prose.matches(&barrier).count(), 1);
    assert!(!prose.contains('`') && prose.contains("<code>surface</code>"));
}

#[test]
fn what_was_not_looked_at_is_not_called_sound() {
    let mut findings = sample::ordinary();
    findings.shaky.clear();
    assert!(page(&findings, &[]).contains("None was found"));
    findings.claim.held = 0;
    let html = page(&findings, &[]);
    assert!(!html.contains("None was found") && html.contains("Not known: no plain flight held"));
}

#[test]
fn a_claim_without_a_barrier_has_no_empty_part_for_one() {
    let mut findings = sample::ordinary();
    assert!(page(&findings, &[]).contains("id=\"barrier\""));
    findings.barrier = None;
    findings.gates.retain(|gate| gate.gate != longodds_sim::scenario::Gate::Perforates);
    assert!(!page(&findings, &[]).contains("\"#barrier\""));
}

#[test]
fn the_bound_of_what_never_happened_is_said_once() {
    let mut findings = sample::ordinary();
    let claim = &mut findings.claim;
    (claim.probability, claim.held, claim.low, claim.high) = (0.0, 0, 0.0, 3e-4);
    let html = page(&findings, &[]);
    let head = html.split("</header>").next().unwrap();
    assert!(head.contains("at most 1\u{a0}in 3,300") && !head.contains("fewer than"), "{head}");
}
