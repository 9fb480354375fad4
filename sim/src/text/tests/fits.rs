//! JSON Schema as far as a language uses it.

use serde_json::Value;

/// Whether a value fits a schema: the part of the standard that is used here,
/// with the first misfit in words.
pub(super) fn fits(schema: &Value, value: &Value, root: &Value, at: &str) -> Result<(), String> {
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
                    Some("null") => value.is_null(),
                    Some("number") => value.is_number(),
                    Some("integer") => value.is_i64() || value.is_u64(),
                    _ => false,
                })
            }
            "enum" => list().contains(value),
            "allOf" => list().iter().all(|one| fits(one, value, root, at).is_ok()),
            "anyOf" => list().iter().any(|one| fits(one, value, root, at).is_ok()),
            "oneOf" => {
                !value.is_object()
                    || list().iter().filter(|one| fits(one, value, root, at).is_ok()).count() == 1
            }
            "required" => members
                .is_none_or(|m| list().iter().all(|k| m.contains_key(k.as_str().unwrap_or("")))),
            "minItems" => items.is_none_or(|items| items.len() >= size),
            "maxItems" => items.is_none_or(|items| items.len() <= size),
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
            "description" | "title" | "$schema" | "$defs" => true,
            other => return Err(format!("the schema uses `{other}`")),
        };
        if !good {
            return Err(format!("{at}: {key}"));
        }
    }
    Ok(())
}
