//! `barrier: {shots: …}`: the user's own measured shots.

use super::{LIKE_BLOWS, MEASURES, dimension_of, scatter};
use crate::{
    diagnostic::Diagnostic,
    quantity::{Dimension, Show, format},
    sampling::slot_of,
    scenario::{Barrier, Input, MadeOf, shots::fit},
    text::{
        file::text,
        reader::{Reader, Table},
    },
    uncertain::Distribution,
};

/// Longest log that is read, in bytes.
const LONGEST: u64 = 4 << 20;
/// What may stand beside the shots.
const BESIDE: [&str; 4] = ["shots", "measured_as", "contact", "tested_with"];

/// Reads the barrier that the shots of a log speak of.
pub(super) fn read(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Barrier> {
    let (key, node) = table.get("shots")?;
    for other in table.group.names().filter(|other| !BESIDE.contains(other)) {
        if let Some((other, _)) = table.get(other) {
            reader.report(
                Diagnostic::error("scenario::alternatives", "a barrier is told in one way")
                    .at(other.span.clone(), "`shots` is already there")
                    .help(
                        "keep `shots`, with `measured_as`, `contact` and `tested_with` if you \
                         like, or this",
                    ),
            );
        }
    }
    let file = reader.text(node, &key.span, "the name of a CSV file")?;
    let measure = match table.get("measured_as") {
        Some(_) => Some(reader.word_of(table, "measured_as", "a measure", &MEASURES)?),
        None => None,
    };
    let log = text(&reader.folder.join(file), LONGEST);
    let fitted = match log.and_then(|log| fit(&log, measure)) {
        Ok(fitted) => fitted,
        Err(why) => {
            let message = format!("cannot fit a barrier to the shots of `{file}`");
            reader.report(
                Diagnostic::error("scenario::shots", message).at(node.span.clone(), why).help(
                    "a shot log with the columns `speed` and `result`, at least; its name is \
                     relative to the scenario's folder",
                ),
            );
            return None;
        }
    };
    let dimension = dimension_of(fitted.demand);
    let shown = |value| format(value, dimension, Show::Si);
    let [low, high] = fitted.median;
    let name = format!("{}.median", table.path);
    let median = Input {
        slot: slot_of(&name),
        name,
        dimension,
        distribution: Distribution::lognormal_between(low, high)
            .unwrap_or(Distribution::fixed(low)),
        unknown: true,
        assumed: false,
        written: format!("{file}: between {} and {}, 9 times in 10", shown(low), shown(high)),
    };
    let median = reader.add(median, node.span.clone());
    let spread = Distribution::fixed(fitted.spread);
    let path = format!("{}.spread", table.path);
    let beta = reader.assume(path, Dimension::Number, spread, node.span.clone());
    Some(Barrier {
        demand: fitted.demand,
        median,
        formula: None,
        contact: reader.value_of(table, "contact"),
        hardest: Some(fitted.hardest),
        beta,
        scatter: scatter(reader, &key.span, &table.path),
        lower_bound: false,
        tested: super::tested_with(reader, table),
        object: MadeOf::default(),
        source: format!(
            "fitted to {} shots of `{file}`, {} of them through (probit on the logarithm)",
            fitted.shots, fitted.through
        ),
        valid: format!("{LIKE_BLOWS}; the hardest shot was {}", shown(fitted.hardest)),
        name: "own shots".to_owned(),
    })
}
