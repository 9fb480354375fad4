//! From text to a [`Scenario`], or to everything that is wrong with it.
//!
//! The text becomes a tree (`yaml`), each part of the tree is read by the file
//! of its name, and `sense` looks at the whole once its parts are read.

mod air;
mod barrier;
mod bounce;
mod claim;
mod coefficients;
mod custom;
mod made_of;
mod meant;
mod object;
mod release;
mod rig;
mod scatter;
mod secured;
mod sense;
mod target;
mod together;
mod turbulence;
mod wake;

use super::{
    Inputs, Scenario, Show,
    parts::{self, Found, Side},
};
use crate::{
    diagnostic::{Diagnostic, Severity},
    text::{
        SHOW, Sort,
        reader::{Reader, Table},
        reference,
        row::{Group, word},
        schema, yaml,
    },
};
use std::path::Path;

/// The language of scenarios: a row for each key, in the order in which they are
/// best written.
#[must_use]
pub fn language() -> Group {
    let rows = vec![
        claim::claim_row(),
        word("show", &SHOW, "The units in which results are shown.").may("`si`"),
        air::row(),
        bounce::ground_row(),
        object::row(),
        release::row(),
        target::row(),
        claim::harm_row(),
        claim::chain_row(),
        together::row(),
    ];
    Group::new("A claim about a flying object.", rows)
}

/// The JSON Schema (draft 2020-12) of a scenario.
#[must_use]
pub fn schema() -> serde_json::Value {
    schema::schema("longodds scenario", &language())
}

/// Every key of a scenario in Markdown, with a number's bounds and what holds
/// where it is not written.
#[must_use]
pub fn reference() -> String {
    reference::reference("A scenario", &language())
}

/// Reads and checks a scenario. `folder` is where the names of files in
/// it start from: measured data, rigs, logs of shots, and parts of its own.
///
/// # Errors
///
/// Returns every problem found, in the order of the text, and not just the
/// first, so that a file can be put right in one go. Warnings do not stand in
/// the way: they are in [`Scenario::warnings`].
///
/// # Examples
///
/// ```
/// use longodds_sim::scenario;
/// use std::path::Path;
///
/// let scenario = scenario::parse(scenario::template(), Path::new("."))
///     .map_err(|problems| problems[0].clone())?;
/// assert_eq!(scenario.chain.len(), 4);
///
/// let problems = scenario::parse("claim: a\nobjekt: b\n", Path::new(".")).unwrap_err();
/// let misspelt = problems.iter().find(|p| p.code == "scenario::unknown_key");
/// let help = misspelt.and_then(|problem| problem.help.as_deref());
/// assert_eq!(help, Some("did you mean `object`?"));
/// # Ok::<(), longodds_sim::diagnostic::Diagnostic>(())
/// ```
pub fn parse(text: &str, folder: &Path) -> Result<Scenario, Vec<Diagnostic>> {
    parse_with(text, folder, &|side, name| parts::find(folder, side, name))
}

/// The same, its parts found in some other way.
pub(crate) fn parse_with(
    text: &str,
    folder: &Path,
    find: &dyn Fn(Side, &str) -> Found,
) -> Result<Scenario, Vec<Diagnostic>> {
    let root = yaml::tree(text, Sort::Scenario).map_err(|problem| vec![problem])?;
    let (language, mut reader) = (language(), Reader::new(Sort::Scenario, folder));
    let with = parts::taken(root, text.len(), &language, find);
    reader.problems.clone_from(&with.problems);
    reader.lost.clone_from(&with.lost);
    let scenario =
        reader.root(&with.root, &language).and_then(|table| whole(&mut reader, &table, text));
    let mut problems = reader.problems;
    problems.sort_by_key(|p| p.label.as_ref().map_or(usize::MAX, |(span, _)| span.start));
    problems.dedup();
    let mut problems: Vec<Diagnostic> =
        problems.into_iter().map(|problem| with.placed(problem)).collect();
    match scenario {
        Some(mut scenario) if problems.iter().all(|p| p.severity == Severity::Warning) => {
            scenario.warnings = problems;
            scenario.parts = with.parts;
            Ok(scenario)
        }
        _ => {
            problems.retain(|problem| problem.severity == Severity::Error);
            Err(problems)
        }
    }
}

/// Every input that a text has, however much is wrong with it.
#[cfg(test)]
pub(crate) fn inputs_of(text: &str, folder: &Path) -> Vec<super::Input> {
    let Ok(root) = yaml::tree(text, Sort::Scenario) else { return Vec::new() };
    let (language, mut reader) = (language(), Reader::new(Sort::Scenario, folder));
    let Some(table) = reader.root(&root, &language) else { return Vec::new() };
    match whole(&mut reader, &table, text) {
        Some(scenario) => scenario.inputs.list().to_vec(),
        None => reader.inputs,
    }
}

/// Every part is read, whatever was wrong with those before.
fn whole(reader: &mut Reader<'_>, table: &Table<'_>, text: &str) -> Option<Scenario> {
    let claim = claim::claim(reader, table);
    let show = show(reader, table);
    let air = air::read(reader, table);
    let mut object = object::read(reader, table);
    let mass = object.as_ref().map(|object| object.mass);
    let release = release::read(reader, table, mass);
    if let Some(object) = &mut object {
        object::spin(reader, table, object, release.as_ref());
        object::figures(reader, table, object, release.as_ref(), air.as_ref());
    }
    let mut target = target::read(reader, table);
    let ground = bounce::ground(reader, table);
    if let Some(target) = &mut target {
        bounce::complete(reader, ground.as_ref(), target);
        if let Some(object) = &object {
            barrier::complete(target, object.made_of);
        }
    }
    let harm = claim::harm(reader, table);
    let chain = claim::chain(reader, table, target.as_ref());
    let copula = together::read(reader, table);
    sense::look(reader, air.as_ref(), object.as_ref(), release.as_ref(), target.as_ref(), table);
    if let (Some(air), Some(object), Some(release), Some(target)) =
        (&air, &object, &release, &target)
    {
        let parts = meant::Parts { air, object, release, target, ground: ground.as_ref() };
        meant::look(reader, parts, table);
    }
    if !reader.is_clean() {
        return None;
    }
    let list = distinct_slots(std::mem::take(&mut reader.inputs));
    Some(Scenario {
        text: text.to_owned(),
        claim: claim?,
        show,
        inputs: Inputs::new(list, copula?),
        air: air?,
        object: object?,
        release: release?,
        ground,
        target: target?,
        harm: harm?,
        chain: chain?,
        parts: Vec::new(),
        warnings: Vec::new(),
    })
}

fn show(reader: &mut Reader<'_>, table: &Table<'_>) -> Show {
    reader.word_of(table, "show", "`si` or `imperial`", &SHOW).unwrap_or_default()
}

/// Two names may share a hash, once in a hundred million scenarios: then the
/// one that stands later in the alphabet takes the next free place.
fn distinct_slots(mut list: Vec<super::Input>) -> Vec<super::Input> {
    let mut order: Vec<usize> = (0..list.len()).collect();
    order.sort_by(|a, b| list[*a].name.cmp(&list[*b].name));
    let mut taken = std::collections::BTreeSet::new();
    for i in order {
        while !taken.insert(list[i].slot) {
            list[i].slot = list[i].slot.wrapping_add(1);
        }
    }
    list
}

#[cfg(test)]
mod tests;
