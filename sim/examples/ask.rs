//! A claim read, flown, and answered: its chance, its chain, its doubts.

#![allow(clippy::print_stdout, reason = "an example talks to the terminal")]

use longodds_sim::{engine::Unwatched, findings::find, scenario, study::Ask};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let text = scenario::template(); // or a file's
    let claim = scenario::parse(text, ".".as_ref()).map_err(|found| found[0].to_string())?;
    let found = find(claim, &Ask { flights: Some(2000), ..Ask::new(1) }, &Unwatched);
    let chance = &found.claim;
    println!("{} {:.4}", found.claim_text, chance.probability);
    println!("{} % sure: {:.4} to {:.4}", 100.0 * chance.level, chance.low, chance.high);
    for step in &found.gates {
        println!("{}: {} of {} that came to it", step.gate.name(), step.passed, step.came);
    }
    for doubt in &found.breaches {
        println!("doubt: {} of {} {}", doubt.flights, doubt.of, doubt.breach.sentence());
    }
    Ok(())
}
