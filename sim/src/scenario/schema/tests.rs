//! The schema accepts what `check` accepts, and knows the same keys.

use super::*;
use crate::scenario::{check, template};
use std::{fs, path::Path};

/// Whether a value fits a schema: the part of the standard that is used here,
/// with the first misfit in words.
fn fits(schema: &Value, value: &Value, root: &Value, at: &str) -> Result<(), String> {
    let keys = schema.as_object().ok_or("a schema is an object")?;
    for (key, wanted) in keys {
        let list = || wanted.as_array().cloned().unwrap_or_default();
        let size = wanted.as_u64().and_then(|n| usize::try_from(n).ok()).unwrap_or(0);
        let items = value.as_array();
        let members = value.as_object();
        let good = match key.as_str() {
            "$ref" => {
                let path = wanted.as_str().unwrap_or_default().trim_start_matches('#');
                let target = root.pointer(path).ok_or_else(|| format!("no {path}"))?;
                fits(target, value, root, at)?;
                true
            }
            "type" => {
                let kinds = if wanted.is_array() { list() } else { vec![wanted.clone()] };
                kinds.iter().any(|kind| match kind.as_str() {
                    Some("object") => value.is_object(),
                    Some("array") => value.is_array(),
                    Some("string") => value.is_string(),
                    Some("boolean") => value.is_boolean(),
                    Some("number") => value.is_number(),
                    Some("integer") => value.is_i64() || value.is_u64(),
                    _ => false,
                })
            }
            "enum" => list().contains(value),
            "anyOf" => list().iter().any(|one| fits(one, value, root, at).is_ok()),
            "oneOf" => {
                !value.is_object()
                    || list().iter().filter(|one| fits(one, value, root, at).is_ok()).count() == 1
            }
            "required" => members
                .is_none_or(|m| list().iter().all(|k| m.contains_key(k.as_str().unwrap_or("")))),
            "minItems" => items.is_none_or(|items| items.len() >= size),
            "maxItems" => items.is_none_or(|items| items.len() <= size),
            "minProperties" => members.is_none_or(|members| members.len() >= size),
            "maxProperties" => members.is_none_or(|members| members.len() <= size),
            "items" => {
                for (i, item) in items.into_iter().flatten().enumerate() {
                    fits(wanted, item, root, &format!("{at}[{i}]"))?;
                }
                true
            }
            "prefixItems" => {
                for (one, item) in list().iter().zip(items.into_iter().flatten()) {
                    fits(one, item, root, at)?;
                }
                true
            }
            "properties" => {
                for (name, member) in members.into_iter().flatten() {
                    if let Some(inner) = wanted.get(name) {
                        fits(inner, member, root, &format!("{at}.{name}"))?;
                    }
                }
                true
            }
            "additionalProperties" => {
                let known = schema.get("properties");
                for (name, member) in members.into_iter().flatten() {
                    if known.and_then(|known| known.get(name)).is_none() {
                        if wanted.is_object() {
                            fits(wanted, member, root, &format!("{at}.{name}"))?;
                        } else {
                            return Err(format!("{at}: unknown key {name}"));
                        }
                    }
                }
                true
            }
            "uniqueItems" | "description" | "title" | "$schema" | "$defs" => true,
            other => return Err(format!("the schema uses `{other}`")),
        };
        if !good {
            return Err(format!("{at}: {key}"));
        }
    }
    Ok(())
}

fn valid(text: &str) -> Result<(), String> {
    let value: Value = serde_yaml::from_str(text).map_err(|error| error.to_string())?;
    let root = schema();
    fits(&root, &value, &root, "")
}

fn scenarios() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios")
}

#[test]
fn every_demo_and_the_template_fit_the_schema() {
    assert_eq!(valid(template()), Ok(()));
    let mut seen = 0;
    for entry in fs::read_dir(scenarios()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "yaml") {
            let text = fs::read_to_string(&path).unwrap();
            assert_eq!(valid(&text), Ok(()), "{}", path.display());
            seen += 1;
        }
    }
    assert!(seen >= 6);
}

#[test]
fn every_demo_is_understood_without_a_doubt() {
    for entry in fs::read_dir(scenarios()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "yaml") {
            let text = fs::read_to_string(&path).unwrap();
            let scenario = crate::scenario::parse(&text, &scenarios())
                .unwrap_or_else(|problems| panic!("{}: {problems:#?}", path.display()));
            assert_eq!(scenario.warnings, [], "{}", path.display());
        }
    }
}

#[test]
fn a_misspelt_key_or_word_does_not_fit() {
    let spoilt = |from: &str, to: &str| {
        assert!(template().contains(from), "{from}");
        valid(&template().replacen(from, to, 1)).unwrap_err()
    };
    assert!(spoilt("\nobject:", "\nobjekt:").contains("objekt"));
    assert!(spoilt("  mass:", "  masss:").contains("mass"));
    assert!(spoilt("{block:", "{blok:").contains("blok"));
    assert!(spoilt("show: imperial", "show: metric").contains("enum"));
    assert!(spoilt("aim: true", "aim: perhaps").contains("type"));
    assert!(spoilt("strikes", "hits").contains("enum"));
    assert!(valid("12 m").is_err());
}

/// The keys of the schema are those of the reader, group by group.
#[test]
fn the_schema_knows_the_same_keys_as_the_reader() {
    let root = schema();
    let keys = |path: &str| -> Vec<String> {
        let properties = root.pointer(path).and_then(Value::as_object);
        properties.unwrap_or_else(|| panic!("{path}")).keys().cloned().collect()
    };
    let same = |path: &str, known: &[&str]| {
        let mut known: Vec<String> = known.iter().map(|key| (*key).to_owned()).collect();
        known.sort();
        let mut keys = keys(path);
        keys.sort();
        assert_eq!(keys, known, "{path}");
    };
    let face = "/properties/target/properties/faces/additionalProperties/properties";
    same("/properties", &check::KEYS);
    same("/properties/air/properties", &check::air::KEYS);
    same("/properties/air/properties/wind/properties", &check::air::WIND_KEYS);
    let gusts = "/properties/air/properties/wind/properties/turbulence/anyOf/1/properties";
    same(gusts, &turbulence::KEYS);
    same("/properties/object/properties", &object::keys().collect::<Vec<_>>());
    same("/properties/target/properties", &target::KEYS);
    same("/properties/target/properties/stands/properties", &target::STANDS);
    same("/properties/target/properties/moves/properties", &target::MOVES);
    same(face, &target::FACE);
    same("/properties/target/properties/solids/additionalProperties/properties", &target::SOLID);
    same(&format!("{face}/barrier/anyOf/1/properties"), &barrier::KEYS);
    same("/properties/ground/anyOf/1/properties", &check::bounce::GROUND);
    same(&format!("{face}/surface/anyOf/1/properties"), &check::bounce::SURFACE);
    let blown = "/properties/release/properties/blown/properties";
    same(&format!("{blown}/held/properties"), &release::HELD);
    let secured_path = "/properties/release/properties/shed/properties/secured/properties";
    same(secured_path, &secured::KEYS);
    same(&format!("{secured_path}/collides/properties"), &secured::COLLISION);
    same(&format!("{secured_path}/lift/properties"), &secured::LIFT);
    same("/properties/release/properties/shed/properties/wake/properties", &wake::KEYS);
    same("/properties/harm/anyOf/1/properties", &claim::HARM);
    same("/properties/harm/anyOf/1/properties/head_hic/properties", &claim::HEAD);
    let moves = "/properties/target/properties/moves/properties";
    same(&format!("{moves}/brakes/properties"), &target::BRAKES);
    same(&format!("{moves}/steers/properties"), &target::STEERS);
    let forms: Vec<&str> =
        crate::text::spread::FORMS.into_iter().chain(["unknown", "skew"]).collect();
    same("/$defs/length/anyOf/1/properties", &forms);
}

#[test]
fn the_schema_beside_the_demos_is_this_one() {
    let wanted = format!("{:#}\n", schema());
    let path = scenarios().join("schema.json");
    let found = fs::read_to_string(&path).unwrap_or_default();
    assert!(found == wanted, "run `longodds schema > scenarios/schema.json`");
}
