//! The command line, as typed.

use crate::commands;

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

/// One variant, one file in `commands`; the help text of each is its
/// arguments' own.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    New(commands::new::Arguments),
    Check(commands::check::Arguments),
    Run(commands::run::Arguments),
    Sweep(commands::sweep::Arguments),
    Drivers(commands::drivers::Arguments),
    Compare(commands::compare::Arguments),
    Exclusion(commands::exclusion::Arguments),
    Report(commands::report::Arguments),
    Draw(commands::draw::Arguments),
    Rig(commands::rig::Arguments),
    Speed(commands::speed::Arguments),
    Calibrate(commands::calibrate::Arguments),
    Trials(commands::trials::Arguments),
    Judge(commands::judge::Arguments),
    Schema(commands::schema::Arguments),
}
