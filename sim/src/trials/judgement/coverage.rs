//! How often the intervals of a judgement hold the truth, by made-up worlds.

use super::*;
use crate::{
    math::{exp, hypot, ln},
    sampling::{Domain, Stream},
    scenario::Demand,
    uncertain::{Distribution, LogNormal, normal_cdf, normal_quantile},
};

/// Worlds for each line of the table; from twelve shots on half as many.
const WORLDS: u64 = 400;

fn lognormal(median: f64, sd: f64) -> Distribution {
    Distribution::LogNormal(LogNormal::new(ln(median), sd).unwrap())
}

/// The scenario: half go through at 100 J, known to a lognormal 0.35; spread
/// 0.2; the claim's blows 80 J, spread 0.3.
fn scenario() -> ModelBarrier {
    let share = 1.0 / 40.0;
    let size = |i: u32| 80.0 * exp(0.3 * normal_quantile((f64::from(i) + 0.5) * share));
    ModelBarrier {
        demand: Demand::NormalEnergy,
        strength: Strength::new(&lognormal(100.0, 0.35), vec![[0.2, 1.0]]),
        demanded: (0..40).map(|i| (size(i), share)).collect(),
    }
}

/// A world: how its strength is drawn and how its blows scatter.
struct World {
    name: &'static str,
    middle: f64,
    sd: f64,
    spread: f64,
}

const KINDS: [World; 4] = [
    World { name: "as the scenario has it", middle: 100.0, sd: 0.35, spread: 0.2 },
    World { name: "strength twice as high", middle: 200.0, sd: 0.1, spread: 0.2 },
    World { name: "strength half as high", middle: 50.0, sd: 0.1, spread: 0.2 },
    World { name: "spread twice as large", middle: 100.0, sd: 0.35, spread: 0.4 },
];

/// Share of the worlds in which (a number for both is given, its interval holds
/// the truth where given, that of the scenario does, that of the shots does).
fn held(world: &World, shots: u32, worlds: u64) -> [f64; 4] {
    let (barrier, stream) = (scenario(), Stream::new(7, Domain::SHOTS));
    let mut counts = [0.0; 4];
    for repeat in 0..worlds {
        let normal = |slot: u32| normal_quantile(stream.uniform(repeat, slot));
        let mu = ln(world.middle) + world.sd * normal(0);
        let truth = normal_cdf((ln(80.0) - mu) / hypot(world.spread, 0.3));
        let blow = |i: u32| {
            let x = ln(90.0) + 0.3 * normal(4 * i + 1);
            let through = x > mu + world.spread * normal(4 * i + 2);
            Blow { size: exp(x + 0.03 * normal(4 * i + 3)), doubt: 0.03, through }
        };
        let blows: Vec<Blow> = (0..shots).map(blow).collect();
        let judged = barrier.judge(&blows, 1.0).unwrap();
        let holds = |e: &Estimate| f64::from(u8::from(e.low <= truth && truth <= e.high));
        if let Some(both) = &judged.both {
            counts[0] += 1.0;
            counts[1] += holds(both);
        }
        counts[2] += holds(&judged.by_scenario);
        counts[3] += holds(&judged.by_shots);
    }
    let all = worlds as f64;
    [counts[0] / all, counts[1] / counts[0].max(1.0), counts[2] / all, counts[3] / all]
}

/// The table of the guide: `cargo test --release -p longodds-sim --lib
/// judgement_coverage -- --ignored --nocapture`.
#[test]
#[ignore = "a table, minutes"]
#[expect(clippy::print_stdout, reason = "the table is what it is for")]
fn judgement_coverage() {
    println!("| world | shots | one number given | it holds | by the scenario | by the shots |");
    println!("|---|---|---|---|---|---|");
    for world in &KINDS {
        for shots in [1, 3, 6, 12, 24] {
            let [given, both, scenario, shots_alone] =
                held(world, shots, if shots < 12 { WORLDS } else { WORLDS / 2 })
                    .map(|share| format!("{:.1} %", 100.0 * share));
            println!(
                "| {} | {shots} | {given} | {both} | {scenario} | {shots_alone} |",
                world.name
            );
        }
    }
}

/// Nominal 95 %; 500 worlds: false alarm below 1e-3 at 92 %.
#[test]
fn where_the_scenario_is_right_the_interval_holds() {
    let [given, both, scenario, _] = held(&KINDS[0], 3, 500);
    assert!(given > 0.9 && both > 0.92 && scenario > 0.92, "{given} {both} {scenario}");
}
