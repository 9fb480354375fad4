//! Pictures as text, held to what was last looked at.
//!
//! A failure here is a change that can be seen. Look at the pictures first
//! (`LOOK.md`, last paragraph), then accept the new ones with
//! `INSTA_UPDATE=always cargo test -p longodds-reports --lib snapshots`.

use crate::{look, pictures, sample, sheet};

#[test]
fn ordinary_pictures_look_as_they_were_last_accepted() {
    for picture in pictures(&sample::ordinary()) {
        insta::with_settings!({
            snapshot_path => "../snapshots",
            prepend_module_to_snapshot => false,
            omit_expression => true,
            description => "accept with INSTA_UPDATE=always cargo test -p longodds-reports --lib snapshots",
        }, {
            insta::assert_snapshot!(picture.name.clone(), picture.inline());
        });
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
