//! `together`: which inputs move together.

use crate::{
    diagnostic::Diagnostic,
    quantity::Dimension,
    text::{
        nearest::nearest,
        reader::{Reader, Table, pointed},
        row::{Kind, Row},
        what::What,
        yaml::{Node, Value},
    },
    uncertain::{Copula, CopulaError},
};

/// Rank correlations that may be told.
const RHO: [f64; 2] = [-0.999, 0.999];

const EXAMPLE: &str = "together: [[air.wind.speed, release.blown.spin, 0.3]]";

pub(super) fn row() -> Row {
    let rho = What::any(Dimension::Number).within(RHO[0], RHO[1]);
    let pair =
        vec![("first", Kind::Text), ("second", Kind::Text), ("rank correlation", Kind::Value(rho))];
    let pairs = Kind::List(Box::new(Kind::Tuple(pair)));
    let doc = "Uncertain inputs that move together, by the names that `check` lists.";
    Row::new("together", pairs, doc).may("none do")
}

pub(super) fn read(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Copula> {
    let inputs = reader.inputs.len();
    let Some((key, node)) = scenario.get("together") else {
        return Some(Copula::independent(inputs));
    };
    let Value::List(items) = &node.value else {
        reader.report(
            Diagnostic::error("scenario::shape", "expected a list of pairs")
                .at(pointed(node, &key.span), format!("found {}", node.kind()))
                .help(format!("write, for example, `{EXAMPLE}`")),
        );
        return None;
    };
    let rho = What::any(Dimension::Number).within(RHO[0], RHO[1]);
    let mut pairs = Vec::new();
    for item in items {
        let Some(parts) = reader.list(item, &key.span, 3, EXAMPLE) else { continue };
        let first = member(reader, &parts[0]);
        let second = member(reader, &parts[1]);
        let rho = reader.value(&parts[2], &key.span, rho);
        if let (Some(first), Some(second), Some(rho)) = (first, second, rho) {
            mixed(reader, first, second, &parts[1]);
            pairs.push((first, second, rho));
        }
    }
    match Copula::new(inputs, &pairs) {
        Ok(copula) => Some(copula),
        Err(error) => {
            let place = match error {
                CopulaError::Impossible { pair, .. } => {
                    pairs.iter().position(|p| (p.0, p.1) == pair)
                }
                CopulaError::Repeated(a, b) => {
                    pairs.iter().rposition(|p| (p.0, p.1) == (a, b) || (p.1, p.0) == (a, b))
                }
                CopulaError::Itself(a) => pairs.iter().position(|p| p.0 == a && p.1 == a),
                _ => None,
            };
            let at = match place.and_then(|i| items.get(i)).map(|item| &item.value) {
                Some(Value::List(parts)) => pointed(&parts[0], &key.span),
                _ => key.span.clone(),
            };
            reader.report(
                Diagnostic::error("scenario::together", "impossible correlation")
                    .at(at, error.to_string()),
            );
            None
        }
    }
}

/// The input of this name; it must be uncertain.
fn member(reader: &mut Reader<'_>, node: &Node) -> Option<usize> {
    let name = reader.text(node, &node.span, "the name of an input")?;
    let place = reader.inputs.iter().position(|input| input.name == name);
    let problem = match place {
        Some(i) if !reader.inputs[i].distribution.is_fixed() => return place,
        // A number that could not be read is reported elsewhere.
        Some(i) if reader.middle(crate::scenario::InputId(i)).is_nan() => return None,
        Some(_) => Diagnostic::error("scenario::together", format!("`{name}` does not vary"))
            .at(node.span.clone(), "one fixed value")
            .help("only uncertain inputs can move together"),
        None => {
            let names = reader.inputs.iter().filter(|input| !input.distribution.is_fixed());
            let list: Vec<&str> = names.map(|input| input.name.as_str()).collect();
            let help = match nearest(name, list.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("uncertain inputs are: {}", list.join(", ")),
            };
            Diagnostic::error("scenario::together", format!("no input is called `{name}`"))
                .at(node.span.clone(), "not known")
                .help(help)
        }
    };
    reader.report(problem);
    None
}

/// A number that changes with every event cannot follow one that never does.
fn mixed(reader: &mut Reader<'_>, first: usize, second: usize, node: &Node) {
    if reader.inputs[first].unknown != reader.inputs[second].unknown {
        reader.report(
            Diagnostic::error("scenario::together", "an unknown and a varying input")
                .at(node.span.clone(), "only one of the two is `unknown: true`")
                .help("a value that stays the same cannot move with one that changes"),
        );
    }
}
