//! What random numbers cost: nanoseconds per number, best of several rounds on one
//! thread.
//!
//! `cargo run --release -p longodds-bench --bin numbers`

#![expect(clippy::print_stdout, reason = "a program whose output is its table")]

use longodds_sim::{
    estimate::{BINS, InputTally, Sketch},
    sampling::{Domain, Stream},
    uncertain::{Copula, Distribution, DistributionError},
};
use std::hint::black_box;

const DRAWS: u64 = 40_000;
const INPUTS: usize = 24;

fn main() -> Result<(), DistributionError> {
    let stream = Stream::new(1, Domain::DRAWS);
    let slots: Vec<u32> = (0..).map(|i| 0x9E37 * i).take(INPUTS).collect();
    let mut row = [0.0; INPUTS];
    let per = |name: &str, count: usize, work: &mut dyn FnMut(u64)| {
        let best = (0..15).map(|_| seconds(work)).fold(f64::INFINITY, f64::min);
        println!("{name:<44} {:>8.2} ns", best * 1e9 / (DRAWS as f64 * count as f64));
    };
    per("uniform, one by one", 1, &mut |draw| {
        black_box(stream.uniform(draw, 7));
    });
    per("uniform, a row of 24 at once", INPUTS, &mut |draw| {
        stream.fill(draw, &slots, &mut row);
        black_box(&row);
    });
    for (name, distribution) in [
        ("uniform", Distribution::uniform(1.0, 2.0)?),
        ("triangular", Distribution::triangular(1.0, 2.0, 4.0)?),
        ("normal", Distribution::normal(1.0, 2.0)?),
        ("lognormal", Distribution::lognormal(1.0, 2.0)?),
        ("weibull", Distribution::weibull(8.0, 2.0)?),
        ("truncated normal", Distribution::normal(1.0, 2.0)?.truncated(0.0, f64::INFINITY)?),
    ] {
        per(&format!("quantile, {name}"), INPUTS, &mut |draw| {
            let shift = (draw as f64 + 0.5) / DRAWS as f64;
            for (i, value) in row.iter_mut().enumerate() {
                *value = distribution.quantile((shift + 0.037 * i as f64).fract().max(1e-9));
            }
            black_box(&row);
        });
    }
    let Ok(copula) = Copula::new(INPUTS, &[(0, 1, 0.3), (1, 2, 0.5), (2, 3, -0.2)]) else {
        return Ok(());
    };
    per("copula of four, per row", 1, &mut |draw| {
        stream.fill(draw, &slots, &mut row);
        copula.apply(&mut row);
        black_box(&row);
    });
    let mut tally = InputTally::new(INPUTS, 6);
    per("tally of drivers, per input", INPUTS, &mut |draw| {
        stream.fill(draw, &slots, &mut row);
        tally.record(row, usize::from(draw % 2 == 0));
    });
    let mut sketch = Sketch::new();
    per("quantile sketch, per value", 1, &mut |draw| sketch.push(draw as f64 + 0.5));
    black_box((tally.passed_at_least(0, 0)[BINS / 2], sketch.count()));
    Ok(())
}

#[expect(clippy::disallowed_methods, reason = "a benchmark measures time")]
fn seconds(work: &mut dyn FnMut(u64)) -> f64 {
    let start = std::time::Instant::now();
    for draw in 0..DRAWS {
        work(draw);
    }
    start.elapsed().as_secs_f64()
}
