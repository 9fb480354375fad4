//! How the search for what is rare answers problems whose chance is known, as a
//! table.
//!
//! `bench/rare [--short] [--seeds N] [--flights N] [WORD]`: 40 seeds of 100,000
//! plain flights each, or 8 of 20,000; problems with the word in their name.

#![expect(clippy::print_stdout, reason = "a program whose output is its table")]

use longodds_bench::{
    cpu_seconds,
    rare::{Measured, Problem, measure, problems},
};
use std::process::ExitCode;

/// Least share of intervals that hold the chance.
const LEAST: f64 = 0.93;
/// Farthest that an interval may be off, as a factor.
const FARTHEST: f64 = 3.0;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let short = words.iter().any(|word| word == "--short");
    let told = |name: &str| {
        let place = words.iter().position(|word| word == name)?;
        words.get(place + 1)?.parse().ok()
    };
    let seeds = told("--seeds").unwrap_or(if short { 8 } else { 40 });
    let flights = told("--flights").unwrap_or(if short { 20_000 } else { 100_000 });
    let named = words.last().filter(|word| !word.starts_with("--") && word.parse::<u64>().is_err());
    let start = cpu_seconds();
    println!(
        "{seeds} seeds each, after {flights} plain flights. *Holds*: intervals that hold the \
         chance. *By ways*: answers by ways that were found, and how many of their narrow \
         intervals, without an allowance for ways that nobody has seen, hold it. *Bound*: answers \
         that are plain flights' bound only. *Off*: the farthest that an interval and, bounds \
         left out, an estimate was from the chance, as a factor. *Estimate*: median, over the \
         chance. *Flights*: mean, plain and aimed.\n"
    );
    println!(
        "| problem | inputs | chance | holds | by ways | counted | bound | off: interval | \
         estimate | estimate | flights |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|");
    let (mut all, mut well) = (0, 0);
    for problem in problems() {
        if named.is_some_and(|word| !problem.name.contains(word.as_str())) {
            continue;
        }
        let found = measure(&problem, flights, seeds);
        all += 1;
        well += u32::from(is_well(&found));
        println!("{}", line(&problem, &found));
    }
    println!("\n{well} of {all} problems hold; {:.1} CPU-minutes.", (cpu_seconds() - start) / 60.0);
    if well == all { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Holds as often as it says and is never far off. With few seeds one miss is
/// allowed: it happens to one in three of eight.
fn is_well(found: &Measured) -> bool {
    let missed = found.seeds - found.covered;
    let allowed = ((1.0 - LEAST) * found.seeds as f64).max(1.0);
    missed as f64 <= allowed && found.worst <= FARTHEST
}

fn line(problem: &Problem, found: &Measured) -> String {
    let [by_ways, held] = found.by_ways;
    let mark = if is_well(found) { "" } else { " **!**" };
    format!(
        "| {} | {} | {:.2e} | {}{mark} | {held} of {by_ways} | {} | {} | {:.2} | {:.2} | {:.3} | {} |",
        problem.name,
        problem.inputs,
        problem.chance,
        found.covered,
        found.plain,
        found.refused,
        found.worst,
        found.worst_estimate,
        found.median,
        found.flights,
    )
}
