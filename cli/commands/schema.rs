//! `longodds schema`: the scenario language for editors.

use crate::failure::Failure;
use longodds_sim::scenario;
use std::io::Write;

/// Print the JSON Schema of scenarios, for editors that complete keys.
///
/// The schema covers keys and words; units, order and physics are for `check`.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds schema > scenario.schema.json

Point your editor's YAML support at the file.")]
pub(crate) struct Arguments {}

pub(crate) fn run(_: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "{:#}", scenario::schema())?;
    Ok(())
}
