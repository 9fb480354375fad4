//! Quantities that are said, held against the record: a number with its unit is
//! what the one rule for digits makes of a number of the record, or it is wrong.

use longodds_sim::{
    findings::Findings,
    quantity::{Dimension, Show, format},
};
use serde_json::Value;
use std::collections::HashSet;

/// What is told with a unit of its own.
const DIMENSIONS: [Dimension; 4] =
    [Dimension::Speed, Dimension::Energy, Dimension::Length, Dimension::Angle];

/// Lists longer than this are drawn, not said.
const LONG: usize = 12;

const UNITS: [&str; 12] =
    ["m/s", "mph", "J", "kJ", "MJ", "ft lbf", "km", "mm", "m", "mi", "deg", "in"];

/// The budget of a step, per so far, and how oblique a blow may be: limits that
/// are said and are no findings.
const LIMITS: [f64; 3] = [1e-3, 50.0, 10.0 * std::f64::consts::PI / 180.0];

/// The numbers of a record that may be said.
fn numbers(value: &Value, into: &mut Vec<f64>) {
    match value {
        Value::Number(number) => into.extend(number.as_f64()),
        Value::Array(all) if all.len() <= LONG => {
            all.iter().for_each(|one| numbers(one, into));
        }
        Value::Object(all) => all.values().for_each(|one| numbers(one, into)),
        Value::Array(_) | Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

/// The quantities in a text, as they are written.
pub(crate) fn quantities(text: &str) -> Vec<String> {
    let text = text.replace('\u{a0}', " ").replace('°', " deg").replace('−', "-");
    let words: Vec<&str> = text
        .split_whitespace()
        .map(|word| word.trim_matches(['(', ')', ',', ';', ':', '.', '"', '“', '”', '\'', '`']))
        .collect();
    let is_number = |word: &str| word.replace(',', "").parse::<f64>().is_ok_and(f64::is_finite);
    let mut found = Vec::new();
    let mut at = 0;
    while at + 1 < words.len() {
        let next = |place: usize| words.get(at + place).copied().unwrap_or("");
        if !is_number(next(0)) {
            at += 1;
            continue;
        }
        let share = next(1) == "in" && is_number(next(2));
        let taken = match next(1) {
            "ft" if next(2) == "lbf" => 3,
            "ft" if is_number(next(2)) && next(3) == "in" => 4,
            "ft" => 2,
            unit if UNITS.contains(&unit) && !share => 2,
            _ => 0,
        };
        if taken > 0 {
            found.push(words[at..at + taken].join(" ").replace(',', ""));
        }
        at += taken.max(1);
    }
    found
}

/// Quantities said that no number of the record is told as.
pub(crate) fn unknown(text: &str, findings: &Findings) -> Vec<String> {
    let mut record = LIMITS.to_vec();
    numbers(&serde_json::to_value(findings).unwrap(), &mut record);
    // However many they are.
    record.extend(findings.inputs.iter().flat_map(|input| input.quantiles));
    let told: HashSet<String> = record
        .iter()
        .flat_map(|x| {
            // A step's error is told in mm to everybody.
            let error = format(x.abs(), Dimension::Length, Show::Si);
            let own = DIMENSIONS.map(|dimension| format(x.abs(), dimension, findings.show));
            own.into_iter().chain([error])
        })
        .map(|text| text.replace(',', ""))
        .collect();
    quantities(text)
        .into_iter()
        .filter(|said| !told.contains(said.trim_start_matches(['-', '+'])))
        .collect()
}

#[test]
fn a_quantity_is_read_with_its_unit() {
    let read = quantities("at 42 mph (8\u{a0}ft 6\u{a0}in off), 12 in 100; 5.2 ft lbf, 31°, 3 in.");
    assert_eq!(read, ["42 mph", "8 ft 6 in", "5.2 ft lbf", "31 deg", "3 in"]);
}
