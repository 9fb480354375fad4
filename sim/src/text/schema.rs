//! A language as a JSON Schema, for editors.
//!
//! An editor that knows it completes keys and marks misspelt ones while a text
//! is typed. What it cannot know (units, order, physics) is `check`'s to say:
//! every text that is read is valid here, not the reverse.

use super::{
    row::{Group, Kind, Row},
    spread,
    what::What,
};
use crate::quantity::Dimension;
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of a language.
pub(crate) fn schema(title: &str, language: &Group) -> Value {
    let mut root = of_group(language);
    let mut used = Vec::new();
    numbers(language, &mut used);
    let definitions: Map<String, Value> = Dimension::ALL
        .into_iter()
        .filter(|dimension| used.contains(dimension))
        .map(|dimension| (name(dimension), definition(dimension)))
        .collect();
    root["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    root["title"] = json!(title);
    root["$defs"] = definitions.into();
    root
}

/// The dimensions of all numbers that may be spread.
fn numbers(group: &Group, used: &mut Vec<Dimension>) {
    fn of(kind: &Kind, used: &mut Vec<Dimension>) {
        match kind {
            Kind::Number(what) => used.push(what.dimension),
            Kind::Either(kinds) => kinds.iter().for_each(|kind| of(kind, used)),
            Kind::Tuple(kinds) => kinds.iter().for_each(|(_, kind)| of(kind, used)),
            other => other.group().into_iter().for_each(|group| numbers(group, used)),
        }
    }
    group.rows.iter().for_each(|row| of(&row.kind, used));
}

fn of_group(group: &Group) -> Value {
    let properties: Map<String, Value> =
        group.rows.iter().map(|row| (row.name.to_owned(), of_row(row))).collect();
    let needed: Vec<&str> =
        group.rows.iter().filter(|row| row.is_needed()).map(|row| row.name).collect();
    let mut schema = json!({
        "type": "object",
        "description": group.about,
        "properties": properties,
        "required": needed,
        "additionalProperties": false,
    });
    let choices: Vec<Value> = group.choices.iter().map(|names| one_of(names)).collect();
    if let Some(name) = group.stands_in {
        let mut all = choices;
        all.push(json!({ "required": needed }));
        schema["required"] = json!([]);
        schema["anyOf"] = json!([{ "required": [name] }, { "allOf": all }]);
    } else if !choices.is_empty() {
        schema["allOf"] = choices.into();
    }
    schema
}

fn one_of(names: &[&str]) -> Value {
    let each: Vec<Value> = names.iter().map(|name| json!({ "required": [name] })).collect();
    json!({ "oneOf": each })
}

fn of_row(row: &Row) -> Value {
    let mut schema = of_kind(&row.kind);
    schema["description"] = json!(row.described());
    schema
}

fn of_kind(kind: &Kind) -> Value {
    match kind {
        Kind::Number(what) => json!({ "$ref": format!("#/$defs/{}", name(what.dimension)) }),
        Kind::Value(what) => one_value(*what),
        Kind::Whole(_) => json!({ "type": ["integer", "string"] }),
        Kind::Text => json!({ "type": ["string", "number", "boolean"] }),
        Kind::Words(words) => json!({ "enum": words }),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Nothing => json!({ "type": "null" }),
        Kind::Group(group) => of_group(group),
        Kind::Names(group) => json!({
            "type": "object",
            "additionalProperties": of_group(group),
        }),
        Kind::Tuple(kinds) => {
            let items: Vec<Value> = kinds.iter().map(|(_, kind)| of_kind(kind)).collect();
            let count = items.len();
            json!({ "type": "array", "prefixItems": items, "minItems": count, "maxItems": count })
        }
        Kind::List(kind) => json!({ "type": "array", "items": of_kind(kind), "minItems": 1 }),
        Kind::Either(kinds) => {
            json!({ "anyOf": kinds.iter().map(of_kind).collect::<Vec<Value>>() })
        }
    }
}

fn one_value(what: What) -> Value {
    match what.dimension {
        Dimension::Number | Dimension::Ratio => json!({ "type": ["number", "string"] }),
        _ => json!({ "type": "string" }),
    }
}

fn name(dimension: Dimension) -> String {
    dimension.name().replace(' ', "_")
}

/// One value, or how it is spread.
fn definition(dimension: Dimension) -> Value {
    let what = What::any(dimension);
    let words = format!("{} such as {}", dimension.with_article(), what.example());
    json!({ "description": words, "anyOf": [one_value(what), of_group(&spread::group(what))] })
}
