//! `longodds run`: the claim, flown.

use crate::{failure::Failure, files, input, progress::Bar, summary};
use longodds_sim::{
    findings::{Findings, find},
    scenario::Scenario,
    study::{Ask, BUDGET},
};
use std::{io::Write, path::PathBuf};

/// Fly a claim many times and say how likely it is and where it breaks.
///
/// Writes a page with pictures and the findings behind it, and prints the
/// answer. It flies until the answer is exact enough, and goes looking for what
/// plain flights meet too seldom. Ctrl-C stops it early with what is done so far.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds run scenarios/shop_window.yaml
  longodds run claim.yaml --flights 1000000 --into results

Without --flights it goes on until the interval is no wider than a third of the
estimate, or the claim is shown to be rarer than 1 in 20,000, or the budget is
spent. If fewer than 20 flights held, it then searches for how rare it is, with
up to 180,000 flights more. The same command gives the same numbers.")]
pub(crate) struct Arguments {
    /// The scenario; `-` reads it from standard input.
    scenario: PathBuf,
    /// Exactly so many plain flights, instead of as many as it takes.
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=10_000_000_000))]
    flights: Option<u64>,
    /// Most plain flights where their number is not given.
    #[arg(long, default_value_t = BUDGET, conflicts_with = "flights", value_parser = clap::value_parser!(u64).range(1..=10_000_000_000))]
    budget: u64,
    /// Leave out the search for how rare it is.
    #[arg(long)]
    no_rare: bool,
    /// Leave out what the unknown and the assumed inputs do to the answer.
    #[arg(long)]
    no_doubts: bool,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// The folder for the page and the findings; made if it is not there.
    #[arg(long, default_value = ".")]
    into: PathBuf,
    /// Print the findings as JSON instead of the answer in words; write no file.
    #[arg(long)]
    json: bool,
    /// How many threads; as many as the machine has if not given.
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let scenario = input::scenario(&arguments.scenario)?;
    let name = files::name(&arguments.scenario);
    let outputs = (!arguments.json).then(|| Outputs::prepare(arguments)).transpose()?;
    let findings = Findings { scenario_name: name, ..fly(arguments, scenario)? };
    let adds_up = findings.energy_audit.as_ref().is_none_or(|audit| audit.holds);
    if let Some(outputs) = outputs {
        outputs.write(&findings)?;
        write!(out, "{}", summary::text(&findings))?;
        writeln!(out, "Page: {}", outputs.page.display())?;
        writeln!(out, "Findings: {}", outputs.findings.display())?;
    } else {
        writeln!(out, "{}", json(&findings))?;
    }
    if adds_up {
        Failure::if_stopped(findings.partial)
    } else {
        Err(Failure::wrong("energy does not add up in these flights: do not use this answer"))
    }
}

fn fly(arguments: &Arguments, scenario: Scenario) -> Result<Findings, Failure> {
    let ask = Ask {
        flights: arguments.flights,
        budget: arguments.budget,
        rare: !arguments.no_rare,
        doubts: !arguments.no_doubts,
        ..Ask::new(arguments.seed)
    };
    let bar = Bar::new(ask.flights.unwrap_or(ask.budget), "flights");
    let work = || find(scenario, &ask, &bar);
    let Some(threads) = arguments.threads else { return Ok(work()) };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build();
    let pool = pool.map_err(|error| Failure::wrong(format!("no threads: {error}")))?;
    Ok(pool.install(work))
}

#[expect(clippy::expect_used, reason = "findings hold nothing that JSON cannot")]
fn json(findings: &Findings) -> String {
    serde_json::to_string_pretty(findings).expect("plain data")
}

/// Where the answer goes; prepared before the flights, so that an unwritable
/// folder costs nobody an hour.
struct Outputs {
    page: PathBuf,
    findings: PathBuf,
}

impl Outputs {
    fn prepare(arguments: &Arguments) -> Result<Self, Failure> {
        files::make_folder(&arguments.into)?;
        let stem = match arguments.scenario.file_stem() {
            Some(stem) if !files::is_stream(&arguments.scenario) => stem.to_string_lossy(),
            _ => "claim".into(),
        };
        let path = |end: &str| arguments.into.join(format!("{stem}.{end}"));
        Ok(Self { page: path("report.html"), findings: path("findings.json") })
    }

    fn write(&self, findings: &Findings) -> Result<(), Failure> {
        files::write(&self.findings, json(findings).as_bytes())?;
        files::write(&self.page, longodds_reports::page(findings, &[]).as_bytes())
    }
}
