//! What each command does. One command, one file: its arguments as typed, and
//! `run`, which writes the answer to `out` and its talk to stderr.

pub(crate) mod calibrate;
pub(crate) mod camera;
pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod draw;
pub(crate) mod drivers;
pub(crate) mod exclusion;
pub(crate) mod judge;
#[cfg(feature = "live")]
pub(crate) mod live;
pub(crate) mod new;
pub(crate) mod next;
pub(crate) mod parts;
pub(crate) mod report;
pub(crate) mod rig;
pub(crate) mod run;
pub(crate) mod safety;
pub(crate) mod schema;
pub(crate) mod speed;
pub(crate) mod sweep;
pub(crate) mod trials;

use crate::failure::Failure;
use std::io::Write;

/// One variant, one file here; the help text of each is its
/// arguments' own.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    New(new::Arguments),
    Parts(parts::Arguments),
    Check(check::Arguments),
    Run(run::Arguments),
    #[cfg(feature = "live")]
    Live(live::Arguments),
    Sweep(sweep::Arguments),
    Drivers(drivers::Arguments),
    Compare(compare::Arguments),
    Exclusion(exclusion::Arguments),
    Next(next::Arguments),
    Report(report::Arguments),
    Draw(draw::Arguments),
    Rig(rig::Arguments),
    Camera(camera::Arguments),
    Safety(safety::Arguments),
    Speed(speed::Arguments),
    Calibrate(calibrate::Arguments),
    Trials(trials::Arguments),
    Judge(judge::Arguments),
    Schema(schema::Arguments),
}

/// Runs the command and writes its answer to `out`.
pub(crate) fn run(command: &Command, out: &mut dyn Write) -> Result<(), Failure> {
    match command {
        Command::New(arguments) => new::run(arguments, out),
        Command::Parts(arguments) => parts::run(arguments, out),
        Command::Run(arguments) => run::run(arguments, out),
        #[cfg(feature = "live")]
        Command::Live(arguments) => live::run(arguments, out),
        Command::Check(arguments) => check::run(arguments, out),
        Command::Next(arguments) => next::run(arguments, out),
        Command::Report(arguments) => report::run(arguments, out),
        Command::Draw(arguments) => draw::run(arguments, out),
        Command::Schema(arguments) => schema::run(arguments, out),
        Command::Sweep(arguments) => sweep::run(arguments, out),
        Command::Exclusion(arguments) => exclusion::run(arguments, out),
        Command::Compare(arguments) => compare::run(arguments, out),
        Command::Drivers(arguments) => drivers::run(arguments, out),
        Command::Safety(arguments) => safety::run(arguments, out),
        Command::Camera(arguments) => camera::run(arguments, out),
        Command::Speed(arguments) => speed::run(arguments, out),
        Command::Rig(arguments) => rig::run(arguments, out),
        Command::Calibrate(arguments) => calibrate::run(arguments, out),
        Command::Trials(arguments) => trials::run(arguments, out),
        Command::Judge(arguments) => judge::run(arguments, out),
    }
}
