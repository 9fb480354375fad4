//! What is written at a leaf, in the parts that can be changed one by one.

use super::{
    row::{Kind, Row},
    spread,
    what::What,
    yaml::{Node, Value},
};
use crate::quantity::Dimension;

/// What is written at a leaf of a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// Nothing.
    Nothing,
    /// One value, as it was typed.
    Value(String),
    /// A number that is spread.
    Spread {
        /// The way in which it is told (`between`).
        form: String,
        /// Its numbers; empty where they are not told one by one.
        parts: Vec<Part>,
        /// Whether it is one value that nobody knows.
        unknown: bool,
        /// Whether it is skewed.
        skew: bool,
    },
    /// A list or a group.
    More,
}

/// One number of a spread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its path from the leaf on (`between.x` for the first of a list).
    pub path: String,
    /// What it is (`low`, `mean`).
    pub name: &'static str,
    /// As it was typed.
    pub text: String,
    /// What it measures.
    pub dimension: Dimension,
}

/// Names of the things in a list, as paths have them.
const AXES: [&str; 3] = ["x", "y", "z"];

impl Told {
    pub(super) fn of(node: &Node, kind: &Kind) -> Self {
        match (&node.value, kind) {
            (Value::Empty, _) => Self::Nothing,
            (Value::Text(text), _) => Self::Value(text.clone()),
            (Value::Map(_), Kind::Number(what)) => spread(node, *what).unwrap_or(Self::More),
            (Value::Map(_) | Value::List(_), _) => Self::More,
        }
    }
}

fn spread(node: &Node, what: What) -> Option<Told> {
    let Value::Map(entries) = &node.value else { return None };
    let forms = spread::group(what);
    let written = |name: &str| entries.iter().find(|(key, _)| key.name == name);
    let flag = |name| {
        written(name).is_some_and(|(_, node)| matches!(&node.value, Value::Text(t) if t == "true"))
    };
    let row = forms.choices.first()?.iter().find(|name| written(name).is_some())?;
    let (key, value) = written(row)?;
    Some(Told::Spread {
        form: key.name.clone(),
        parts: parts(value, forms.row(row)?),
        unknown: flag("unknown"),
        skew: flag("skew"),
    })
}

/// The numbers under one way to tell a spread.
fn parts(node: &Node, row: &Row) -> Vec<Part> {
    let part = |path: &str, name, node: &Node, kind: &Kind| match (&node.value, kind) {
        (Value::Text(text), Kind::Value(what)) => Some(Part {
            path: format!("{}.{path}", row.name),
            name,
            text: text.clone(),
            dimension: what.dimension,
        }),
        _ => None,
    };
    let found: Vec<Option<Part>> = match (&node.value, &row.kind) {
        (Value::List(items), Kind::Tuple(kinds)) if items.len() == kinds.len() => AXES
            .iter()
            .zip(items.iter().zip(kinds))
            .map(|(axis, (item, (name, kind)))| part(axis, name, item, kind))
            .collect(),
        (Value::Map(entries), Kind::Group(group)) => group
            .rows
            .iter()
            .filter_map(|row| {
                let (_, node) = entries.iter().find(|(key, _)| key.name == row.name)?;
                Some(part(row.name, row.name, node, &row.kind))
            })
            .collect(),
        _ => Vec::new(),
    };
    found.into_iter().collect::<Option<Vec<Part>>>().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        scenario::{language, patched},
        text::{Sort, leaves},
    };

    fn told(mass: &str) -> Told {
        let text = format!("object: {{mass: {mass}}}\n");
        let language = language();
        let leaves = leaves(&text, Sort::Scenario, &language).unwrap();
        leaves.into_iter().find(|leaf| leaf.path == "object.mass").unwrap().told
    }

    fn shown(told: &Told) -> String {
        match told {
            Told::Nothing => "nothing".to_owned(),
            Told::Value(text) => text.clone(),
            Told::More => "more".to_owned(),
            Told::Spread { form, parts, unknown, skew } => {
                let parts: Vec<String> = parts
                    .iter()
                    .map(|part| format!("{} {} = {}", part.name, part.path, part.text))
                    .collect();
                format!("{form} ({}) {unknown} {skew}", parts.join(", "))
            }
        }
    }

    #[test]
    fn a_number_is_told_in_its_parts() {
        let of = |mass| shown(&told(mass));
        assert_eq!(of("2 kg"), "2 kg");
        assert_eq!(of(""), "nothing");
        assert_eq!(
            of("{between: [1 kg, 2 kg], unknown: true}"),
            "between (low between.x = 1 kg, high between.y = 2 kg) true false"
        );
        assert_eq!(
            of("{normal: {sd: 1 g, mean: 2 kg}}"),
            "normal (mean normal.mean = 2 kg, sd normal.sd = 1 g) false false"
        );
        assert_eq!(of("{choice: [{value: 1 kg}]}"), "choice () false false");
        assert_eq!(of("{between: [1 kg]}"), "between () false false");
        assert_eq!(of("[1 kg]"), "more");
    }

    /// The path of a part is one that a value can be set at, and there alone.
    #[test]
    fn every_part_of_the_template_can_be_set_by_its_path() {
        let text = crate::scenario::template();
        let language = language();
        let mut tried = 0;
        for leaf in leaves(text, Sort::Scenario, &language).unwrap() {
            let Told::Spread { parts, .. } = &leaf.told else { continue };
            for (i, part) in parts.iter().enumerate() {
                let option = format!("{}.{}={}1", leaf.path, part.path, part.text);
                let changed = patched(text, std::path::Path::new(""), &[option]).unwrap().text;
                let again = leaves(&changed, Sort::Scenario, &language).unwrap();
                let now = again.iter().find(|other| other.path == leaf.path).unwrap();
                let Told::Spread { parts: now, .. } = &now.told else { panic!("no spread") };
                for (j, (now, was)) in now.iter().zip(parts).enumerate() {
                    let wanted = if i == j { format!("{}1", was.text) } else { was.text.clone() };
                    assert_eq!(now.text, wanted);
                }
                tried += 1;
            }
        }
        assert!(tried > 4, "the template spreads some numbers");
    }
}
