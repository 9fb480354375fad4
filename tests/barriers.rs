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
    // 18.3 J was stood from a ball of 361 g: the rod has its momentum at less.
    let least = found.barrier.as_ref().unwrap().resisted.quantiles;
    let [low, high] = [18.343 * 0.361 / 0.9, 18.35];
    assert!(least.iter().all(|energy| (low * 0.99..high).contains(energy)), "{least:?}");
    assert!(words.contains("takes at least "), "{words}");
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
    let breach = found.breaches.iter().find(|breach| breach.breach.sentence().contains("formula"));
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

/// Something that flies at a wall of 1 m across, square on.
fn thrown(dir: &Dir, [shape, more, speed, barrier]: [&str; 4]) -> (String, Findings) {
    let text = format!(
        "claim: It goes through.\n\
         object: {{shape: {shape}, {more}}}\n\
         release: {{launched: {{height: 2 m, speed: {speed}}}}}\n\
         target:\n  stands: {{at: 1 m}}\n  faces:\n    \
         wall: {{centre: [0 m, 0 m, 2 m], width: 1 m, height: 1 m, aim: true, barrier: {barrier}}}\n\
         chain: [released, reaches, strikes, perforates]\n"
    );
    dir.file("a.yaml", text);
    dir.told_twice(&["run", "a.yaml", "--flights", "2000", "--no-rare"])
}

const SHEET: &str = "{steel: {thickness: 0.8 mm, span: 40 cm}}";

/// The corner of a brick let fall by hand leaves a mark in sheet steel, and a flat
/// end that is tilted goes through no sooner than square on.
#[test]
fn no_corner_and_no_rim_is_a_needle() {
    let dir = Dir::new("no_corner_is_a_needle");
    let brick = "{block: {length: 215 mm, width: 102.5 mm, height: 65 mm}}";
    let corner = "2.19 m/s, nose_up: 40 deg, nose_left: 40 deg";
    let (words, found) = thrown(&dir, [brick, "mass: 2.3 kg", corner, SHEET]);
    assert_eq!(found.claim.held, 0, "{words}");
    let rod = "{rod: {length: 60 cm, diameter: 50 mm}}";
    let plate = "{steel: {thickness: 2 mm, span: 40 cm}}";
    let chance = |tilt: &str| {
        let speed = format!("25 m/s, nose_up: {tilt}");
        thrown(&dir, [rod, "mass: 4 kg", &speed, plate]).1.claim.probability
    };
    let square = chance("0 deg");
    assert!(square > 0.05 && square < 0.5, "{square}");
    for tilt in ["5 deg", "20 deg", "40 deg"] {
        assert!(chance(tilt) <= square, "{tilt}");
    }
    assert!(chance("89 deg") <= 0.0);
}

/// What is softer than the test's missile gives a bound that is no worse than that
/// of its hard twin, and nothing where it crushes first.
#[test]
fn what_is_soft_is_bounded_by_its_hard_twin() {
    let dir = Dir::new("what_is_soft_is_bounded");
    let foam = "{block: {length: 40 cm, width: 30 cm, height: 30 cm}}";
    let corner = "45 m/s, nose_up: 40 deg, roll: 40 deg";
    let (words, found) = thrown(&dir, [foam, "mass: 1 kg, made_of: foam", corner, SHEET]);
    assert_eq!(found.claim.held, 0, "{words}");
    let (hard, untold) = thrown(&dir, [foam, "mass: 1 kg", corner, SHEET]);
    assert!(untold.claim.held > 0 && !untold.claim.at_most, "{hard}");
    assert!(hard.contains("it counts as hard, since nothing else is told"), "{hard}");
    for (shape, [bare, soft], speed) in [
        (
            "{sphere: {diameter: 15 cm}}",
            ["mass: 1.77 kg", "mass: 1.77 kg, made_of: bag_of_water"],
            "15 m/s",
        ),
        ("{sphere: {diameter: 35 mm}}", ["mass: 20.6 g", "mass: 20.6 g, made_of: ice"], "27.2 m/s"),
    ] {
        let (_, hard) = thrown(&dir, [shape, bare, speed, "toughened_glass"]);
        let (words, soft) = thrown(&dir, [shape, soft, speed, "toughened_glass"]);
        assert!(soft.claim.at_most && !hard.claim.at_most, "{words}");
        let bound = ["At most ", "Anything from never to "];
        assert!(bound.iter().any(|said| words.contains(said)), "{words}");
        assert!(words.contains("softer than what the barrier was tested with"), "{words}");
        assert!(soft.claim.probability <= hard.claim.probability, "{words}");
    }
    let ice = ["{sphere: {diameter: 35 mm}}", "mass: 20.6 g, made_of: ice", "27 m/s"];
    let [shape, more, speed] = ice;
    let (words, panel) = thrown(&dir, [shape, more, speed, "hail_35"]);
    assert_eq!(panel.claim.held, 0, "{words}");
}

#[test]
fn what_a_thing_is_made_of_is_checked() {
    let dir = Dir::new("what_a_thing_is_made_of");
    let with = |more: &str, barrier: &str| {
        let told = SCENARIO.replace("mass: 0.9 kg", &format!("mass: 0.9 kg\n  {more}"));
        dir.file("a.yaml", told.replace(TOLD, barrier));
        dir.longodds(&["check", "a.yaml"])
    };
    let answer = with("made_of: fomm", TOLD);
    assert!(answer.err.contains("did you mean `foam`?"), "{}", answer.err);
    let answer = with("made_of: {crush: 2 kg}", TOLD);
    assert!(answer.err.contains("this is a mass"), "{}", answer.err);
    let answer = with("made_of: {crush: 2 MPa}", "en12600_1");
    assert!(answer.out.contains("not surely as soft as in its test (tyre)"), "{}", answer.out);
    let answer = with("made_of: foam", "{energy: 20 J, tested_with: foam}");
    assert!(answer.out.contains("What strikes: foam, as in its test."), "{}", answer.out);
    let answer = with("drag_factor: 1", "{energy: 20 J, tested_with: woood}");
    assert!(answer.err.contains("did you mean `wood`?"), "{}", answer.err);
    let answer = with("drag_factor: 1", "toughened_glass");
    assert!(answer.out.contains("hard (assumed: `made_of` is not told)"), "{}", answer.out);
    let answer = with("drag_factor: 1", "{pane: {kind: tempered, thickness: 6 mm}}");
    assert!(answer.err.contains("annealed, toughened"), "{}", answer.err);
}

/// Of a pane the kind, the thickness and the size of its face count.
#[test]
fn a_pane_is_as_large_as_its_face() {
    let dir = Dir::new("a_pane_is_as_large_as_its_face");
    let beam = "{block: {length: 40 cm, width: 20 cm, height: 20 cm}}";
    let chance = |kind: &str, thickness: &str| {
        let pane = format!("{{pane: {{kind: {kind}, thickness: {thickness}}}, factor: 1}}");
        thrown(&dir, [beam, "mass: 10 kg", "2.5 m/s", &pane]).1.claim.probability
    };
    let thin = chance("annealed", "4 mm");
    assert!(thin > chance("annealed", "12 mm") && thin > chance("toughened", "4 mm"));
}
