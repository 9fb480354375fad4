//! The `longodds` command.
//!
//! `main` turns a failure into a message and an exit status; `commands` do the
//! work. Only this program prints, exits and writes files; the engine does
//! none of it.

mod args;
mod commands;
mod diagnostics;
mod evidence;
mod failure;
mod files;
mod input;
mod knob;
mod outputs;
mod paste;
mod plain;
mod progress;
mod rigging;
mod summary;
mod typed;
mod what_if;

use crate::{args::Args, failure::Failure};
use clap::Parser;
use std::{io, process::ExitCode};

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|bug| diagnostics::bug(&bug.to_string())));
    let args = Args::parse();
    let mut out = anstream::stdout().lock();
    match commands::run(&args.command, &mut out) {
        Ok(()) => ExitCode::SUCCESS,
        // The reader went away (`longodds ... | head`): not our error.
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => {
            ExitCode::SUCCESS
        }
        Err(failure) => {
            diagnostics::failure(&failure);
            ExitCode::from(failure.status())
        }
    }
}
