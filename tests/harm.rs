//! Harm criteria as a user picks them.

use crate::util::Dir;
use longodds_sim::findings::Findings;

/// A rod that falls without drag and strikes a table end on; ours.
const ROD: &str = "\
claim: A falling bar harms whoever lies on the table.
show: si
object: {shape: {rod: {length: 60 cm, diameter: 2 cm}}, mass: 1 kg, drag_factor: 0}
release: {dropped: {height: 8 m, nose_up: -90 deg}}
target:
  stands: {at: 0 m}
  faces: {table: {centre: [0 m, 0 m, 1 m], width: 2 m, height: 2 m, rake: 90 deg, aim: true}}
chain: [released, reaches, strikes, harms]
harm: HARM
";

fn run(dir: &Dir, harm: &str) -> (String, Findings) {
    dir.file("a.yaml", ROD.replace("HARM", harm));
    let args = ["run", "a.yaml", "--flights", "50", "--no-rare", "--no-doubts"];
    dir.told_twice(&args)
}

/// Source: m g h with 8 m less half a bar less 1 m: 6.7 m, 65.7 J, by hand.
/// The end of 3.14 cm² makes that 20.9 J/cm²: between the conservative 10 and
/// the even chance of 23.99 (Bir et al. 2005). 79 J is not reached, 14.9 J is.
#[test]
fn each_criterion_judges_the_same_blow_as_it_was_published() {
    let dir = Dir::new("each_criterion_judges");
    for (name, harms) in [
        ("launch_debris", true),
        ("drone_over_people", true),
        ("hazardous_fragment", false),
        ("skin_penetration", true),
        ("skin_penetration_chest", false),
        ("{energy: 65 J}", true),
        ("{energy: 66.5 J}", false),
    ] {
        let (words, found) = run(&dir, name);
        assert_eq!(found.gates[3].passed > 0, harms, "{name}: {words}");
        assert!(words.contains("Harm: "), "{words}");
        assert!(words.contains("eyes, throat, children"), "the caution stands beside: {words}");
    }
}

#[test]
fn the_answer_says_whom_a_criterion_was_made_for_and_where_it_stops() {
    let dir = Dir::new("the_answer_says_whom");
    let (words, found) = run(&dir, "chest_blunt");
    assert!(words.contains("an adult man of 70 kg"), "{words}");
    // 11.5 m/s: slower than the 20 m/s that the criterion starts at.
    assert!(words.contains("harm criterion was not made for"), "{words}");
    let harm = found.harm.unwrap();
    assert_eq!(harm.name, "chest_blunt");
    assert!(harm.source.contains("never for what is sharp"));
    dir.file("a.yaml", ROD.replace("HARM", "hazardous_fragmet"));
    let said = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(said.status, 1);
    assert!(said.err.contains("did you mean `hazardous_fragment`?"), "{}", said.err);
}

/// Source: closed form (derived), by hand: 1 kg at sqrt(2 g 6.7) = 11.463 m/s
/// gives a head of 4.5 kg 2.084 m/s; in 5 ms as half a sine that is 66.8 g and
/// a HIC of 0.41464565 · 66.77^2.5 · 0.005 = 75.5.
#[test]
fn a_blow_to_the_head_is_told_with_what_both_families_make_of_it() {
    let dir = Dir::new("a_blow_to_the_head_is_told");
    let (words, found) = run(&dir, "{head_hic: {lasts: 5 ms}}");
    assert_eq!(found.gates[3].passed, 0, "75 is less than 700");
    let harm = found.harm.unwrap();
    let reading = harm.reading.unwrap();
    assert!((reading.hic - 75.5).abs() < 1.0, "{reading:?}");
    let told = words.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in ["HIC15 of 7", "assumed pulse of 5 ms", "NHTSA", "Prasad"] {
        assert!(told.contains(word), "{words}");
    }
    assert!(words.contains("the pulse is ASSUMED") && words.contains("571.208"), "{words}");
    assert!(words.contains("eyes, throat, children"), "{words}");
    // The end of the bar is 2 cm wide: a local load, and counted.
    assert!(words.contains("harm criterion was not made for"), "{words}");
    let (_, found) = run(&dir, "{head_hic: {lasts: 5 ms, limit: 70}}");
    assert_eq!(found.gates[3].passed, 50, "75 is more than 70");
}
