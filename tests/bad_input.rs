//! Whatever is thrown at it: the right status, one clear message, no panic,
//! nothing half-written.

use crate::util::{Answer, Dir, SCENARIO};
use std::fs;

/// The one error of `check` on this text, without the picture.
fn error_of(test: &str, text: impl AsRef<[u8]>) -> String {
    let dir = Dir::new(test);
    dir.file("a.yaml", text);
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!((answer.status, answer.out.as_str()), (1, ""), "{}", answer.err);
    assert_eq!(answer.err.matches("error").count(), 1, "{}", answer.err);
    assert_eq!(dir.names(), ["a.yaml"]);
    let first = answer.err.lines().next().unwrap_or_default().to_owned();
    let label = answer.err.lines().find(|line| line.contains('^'));
    match label {
        Some(label) => {
            format!("{first} | {}", label.trim_start_matches(['|', ' ']))
        }
        None => first,
    }
}

fn spoilt(test: &str, from: &str, to: &str) -> String {
    assert!(SCENARIO.contains(from));
    error_of(test, SCENARIO.replacen(from, to, 1))
}

#[test]
fn an_empty_file_is_one_clear_error() {
    insta::assert_snapshot!(error_of("an_empty_file", ""), @"error[scenario::empty]: the scenario is empty");
    insta::assert_snapshot!(error_of("only_comments", "# later\n"), @"error[scenario::empty]: the scenario is empty");
}

#[test]
fn slips_of_units_are_one_clear_error() {
    insta::assert_snapshot!(spoilt("wrong_unit", "0.9 kg", "0.9 m"), @"error[units::dimension]: expected a mass, found `0.9 m` | ^^^^^ this is a length");
    insta::assert_snapshot!(spoilt("no_unit", "0.9 kg", "0.9"), @"error[units::missing]: expected a mass, found `0.9` | ^^^ the unit is missing");
    insta::assert_snapshot!(spoilt("odd_unit", "0.9 kg", "0.9 ton"), @"error[units::unknown]: expected a mass, found `0.9 ton` | ^^^^^^^ `ton` is not a known unit");
}

#[test]
fn numbers_that_cannot_be_are_one_clear_error() {
    insta::assert_snapshot!(spoilt("negative_mass", "0.9 kg", "-0.9 kg"), @"error[scenario::range]: `-0.9 kg` is out of range | ^^^^^^^ must be greater than zero");
    insta::assert_snapshot!(spoilt("huge", "0.9 kg", "1e308 kg"), @"error[scenario::range]: `1e308 kg` is out of range | ^^^^^^^^ beyond anything that can be flown here (at most 1000 t)");
    insta::assert_snapshot!(spoilt("beyond_numbers", "0.9 kg", "1e400 kg"), @"error[units::number]: expected a mass, found `1e400 kg` | ^^^^^^^^ the number is not finite");
    insta::assert_snapshot!(spoilt("nan", "0.9 kg", ".nan"), @"error[units::number]: expected a mass, found `.nan` | ^^^^ the number is not finite");
    insta::assert_snapshot!(spoilt("nan_kg", "0.9 kg", "nan kg"), @"error[units::number]: expected a mass, found `nan kg` | ^^^^^^ the number is not finite");
    insta::assert_snapshot!(spoilt("chance", "object:", "air: {humidity: 130 %}\nobject:"), @"error[scenario::range]: `130 %` is out of range | ^^^^^ must lie between 0 % and 100 %");
}

#[test]
fn a_target_inside_the_ground_is_one_clear_error() {
    insta::assert_snapshot!(spoilt("ground", "[0 m, 0 m, 3 m]", "[0 m, 0 m, -3 m]"), @"error[scenario::sense]: `roof_light` reaches into the ground | ^^^^ its lowest point is at -3.08 m");
}

#[test]
fn broken_yaml_is_one_clear_error() {
    insta::assert_snapshot!(spoilt("tabs", "  mass", "\tmass"), @"error[scenario::syntax]: the scenario is not readable YAML | ^ a tab stands where YAML wants spaces");
    insta::assert_snapshot!(spoilt("bracket", "[7 m, 9 m]", "[7 m, 9 m"), @"error[scenario::syntax]: the scenario is not readable YAML | ^ mismatched bracket '[' closed by '}'");
    insta::assert_snapshot!(spoilt("twice", "  mass: 0.9 kg", "  mass: 0.9 kg\n  mass: 1 kg"), @"error[scenario::syntax]: the scenario is not readable YAML | ^^^^ `mass` is written twice");
    insta::assert_snapshot!(error_of("two_documents", format!("{SCENARIO}---\n{SCENARIO}")), @"error[scenario::syntax]: the scenario is not readable YAML | ^^^ a second document begins here");
    insta::assert_snapshot!(error_of("prose", "the buoy broke off the jetty\n"), @"error[scenario::shape]: a scenario is a group of keys | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ found a single value");
}

#[test]
fn unknown_keys_are_all_shown() {
    let dir = Dir::new("unknown_keys_are_all_shown");
    dir.file("a.yaml", SCENARIO.replace("    spin:", "    spinn:").replace("chain:", "chian:"));
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("did you mean `spin`?"), "{}", answer.err);
    assert!(answer.err.contains("did you mean `chain`?"), "{}", answer.err);
    assert_eq!(answer.err.matches("error[").count(), 2, "{}", answer.err);
}

#[test]
fn an_alias_bomb_is_refused_at_once() {
    let mut text = "claim: &a0 [1, 2, 3]\n".to_owned();
    for i in 1..12 {
        let before = format!("*a{}", i - 1);
        text += &format!("k{i}: &a{i} [{}]\n", [before.as_str(); 9].join(", "));
    }
    insta::assert_snapshot!(error_of("alias_bomb", text), @"error[scenario::syntax]: the scenario is not readable YAML | ^^^ this grows out of all proportion");
    insta::assert_snapshot!(error_of("deep", "[".repeat(5000)), @"error[scenario::syntax]: the scenario is not readable YAML | ^ recursion limit exceeded");
}

#[test]
fn a_file_of_50_megabytes_is_refused_at_once() {
    let dir = Dir::new("a_file_of_50_megabytes_is_refused_at_once");
    dir.file("a.yaml", "");
    let file = fs::File::options().write(true).open(dir.path("a.yaml")).unwrap();
    file.set_len(50_000_000).unwrap();
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!((answer.status, answer.out.as_str()), (1, ""));
    insta::assert_snapshot!(answer.err, @r"
    error: `a.yaml` is longer than 1048576 bytes
     |
     = help: is this the right file? measured data go in a CSV file beside the scenario
    ");
}

#[test]
fn text_that_is_not_utf_8_is_one_clear_error() {
    insta::assert_snapshot!(error_of("not_utf_8", b"claim: a\nshow: \xff\xfe\n"), @"error: `a.yaml` is not UTF-8 text (line 2)");
}

#[test]
fn missing_measured_data_are_shown_where_they_are_named() {
    let spread = "{measured: {file: drops.csv, column: height, unit: m}}";
    insta::assert_snapshot!(spoilt("no_csv", "{range: [7 m, 9 m]}", spread), @"error[scenario::measured]: cannot use the measured data of `drops.csv` | ^^^^^^^^^ no such file or folder");
}

#[test]
fn files_that_cannot_be_read_end_with_status_3() {
    let dir = Dir::new("files_that_cannot_be_read_end_with_status_3");
    fs::create_dir(dir.path("folder.yaml")).unwrap();
    let status_and_words = |answer: Answer| (answer.status, answer.err.trim_end().to_owned());
    assert_eq!(
        status_and_words(dir.longodds(&["check", "nowhere.yaml"])),
        (3, "error: cannot read `nowhere.yaml`: no such file or folder".to_owned())
    );
    assert_eq!(
        status_and_words(dir.longodds(&["check", "folder.yaml"])),
        (3, "error: cannot read `folder.yaml`: it is a folder".to_owned())
    );
}

#[test]
fn a_wrong_command_line_ends_with_status_2() {
    let dir = Dir::new("a_wrong_command_line_ends_with_status_2");
    for args in [&["chekc", "a.yaml"][..], &["check"], &["check", "--jsn", "a.yaml"], &[]] {
        let answer = dir.longodds(args);
        assert_eq!((answer.status, answer.out.as_str()), (2, ""), "{args:?}");
        assert!(!answer.err.is_empty());
    }
}

/// What stands a step too far out is told where it belongs; what has no such place
/// has its neighbours told.
#[test]
fn a_key_too_far_out_is_told_where_it_belongs() {
    let dir = Dir::new("a_key_too_far_out");
    let help = |key: &str, under: &str| {
        let text = include_str!("../scenarios/barn_pumpkin.yaml");
        dir.file(
            "a.yaml",
            text.replacen(&format!("{under}:"), &format!("{under}:\n  {key}: 1 m"), 1),
        );
        dir.longodds(&["check", "a.yaml"]).err
    };
    let said = help("surface", "\nobject");
    assert!(said.contains("`surface` belongs further in, to `object.shape.sphere`"), "{said}");
    let said = help("rake", "\ntarget");
    assert!(said.contains("`rake` belongs further in, to `target.faces."), "{said}");
    let said = help("zebra", "\nobject");
    assert!(said.contains("its keys are: like, shape, mass"), "{said}");
}
