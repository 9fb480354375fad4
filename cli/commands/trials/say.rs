//! What shots already shot would let one say.

use super::gate;
use crate::{failure::Failure, rigging};
use longodds_sim::{scenario::Gate, trials::demonstration::Statement, words::Spoken};
use serde_json::json;
use std::{io::Write, path::PathBuf};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Shots shot.
    #[arg(long, required_unless_present = "log", value_parser = clap::value_parser!(u64).range(1..=1_000_000_000))]
    shots: Option<u64>,
    /// How many of them had the event.
    #[arg(long, required_unless_present = "log")]
    events: Option<u64>,
    /// Count them in a shot log; `-` reads standard input.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["shots", "events"])]
    log: Option<PathBuf>,
    /// The gate that its results are counted for.
    #[arg(long, requires = "log", default_value = "perforates")]
    gate: String,
    #[command(flatten)]
    camera: rigging::Camera,
    /// What the event is; else by the gate.
    #[arg(long)]
    event: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// Events and shots.
fn counted(arguments: &Arguments) -> Result<(u64, u64), Failure> {
    let Some(path) = &arguments.log else {
        return Ok((arguments.events.unwrap_or(0), arguments.shots.unwrap_or(0)));
    };
    let gate = gate(&arguments.gate)?;
    let log = rigging::shots(path, &arguments.camera, None)?;
    let passed: Vec<bool> = log.shots.iter().filter_map(|shot| shot.result?.passed(gate)).collect();
    if passed.is_empty() {
        let message = format!("no shot of the log says whether it {}", arguments.gate);
        return Err(Failure::wrong(message).help("fill in `result`"));
    }
    let events = passed.iter().filter(|passed| **passed).count();
    Ok((events as u64, passed.len() as u64))
}

/// What passing a gate is called.
fn event(gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "a release",
        Gate::Reaches => "an arrival",
        Gate::Strikes => "a strike",
        Gate::Attitude => "a strike as the claim has it",
        Gate::Perforates => "a perforation",
        Gate::Harms => "harm",
    }
}

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let (events, shots) = counted(arguments)?;
    if events > shots {
        return Err(Failure::usage("more events than shots"));
    }
    let statement = Statement::new(events, shots);
    let event = match &arguments.event {
        Some(event) => event,
        None => event(gate(&arguments.gate)?),
    };
    let said = statement.said(event);
    if arguments.json {
        let mut answer = json!(statement);
        answer["says"] = json!(said);
        writeln!(out, "{answer:#}")?;
        return Ok(());
    }
    writeln!(out, "What may be said: {}: {}.", statement.likelihood(), said.says)?;
    writeln!(out, "What may not: {}.", said.does_not_say)?;
    writeln!(
        out,
        "The next shot has it with a chance of {}; at least one of as many again with a chance of {}.",
        Spoken::near(statement.next_shot),
        Spoken::near(statement.as_many_again)
    )?;
    Ok(())
}
