//! Reading what other commands found, for the page.

use crate::{failure::Failure, files};
use longodds_reports::{Evidence, ExclusionChart};
use longodds_sim::findings::{Kind, VERSION};
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::path::Path;

/// A record of a run with many flights kept for drawing is a few MB.
pub(crate) const LIMIT: usize = 256 << 20;

/// Reads the JSON answer of a command, and says what is wrong with what is
/// none.
pub(crate) fn read(path: &Path) -> Result<Evidence, Failure> {
    let text = files::read_text(path, LIMIT)?;
    let name = files::name(path);
    let mut record: Value = serde_json::from_str(&text)
        .map_err(|error| Failure::wrong(format!("`{name}` is not JSON: {error}")).help(HELP))?;
    let kind = record.get("kind").cloned().unwrap_or_default();
    let Ok(kind) = serde_json::from_value::<Kind>(kind) else {
        return Err(
            Failure::wrong(format!("`{name}` is no answer that a page can show")).help(HELP)
        );
    };
    let version = record.get("version").and_then(Value::as_u64);
    if version != Some(u64::from(VERSION)) {
        let found = version.map_or_else(|| "no layout".to_owned(), |v| format!("layout {v}"));
        let message = format!("`{name}` has {found}, this program reads {VERSION}");
        return Err(Failure::wrong(message).help("ask the command again"));
    }
    let whole = |error: serde_json::Error| {
        Failure::wrong(format!("`{name}` is not whole: {error}")).help("ask the command again")
    };
    match kind {
        Kind::Sweep => part(record).map(Evidence::Sweep),
        Kind::Map => part(record).map(Evidence::Map),
        Kind::Compare => part(record).map(Evidence::Comparison),
        Kind::Calibration => part(record).map(Evidence::Calibration),
        Kind::Judgement => part(record["chart"].take()).map(Evidence::Judgement),
        Kind::Plan => part(record["chart"].take()).map(Evidence::Plan),
        Kind::Exclusion => part(record["chart"].take()).map(Evidence::Exclusion),
    }
    .map_err(whole)
}

/// Reads where debris goes, as `exclusion` told it.
pub(crate) fn zone(path: &Path) -> Result<ExclusionChart, Failure> {
    match read(path)? {
        Evidence::Exclusion(zone) => Ok(zone),
        _ => Err(Failure::wrong(format!("`{}` tells no zone", files::name(path)))
            .help("give what `longodds exclusion --json` wrote")),
    }
}

const HELP: &str = "give what `longodds sweep`, `compare`, `calibrate`, `judge`, `trials` or `exclusion` wrote with `--json`";

fn part<T: DeserializeOwned>(record: Value) -> Result<T, serde_json::Error> {
    serde_json::from_value(record)
}
