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

#[test]
fn the_sample_sheet_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/look.svg");
    let drawn = sheet::sheet(look::LIGHT).svg();
    if option_env!("INSTA_UPDATE") == Some("always") {
        std::fs::write(path, &drawn).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    assert!(kept == drawn, "look.svg is not what `look` draws now: accept as said above");
}
