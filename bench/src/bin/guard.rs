//! `guard FAMILY`: a fixed piece of work for counting instructions.
//!
//! The first draws of each problem, and of a wheel that bounces along the
//! ground, through the whole engine on one thread, one processor family and one
//! tolerance (finding the tolerance would run on the machine's own family).
//! Prints what came out, so that a change of the answer is not mistaken for a
//! change of the speed.

use longodds_bench::claim;
use longodds_sim::{
    chain::Claim,
    engine::{Draws, Flock, Rows, Tally, fly_rows},
    flight::{Family, Settings},
};
use std::{env, io, io::Write, path::Path};

/// What is flown, and how often.
const WORK: [(&str, u64); 4] = [
    ("bench/problems/plate.yaml", 256),
    ("bench/problems/sphere.yaml", 512),
    ("bench/problems/rod.yaml", 512),
    ("scenarios/fair_wheel.yaml", 16),
];
/// As of a run that the budget leaves room, about.
const TOLERANCE: f64 = 1e-5;

fn main() -> io::Result<()> {
    let name = env::args().nth(1).unwrap_or_else(|| "avx2".to_owned());
    let family = Family::available().find(|family| family.name() == name);
    let family = family.ok_or_else(|| io::Error::other(format!("no {name} here")))?;
    let settings = Settings { family, tolerance: TOLERANCE, ..Settings::default() };
    for (file, flights) in WORK {
        let tally = flown(&claim(Path::new(file))?, flights, &settings);
        let (work, fates) = (tally.work, &tally.fates);
        writeln!(io::stdout(), "{file} {} evaluations, fates {fates:?}", work.evaluations)?;
    }
    Ok(())
}

/// The engine's own loop over one chunk, with a family of our choice.
fn flown(claim: &Claim, flights: u64, settings: &Settings) -> Tally {
    let draws = Draws::new(&claim.scenario().inputs, 1, &[]);
    let (mut rows, mut flock) = (Rows::default(), Flock::default());
    let mut tally = Tally::new(claim, &draws);
    draws.fill(0..flights, &mut rows);
    let (outcomes, work) = fly_rows(claim, &rows.values, 0, settings, &mut flock);
    let ranks = rows.ranks.chunks_exact(draws.uncertain().len().max(1));
    for (outcome, ranks) in outcomes.iter().zip(ranks) {
        tally.add(outcome, ranks);
    }
    tally.count_work(&work);
    tally
}
