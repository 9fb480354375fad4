//! `claim`, `chain` and `harm`: what is said, step by step.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, Show, format},
    sampling::slot_of,
    scenario::{
        Gate, Harm, Input, Target,
        library::criteria::{
            CRITERIA, Criterion, HEAD_LIMIT, HEAD_STANDING, HeadPulse, Quantity, criterion,
        },
    },
    text::yaml::{Key, Node, Value},
    uncertain::Distribution,
};

/// Every gate by the word for it, in the order of events.
pub(in crate::scenario) const GATES: [(&str, Gate); 6] = [
    ("released", Gate::Released),
    ("reaches", Gate::Reaches),
    ("strikes", Gate::Strikes),
    ("attitude", Gate::Attitude),
    ("perforates", Gate::Perforates),
    ("harms", Gate::Harms),
];

/// Keys of a harm that is told, and of a blow to the head.
pub(in crate::scenario) const HARM: [&str; 2] = ["energy", "head_hic"];
/// See [`HARM`].
pub(in crate::scenario) const HEAD: [&str; 5] = ["pulse", "lasts", "head", "restitution", "limit"];
pub(in crate::scenario) const PULSES: [(&str, HeadPulse); 3] = [
    ("half_sine", HeadPulse::HalfSine),
    ("haversine", HeadPulse::Haversine),
    ("triangle", HeadPulse::Triangle),
];

/// Mass of a head, in kg. Source: the convention of head injury criteria (from
/// memory).
const HEAD_MASS: f64 = 4.5;

/// The criterion where none is told.
const USUAL: &str = "hazardous_fragment";

pub(super) fn claim(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<String> {
    let example = "A hay bale rolls off the stack and goes through the polytunnel below.";
    let (key, node) = reader.required(scenario, "claim", example)?;
    let text = reader.text(node, &key.span, "the claim in a sentence")?.trim();
    if text.is_empty() {
        reader.missing(scenario, "claim", example);
        return None;
    }
    Some(text.to_owned())
}

pub(super) fn harm(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<Harm> {
    let Some((key, node)) = scenario.get("harm") else {
        return published(reader, criterion(USUAL)?, &scenario.at, true);
    };
    if let Value::Text(name) = &node.value {
        let names = CRITERIA.iter().map(|one| (one.name, one)).collect::<Vec<_>>();
        let found = reader.word(node, &key.span, "a published harm criterion", &names);
        debug_assert!(found.is_none_or(|one| one.name == name), "by its name");
        return published(reader, found?, &node.span, false);
    }
    let table = reader.table(node, &key.span, "harm", &HARM)?;
    if let Some((key, node)) = table.get("head_hic") {
        if let Some((other, _)) = table.get("energy") {
            reader.report(
                Diagnostic::error("scenario::alternatives", "harm is one criterion")
                    .at(other.span.clone(), "`head_hic` is there too")
                    .help("keep `energy` or `head_hic`"),
            );
        }
        return head(reader, key, node);
    }
    let threshold = reader.number(&table, "energy", What::positive(Dimension::Energy));
    let (quantity, name) = (Quantity::Energy, "as told".to_owned());
    Some(Harm { quantity, threshold, name, source: "as told in the scenario".to_owned() })
}

/// A blow to the head: the pulse that it makes is the user's to assume.
fn head(reader: &mut Reader<'_>, key: &Key, node: &Node) -> Option<Harm> {
    let table = reader.table(node, &key.span, "harm.head_hic", &HEAD)?;
    let pulse = match table.get("pulse") {
        Some((key, node)) => reader.word(node, &key.span, "the shape of a pulse", &PULSES)?,
        None => HeadPulse::HalfSine,
    };
    // Below a millisecond it is a blow to the bone, above 100 ms none at all.
    let lasts = What::positive(Dimension::Time).within(1e-3, 0.1);
    let lasts = reader.number(&table, "lasts", lasts);
    let mass = What::positive(Dimension::Mass).within(1.0, 10.0).or(HEAD_MASS);
    let restitution = What::any(Dimension::Ratio).within(0.0, 1.0).or(0.0);
    let limit = What::positive(Dimension::Number).or(HEAD_LIMIT);
    let quantity = Quantity::HeadHic {
        pulse,
        lasts,
        head: reader.number(&table, "head", mass),
        restitution: reader.number(&table, "restitution", restitution),
    };
    let threshold = reader.number(&table, "limit", limit);
    let (name, source) = ("head_hic".to_owned(), HEAD_STANDING.to_owned());
    Some(Harm { quantity, threshold, name, source })
}

/// A criterion of the library; `assumed` where nobody asked for it.
fn published(
    reader: &mut Reader<'_>,
    one: &Criterion,
    place: &Span,
    assumed: bool,
) -> Option<Harm> {
    let (name, dimension) = match one.quantity {
        Quantity::Energy => ("harm.energy", Dimension::Energy),
        Quantity::PerArea => ("harm.per_area", Dimension::Number),
        Quantity::Blunt { .. } => ("harm.blunt_criterion", Dimension::Number),
        Quantity::HeadHic { .. } => ("harm.head_hic.limit", Dimension::Number),
    };
    let input = Input {
        name: name.to_owned(),
        dimension,
        distribution: Distribution::fixed(one.value),
        slot: slot_of(name),
        unknown: false,
        assumed,
        written: format!("{}: {}", one.name, format(one.value, dimension, Show::Si)),
    };
    let threshold = reader.add(input, place.clone());
    let (quantity, name) = (one.quantity, one.name.to_owned());
    Some(Harm { quantity, threshold, name, source: one.standing() })
}

pub(super) fn chain(
    reader: &mut Reader<'_>,
    scenario: &Table<'_>,
    target: Option<&Target>,
) -> Option<Vec<Gate>> {
    const EXAMPLE: &str = "[released, reaches, strikes]";
    let (key, node) = reader.required(scenario, "chain", EXAMPLE)?;
    let Value::List(items) = &node.value else {
        reader.report(
            Diagnostic::error("scenario::shape", "expected the steps of the claim, in a list")
                .at(super::reader::pointed(node, &key.span), format!("found {}", node.kind()))
                .help(format!("write, for example, `chain: {EXAMPLE}`")),
        );
        return None;
    };
    let mut chain: Vec<Gate> = Vec::new();
    for item in items {
        let Some(gate) = reader.word(item, &key.span, "a step of the claim", &GATES) else {
            continue;
        };
        if chain.last().is_some_and(|last| *last >= gate) {
            let list: Vec<&str> = GATES.iter().map(|(word, _)| *word).collect();
            reader.report(
                Diagnostic::error("scenario::chain", "the steps are out of order")
                    .at(item.span.clone(), "does not come after the one before")
                    .help(format!("the order of events is: {}", list.join(", "))),
            );
            continue;
        }
        needs(reader, gate, item, &chain, target);
        chain.push(gate);
    }
    if items.is_empty() {
        reader.missing(scenario, "chain", EXAMPLE);
        return None;
    }
    unused(reader, key, &chain, target);
    Some(chain)
}

/// What a gate needs from the rest of the scenario.
fn needs(
    reader: &mut Reader<'_>,
    gate: Gate,
    item: &Node,
    before: &[Gate],
    target: Option<&Target>,
) {
    let mut lacks = |found: &str, help: &str| {
        let message = format!("`{}` cannot be decided", word(gate));
        reader.report(
            Diagnostic::error("scenario::chain", message).at(item.span.clone(), found).help(help),
        );
    };
    if gate > Gate::Strikes && !before.contains(&Gate::Strikes) {
        lacks("nothing has struck before", "put `strikes` before it");
    }
    let Some(target) = target else { return };
    if gate == Gate::Attitude && target.attitude.is_none() {
        lacks(
            "the target asks for no attitude",
            "add, for example, `attitude: {axis: length, within: 20 deg}` to `target`",
        );
    }
    if gate == Gate::Perforates {
        let bare = target.faces.iter().find(|face| face.aim && face.barrier.is_none());
        if let Some(face) = bare {
            lacks(
                &format!("the aimed face `{}` has no barrier", face.name),
                "add, for example, `barrier: toughened_glass` to the face",
            );
        }
    }
}

/// What the chain leaves unused: a slip more often than not.
fn unused(reader: &mut Reader<'_>, key: &Key, chain: &[Gate], target: Option<&Target>) {
    let Some(target) = target else { return };
    let mut doubt = |span: &Span, found: &str, gate: &str| {
        reader.report(
            Diagnostic::warning("scenario::unused", format!("the chain does not ask for `{gate}`"))
                .at(span.clone(), found),
        );
    };
    let barriers = target.faces.iter().any(|face| face.aim && face.barrier.is_some());
    if barriers && !chain.contains(&Gate::Perforates) {
        doubt(&key.span, "the barrier of the aimed face plays no part", "perforates");
    }
    if target.attitude.is_some() && !chain.contains(&Gate::Attitude) {
        doubt(&key.span, "the attitude asked for plays no part", "attitude");
    }
}

fn word(gate: Gate) -> &'static str {
    GATES.iter().find(|(_, other)| *other == gate).map_or("", |(word, _)| word)
}
