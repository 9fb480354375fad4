//! Barriers as a user writes them, and what is then said of them.

use crate::util::{Dir, SCENARIO};
use longodds_sim::findings::Findings;

const TOLD: &str = "{energy: {between: [8 J, 35 J], skew: true, unknown: true}}";

fn run(dir: &Dir, barrier: &str) -> (String, Findings) {
    dir.file("a.yaml", SCENARIO.replace(TOLD, barrier));
    let args = ["run", "a.yaml", "--flights", "3000", "--no-rare"];
    dir.told_twice(&args)
}

#[test]
fn a_standards_test_gives_a_chance_of_at_most_and_a_strength_of_at_least() {
    let dir = Dir::new("a_standards_test_gives_at_most");
    let (words, found) = run(&dir, "ul2218_3");
    assert!(words.starts_with("At most "), "{words}");
    assert!(words.contains("takes at least 18.3 J"), "{words}");
    assert!(words.contains("counting error alone leaves at most"), "{words}");
    assert!(found.claim.at_most && found.barrier.unwrap().lower_bound);
    let gates: Vec<bool> = found.gates.iter().map(|gate| gate.so_far.at_most).collect();
    assert_eq!(gates, [false, false, false, true], "only going through is bounded");
    let (words, found) = run(&dir, TOLD);
    assert!(!words.starts_with("At most") && !found.claim.at_most, "{words}");
}

/// The rod falls at about 12 m/s, slower than anything that the steel formulas
/// were fitted to: every blow is an extrapolation, and counted.
#[test]
fn a_blow_outside_the_formula_is_counted() {
    let dir = Dir::new("a_blow_outside_the_formula");
    let (words, found) = run(&dir, "{steel: {thickness: 0.8 mm, span: 40 cm}}");
    assert!(words.contains("formula was not fitted to"), "{words}");
    let breach = found.breaches.iter().find(|breach| breach.sentence.contains("formula"));
    let struck = found.gates[2].passed;
    assert_eq!(breach.unwrap().flights, struck, "each that struck");
    let model = found.models.iter().find(|note| note.what.contains("barrier")).unwrap();
    assert!(model.source.contains("Stanford") && model.valid.contains("46 to 122 m/s"));
    let which = found.inputs.iter().find(|input| input.name.ends_with("steel.formula")).unwrap();
    assert!(which.unknown, "which formula is right is not known");
}

/// Thicker board, fewer holes; and a contact that the figure was not measured
/// with is said.
#[test]
fn the_contact_and_the_thickness_matter() {
    let dir = Dir::new("the_contact_and_the_thickness_matter");
    let chance = |thickness: &str| {
        let barrier = format!("{{board: {{thickness: {thickness}}}, factor: 1}}");
        run(&dir, &barrier).1.gates[3].given_before.probability
    };
    let [thin, thick] = ["6.5 mm", "13 mm"].map(chance);
    assert!(thin > thick, "{thin} and {thick}");
    let (words, _) = run(&dir, "{energy: 20 J, contact: 20 cm}");
    assert!(words.contains("less than half or more than twice as wide"), "{words}");
    let check = dir.longodds(&["check", "a.yaml"]).out;
    assert!(check.contains("Contact: 0.2 m across"), "{check}");
}

/// Source: bisection of a made-up log, ours: everything up to 12 J is stopped,
/// everything from 20 J on goes through, so that the strength lies between.
#[test]
fn own_shots_are_a_barrier_whose_doubt_is_an_unknown() {
    let dir = Dir::new("own_shots_are_a_barrier");
    let mut log = "# made up\nshot,speed,mass,result\n".to_owned();
    for (joules, result) in [
        (6.0, "stopped"),
        (9.0, "stopped"),
        (12.0, "stopped"),
        (20.0, "through"),
        (27.0, "through"),
    ] {
        let speed = f64::sqrt(2.0 * joules / 0.9);
        log += &format!("{joules},{speed} m/s,0.9 kg,{result}\n");
    }
    dir.file("light.csv", &log);
    let (words, found) = run(&dir, "{shots: light.csv}");
    let median = found.inputs.iter().find(|input| input.name.ends_with("barrier.median")).unwrap();
    assert!(median.unknown && median.written.starts_with("light.csv: between"));
    let [low, middle, high] = median.quantiles;
    assert!(12.0 < middle && middle < 20.0 && low < 12.5 && high > 19.0, "{low} {middle} {high}");
    assert!(words.contains("harder than any of the shots"), "{words}");
    let check = dir.longodds(&["check", "a.yaml"]).out;
    assert!(check.contains("fitted to 5 shots of `light.csv`, 2 of them through"), "{check}");
    dir.file("light.csv", log.replace("stopped", "stoped"));
    let answer = dir.longodds(&["check", "a.yaml"]);
    assert_eq!(answer.status, 1);
    assert!(answer.err.contains("line 3: `stoped` is no result"), "{}", answer.err);
    assert!(answer.err.contains("light.csv}"), "{}", answer.err);
}
