//! `barrier`: what it takes to go through a face.

mod formula;
mod shots;

use super::made_of;
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::{Dimension, Show, format},
    sampling::slot_of,
    scenario::{
        Barrier, Demand, Input, InputId, MadeOf, PaneKind, Target, Tested,
        library::{self, Contact, Entry, Strength},
    },
    text::{
        nearest::nearest,
        reader::{Reader, Table},
        row::{Group, Kind, Row, Unwritten, number, text, value, word},
        what::What,
        yaml::{Key, Node, Value},
    },
    uncertain::Distribution,
};

const PANES: [(&str, PaneKind); 2] =
    [("annealed", PaneKind::Annealed), ("toughened", PaneKind::Toughened)];
const MEASURES: [(&str, Demand); 3] = [
    ("normal_energy", Demand::NormalEnergy),
    ("total_energy", Demand::TotalEnergy),
    ("normal_speed", Demand::NormalSpeed),
];

/// Shot-to-shot spread of the log of a resistance in energy, where the user
/// gives none; half of it in speed. Engineering judgement, no source.
pub(super) const BETA: f64 = 0.4;

/// What a strength holds for that says nothing else.
const LIKE_BLOWS: &str = "blows like those it was measured with: one shot at an undamaged barrier";

pub(super) fn row() -> Row {
    let pure = Dimension::Number;
    let rows = vec![
        number(
            "energy",
            What::positive(Dimension::Energy),
            "What half of the blows go through at.",
        ),
        number("speed", What::positive(Dimension::Speed), "What half of the blows go through at."),
    ];
    let more = vec![
        text("shots", "rigs/crossbow.csv", "A log of your own shots in the scenario's folder: columns `speed` and `result`, and `mass` for an energy."),
        number("spread", What::not_negative(pure).within(0.0, 3.0), "Standard deviation of its logarithm from blow to blow.")
            .may("0.4 of an energy, 0.2 of a speed, a formula's own"),
        word("measured_as", &MEASURES, "What the strength is measured in; `total_energy` counts all of it, not only the part square to the face.")
            .may("`normal_energy`, `normal_speed`"),
        value("contact", What::positive(Dimension::Length), "How wide the contact was that it was measured with: half or twice that is another blow.")
            .may("any"),
        Row::new("tested_with", made_of::stuffs(), "What it was measured with.").may("something hard"),
        number("factor", What::positive(pure), "On a formula.").may("1, or the formula's own doubt"),
    ];
    let mut choices = vec!["energy", "speed", "shots"];
    choices.extend(formula::names());
    let told =
        Group::new("A strength as told, from your own shots, or by a published formula.", rows)
            .and(formula::rows())
            .and(more)
            .choose(&choices);
    let names = Kind::names(library::library().map(|entry| entry.name));
    let doc = "What it takes to go through: by name (a planning prior, to be replaced by a test; or \
               a class of a standard, which is a lower bound), or as told.";
    Row::new("barrier", Kind::Either(vec![names, Kind::Group(told)]), doc).may("none")
}

/// Tells every barrier what strikes it.
pub(super) fn complete(target: &mut Target, object: MadeOf) {
    for barrier in target.faces.iter_mut().filter_map(|face| face.barrier.as_mut()) {
        barrier.object = object;
    }
}

/// Reads a barrier; `sides`: of the face, in m.
pub(super) fn read(
    reader: &mut Reader<'_>,
    face: &Table<'_>,
    (key, node): (&Key, &Node),
    sides: Option<[InputId; 2]>,
) -> Option<Barrier> {
    let path = &face.path_of("barrier");
    match &node.value {
        Value::Text(name) => match library::entry(name) {
            Some(entry) => Some(from_library(reader, entry, &node.span, path)),
            None => {
                reader.report(no_such(name, &node.span));
                None
            }
        },
        Value::Map(_) | Value::Empty | Value::List(_) => {
            let table = reader.opened(face, key, node)?;
            as_told(reader, &table, key, sides)
        }
    }
}

fn no_such(name: &str, span: &Span) -> Diagnostic {
    let names = || library::library().map(|entry| entry.name);
    let near =
        nearest(name, names()).map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
    // Every prior by name; of the standards' classes there are too many.
    let (priors, classes): (Vec<&Entry>, Vec<&Entry>) =
        library::library().partition(|entry| !entry.is_lower_bound());
    let priors: Vec<&str> = priors.iter().map(|entry| entry.name).collect();
    Diagnostic::error("scenario::barrier", format!("no barrier is called `{name}`"))
        .at(span.clone(), "not in the library")
        .help(format!(
            "{near}the library has {} and {} classes of standards such as `en356_p4a`; or write \
             `{{energy: 90 J, spread: 0.3}}`, or `{{steel: {{thickness: 3 mm, span: 30 cm}}}}`, \
             `concrete`, `board`, `polycarbonate` or `pane`",
            priors.join(", "),
            classes.len()
        ))
}

fn from_library(reader: &mut Reader<'_>, entry: &Entry, span: &Span, path: &str) -> Barrier {
    let dimension = dimension_of(entry.demand);
    let shown = |value| format(value, dimension, Show::Si);
    let name = format!("{path}.median");
    let (distribution, unknown, beta, written) = match entry.strength {
        Strength::Prior { median, factor, beta } => {
            let (low, high) = (median / factor, median * factor);
            let spread =
                Distribution::lognormal_between(low, high).unwrap_or(Distribution::fixed(median));
            let within = format!(
                "{}, within {} and {} 9 times in 10",
                shown(median),
                shown(low),
                shown(high)
            );
            (spread, true, beta, within)
        }
        // The least it can be is all that is known: nothing to draw.
        Strength::AtLeast(least) => {
            (Distribution::fixed(least), false, 0.0, format!("at least {}", shown(least)))
        }
    };
    let median = Input {
        slot: slot_of(&name),
        name,
        dimension,
        distribution,
        unknown,
        assumed: false,
        written: format!("{}: {written}", entry.name),
    };
    let median = reader.add(median, span.clone());
    let fixed = Distribution::fixed(beta);
    let beta = reader.assume(format!("{path}.spread"), Dimension::Number, fixed, span.clone());
    Barrier {
        demand: entry.demand,
        median,
        beta,
        scatter: scatter(reader, span, path),
        formula: None,
        contact: entry.contact.map(|contact| contact.diameter(crate::scenario::GIVE)),
        hardest: None,
        lower_bound: entry.is_lower_bound(),
        tested: tested(entry),
        object: MadeOf::default(),
        source: entry.standing(),
        valid: format!("{LIKE_BLOWS}, with {}", entry.missile),
        name: entry.name.to_owned(),
    }
}

/// The missile of the test behind a figure.
fn tested(entry: &Entry) -> Tested {
    let Tested { stuff: hard, .. } = Tested::default();
    let diameter = entry.contact.map(|contact| match contact {
        Contact::Ball(diameter) | Contact::Flat(diameter) => diameter,
    });
    let stuff = library::stuff::stuff(entry.made_of).unwrap_or(hard);
    Tested { stuff, mass: entry.mass, diameter }
}

fn as_told(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    key: &Key,
    sides: Option<[InputId; 2]>,
) -> Option<Barrier> {
    let path = &table.path;
    if let Some(kind) = formula::names().iter().find(|kind| table.get(kind).is_some()) {
        return formula::read(reader, table, kind, sides);
    }
    if table.get("shots").is_some() {
        return shots::read(reader, table);
    }
    let (chosen, strength) = reader.chosen(table)?;
    let by_speed = chosen.name == "speed";
    let demand = match table.get("measured_as") {
        Some(_) => reader.word_of(table, "measured_as", "a measure", &MEASURES)?,
        None if by_speed => Demand::NormalSpeed,
        None => Demand::NormalEnergy,
    };
    if by_speed != (demand == Demand::NormalSpeed) {
        let message = format!("a barrier's {} is not measured like that", chosen.name);
        let at = table.get("measured_as").map_or(&chosen.span, |(key, _)| &key.span);
        reader.report(
            Diagnostic::error("scenario::alternatives", message)
                .at(at.clone(), "does not go together")
                .help("energy: normal_energy or total_energy; speed: normal_speed"),
        );
    }
    let what = What::positive(dimension_of(demand));
    let median = reader.number_at(strength, &chosen.span, format!("{path}.median"), what);
    let beta = Unwritten::Value(if by_speed { BETA / 2.0 } else { BETA });
    let beta = reader.number_or(table, "spread", beta);
    let contact = reader.value_of(table, "contact");
    let tested = Tested { diameter: contact, ..tested_with(reader, table) };
    if let Some((key, _)) = table.get("factor") {
        let message = "`factor` goes with a formula only";
        reader.report(
            Diagnostic::error("scenario::alternatives", message)
                .at(key.span.clone(), "a strength that is told needs none")
                .help(format!("spread the `{}` itself", chosen.name)),
        );
    }
    Some(Barrier {
        demand,
        median,
        formula: None,
        contact,
        beta,
        scatter: scatter(reader, &key.span, path),
        hardest: None,
        lower_bound: false,
        tested,
        object: MadeOf::default(),
        source: "as told in the scenario".to_owned(),
        valid: LIKE_BLOWS.to_owned(),
        name: "as told".to_owned(),
    })
}

/// What a strength was found with, if it is told; something hard if not.
fn tested_with(reader: &mut Reader<'_>, barrier: &Table<'_>) -> Tested {
    let told = barrier.get("tested_with");
    let stuff = told.and_then(|(key, node)| made_of::by_name(reader, node, &key.span));
    let hard = Tested::default();
    Tested { stuff: stuff.unwrap_or(hard.stuff), ..hard }
}

fn dimension_of(demand: Demand) -> Dimension {
    match demand {
        Demand::NormalEnergy | Demand::TotalEnergy => Dimension::Energy,
        Demand::NormalSpeed => Dimension::Speed,
    }
}

/// This shot's standard normal deviate.
pub(super) fn scatter(reader: &mut Reader<'_>, span: &Span, path: &str) -> InputId {
    let normal = Distribution::normal(0.0, 1.0).unwrap_or(Distribution::fixed(0.0));
    let written = "this one against others of its kind, in standard deviations";
    reader.assume_as(format!("{path}.scatter"), Dimension::Number, normal, written, span.clone())
}
