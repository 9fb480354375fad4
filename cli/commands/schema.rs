//! `longodds schema`: the languages for editors, and to read.

use crate::failure::Failure;
use longodds_sim::{rig, scenario};
use std::io::Write;

/// Print the JSON Schema of scenarios or rigs, for editors that complete keys.
///
/// The schema covers keys and words; units, order and physics are for `check`.
/// `--reference` prints every key to read: what it means, its bounds, and what
/// holds where it is not written.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds schema > scenario.schema.json
  longodds schema --rig > rig.schema.json
  longodds schema --reference

Point your editor's YAML support at the file.")]
pub(crate) struct Arguments {
    /// Of rigs, not of scenarios.
    #[arg(long)]
    rig: bool,
    /// Print a reference to read, in Markdown.
    #[arg(long)]
    reference: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    match (arguments.reference, arguments.rig) {
        (false, false) => writeln!(out, "{:#}", scenario::schema())?,
        (false, true) => writeln!(out, "{:#}", rig::schema())?,
        (true, false) => write!(out, "{}", scenario::reference())?,
        (true, true) => write!(out, "{}", rig::reference())?,
    }
    Ok(())
}
