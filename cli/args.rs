//! The command line, as typed.

use crate::commands::Command;

/// Could that really happen? Tests a physical claim about a flying object
/// before anyone builds a rig.
#[derive(Debug, clap::Parser)]
#[command(
    version,
    after_help = "\
Example:
  longodds new claim.yaml      write a scenario to start from
  longodds check claim.yaml    see how it is understood
  longodds run claim.yaml      fly it: how likely, and where it breaks

Exit status: 0 done, 1 the scenario or the shots are wrong, 2 the command line
is wrong, 3 a file could not be read or written."
)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}
