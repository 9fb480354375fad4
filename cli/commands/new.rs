//! `longodds new`: a scenario to start from.

use crate::{diagnostics, failure::Failure, files, paste};
use longodds_sim::scenario::{
    self,
    parts::{Side, Starter, starter},
};
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Write a scenario to start from: a commented one, or one of two parts of the
/// shelf.
///
/// The scenario runs as it is. An existing file is never overwritten.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds new claim.yaml
  longodds new --object plywood_12mm_8x4 --target shop_front claim.yaml
  longodds check claim.yaml

`longodds parts` lists the shelf.")]
pub(crate) struct Arguments {
    /// The file to write; `-` prints it.
    file: PathBuf,
    /// What flies: an object of the shelf.
    #[arg(long, value_name = "PART")]
    object: Option<String>,
    /// What has to be hit: a target of the shelf.
    #[arg(long, value_name = "PART")]
    target: Option<String>,
}

/// What stands for the part that is not named.
const OBJECT: &str = "brick";
const TARGET: &str = "shop_front";

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let text = text(arguments)?;
    if files::is_stream(&arguments.file) {
        out.write_all(text.as_bytes())?;
        return Ok(());
    }
    files::write_new(&arguments.file, text.as_bytes())?;
    let name = files::typed(&arguments.file);
    writeln!(out, "wrote {name}\n{}", paste::next(["check", &name]))?;
    Ok(())
}

fn text(arguments: &Arguments) -> Result<String, Failure> {
    let (object, target) = (arguments.object.as_deref(), arguments.target.as_deref());
    if object.is_none() && target.is_none() {
        return Ok(scenario::template().to_owned());
    }
    let folder = arguments.file.parent();
    let with = Starter {
        object: object.unwrap_or(OBJECT),
        target: target.unwrap_or(TARGET),
        folder: Some(folder.unwrap_or(Path::new(""))),
    };
    starter(with).map_err(|problems| {
        for (side, problem) in problems {
            let (option, name) = match side {
                Side::Object => ("--object", with.object),
                Side::Target => ("--target", with.target),
            };
            let problem = match problem.label {
                Some(_) => problem,
                None => problem.at(0..name.len(), "taken here"),
            };
            diagnostics::show(option, name, &[problem]);
        }
        Failure::Shown
    })
}
