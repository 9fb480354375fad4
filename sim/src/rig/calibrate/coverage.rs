//! How often the band for the next shot holds it, by made-up rigs.

use super::{tests::spring_rig, *};
use crate::{
    math::{exp, ln},
    rig::{Efficiency, Scatter},
    sampling::{Domain, Stream},
    uncertain::normal_quantile,
};

const RIGS: u64 = 200;
const GUESSED: f64 = 0.02;

/// Share of the rigs whose next shot, at the setting of the shots, lies in its
/// 95 % band; scatter so many times what was guessed.
fn held(times: f64, shots: u32) -> f64 {
    let stream = Stream::new(11, Domain::SHOTS);
    let mut rig = spring_rig(0.0, Efficiency::LogNormal { median: 0.7, sd: 0.5 });
    rig.doubt.scatter = Scatter { median: GUESSED, sd: 1.0 };
    let scatter = times * GUESSED;
    let holds = (0..RIGS).filter(|repeat| {
        let normal = |slot: u32| normal_quantile(stream.uniform(*repeat, slot));
        // The level that nobody knows, as its prior has it.
        let level = ln(25.0) + 0.2 * normal(0);
        let shot = |i: u32| {
            let v = exp(level + scatter * normal(2 * i + 1) + 0.002 * normal(2 * i + 2));
            Shot::new(0.4, v, 0.002 * v)
        };
        let fired: Vec<Shot> = (0..shots).map(shot).collect();
        let next = exp(level + scatter * normal(1000));
        let [low, high] = Calibration::new(&rig, &fired).speed_quantiles(0.4, [0.025, 0.975]);
        low <= next && next <= high
    });
    holds.count() as f64 / RIGS as f64
}

/// The table of the guide: `cargo test --release -p longodds-sim --lib
/// calibration_coverage -- --ignored --nocapture`.
#[test]
#[ignore = "a table, minutes"]
#[expect(clippy::print_stdout, reason = "the table is what it is for")]
fn calibration_coverage() {
    println!(
        "| shots | a quarter of the guess | half | as guessed | twice | four times | eight times |"
    );
    println!("|---|---|---|---|---|---|---|");
    for shots in [1, 2, 3, 5] {
        let row = [0.25, 0.5, 1.0, 2.0, 4.0, 8.0]
            .map(|times| format!("{:.1} %", 100.0 * held(times, shots)));
        println!("| {shots} | {} |", row.join(" | "));
    }
}

/// Source for the shares: the same model by an independent script, lognormal
/// prior of the scatter with a standard deviation of 1.0: one shot, as guessed
/// 100 %, twice 98.5 %. 200 rigs: false alarm below 1e-3 at 94 %.
#[test]
fn after_one_shot_the_band_holds_a_scatter_twice_as_large() {
    let share = held(2.0, 1);
    assert!(share > 0.94, "{share}");
}
