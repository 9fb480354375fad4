//! The pieces a schema is put together from.

use super::properties;
use crate::{quantity::Dimension, text::spread::FORMS};
use serde_json::{Value, json};

/// A group of known keys.
pub(super) fn group(description: &str, keys: &[(&str, Value)], required: &[&str]) -> Value {
    json!({
        "type": "object",
        "description": description,
        "properties": properties(keys),
        "required": required,
        "additionalProperties": false,
    })
}

/// A group in which exactly one of several keys is chosen.
pub(super) fn one_key(description: &str, keys: &[(&str, Value)]) -> Value {
    let mut schema = group(description, keys, &[]);
    schema["minProperties"] = json!(1);
    schema["maxProperties"] = json!(1);
    schema
}

/// A list of one kind of items.
pub(super) fn list(description: &str, items: Value, least: usize, most: usize) -> Value {
    json!({
        "type": "array",
        "description": description,
        "items": items,
        "minItems": least,
        "maxItems": most,
    })
}

/// Any text.
pub(super) fn text(description: &str) -> Value {
    json!({ "type": "string", "description": description })
}

/// One of a few words.
pub(super) fn words(description: &str, words: &[&str]) -> Value {
    json!({ "type": "string", "description": description, "enum": words })
}

/// The number of this dimension.
pub(super) fn reference(dimension: Dimension) -> Value {
    json!({ "$ref": format!("#/$defs/{}", name(dimension)) })
}

fn name(dimension: Dimension) -> String {
    dimension.name().replace(' ', "_")
}

/// Every number of the language, by dimension.
pub(super) fn definitions() -> Value {
    let used = [
        (Dimension::Number, "a number such as 1.2"),
        (Dimension::Ratio, "a share such as 0.3 or 30 %"),
        (Dimension::Length, "a length such as 2.5 m or 8 ft 6 in"),
        (Dimension::Area, "an area such as 0.7 m2"),
        (Dimension::Mass, "a mass such as 4 kg or 46 lb"),
        (Dimension::Speed, "a speed such as 40 mph or 18 m/s"),
        (Dimension::Angle, "an angle such as 30 deg"),
        (Dimension::Rotation, "a rate of turn such as 60 rpm"),
        (Dimension::Temperature, "a temperature such as 12 degC"),
        (Dimension::Pressure, "a pressure such as 101 kPa"),
        (Dimension::Force, "a force such as 2 kN or 400 lbf"),
        (Dimension::Acceleration, "an acceleration such as 8 m/s2 or 0.8 gn"),
        (Dimension::Time, "a time such as 2 s or 100 ms"),
        (Dimension::Density, "a density such as 2400 kg/m3"),
        (Dimension::Energy, "an energy such as 80 J or 58 ft lbf"),
    ];
    used.into_iter()
        .map(|(dimension, words)| (name(dimension), number(dimension, words)))
        .collect::<serde_json::Map<String, Value>>()
        .into()
}

/// One value, or how it is spread.
fn number(dimension: Dimension, words: &str) -> Value {
    let value = value(dimension, words);
    let pure = json!({ "type": ["number", "string"] });
    let forms: Vec<(&str, Value)> = vec![
        ("range", list("Anything in between, all alike.", value.clone(), 2, 2)),
        ("triangle", list("Lowest, likeliest, highest.", value.clone(), 3, 3)),
        ("between", list("Nine times out of ten in between.", value.clone(), 2, 2)),
        (
            "normal",
            group(
                "The bell curve.",
                &[("mean", value.clone()), ("sd", value.clone())],
                &["mean", "sd"],
            ),
        ),
        (
            "lognormal",
            group(
                "Positive, with a long upper tail.",
                &[("median", value.clone()), ("sigma_log", pure.clone()), ("p95", value.clone())],
                &["median"],
            ),
        ),
        (
            "weibull",
            group(
                "Wind speeds, strengths.",
                &[("scale", value.clone()), ("shape", pure.clone())],
                &["scale", "shape"],
            ),
        ),
        ("choice", choice(&value, &pure)),
        (
            "measured",
            group(
                "A column of a CSV file.",
                &[
                    ("file", text("File name, from the scenario's folder.")),
                    ("column", text("Heading of the column.")),
                    ("unit", text("Unit of its numbers.")),
                ],
                &["file", "column"],
            ),
        ),
        ("unknown", flag("One fixed value that nobody knows.")),
        ("skew", flag("With `between`: lognormal instead of the bell curve.")),
    ];
    let mut spread = group("How the number is spread.", &forms, &[]);
    spread["oneOf"] = FORMS.iter().map(|form| json!({ "required": [form] })).collect();
    json!({ "description": words, "anyOf": [value, spread] })
}

fn value(dimension: Dimension, words: &str) -> Value {
    match dimension {
        Dimension::Number | Dimension::Ratio => {
            json!({ "type": ["number", "string"], "description": words })
        }
        _ => text(words),
    }
}

fn choice(value: &Value, weight: &Value) -> Value {
    let keys = [("value", value.clone()), ("weight", weight.clone())];
    let item = group("A value and its weight.", &keys, &["value"]);
    json!({
        "type": "array",
        "description": "One of a few values, by weight.",
        "items": item,
        "minItems": 1,
    })
}

pub(super) fn flag(description: &str) -> Value {
    json!({ "type": "boolean", "description": description })
}
