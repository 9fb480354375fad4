//! The schema takes what the reader takes, and refuses what is wrong in form.

use super::{
    Language,
    made::{Spot, spots, text},
    scenarios,
};
use crate::{scenario::template, text::Kind};
use serde_json::{Value, json};
use std::fs;

/// A schema that texts are held against, as an independent validator of the
/// standard reads it.
struct Compiled(jsonschema::Validator);

impl Compiled {
    fn new(schema: &Value) -> Self {
        Self(jsonschema::validator_for(schema).unwrap())
    }

    fn check(&self, text: &str) -> Result<(), String> {
        let value: Value = serde_yaml::from_str(text).map_err(|error| error.to_string())?;
        self.0.validate(&value).map_err(|error| format!("{error} at {}", error.instance_path()))
    }
}

/// A text with a strange key at the end of a path, where there is a group.
pub(super) fn with_key(text: &str, path: &[String]) -> Option<String> {
    let mut value: Value = serde_yaml::from_str(text).ok()?;
    let (key, way) = path.split_last()?;
    let group = way.iter().try_fold(&mut value, |value, key| value.get_mut(key))?;
    group.as_object_mut()?.insert(key.clone(), json!("1"));
    Some(format!("{value:#}\n"))
}

fn yaml_files(folder: &str) -> Vec<(String, String)> {
    let read = fs::read_dir(scenarios().join(folder)).unwrap();
    let paths = read.map(|entry| entry.unwrap().path());
    paths
        .filter(|path| path.extension().is_some_and(|extension| extension == "yaml"))
        .map(|path| (path.display().to_string(), fs::read_to_string(&path).unwrap()))
        .collect()
}

#[test]
fn every_demo_every_rig_and_the_template_fit_their_schema() {
    let [claims, rigs] = Language::all().map(|language| Compiled::new(&language.schema()));
    assert_eq!(claims.check(template()), Ok(()));
    let (demos, launchers) = (yaml_files(""), yaml_files("rigs"));
    assert!(demos.len() >= 11 && launchers.len() >= 4);
    for (schema, name, text) in demos
        .iter()
        .map(|(name, text)| (&claims, name, text))
        .chain(launchers.iter().map(|(name, text)| (&rigs, name, text)))
    {
        assert_eq!(schema.check(text), Ok(()), "{name}");
    }
    for (name, text) in launchers {
        assert!(crate::rig::parse(&text).is_ok(), "{name}");
        assert!(claims.check(&text).is_err(), "{name} is no claim");
    }
}

#[test]
fn every_demo_is_understood_without_a_doubt() {
    for (name, text) in yaml_files("") {
        let scenario = crate::scenario::parse(&text, &scenarios())
            .unwrap_or_else(|problems| panic!("{name}: {problems:#?}"));
        assert_eq!(scenario.warnings, [], "{name}");
    }
}

/// What is wrong in form is wrong for both.
fn both_refuse(language: &Language, schema: &Compiled, text: &str, what: &str) {
    assert!(schema.check(text).is_err(), "the schema takes {what}: {text}");
    assert!(!language.problems(text).is_empty(), "the reader takes {what}: {text}");
}

fn good(spot: &Spot) -> Value {
    match &spot.kind {
        Kind::Words(words) => json!(words[words.len() - 1]),
        Kind::Flag => json!(false),
        Kind::Nothing => Value::Null,
        Kind::List(kind) => match &**kind {
            Kind::Words(words) => json!([words[0]]),
            Kind::Tuple(kinds) => json!([vec!["1"; kinds.len()]]),
            _ => json!(["1"]),
        },
        _ => json!("1"),
    }
}

#[test]
fn faults_of_form_are_found_by_schema_and_reader_alike() {
    for language in Language::all() {
        let schema = Compiled::new(&language.schema());
        for spot in spots(&language.group) {
            let name = spot.name();
            let made = text(&language.group, &spot.path, &good(&spot));
            assert_eq!(schema.check(&made), Ok(()), "{name}: {made}");
            let wrong = match spot.kind {
                Kind::List(_) | Kind::Nothing => json!({ "x": "y" }),
                _ => json!([[["x"]]]),
            };
            let bad = text(&language.group, &spot.path, &wrong);
            both_refuse(&language, &schema, &bad, &format!("a list at {name}"));
            if spot.row.kind == spot.kind && matches!(spot.kind, Kind::Words(_) | Kind::Flag) {
                let bad = text(&language.group, &spot.path, &json!("no_such_word"));
                both_refuse(&language, &schema, &bad, &format!("any word at {name}"));
            }
            let mut path = spot.path.clone();
            path.pop();
            path.push("qqq".to_owned());
            if let Some(bad) = with_key(&made, &path) {
                both_refuse(&language, &schema, &bad, &format!("a strange key beside {name}"));
            }
            if spot.row.is_needed() && spot.path.last().map(String::as_str) == Some(spot.row.name) {
                let mut value: Value = serde_yaml::from_str(&made).unwrap();
                let (last, way) = spot.path.split_last().unwrap();
                let group = way.iter().fold(&mut value, |value, key| &mut value[key]);
                group.as_object_mut().unwrap().remove(last);
                let bad = format!("{value:#}\n");
                both_refuse(&language, &schema, &bad, &format!("a text without {name}"));
            }
        }
    }
}

#[test]
fn two_alternatives_are_one_too_many_for_both() {
    let language = &Language::all()[0];
    let schema = Compiled::new(&language.schema());
    let twice = [
        (vec!["target", "stands", "at"], vec!["target", "moves"]),
        (vec!["object", "shape", "sphere", "diameter"], vec!["object", "shape", "rod"]),
        (vec!["release", "dropped", "height"], vec!["release", "shed"]),
        (vec!["harm", "energy"], vec!["harm", "head_hic"]),
    ];
    for (first, second) in twice {
        let path: Vec<String> = first.into_iter().map(str::to_owned).collect();
        let second: Vec<String> = second.into_iter().map(str::to_owned).collect();
        let made = text(&language.group, &path, &json!("1 m"));
        let bad = with_key(&made, &second).unwrap();
        both_refuse(language, &schema, &bad, &second.join("."));
    }
}
