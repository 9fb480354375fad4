//! Texts made from a language: all that is needed, and a way down to one key.

use crate::{
    quantity::{Dimension, parse},
    text::{Group, Kind, Row, What},
};
use serde_json::{Map, Value, json};

/// A key with the way down to it, and one kind of what may stand there.
#[derive(Clone, Debug)]
pub(super) struct Spot {
    pub(super) path: Vec<String>,
    pub(super) row: Row,
    pub(super) kind: Kind,
}

impl Spot {
    pub(super) fn name(&self) -> String {
        self.path.join(".")
    }
}

/// Every key of a language that holds no keys of its own.
pub(super) fn spots(group: &Group) -> Vec<Spot> {
    let mut found = Vec::new();
    walk(group, &[], &mut found);
    found
}

fn walk(group: &Group, path: &[String], found: &mut Vec<Spot>) {
    for row in &group.rows {
        under(row, &row.kind, &[path, &[row.name.to_owned()]].concat(), found);
    }
}

fn under(row: &Row, kind: &Kind, path: &[String], found: &mut Vec<Spot>) {
    match kind {
        Kind::Group(group) => walk(group, path, found),
        Kind::Names(group) => walk(group, &[path, &["a".to_owned()]].concat(), found),
        Kind::Either(kinds) => kinds.iter().for_each(|kind| under(row, kind, path, found)),
        Kind::Tuple(kinds) => {
            for (name, kind) in kinds {
                under(row, kind, &[path, &[(*name).to_owned()]].concat(), found);
            }
        }
        kind => found.push(Spot { path: path.into(), row: row.clone(), kind: kind.clone() }),
    }
}

/// A text of a language in which `put` stands at the end of a path.
pub(super) fn text(language: &Group, path: &[String], put: &Value) -> String {
    format!("{:#}\n", of_group(language, path, put))
}

/// The same, and for what hangs on the shape that flies, with every shape, a
/// surface of its own and a spin.
pub(super) fn texts(language: &Group, path: &[String], put: &Value) -> Vec<String> {
    let made = text(language, path, put);
    let way = |end: &str| ["object", "shape", end, "x"].map(str::to_owned);
    let shapes = match path {
        [object, _] if object == "object" => {
            language.row("object").and_then(|row| row.kind.group())
        }
        _ => None,
    };
    let shapes = shapes.and_then(|object| object.row("shape")).and_then(|row| row.kind.group());
    let mut all = Vec::new();
    for shape in shapes.into_iter().flat_map(Group::names).filter(|name| *name != "custom") {
        let other = of_group(language, &way(shape), &Value::Null);
        for surface in
            [None, Some("hail")].into_iter().filter(|it| it.is_none() || shape == "sphere")
        {
            let mut value: Value = serde_yaml::from_str(&made).unwrap();
            value["object"]["shape"] = other["object"]["shape"].clone();
            value["object"]["shape"][shape].as_object_mut().unwrap().remove("x");
            if let Some(surface) = surface {
                value["object"]["shape"][shape]["surface"] = json!(surface);
            }
            value["release"]["launched"]["spin"] = json!("1 rpm");
            all.push(format!("{value:#}\n"));
        }
    }
    all.extend(others(language, path, &made));
    all.push(made);
    all
}

/// A text with each other alternative of the group that its path ends in: some
/// keys go with one of them only.
fn others(language: &Group, path: &[String], made: &str) -> Vec<String> {
    let (Some((last, way)), mut group) = (path.split_last(), language) else { return Vec::new() };
    for name in way {
        let Some(inner) = group.row(name).and_then(|row| row.kind.group()) else { continue };
        group = inner;
    }
    let choices = group.choices.concat();
    let choices = choices.iter().filter(|_| !choices.contains(&last.as_str()));
    let other = |name: &&str| {
        let row = group.row(name)?;
        let mut value: Value = serde_yaml::from_str(made).ok()?;
        let inner = way.iter().try_fold(&mut value, |value, key| value.get_mut(key))?;
        let keys = inner.as_object_mut()?;
        keys.retain(|key, _| !group.choices.iter().flatten().any(|choice| choice == key));
        keys.insert((*name).to_owned(), of_kind(row, &row.kind, &[], None));
        Some(format!("{value:#}\n"))
    };
    choices.filter_map(other).collect()
}

fn of_group(group: &Group, path: &[String], put: &Value) -> Value {
    let mut map = Map::new();
    let wanted = path.first().map(String::as_str);
    let chosen: Vec<&str> = group
        .choices
        .iter()
        .filter_map(|names| names.iter().find(|name| wanted == Some(name)).or(names.first()))
        .copied()
        .collect();
    for row in &group.rows {
        let value = if wanted == Some(row.name) {
            of_kind(row, &row.kind, &path[1..], Some(put))
        } else if row.is_needed() || chosen.contains(&row.name) {
            of_kind(row, &row.kind, &[], None)
        } else {
            continue;
        };
        map.insert(row.name.to_owned(), value);
    }
    map.into()
}

fn of_kind(row: &Row, kind: &Kind, path: &[String], put: Option<&Value>) -> Value {
    if let (Some(put), []) = (put, path) {
        return put.clone();
    }
    let nothing = Value::Null;
    let put_down = put.unwrap_or(&nothing);
    match kind {
        Kind::Number(what) | Kind::Value(what) | Kind::Whole(what) => json!(middling(row, *what)),
        Kind::Text => json!(if row.example.is_empty() { "x" } else { row.example }),
        Kind::Words(words) => json!(words[0]),
        Kind::Flag => json!(true),
        Kind::Nothing => Value::Null,
        Kind::Group(group) => of_group(group, path, put_down),
        Kind::Names(group) => {
            json!({ "a": of_group(group, path.get(1..).unwrap_or(&[]), put_down) })
        }
        Kind::Tuple(kinds) => kinds
            .iter()
            .map(|(name, kind)| match path.first() {
                Some(wanted) if wanted == name => of_kind(row, kind, &path[1..], put),
                _ => of_kind(row, kind, &[], None),
            })
            .collect(),
        Kind::List(kind) => json!([of_kind(row, kind, &[], None)]),
        Kind::Either(kinds) => {
            let holds = |kind: &&Kind| match kind {
                Kind::Group(group) => path.first().is_some_and(|name| group.row(name).is_some()),
                _ => path.is_empty(),
            };
            of_kind(row, kinds.iter().find(holds).unwrap_or(&kinds[0]), path, put)
        }
    }
}

/// A value that the bounds let through.
fn middling(row: &Row, what: What) -> String {
    let usual = if row.example.is_empty() { what.example() } else { row.example };
    let good = parse(usual, what.dimension).is_ok_and(|value| what.objection(value).is_none());
    let (low, high) = what.bounds();
    if good { usual.to_owned() } else { si(f64::midpoint(low, high).round(), what.dimension) }
}

/// A value with its SI unit.
pub(super) fn si(value: f64, dimension: Dimension) -> String {
    let unit = match dimension {
        Dimension::Number | Dimension::Ratio => "",
        Dimension::Length => "m",
        Dimension::Area => "m2",
        Dimension::Volume => "m3",
        Dimension::Mass => "kg",
        Dimension::Density => "kg/m3",
        Dimension::Speed => "m/s",
        Dimension::Acceleration => "m/s2",
        Dimension::Time => "s",
        Dimension::Frequency => "Hz",
        Dimension::Angle => "rad",
        Dimension::Rotation => "rad/s",
        Dimension::Temperature | Dimension::TemperatureDifference => "K",
        Dimension::Pressure => "Pa",
        Dimension::Force => "N",
        Dimension::Energy => "J",
        Dimension::Stiffness => "N/m",
    };
    format!("{value} {unit}").trim_end().to_owned()
}
