//! Pictures as text, held to what was last looked at.
//!
//! A failure here is a change that can be seen. Look at the pictures first
//! (`LOOK.md`, last paragraph), then accept the new ones with
//! `INSTA_UPDATE=always cargo test -p longodds-reports --lib snapshots`.

use crate::{
    Frame,
    camera::{self, Format, Ground},
    look,
    picture::Picture,
    pictures, sample, sheet,
};

/// Holds a picture to the kept one of this name.
fn held(name: &str, picture: &Picture) {
    insta::with_settings!({
        snapshot_path => "../snapshots",
        prepend_module_to_snapshot => false,
        omit_expression => true,
        description => "accept with INSTA_UPDATE=always cargo test -p longodds-reports --lib snapshots",
    }, {
        insta::assert_snapshot!(name, picture.inline());
    });
}

#[test]
fn ordinary_pictures_look_as_they_were_last_accepted() {
    for picture in pictures(&sample::ordinary()) {
        held(&picture.name, &picture);
    }
}

#[test]
fn what_other_commands_draw_looks_as_it_was_last_accepted() {
    let shown = ["ordinary", "sequential"];
    let all = sample::evidence::all();
    for (name, one) in all.iter().filter(|(name, _)| shown.contains(name)) {
        let picture = one.picture(Frame::page());
        held(&format!("{name}-{}", picture.name), &picture);
    }
}

#[test]
fn camera_frames_look_as_they_were_last_accepted() {
    for (name, format) in [("wide", Format::Wide), ("tall", Format::Tall)] {
        for picture in camera::frames(&sample::bouncing(), format, Ground::Dark) {
            held(&format!("camera-{name}-{}", picture.name), &picture);
        }
    }
}

/// A file that is kept beside the code must be what the code makes now.
fn kept(path: &str, made: &str) {
    let path = format!("{}/{path}", env!("CARGO_MANIFEST_DIR"));
    if option_env!("INSTA_UPDATE") == Some("always") {
        std::fs::write(&path, made).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == made, "{path} is not what is made now: accept as said above");
}

#[test]
fn the_sample_sheet_is_current() {
    kept("look.svg", &sheet::sheet(look::LIGHT).svg());
}

#[test]
fn the_record_that_the_commands_are_tested_with_is_current() {
    let json = serde_json::to_string_pretty(&sample::single()).unwrap();
    kept("../tests/made_up_findings.json", &(json + "\n"));
}
