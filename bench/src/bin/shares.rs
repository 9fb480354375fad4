//! `shares SCENARIO FLIGHTS`: where the CPU-time of a run goes, on one thread.
//!
//! Drawing, quantile transforms, tallies and charts are timed by doing them
//! without the flights; flying is the rest of the whole.

use longodds_bench::{Problem, cpu_seconds};
use longodds_sim::{
    engine::{Draws, Flock, Rows, Tally, fly_rows},
    findings::{self, Origin},
    flight::Settings,
    study::Study,
};
use std::{env, io, io::Write, path::Path};

/// Draws at a time, as in the engine.
const CHUNK: u64 = 1024;

fn main() -> io::Result<()> {
    let words: Vec<String> = env::args().skip(1).collect();
    let [scenario, flights] = words.as_slice() else {
        return Err(io::Error::other("shares SCENARIO FLIGHTS"));
    };
    let flights: u64 = flights.parse().map_err(io::Error::other)?;
    let problem = Problem::read(Path::new(scenario))?;
    let claim = &problem.claim;
    let draws = Draws::new(&claim.scenario().inputs, 1, &[]);
    let (mut rows, mut flock) = (Rows::default(), Flock::default());
    let mut tally = Tally::new(claim, &draws);
    let (mut drawing, mut flying, mut tallying) = (0.0, 0.0, 0.0);
    let mut next = 0;
    while next < flights {
        let chunk = next..flights.min(next + CHUNK);
        next = chunk.end;
        let first = chunk.start;
        let start = cpu_seconds();
        draws.fill(chunk, &mut rows);
        let drawn = cpu_seconds();
        let (outcomes, work) =
            fly_rows(claim, &rows.values, first, &Settings::default(), &mut flock);
        let flown = cpu_seconds();
        let ranks = rows.ranks.chunks_exact(draws.uncertain().len().max(1));
        for (outcome, ranks) in outcomes.iter().zip(ranks) {
            tally.add(outcome, ranks);
        }
        tally.count_work(&work);
        drawing += drawn - start;
        flying += flown - drawn;
        tallying += cpu_seconds() - flown;
    }
    let start = cpu_seconds();
    let origin = Origin { scenario_name: "plate.yaml".to_owned() };
    let found = findings::findings(claim, &Study::plain(1, flights, tally), &origin);
    let told = cpu_seconds();
    let page = longodds_reports::page(&found, &[]);
    let drawn = cpu_seconds();
    let rest = [
        ("drawing and quantile transforms", drawing),
        ("tallies", tallying),
        ("findings (with the flights flown again for pictures and the step check)", told - start),
        ("charts and the page", drawn - told),
    ];
    let whole = flying + rest.iter().map(|(_, seconds)| seconds).sum::<f64>();
    let mut out = io::stdout().lock();
    writeln!(out, "| what | CPU-seconds | share |\n|---|---|---|")?;
    for (what, seconds) in [("flying, contact and gates", flying)].iter().chain(&rest) {
        writeln!(out, "| {what} | {seconds:.3} | {:.1} % |", 100.0 * seconds / whole)?;
    }
    let share = 100.0 * (whole - flying) / whole;
    writeln!(
        out,
        "\nAll but flying: {share:.1} % (wanted: under 25 %). Page: {} KiB.",
        page.len() / 1024
    )
}
