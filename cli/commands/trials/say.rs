//! What shots already shot would let one say.

use crate::failure::Failure;
use longodds_sim::{trials::demonstration::Statement, words::Spoken};
use serde_json::json;
use std::io::Write;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Shots shot.
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=1_000_000_000))]
    shots: u64,
    /// How many of them had the event.
    #[arg(long)]
    events: u64,
    /// What the event is.
    #[arg(long, default_value = "a perforation")]
    event: String,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    if arguments.events > arguments.shots {
        return Err(Failure::usage("more events than shots"));
    }
    let statement = Statement::new(arguments.events, arguments.shots);
    let said = statement.said(&arguments.event);
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
