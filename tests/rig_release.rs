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

const SHOTS: &str = include_str!("../scenarios/rigs/crossbow.csv");

fn inputs(dir: &Dir, name: &str) -> serde_json::Value {
    let checked = dir.longodds(&["check", "claim.yaml", "--json"]);
    assert_eq!(checked.status, 0, "{}", checked.err);
    let checked: serde_json::Value = serde_json::from_str(&checked.out).unwrap();
    let inputs = checked["inputs"].as_array().unwrap().clone();
    inputs.into_iter().find(|input| input["name"] == name).unwrap()
}

/// One log, named in the rig's file or in the scenario, serves every command alike.
#[test]
fn shots_of_a_rig_narrow_every_flight_from_it() {
    let own = format!("{RIG}shots: crossbow.csv\n");
    let at_release = CLAIM.replace("setting: 8 ft", "setting: 8 ft\n    shots: rigs/crossbow.csv");
    let [before, by_rig, by_release] =
        [(CLAIM, RIG), (CLAIM, &own), (&at_release, RIG)].map(|(claim, rig): (&str, &str)| {
            let dir = with("shots_of_a_rig_narrow", claim, rig);
            dir.file("rigs/crossbow.csv", SHOTS);
            let [speed, doubt] = ["release.rig.speed", "release.rig.doubt"]
                .map(|name| inputs(&dir, name)["quantiles"].clone());
            let answer = dir.longodds(&["check", "claim.yaml"]);
            let asked = ["rig", "rigs/crossbow.yaml", "--setting", "8 ft", "--json"];
            let told = dir.longodds(&asked);
            let told: serde_json::Value = serde_json::from_str(&told.out).unwrap();
            (speed, doubt, answer, told["predictions"][0]["speed"].clone(), told["shots"].clone())
        });
    assert_eq!(by_rig.0, by_release.0);
    assert_eq!(by_rig.1, by_release.1);
    let wide = |doubt: &serde_json::Value| doubt[2].as_f64().unwrap() / doubt[0].as_f64().unwrap();
    assert!(wide(&by_rig.1) < 0.6 * wide(&before.1) + 0.4, "{} {}", by_rig.1, before.1);
    // The rig's own prediction is the middle that flies.
    assert_eq!((before.4.as_u64(), by_rig.4.as_u64()), (Some(0), Some(3)));
    let [flown, told] = [&by_rig.0[1], &by_rig.3[1]].map(|x| x.as_f64().unwrap());
    assert!((flown / told - 1.0).abs() < 1e-6, "{flown} beside {told}");
    assert!(by_rig.2.out.contains("3 shots behind it"), "{}", by_rig.2.out);
    assert!(by_rig.2.err.contains("beyond anything the rig has shot"), "{}", by_rig.2.err);
}

#[test]
fn what_is_wrong_with_a_rigs_shots_is_said_at_its_place() {
    let at_release = CLAIM.replace("setting: 8 ft", "setting: 8 ft\n    shots: rigs/crossbow.csv");
    for (shots, words) in [(None, "no such file"), (Some("shot,spede\n1,2\n"), "no column `spede`")]
    {
        let dir = with("what_is_wrong_with_a_rigs_shots", &at_release, RIG);
        if let Some(shots) = shots {
            dir.file("rigs/crossbow.csv", shots);
        }
        let answer = dir.longodds(&["check", "claim.yaml"]);
        assert_eq!(answer.status, 1, "{}", answer.err);
        assert!(answer.err.contains(":22:") && answer.err.contains(words), "{}", answer.err);
    }
}

/// The fit needs no log on its line where the rig names it; shots are counted from it.
#[test]
fn a_log_is_named_once() {
    let dir = with("a_log_is_named_once", CLAIM, &format!("{RIG}shots: crossbow.csv\n"));
    dir.file("rigs/crossbow.csv", SHOTS);
    let [short, long] = [
        &["calibrate", "rigs/crossbow.yaml"][..],
        &["calibrate", "rigs/crossbow.yaml", "rigs/crossbow.csv"],
    ]
    .map(|args| dir.longodds(args));
    assert_eq!((short.status, &short.out), (0, &long.out), "{}", short.err);
    let said = dir.longodds(&["trials", "say", "--log", "rigs/crossbow.csv"]);
    let by_hand = dir.longodds(&["trials", "say", "--shots", "3", "--events", "1"]);
    assert_eq!((said.status, &said.out), (0, &by_hand.out), "{}", said.err);
    let none = dir.file("rigs/crossbow.yaml", RIG).longodds(&["calibrate", "rigs/crossbow.yaml"]);
    assert!(none.status == 2 && none.err.contains("which shots?"), "{}", none.err);
}
