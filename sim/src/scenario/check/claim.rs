//! `claim`, `chain` and `harm`: what is said, step by step.

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
    text::{
        reader::{Reader, Table, pointed},
        row::{Group, Kind, Row, number, sub, text, word},
        what::What,
        yaml::{Key, Node, Value},
    },
    uncertain::Distribution,
};

/// Every gate by the word for it, in the order of events.
const GATES: [(&str, Gate); 6] = [
    ("released", Gate::Released),
    ("reaches", Gate::Reaches),
    ("strikes", Gate::Strikes),
    ("attitude", Gate::Attitude),
    ("perforates", Gate::Perforates),
    ("harms", Gate::Harms),
];
const PULSES: [(&str, HeadPulse); 3] = [
    ("half_sine", HeadPulse::HalfSine),
    ("haversine", HeadPulse::Haversine),
    ("triangle", HeadPulse::Triangle),
];

/// Mass of a head, in kg. Source: the convention of head injury criteria (from
/// memory).
const HEAD_MASS: f64 = 4.5;

/// The criterion where none is told.
const USUAL: &str = "hazardous_fragment";

pub(super) fn claim_row() -> Row {
    text(
        "claim",
        "A hay bale rolls off the stack and goes through the polytunnel below.",
        "The claim, in a sentence or two.",
    )
}

pub(super) fn chain_row() -> Row {
    let steps = Kind::List(Box::new(Kind::words(&GATES)));
    Row::new("chain", steps, "The steps that the claim needs, in the order of events.")
        .like("[released, reaches, strikes]")
}

pub(super) fn harm_row() -> Row {
    // Below a millisecond it is a blow to the bone, above 100 ms none at all.
    let lasts = What::positive(Dimension::Time).within(1e-3, 0.1);
    let mass = What::positive(Dimension::Mass).within(1.0, 10.0);
    let restitution = What::any(Dimension::Ratio).within(0.0, 1.0);
    let head = vec![
        word("pulse", &PULSES, "The shape of the pulse that you assume.").may("`half_sine`"),
        number("lasts", lasts, "How long the pulse lasts.").like("10 ms"),
        number("head", mass, "Mass of the head.").or(HEAD_MASS),
        number("restitution", restitution, "Speed away over speed towards it.").or(0.0),
        number("limit", What::positive(Dimension::Number), "The criterion's limit.").or(HEAD_LIMIT),
    ];
    let told = vec![
        number("energy", What::positive(Dimension::Energy), "An energy."),
        sub(
            "head_hic",
            Group::new("The head injury criterion over 15 ms, of an assumed pulse.", head),
        ),
    ];
    let told = Group::choice("An energy, or a blow to the head.", told);
    let names = Kind::names(CRITERIA.iter().map(|one| one.name));
    let doc = "What counts as harm: a published criterion, or as told. Screening values: below \
               them is not safe.";
    Row::new("harm", Kind::Either(vec![names, Kind::Group(told)]), doc).may("`hazardous_fragment`")
}

pub(super) fn claim(reader: &mut Reader<'_>, scenario: &Table<'_>) -> Option<String> {
    let (text, _) = reader.text_of(scenario, "claim", "the claim in a sentence")?;
    let text = text.trim();
    if text.is_empty() {
        reader.missing(scenario, "claim");
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
    let table = reader.open(scenario, "harm")?;
    if reader.chosen(&table)?.0.name == "head_hic" {
        return head(reader, &table);
    }
    let threshold = reader.number(&table, "energy");
    let (quantity, name) = (Quantity::Energy, "as told".to_owned());
    Some(Harm { quantity, threshold, name, source: "as told in the scenario".to_owned() })
}

/// A blow to the head: the pulse that it makes is the user's to assume.
fn head(reader: &mut Reader<'_>, harm: &Table<'_>) -> Option<Harm> {
    let table = reader.open(harm, "head_hic")?;
    let pulse = match table.get("pulse") {
        Some(_) => reader.word_of(&table, "pulse", "the shape of a pulse", &PULSES)?,
        None => HeadPulse::HalfSine,
    };
    let quantity = Quantity::HeadHic {
        pulse,
        lasts: reader.number(&table, "lasts"),
        head: reader.number(&table, "head"),
        restitution: reader.number(&table, "restitution"),
    };
    let threshold = reader.number(&table, "limit");
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
    let (key, node) = reader.entry(scenario, "chain")?;
    let Value::List(items) = &node.value else {
        reader.report(
            Diagnostic::error("scenario::shape", "expected the steps of the claim, in a list")
                .at(pointed(node, &key.span), format!("found {}", node.kind()))
                .help(format!("write, for example, `chain: {}`", scenario.row("chain").example())),
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
        reader.missing(scenario, "chain");
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
        let message = format!("`{}` cannot be decided", gate.name());
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
