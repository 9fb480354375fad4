//! What a row says of a key that is not written is what holds then.

use super::{
    Language,
    made::{Spot, si, spots, text, texts},
    scenarios,
};
use crate::{rig, scenario::check::inputs_of, text::Unwritten, uncertain::Input};
use serde_json::{Value, json};

/// A text without the key of a spot.
fn without(text: &str, spot: &Spot) -> String {
    let mut value: Value = serde_yaml::from_str(text).unwrap();
    let (last, way) = spot.path.split_last().unwrap();
    let group = way.iter().fold(&mut value, |value, key| &mut value[key]);
    group.as_object_mut().unwrap().remove(last);
    format!("{value:#}\n")
}

/// The text with a sheet in it ten times as long as wide.
fn long(text: &str) -> String {
    let Ok(mut value) = serde_yaml::from_str::<Value>(text) else { return text.to_owned() };
    if let Some(sheet) = value.pointer_mut("/object/shape/plate").and_then(Value::as_object_mut) {
        sheet.insert("length".to_owned(), json!("10 m"));
        sheet.insert("width".to_owned(), json!("1 m"));
    }
    format!("{value:#}\n")
}

#[test]
fn an_input_that_is_not_written_is_as_its_row_has_it() {
    let language = &Language::all()[0];
    let mut seen = Vec::new();
    for spot in spots(&language.group) {
        let ends = match spot.row.unwritten {
            Unwritten::Value(value) => [value; 2],
            Unwritten::Open { range, .. } => range,
            Unwritten::Needed | Unwritten::Words(_) => continue,
        };
        if spot.path.last().map(String::as_str) != Some(spot.row.name) {
            continue;
        }
        // A figure is asked about where the shape has it.
        let with = texts(&language.group, &spot.path, &json!("1"));
        let texts: Vec<String> = with.iter().map(|text| without(text, &spot)).collect();
        let name = spot.name();
        let of = |text: &String| -> Option<Input> {
            inputs_of(text, &scenarios()).into_iter().find(|input| input.name == name)
        };
        // Where a surface or short sides narrow a range, one of them has the row's.
        let found: Vec<Input> = texts
            .iter()
            .flat_map(|text| [text.clone(), long(text)])
            .filter_map(|t| of(&t))
            .collect();
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1.0);
        let same = |input: &Input| {
            let ends_of = [1e-15, 1.0 - 1e-15].map(|u| input.distribution.quantile(u));
            input.assumed && near(ends_of[0], ends[0]) && near(ends_of[1], ends[1])
        };
        if !found.is_empty() {
            assert!(found.iter().any(same), "{name}: {ends:?} {found:?}");
            seen.push(name);
        }
    }
    assert!(seen.len() > 50, "{} {seen:?}", seen.len());
}

#[test]
fn a_rig_is_the_same_with_its_defaults_written() {
    let language = &Language::all()[1];
    let mut seen = 0;
    for spot in spots(&language.group) {
        let (Unwritten::Value(value), Some(what)) = (spot.row.unwritten, spot.kind.what()) else {
            continue;
        };
        let written = text(&language.group, &spot.path, &json!(si(value, what.dimension)));
        let bare = without(&written, &spot);
        let [with, bare] = [written, bare].map(|text| rig::parse(&text));
        assert_eq!(with.unwrap(), bare.unwrap(), "{}", spot.name());
        seen += 1;
    }
    assert!(seen > 18, "{seen}");
}
