//! `longodds report`: the page again, from findings kept by a run.

use crate::{
    evidence::{self, LIMIT},
    failure::Failure,
    files, paste,
};
use longodds_sim::findings::{self, Findings};
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Write the page again from findings.json; nothing is flown.
///
/// With --with, what other commands found stands on the page beside the run:
/// sweeps and maps, a claim against a rig, a launcher and its shots, shots
/// against the claim, a plan of shots, where debris goes.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds report findings.json --out report.html
  longodds sweep claim.yaml wind.speed --from 10mph --to 60mph --json > wind.json
  longodds report findings.json --with wind.json --out report.html")]
pub(crate) struct Arguments {
    /// The findings that a run wrote; `-` reads standard input.
    findings: PathBuf,
    /// The JSON answer of `sweep`, `compare`, `calibrate`, `judge`, `trials` or
    /// `exclusion`, to stand on the page; may be given more than once.
    #[arg(long, value_name = "FILE")]
    with: Vec<PathBuf>,
    /// The page to write, replacing what is there; `-` writes standard output.
    #[arg(long, default_value = "report.html")]
    out: PathBuf,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = read(&arguments.findings)?;
    let evidence: Result<Vec<_>, _> =
        arguments.with.iter().map(|path| evidence::read(path)).collect();
    let page = longodds_reports::page(&findings, &evidence?);
    if files::is_stream(&arguments.out) {
        out.write_all(page.as_bytes())?;
        return Ok(());
    }
    files::write(&arguments.out, page.as_bytes())?;
    writeln!(out, "{}", arguments.out.display())?;
    writeln!(out, "{}", paste::next(["draw", &files::typed(&arguments.findings)]))?;
    Ok(())
}

/// Reads findings, and says what is wrong with those that are none.
pub(crate) fn read(path: &Path) -> Result<Findings, Failure> {
    let text = files::read_text(path, LIMIT)?;
    let name = files::name(path);
    let version = serde_json::from_str::<serde_json::Value>(&text)
        .map_err(|error| {
            Failure::wrong(format!("`{name}` is not JSON: {error}"))
                .help("give the findings.json that `longodds run` wrote")
        })?
        .get("version")
        .and_then(serde_json::Value::as_u64);
    match version {
        Some(v) if v == u64::from(findings::VERSION) => {}
        Some(v) => {
            let ours = findings::VERSION;
            return Err(Failure::wrong(format!(
                "`{name}` has layout {v}, this program reads {ours}"
            ))
            .help("run the scenario again; it is kept whole in the findings"));
        }
        None => {
            return Err(Failure::wrong(format!("`{name}` holds no findings: it has no version"))
                .help("give the findings.json that `longodds run` wrote"));
        }
    }
    serde_json::from_str(&text).map_err(|error| {
        Failure::wrong(format!("`{name}` is not a whole findings record: {error}"))
            .help("run the scenario again")
    })
}
