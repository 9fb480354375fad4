//! A spread as it was measured: one column of a CSV file.

use super::{
    file,
    nearest::nearest,
    reader::{Reader, Table},
    what::What,
    yaml::Key,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::parse,
    uncertain::Distribution,
};
use std::path::Path;

/// Longest file that is read, in bytes.
pub(crate) const LONGEST: u64 = 16 << 20;
/// With fewer values than this, the sample says little about its tails.
const FEW: usize = 20;

/// Reads `measured: {file: …, column: …, unit: …}`.
pub(crate) fn read(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    key: &Key,
    what: What,
) -> Option<Distribution> {
    let file = reader.text_of(table, "file", "a name");
    let column = reader.text_of(table, "column", "a name");
    let unit = match table.get("unit") {
        Some(_) => Some(reader.text_of(table, "unit", "a unit")?.0),
        None => None,
    };
    let ((file, place), (column, column_place)) = (file?, column?);
    match sample(&reader.folder.join(file), column, unit, what) {
        Ok(sample) => {
            if sample.len() < FEW {
                reader.report(
                    Diagnostic::warning("scenario::sample", "a small sample")
                        .at(place, format!("{} values", sample.len()))
                        .help("nothing beyond its smallest and largest value is ever drawn"),
                );
            }
            reader.made(Distribution::measured(&sample), key, "")
        }
        Err((wrong, why)) => {
            let place = if wrong == Wrong::Column { column_place } else { place };
            reader.report(located(file, place, why));
            None
        }
    }
}

/// What such a file is.
pub(crate) const HELP: &str =
    "a CSV file with a heading line; its name is relative to the scenario's folder";

pub(crate) fn located(file: &str, place: Span, why: String) -> Diagnostic {
    Diagnostic::error("scenario::measured", format!("cannot use the measured data of `{file}`"))
        .at(place, why)
        .help(HELP)
}

/// What to point at.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wrong {
    File,
    Column,
}

/// The values of a column, in SI.
pub(crate) fn sample(
    path: &Path,
    column: &str,
    unit: Option<&str>,
    what: What,
) -> Result<Vec<f64>, (Wrong, String)> {
    let wrong = |why: String| (Wrong::File, why);
    let bytes = file::bytes(path, LONGEST).map_err(wrong)?;
    let mut rows = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(bytes.as_slice());
    let headings = rows.headers().map_err(|error| wrong(error.to_string()))?.clone();
    let names = || headings.iter().map(|name| name.trim_start_matches('\u{feff}'));
    let place = names().position(|name| name == column).ok_or_else(|| {
        let list: Vec<&str> = names().collect();
        let near = nearest(column, names()).map(|near| format!(", did you mean `{near}`?"));
        let near = near.unwrap_or_default();
        (Wrong::Column, format!("its columns are: {}{near}", list.join(", ")))
    })?;
    let mut values = Vec::new();
    for row in rows.records() {
        let row = row.map_err(|error| wrong(error.to_string()))?;
        let line = row.position().map_or(0, csv::Position::line);
        let cell = row.get(place).unwrap_or_default();
        let text = unit.map_or_else(|| cell.to_owned(), |unit| format!("{cell} {unit}"));
        let value = parse(&text, what.dimension)
            .map_err(|error| wrong(format!("line {line}: `{cell}`: {error}")))?;
        if let Some(must) = what.objection(value) {
            return Err(wrong(format!("line {line}: `{cell}` {must}")));
        }
        values.push(value);
    }
    Ok(values)
}
