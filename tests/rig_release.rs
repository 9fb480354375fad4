//! A scenario that fires a rig, as people use it.

use crate::util::Dir;

const CLAIM: &str = include_str!("../scenarios/crossbow_billet.yaml");
const RIG: &str = include_str!("../scenarios/rigs/crossbow.yaml");

fn with(test: &str, claim: &str, rig: &str) -> Dir {
    let dir = Dir::new(test);
    std::fs::create_dir_all(dir.path("rigs")).unwrap();
    dir.file("claim.yaml", claim).file("rigs/crossbow.yaml", rig);
    dir
}

#[test]
fn the_speed_is_the_rigs_own_and_its_doubt_is_unknown() {
    let dir = with("the_speed_is_the_rigs_own", CLAIM, RIG);
    let told = dir.longodds(&["rig", "rigs/crossbow.yaml", "--setting", "8 ft", "--json"]);
    let told: serde_json::Value = serde_json::from_str(&told.out).unwrap();
    let checked = dir.longodds(&["check", "claim.yaml", "--json"]);
    assert_eq!(checked.status, 0, "{}", checked.err);
    let checked: serde_json::Value = serde_json::from_str(&checked.out).unwrap();
    let input = |name: &str| {
        let inputs = checked["inputs"].as_array().unwrap().clone();
        inputs.into_iter().find(|input| input["name"] == name).unwrap()
    };
    let speed = input("release.rig.speed");
    let median = speed["quantiles"][1].as_f64().unwrap();
    let wanted = told["predictions"][0]["speed"][1].as_f64().unwrap();
    // The rig's own prediction integrates its doubt; both speak of its middle.
    assert!((median / wanted - 1.0).abs() < 0.02, "{median} beside {wanted}");
    assert_eq!(input("release.rig.doubt")["unknown"], true);
}

#[test]
fn a_rig_fires_through_to_the_barrier() {
    let dir = with("a_rig_fires_through_to_the_barrier", CLAIM, RIG);
    let answer = dir.longodds(&["run", "claim.yaml", "--flights", "2000"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.out.contains("release.rig.doubt"), "{}", answer.out);
}

#[test]
fn what_is_wrong_with_a_rig_is_said_at_its_place() {
    let name = "what_is_wrong_with_a_rig";
    for (claim, rig, place, words) in [
        (CLAIM.replace("setting: 8 ft", "setting: 8 kg"), RIG.to_owned(), ":21:", "this is a mass"),
        (CLAIM.replace("rigs/crossbow", "rigs/none"), RIG.to_owned(), ":20:", "no such file"),
        (CLAIM.to_owned(), RIG.replace("cord:", "chord:"), ":20:", "has problems"),
    ] {
        let answer = with(name, &claim, &rig).longodds(&["check", "claim.yaml"]);
        assert_eq!(answer.status, 1, "{}", answer.err);
        assert!(answer.err.contains(place) && answer.err.contains(words), "{}", answer.err);
    }
}

#[test]
fn another_mass_than_the_rigs_is_a_warning() {
    let claim = CLAIM.replace("mass: 4.5 lb", "mass: 9 lb");
    let answer = with("another_mass_than_the_rigs", &claim, RIG).longodds(&["check", "claim.yaml"]);
    assert_eq!(answer.status, 0, "{}", answer.err);
    assert!(answer.err.contains("the rig throws another mass"), "{}", answer.err);
}
