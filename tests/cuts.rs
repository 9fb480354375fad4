//! A draw's outcome is its own: however the draws are cut, ordered and packed into
//! lanes, each ends the same, to the bit.

use longodds_sim::{
    chain::Claim,
    engine::{Draws, Flock, Rows, fly_rows, tuned},
    scenario,
};
use proptest::prelude::*;
use std::{fs, path::Path};

/// The seed of every claim here.
const SEED: u64 = 5;

/// What comes down any way round, spins, bounces and comes to a wall; ours.
const THROWN: &str = "\
claim: Something is thrown at a wall.
air: {wind: {speed: {range: [0 m/s, 9 m/s]}, towards: {range: [-180 deg, 180 deg]}, terrain: open}}
ground: {restitution: {range: [0.1, 0.6]}, friction: {range: [0.2, 0.9]}}
object: {shape: {SHAPE}, mass: {range: [1 kg, 6 kg]}}
release:
  launched:
    speed: {range: [5 m/s, 25 m/s]}
    height: {range: [1 m, 3 m]}
    elevation: {range: [-10 deg, 50 deg]}
    nose_left: {range: [-180 deg, 180 deg]}
    nose_up: {range: [-90 deg, 90 deg]}
    roll: {range: [-180 deg, 180 deg]}
    spin: {x: {range: [-SPIN, SPIN]}, y: {range: [-SPIN, SPIN]}, z: {range: [-SPIN, SPIN]}}
target:
  stands: {at: 12 m}
  faces: {wall: {centre: [0 m, 0 m, 1 m], width: 3 m, height: 2 m, aim: true}}
chain: [reaches, strikes]
";

const SHAPES: [&str; 11] = [
    "sphere: {diameter: 0.2 m}",
    "sphere: {diameter: 0.07 m, surface: felt}",
    "irregular: {diameter: 0.2 m, sphericity: 0.7}",
    "plate: {length: 0.9 m, width: 0.6 m, thickness: 12 mm}",
    "block: {length: 0.4 m, width: 0.3 m, height: 0.2 m}",
    "disc: {diameter: 0.5 m, thickness: 20 mm}",
    "wheel: {diameter: 0.6 m, width: 0.2 m}",
    "rod: {length: 1.2 m, diameter: 40 mm}",
    "bar: {length: 1.5 m, width: 0.1 m, height: 40 mm}",
    "cone: {length: 0.6 m, diameter: 0.3 m}",
    "tube: {length: 0.8 m, diameter: 0.2 m, wall: 4 mm}",
];

fn claim(text: &str, home: &Path, to_ground: bool) -> Claim {
    let claim = Claim::new(scenario::parse(text, home).unwrap());
    tuned(if to_ground { claim.flown_to_ground() } else { claim }, SEED)
}

/// The outcomes of draws flown together in this order, each with all its bits.
fn flown(claim: &Claim, draws: &[u64]) -> Vec<String> {
    let (mut all, mut one) = (Vec::new(), Rows::default());
    for &draw in draws {
        Draws::new(&claim.scenario().inputs, SEED, &[]).fill(draw..draw + 1, &mut one);
        all.extend_from_slice(&one.values);
    }
    let mut flock = Flock::default();
    let (outcomes, _) = fly_rows(claim, &all, 0, claim.settings(), &mut flock);
    let named = outcomes.iter().zip(draws).map(|(outcome, &draw)| {
        let mut outcome = outcome.clone();
        outcome.draw = draw;
        // Written out as the shortest text that gives the same number: bit for bit.
        format!("{outcome:?}")
    });
    named.collect()
}

/// Flown alone, each of these draws ends as it does in company.
fn each_is_its_own(claim: &Claim, draws: &[u64], what: &str) {
    for (&draw, together) in draws.iter().zip(flown(claim, draws)) {
        assert_eq!(flown(claim, &[draw])[0], together, "{what}, draw {draw}");
    }
}

#[test]
fn the_draws_of_every_demo_are_their_own() {
    let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut demos = 0;
    for entry in fs::read_dir(&home).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|it| it == "yaml") {
            let text = fs::read_to_string(&path).unwrap();
            let draws: Vec<u64> = (0..40).collect();
            each_is_its_own(&claim(&text, &home, false), &draws, &path.display().to_string());
            demos += 1;
        }
    }
    assert!(demos > 8, "{demos}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..Default::default() })]

    /// Any cut, any order, any company.
    #[test]
    fn a_draw_ends_the_same_in_any_company(
        shape in 0..SHAPES.len(), spin in 1.0..900.0, to_ground: bool,
        draws in Just((0..40_u64).collect::<Vec<_>>()).prop_shuffle(), cut in 1..40_usize,
    ) {
        let shape = SHAPES[shape];
        let text = THROWN.replace("SHAPE", shape).replace("SPIN", &format!("{spin} rpm"));
        let claim = claim(&text, Path::new("."), to_ground);
        let (some, others) = draws.split_at(cut);
        let mut apart = flown(&claim, some);
        apart.extend(flown(&claim, others));
        for ((draw, apart), together) in draws.iter().zip(apart).zip(flown(&claim, &draws)) {
            prop_assert_eq!(apart, together, "{}, draw {}", shape, draw);
        }
    }
}
