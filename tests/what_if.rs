//! `--set`: what if, as people ask it.

use crate::util::{Dir, SCENARIO};
use longodds_sim::findings::Findings;
use serde_json::Value;

fn in_dir(test: &str) -> Dir {
    let dir = Dir::new(test);
    dir.file("my claim.yaml", SCENARIO);
    dir
}

#[test]
fn a_change_is_told_before_and_after() {
    let dir = in_dir("a_change_is_told_before_and_after");
    let args = ["run", "my claim.yaml", "--flights", "2000", "--set", "gap=1.1 m"];
    let answer = dir.longodds(&[&args[..], &["--set", "mass=0.5 kg"]].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    let said: Vec<&str> = answer.out.lines().collect();
    assert_eq!(said[0], "With `target.stands.at` at 1.1 m (was 0.2 m)");
    assert_eq!(said[1], "With `object.mass` at 0.5 kg (was 0.9 kg)");
    assert!(said[4].contains("fewer") && said[4].ends_with("more than chance"), "{}", answer.out);
    let last = said[said.len() - 1];
    assert!(last.starts_with("To go on: longodds ") && last.contains("'my claim.yaml'"), "{last}");
    assert!(last.ends_with("--set 'gap=1.1 m' --set 'mass=0.5 kg'"), "{last}");
    assert!(dir.path("my claim.set.report.html").exists(), "the claim's own page is left alone");
}

/// To the bit: the record of a run is that of the run without the option.
#[test]
fn what_stands_there_already_changes_nothing() {
    let dir = in_dir("what_stands_there_already_changes_nothing");
    let plain = ["run", "my claim.yaml", "--json", "--flights", "3000"];
    let before = dir.longodds(&plain);
    for set in ["gap=0.2 m", "object.mass=0.9 kg", "target.faces.roof_light.centre.z=3 m"] {
        let after = dir.longodds(&[&plain[..], &["--set", set]].concat());
        let [before, after] =
            [&before.out, &after.out].map(|text| serde_json::from_str::<Findings>(text).unwrap());
        assert!(before == after, "{set}");
    }
    let after = dir.longodds(&[&plain[..], &["--set", "mass=0.9 kg"]].concat());
    let told: Value = serde_json::from_str(&after.out).unwrap();
    assert_eq!(told["what_if"]["change"]["difference"], 0.0);
    assert_eq!(told["what_if"]["more_than_chance"], false);
}

#[test]
fn what_is_wrong_points_into_the_option() {
    let dir = in_dir("what_is_wrong_points_into_the_option");
    let wrong = |set: &str| {
        let answer = dir.longodds(&["run", "my claim.yaml", "--set", set]);
        assert_eq!((answer.status, answer.out.as_str()), (1, ""));
        answer.err
    };
    insta::assert_snapshot!(wrong("mass=0.9 km"), @r"
    error[units::dimension]: expected a mass, found `0.9 km`
     --> --set:1:6
      |
    1 | mass=0.9 km
      |      ^^^^^^ this is a length
      |
      = help: accepted units: kg, g, mg, t, lb, oz
    ");
    insta::assert_snapshot!(wrong("height=4 m"), @r"
    error[set::several]: `height` may mean 2 keys
     --> --set:1:1
      |
    1 | height=4 m
      | ^^^^^^ which one?
      |
      = help: write one of: release.dropped.height, target.faces.roof_light.height
    ");
    insta::assert_snapshot!(wrong("mas=4 kg"), @r"
    error[set::key]: the scenario has no key `mas`
     --> --set:1:1
      |
    1 | mas=4 kg
      | ^^^ not known
      |
      = help: did you mean `object.mass`? `check --keys` lists every key
    ");
}

#[test]
fn one_setting_and_ends_in_either_order_are_swept() {
    let dir = in_dir("one_setting_and_ends_in_either_order");
    let sweep = |ends: &[&str]| {
        let args = ["sweep", "my claim.yaml", "gap", "--flights", "300", "--steps", "3"];
        let answer = dir.longodds(&[&args[..], ends].concat());
        assert_eq!(answer.status, 0, "{}", answer.err);
        answer.out
    };
    assert_eq!(sweep(&["--from", "0 m", "--to", "2 m"]), sweep(&["--from", "2 m", "--to", "0 m"]));
    let one = sweep(&["--from", "0.5 m"]);
    assert!(one.starts_with("With `target.stands.at` at 0.5 m the claim holds"), "{one}");
    assert!(
        one.trim_end()
            .ends_with("To go on: longodds run 'my claim.yaml' --set 'target.stands.at=0.5 m'"),
        "{one}"
    );
}

/// Even where the key that is swept was set as well: no key is set twice.
#[test]
fn the_next_command_can_be_pasted_after_a_sweep_of_what_was_set() {
    let dir = in_dir("the_next_command_can_be_pasted_after_a_sweep");
    let sweep = ["sweep", "my claim.yaml", "gap", "--from", "0.1 m", "--to", "0.1 m"];
    let set = ["--flights", "100", "--set", "gap=0.2 m", "--set", "mass=1 kg"];
    let answer = dir.longodds(&[&sweep[..], &set].concat());
    assert_eq!(answer.status, 0, "{}", answer.err);
    let last = answer.out.lines().last().unwrap_or_default();
    let wanted = "longodds run 'my claim.yaml' --set 'mass=1 kg' --set 'target.stands.at=100 mm'";
    assert_eq!(last, format!("To go on: {wanted}"));
    let run = ["run", "my claim.yaml", "--flights", "100", "--no-rare"];
    let next = ["--set", "mass=1 kg", "--set", "target.stands.at=100 mm"];
    assert_eq!(dir.longodds(&[&run[..], &next].concat()).status, 0);
}
