//! What lies off the models' ground, and which face is meant: as people read it.

use crate::util::{Dir, SCENARIO};

const TOLD: &str = "{energy: {between: [8 J, 35 J], skew: true, unknown: true}}";

/// Every blow is slower than the steel formulas were fitted to: that comes
/// before the number, with what holds all the same.
#[test]
fn what_befalls_most_blows_is_said_before_the_number() {
    let dir = Dir::new("what_befalls_most_blows");
    let steel = SCENARIO.replace(TOLD, "{steel: {thickness: 0.8 mm, span: 40 cm}}");
    dir.file("a.yaml", steel.replace("stands: {at: 0.2 m}", "stands: {at: {range: [0 m, 2 m]}}"));
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "3000", "--no-rare"]);
    let first =
        "The published formula does not reach these blows (all of the blows on the barrier).";
    assert!(words.starts_with(first), "{words}");
    assert!(words.contains("What holds all the same: at most"), "{words}");
    let breach =
        found.breaches.iter().find(|breach| breach.breach.sentence().contains("formula")).unwrap();
    let struck = found.gates[2].passed;
    assert_eq!((breach.flights, breach.of), (struck, struck));
    assert!((breach.share - 1.0).abs() < 1e-12, "of the blows, not of the flights");
    let bound = found.gates[2].so_far.high;
    assert!(found.claim.probability <= bound, "the bound holds");
}

/// A rod that falls past a roof light that is struck seldom: what befalls the
/// few blows is a share of them, however many flights pass by.
#[test]
fn a_share_is_of_those_whom_it_can_befall() {
    let dir = Dir::new("a_share_is_of_those");
    let wide = SCENARIO.replace("stands: {at: 0.2 m}", "stands: {at: {range: [0 m, 10 m]}}");
    dir.file("a.yaml", wide.replace("rake: 85 deg", "rake: 60 deg"));
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "3000", "--no-rare"]);
    let struck = found.gates[2].passed;
    assert!(struck > 100 && struck < 1500, "{struck}");
    let breach =
        found.breaches.iter().find(|one| one.breach.sentence().contains("10 deg")).unwrap();
    assert_eq!(breach.of, struck);
    assert!(breach.share > 0.95 && words.contains("of the blows on the barrier struck more"));
    for breach in &found.breaches {
        assert!(breach.flights <= breach.of && breach.share <= 1.0, "{breach:?}");
    }
}

/// Thrown at the west of two boards, the east is never struck nor named for it.
#[test]
fn each_of_several_aimed_faces_has_a_chain_of_its_own() {
    let dir = Dir::new("each_of_several_aimed_faces");
    let text = "\
claim: A stone goes through one of two boards.
show: si
object: {shape: {sphere: {diameter: 50 mm}}, mass: 0.2 kg}
release: {thrown: {height: 1.5 m, left: 2 m, speed: {range: [18 m/s, 22 m/s]}, scatter: 1 deg}}
target:
  stands: {at: 5 m}
  faces:
    east: {centre: [0 m, -2 m, 1.4 m], width: 1.5 m, height: 1.5 m, aim: true,
           barrier: {energy: {between: [500 J, 600 J]}}}
    west: {centre: [0 m, 2 m, 1.4 m], width: 1.5 m, height: 1.5 m, aim: true,
           barrier: {energy: {between: [35 J, 45 J]}}}
chain: [released, reaches, strikes, perforates]
";
    dir.file("a.yaml", text);
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "2000", "--no-rare"]);
    let strikes = |name: &str| {
        found.by_face.iter().find(|chain| chain.face == name).map(|chain| chain.strikes)
    };
    assert_eq!((strikes("east"), strikes("west")), (Some(0), Some(found.gates[2].passed)));
    let barrier = found.barrier.unwrap();
    assert_eq!(barrier.face, "west");
    assert!(barrier.resisted.quantiles[3] < 50.0, "{:?}", barrier.resisted);
    assert!(
        words.contains("where the west takes") && words.contains("east or the west"),
        "{words}"
    );
    assert!(found.crossings.iter().filter(|one| one.struck).all(|one| one.face == 1));
    if let Some(way) = &found.most_likely {
        assert_eq!(way.strike.as_ref().unwrap().face, "west");
    }
}

/// Hail of 10 mm from 3,000 m takes some three and a half minutes: it comes
/// down all the same.
#[test]
fn what_falls_for_minutes_is_not_cut_off() {
    let dir = Dir::new("what_falls_for_minutes");
    let text = "\
claim: A hailstone lands on a lawn.
show: si
object: {shape: {sphere: {diameter: 10 mm}}, mass: 0.47 g}
release: {dropped: {height: 3000 m}}
target:
  stands: {at: 0 m}
  faces: {lawn: {centre: [0 m, 0 m, 0.1 m], width: 90 m, height: 90 m, rake: 90 deg, aim: true}}
chain: [released, reaches, strikes]
";
    dir.file("a.yaml", text);
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "50", "--no-rare"]);
    assert_eq!(found.claim.held, 50, "{words}");
    assert!(found.claim.open == 0 && !words.contains("cut off"), "{words}");
}

/// One board's strength is an energy, the other's a speed: each has its own spread of
/// what was missing, and there is none of both together.
#[test]
fn what_was_missing_is_told_in_each_barriers_own_measure() {
    let dir = Dir::new("each_barriers_own_measure");
    let text = "\
claim: A stone goes through one of two boards.
show: si
object: {shape: {sphere: {diameter: 50 mm}}, mass: 0.2 kg}
release: {thrown: {height: 1.5 m, left: {range: [-2 m, 2 m]}, speed: {range: [18 m/s, 22 m/s]}, scatter: 1 deg}}
target:
  stands: {at: 5 m}
  faces:
    east: {centre: [0 m, -1 m, 1.4 m], width: 2 m, height: 1.5 m, aim: true,
           barrier: {energy: {between: [500 J, 600 J]}}}
    west: {centre: [0 m, 1 m, 1.4 m], width: 2 m, height: 1.5 m, aim: true,
           barrier: {speed: {between: [30 m/s, 31 m/s]}}}
chain: [released, reaches, strikes, perforates]
";
    dir.file("a.yaml", text);
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "2000", "--no-rare"]);
    assert!(found.gates[3].margin.is_none(), "{words}");
    for (face, dimension, [low, high]) in
        [("east", "energy", [400.0, 600.0]), ("west", "speed", [5.0, 15.0])]
    {
        let chain = found.by_face.iter().find(|chain| chain.face == face).unwrap();
        let gate = chain.gates.last().unwrap();
        let margin = gate.margin.as_ref().unwrap();
        assert_eq!(gate.margin_dimension, dimension);
        assert_eq!(margin.count, chain.strikes - gate.given_before.held);
        assert!((low..high).contains(&margin.quantiles[3]), "{face}: {margin:?}");
    }
    assert_eq!(words.matches("where it holds, half of the blows are").count(), 2, "{words}");
    // In one measure there is one spread, of as many.
    dir.file("b.yaml", text.replace("{speed: {between: [30 m/s, 31 m/s]}}", "{energy: 700 J}"));
    let (words, found) = dir.told_twice(&["run", "b.yaml", "--flights", "2000", "--no-rare"]);
    let gate = &found.gates[3];
    assert_eq!(gate.margin.as_ref().map(|margin| margin.count), Some(gate.came - gate.passed));
    assert!(!words.contains("where it holds"), "{words}");
}

/// Most of these blows dent the sheet at most: the bound that holds says so, and it is
/// less than the chance of a strike.
#[test]
fn what_only_dents_is_left_out_of_the_bound() {
    let dir = Dir::new("what_only_dents");
    let steel = SCENARIO.replace(TOLD, "{steel: {thickness: 0.8 mm, span: 40 cm}}");
    let low = steel.replace("{range: [7 m, 9 m]}", "{range: [3.3 m, 9 m]}");
    dir.file("a.yaml", low);
    let (words, found) = dir.told_twice(&["run", "a.yaml", "--flights", "3000", "--no-rare"]);
    let could = found.gates[3].could.as_ref().unwrap();
    assert!(could.held > 0 && could.held < found.gates[2].passed, "{could:?}");
    assert!(found.claim.held <= could.held && found.claim.high <= could.high);
    assert!(words.contains("since all other blows give the barrier less than a dent"), "{words}");
}

/// A chip that turns hundreds of times a second from a tower is said not to be
/// followed to its end, before the number, and takes no minutes.
#[test]
fn what_turns_too_fast_to_be_followed_is_said_before_the_number() {
    let dir = Dir::new("what_turns_too_fast");
    let text = "\
claim: A flake of paint from a tower lands on a table.
show: si
object: {shape: {plate: {length: 1 mm, width: 1 mm, thickness: 0.1 mm}}, mass: 0.2 mg}
release: {dropped: {height: 2000 m, nose_up: {range: [-90 deg, 90 deg]}}}
target:
  stands: {at: 2 m}
  faces: {table: {centre: [0 m, 0 m, 0.8 m], width: 1 m, height: 1 m, rake: 90 deg, aim: true}}
chain: [released, reaches, strikes]
";
    dir.file("a.yaml", text);
    let args = ["run", "a.yaml", "--flights", "8", "--no-rare", "--no-doubts"];
    let (words, found) = dir.told_twice(&args);
    assert!(
        words.starts_with("8 of 8 flights were cut off before their fate was known"),
        "{words}"
    );
    assert!(words.contains("turns too fast for its fall to be followed to its end"), "{words}");
    assert_eq!((found.claim.open, found.claim.low, found.claim.high), (8, 0.0, 1.0));
}
