//! `guard FAMILY`: a fixed piece of work for counting instructions.
//!
//! The first draws of each problem through the whole engine on one thread and
//! one processor family. Prints what came out, so that a change of the answer
//! is not mistaken for a change of the speed.

use longodds_bench::Problem;
use longodds_sim::{
    chain::Claim,
    engine::{Draws, Flock, Rows, Tally, fly_rows},
    flight::{Family, Settings},
};
use std::{env, io, io::Write, path::Path};

/// Flights of each problem.
const FLIGHTS: u64 = 256;

fn main() -> io::Result<()> {
    let name = env::args().nth(1).unwrap_or_else(|| "avx2".to_owned());
    let family = Family::available().find(|family| family.name() == name);
    let family = family.ok_or_else(|| io::Error::other(format!("no {name} here")))?;
    let settings = Settings { family, ..Settings::default() };
    for problem in ["plate", "sphere", "rod"] {
        let file = Path::new("bench/problems").join(problem).with_extension("yaml");
        let tally = flown(&Problem::read(&file)?.claim, &settings);
        let (work, fates) = (tally.work, &tally.fates);
        writeln!(io::stdout(), "{problem} {} evaluations, fates {fates:?}", work.evaluations)?;
    }
    Ok(())
}

/// The engine's own loop over one chunk, with a family of our choice.
fn flown(claim: &Claim, settings: &Settings) -> Tally {
    let draws = Draws::new(&claim.scenario().inputs, 1, &[]);
    let (mut rows, mut flock) = (Rows::default(), Flock::default());
    let mut tally = Tally::new(claim, &draws);
    draws.fill(0..FLIGHTS, &mut rows);
    let (outcomes, work) = fly_rows(claim, &rows.values, 0, settings, &mut flock);
    let ranks = rows.ranks.chunks_exact(draws.uncertain().len().max(1));
    for (outcome, ranks) in outcomes.iter().zip(ranks) {
        tally.add(outcome, ranks);
    }
    tally.count_work(&work);
    tally
}
