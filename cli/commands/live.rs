//! `longodds live`: the claim as a page on this machine.

use crate::{failure::Failure, files};
use longodds_live::{Disk, Options, serve};
use longodds_sim::scenario;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Open a claim as a page: change a number and see at once what it does.
///
/// Prints an address to open in a browser on this machine; nothing is sent
/// anywhere else. The file is written only when you save in the page; saved by
/// an editor, it is taken up. Ctrl-C ends it.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds live claim.yaml
  longodds live claim.yaml --port 8017

The address holds a word behind `#` that no browser sends on: whoever has it can
change the claim while the page is served.")]
pub(crate) struct Arguments {
    /// The scenario.
    scenario: PathBuf,
    /// The port on this machine; one that is free if not given.
    #[arg(long, default_value_t = 0, hide_default_value = true)]
    port: u16,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Threads that fly; one fewer than the machine has if not given, so that
    /// the browser has one.
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let file = &arguments.scenario;
    if files::is_stream(file) {
        return Err(Failure::usage("a page needs a file to read again and to save to")
            .help("write the text to a file, such as claim.yaml"));
    }
    // What is wrong in it is said on the page; that it cannot be read, here.
    files::read_text(file, scenario::LONGEST)?;
    let disk = Box::new(OneFile(file.clone()));
    let options = Options {
        port: arguments.port,
        seed: arguments.seed,
        threads: arguments.threads.map(usize::from),
    };
    serve(disk, &options, |address| {
        writeln!(out, "Page: {}", address.page)?;
        writeln!(out, "Open it in a browser on this machine. Ctrl-C ends it.")?;
        out.flush()
    })
    .map_err(|error| Failure::serve(arguments.port, &error))
}

/// The file that was named, and no other.
struct OneFile(PathBuf);

impl Disk for OneFile {
    fn name(&self) -> String {
        files::name(&self.0)
    }

    fn folder(&self) -> PathBuf {
        self.0.parent().unwrap_or(Path::new("")).to_owned()
    }

    fn read(&self) -> Result<String, String> {
        files::read_text(&self.0, scenario::LONGEST).map_err(|failure| failure.to_string())
    }

    fn write(&self, text: &str) -> Result<(), String> {
        files::write_over(&self.0, text.as_bytes()).map_err(|failure| failure.to_string())
    }
}
