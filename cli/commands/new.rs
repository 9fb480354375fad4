//! `longodds new`: a scenario to start from.

use crate::{failure::Failure, files, paste};
use longodds_sim::scenario;
use std::{io::Write, path::PathBuf};

/// Write a commented scenario to start from.
///
/// The scenario runs as it is. An existing file is never overwritten.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  longodds new claim.yaml\n  longodds check claim.yaml")]
pub(crate) struct Arguments {
    /// The file to write; `-` prints it.
    file: PathBuf,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let text = scenario::template();
    if files::is_stream(&arguments.file) {
        out.write_all(text.as_bytes())?;
        return Ok(());
    }
    files::write_new(&arguments.file, text.as_bytes())?;
    let name = files::typed(&arguments.file);
    writeln!(out, "wrote {name}\n{}", paste::next(["check", &name]))?;
    Ok(())
}
