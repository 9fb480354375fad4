//! `coefficients` of a custom shape: a CSV file of the user's.

use crate::{
    aero::{Angles, Six, Table},
    quantity::significant,
    text::{file::bytes, measured::LONGEST, nearest::nearest},
};
use std::{collections::BTreeMap, path::Path};

/// The columns of a table of coefficients: two angles, then force and moment
/// along x, y, z.
const COLUMNS: [&str; 8] =
    ["angle_of_attack_deg", "sideslip_deg", "CX", "CY", "CZ", "CMX", "CMY", "CMZ"];
/// Most rows that are read: steps of one degree all round.
const MOST: usize = 361 * 181;
/// Coefficients of one direction may differ by this much from row to row.
const SAME: f64 = 1e-6;

/// One row, with its line in the file.
struct Row {
    line: u64,
    six: Six,
}

/// Angles in millionths of a degree, in order.
type Rows = BTreeMap<(i64, i64), Row>;

/// Reads a table; `reynolds`: the range that it is for.
pub(super) fn read(path: &Path, reynolds: [f64; 2]) -> Result<Table, String> {
    let rows = rows(&bytes(path, LONGEST)?)?;
    let mut attack: Vec<i64> = rows.keys().map(|key| key.0).collect();
    attack.dedup();
    let mut slip: Vec<i64> = rows.keys().map(|key| key.1).collect();
    slip.sort_unstable();
    slip.dedup();
    let angles = [(&attack, "angles of attack"), (&slip, "angles of sideslip")];
    let [along, across] = angles.map(|(list, what)| even(list, what));
    let (along, across) = (along?, across?);
    for &a in &attack {
        for &s in &slip {
            if !rows.contains_key(&(a, s)) {
                let (a, s) = (degrees(a), degrees(s));
                return Err(format!(
                    "there is no row for an angle of attack of {a} deg with a sideslip of {s} deg"
                ));
            }
        }
    }
    one_direction(&rows, &attack, &slip)?;
    let list: Vec<Six> = rows.values().map(|row| row.six).collect();
    Table::new(along, across, &list, reynolds).ok_or_else(|| "this is no table".to_owned())
}

fn rows(bytes: &[u8]) -> Result<Rows, String> {
    let mut file = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(bytes);
    let headings = file.headers().map_err(|error| error.to_string())?.clone();
    let names: Vec<&str> =
        headings.iter().map(|name| name.trim_start_matches('\u{feff}')).collect();
    let mut places = [0; 8];
    for (place, column) in places.iter_mut().zip(COLUMNS) {
        *place = names.iter().position(|name| *name == column).ok_or_else(|| {
            let near = nearest(&column.to_lowercase(), names.iter().copied());
            let near = near.map(|near| format!(", did you mean `{near}` to be it?"));
            let (names, near) = (names.join(", "), near.unwrap_or_default());
            format!("it has no column `{column}`{near}; its columns are: {names}")
        })?;
    }
    let mut rows = Rows::new();
    for record in file.records() {
        let record = record.map_err(|error| error.to_string())?;
        let line = record.position().map_or(0, csv::Position::line);
        let mut cells = [0.0; 8];
        for (cell, (place, column)) in cells.iter_mut().zip(places.iter().zip(COLUMNS)) {
            *cell = number(record.get(*place).unwrap_or_default(), column)
                .map_err(|why| format!("line {line}, {column}: {why}"))?;
        }
        let [attack, slip, six @ ..] = cells;
        if let Some(before) = rows.insert((key(attack), key(slip)), Row { line, six }) {
            let line_before = before.line;
            return Err(format!(
                "line {line} has the angle of attack and sideslip of line {line_before} again"
            ));
        }
        if rows.len() > MOST {
            return Err(format!("it has more than {MOST} rows: steps of one degree are enough"));
        }
    }
    Ok(rows)
}

fn number(cell: &str, column: &str) -> Result<f64, String> {
    let most = match column {
        "angle_of_attack_deg" => 180.0,
        "sideslip_deg" => 90.0,
        // Nothing flat or round comes near it (common sense, no source).
        _ => 100.0,
    };
    let value: f64 = cell.parse().map_err(|_| format!("`{cell}` is not a number"))?;
    if value.abs() <= most {
        Ok(value)
    } else {
        Err(format!("`{cell}` does not lie between -{most} and {most}"))
    }
}

/// Evenly spaced angles.
fn even(list: &[i64], what: &str) -> Result<Angles, String> {
    let [first, second, ..] = list else {
        return Err(format!("it needs at least two {what}"));
    };
    let step = second - first;
    // Thirds of a degree are written with their last digit rounded.
    let uneven = list.windows(2).find(|pair| (pair[1] - pair[0] - step).abs() > 3000);
    if let Some(pair) = uneven {
        return Err(format!(
            "its {what} are not evenly spaced: {} deg, {} deg at first, then {} deg, {} deg; \
             a row is missing or too many",
            degrees(*first),
            degrees(*second),
            degrees(pair[0]),
            degrees(pair[1]),
        ));
    }
    let last = list[list.len() - 1];
    #[expect(clippy::cast_precision_loss, reason = "at most 1.8e8 millionths of a degree")]
    let radians = |key: i64| (key as f64 * 1e-6).to_radians();
    #[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
    let steps = (list.len() - 1) as f64;
    Ok(Angles { from: radians(*first), step: radians(last - first) / steps, count: list.len() })
}

/// Rows of one and the same direction agree: half a turn either way, and the
/// poles.
fn one_direction(rows: &Rows, attack: &[i64], slip: &[i64]) -> Result<(), String> {
    const HALF: i64 = 180_000_000;
    const POLE: i64 = 90_000_000;
    let agree = |a: (i64, i64), b: (i64, i64)| {
        let (Some(a), Some(b)) = (rows.get(&a), rows.get(&b)) else { return Ok(()) };
        let apart = a.six.iter().zip(b.six).any(|(a, b)| (a - b).abs() > SAME);
        if apart {
            return Err(format!(
                "lines {} and {} are one and the same direction of the flow, but differ",
                a.line, b.line
            ));
        }
        Ok(())
    };
    slip.iter().try_for_each(|s| agree((-HALF, *s), (HALF, *s)))?;
    let poles = attack.iter().flat_map(|a| [-POLE, POLE].map(|pole| (*a, pole)));
    poles.into_iter().try_for_each(|(a, pole)| agree((attack[0], pole), (a, pole)))
}

#[expect(clippy::cast_possible_truncation, reason = "within 180 degrees")]
fn key(degrees: f64) -> i64 {
    (degrees * 1e6).round() as i64
}

/// For words.
#[expect(clippy::cast_precision_loss, reason = "at most 1.8e8 millionths of a degree")]
fn degrees(key: i64) -> String {
    significant(key as f64 * 1e-6, 6)
}
