//! `longodds run`: the claim, flown.

use crate::{
    failure::Failure,
    files,
    outputs::Outputs,
    paste,
    progress::Bar,
    summary,
    typed::{self, Typed},
    what_if::{self, FLIGHTS, Sets, Told},
};
use longodds_sim::{
    findings::{Findings, find},
    quantity::{Dimension, format},
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
  longodds run claim.yaml --set speed='60 mph' --set gap='10 m'

Without --flights it goes on until the interval is no wider than a third of the
estimate, or the claim is shown to be rarer than 1 in 20,000, or the budget is
spent. If fewer than 20 flights held, it then searches for how rare it is, with
up to 180,000 flights more. The same command gives the same numbers, unless its
time is up: then the answer says after how many flights.

With --set the page and the findings are those of the changed claim, and have
`.set` in their names.")]
pub(crate) struct Arguments {
    /// The scenario; `-` reads it from standard input.
    scenario: PathBuf,
    /// Exactly so many plain flights, instead of as many as it takes.
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=10_000_000_000))]
    flights: Option<u64>,
    /// Most plain flights where their number is not given.
    #[arg(long, default_value_t = BUDGET, conflicts_with = "flights", value_parser = clap::value_parser!(u64).range(1..=10_000_000_000))]
    budget: u64,
    /// How long it may take, such as '2 min', in wall time: what is not done by then
    /// is left out, and the answer says so. 30 s, or as long as --flights take.
    #[arg(long = "for", value_name = "TIME", value_parser = typed::time)]
    time: Option<Typed>,
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
    #[command(flatten)]
    sets: Sets,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let changed = what_if::read(&arguments.scenario, &arguments.sets)?;
    let name = files::name(&arguments.scenario);
    let changes = !arguments.sets.set.is_empty();
    let outputs = (!arguments.json)
        .then(|| Outputs::prepare(&arguments.into, &arguments.scenario, changes))
        .transpose()?;
    let flights = arguments.flights.unwrap_or_else(|| FLIGHTS.min(arguments.budget));
    let told = pooled(arguments, || changed.compared(arguments.seed, flights))??;
    let findings = Findings { scenario_name: name, ..fly(arguments, changed.scenario.clone())? };
    let adds_up = findings.energy_audit.as_ref().is_none_or(|audit| audit.holds);
    if let Some(outputs) = outputs {
        let kept = outputs.write(&findings, &json(&findings))?;
        told.as_ref().map_or(Ok(()), |told| told.say(out))?;
        write!(out, "{}", summary::text(&findings))?;
        if let Some(kept) = kept {
            let (page, record) = (kept.page.display(), kept.findings.display());
            writeln!(out, "Kept: the better answer that stood here, as {page} and {record}")?;
        }
        let set = outputs.set();
        writeln!(out, "Page: {}", set.page.display())?;
        writeln!(out, "Findings: {}", set.findings.display())?;
        writeln!(out, "{}", paste::next(go_on(arguments, &findings).iter().map(String::as_str)))?;
    } else {
        writeln!(out, "{}", json_with(&findings, told.as_ref()))?;
    }
    if adds_up {
        Failure::if_stopped(findings.partial)
    } else {
        Err(Failure::wrong("energy does not add up in these flights: do not use this answer"))
    }
}

/// Wall time of a run that was told neither flights nor time, s.
const TIME: f64 = 30.0;

fn fly(arguments: &Arguments, scenario: Scenario) -> Result<Findings, Failure> {
    let time = match (&arguments.time, arguments.flights) {
        (Some(time), _) => Some(time.value),
        (None, Some(_)) => None,
        (None, None) => Some(TIME),
    };
    let ask = Ask {
        time,
        flights: arguments.flights,
        budget: arguments.budget,
        rare: !arguments.no_rare,
        doubts: !arguments.no_doubts,
        ..Ask::new(arguments.seed)
    };
    let bar = Bar::new(ask.flights.unwrap_or(ask.budget), "flights").within(time);
    pooled(arguments, || find(scenario, &ask, &bar))
}

/// Does the work with as many threads as were asked for.
fn pooled<T: Send>(arguments: &Arguments, work: impl FnOnce() -> T + Send) -> Result<T, Failure> {
    let Some(threads) = arguments.threads else { return Ok(work()) };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(usize::from(threads)).build();
    let pool = pool.map_err(|error| Failure::wrong(format!("no threads: {error}")))?;
    Ok(pool.install(work))
}

/// The next command: the input that decides most, over its own range.
fn go_on(arguments: &Arguments, findings: &Findings) -> Vec<String> {
    let name = files::typed(&arguments.scenario);
    let deciding =
        findings.drivers.iter().find(|of| of.gate.is_none()).or(findings.drivers.first());
    let stands = deciding.and_then(|of| of.ranking.iter().find(|d| d.separation > 2.0 * d.noise));
    let input = stands.and_then(|d| findings.inputs.iter().find(|input| input.name == d.input));
    let range = input.filter(|input| !input.of_itself).and_then(|input| {
        let dimension = Dimension::from_name(&input.dimension)?;
        let [low, _, high] = input.quantiles.map(|x| format(x, dimension, findings.show));
        (low != high).then(|| [&input.name, "--from", &low, "--to", &high].map(str::to_owned))
    });
    let words = match range {
        Some(range) => ["sweep".to_owned(), name].into_iter().chain(range).collect(),
        None => vec!["drivers".to_owned(), name],
    };
    let sets = paste::sets(&arguments.sets.set).map(str::to_owned);
    Vec::into_iter(words).chain(sets).collect()
}

/// With what was set beside the record, where anything was.
fn json_with(findings: &Findings, told: Option<&Told<'_>>) -> String {
    let Some(told) = told else { return json(findings) };
    let mut record = serde_json::json!(findings);
    record["what_if"] = told.json();
    format!("{record:#}")
}

#[expect(clippy::expect_used, reason = "findings hold nothing that JSON cannot")]
fn json(findings: &Findings) -> String {
    serde_json::to_string_pretty(findings).expect("plain data")
}
