//! `--set`: the scenario with other values, and what they change.

use crate::{diagnostics, failure::Failure, files, progress::Bar};
use longodds_sim::{
    answer,
    chain::Claim,
    quantity::Show,
    scenario::{self, Patched, Scenario},
    sweep::{WhatIf, what_if},
    words::Voice,
};
use serde_json::{Value, json};
use std::{io::Write, path::Path};

pub(crate) use longodds_sim::sweep::FLIGHTS;

/// Values that stand for those of the scenario.
#[derive(Debug, Default, clap::Args)]
pub(crate) struct Sets {
    /// Put a value in the place of the scenario's, as it would be written there:
    /// `--set gap='10 m'`, `--set release.launched.speed='60 mph'`. May be given
    /// more than once; the answer is held against the scenario as it is, on the
    /// same draws.
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
}

/// A scenario with values set, and as it was.
pub(crate) struct Changed {
    /// With them.
    pub(crate) scenario: Scenario,
    /// Without them, and what was put where; `None`: none were set.
    before: Option<(Scenario, Patched)>,
}

/// Reads a scenario and sets values in it; shows what is wrong with either.
pub(crate) fn read(path: &Path, sets: &Sets) -> Result<Changed, Failure> {
    let text = files::read_text(path, scenario::LONGEST)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    read_text(&files::name(path), &text, folder, sets)
}

/// The same of a text; relative names in it start from `folder`.
pub(crate) fn read_text(
    name: &str,
    text: &str,
    folder: &Path,
    sets: &Sets,
) -> Result<Changed, Failure> {
    if sets.set.is_empty() {
        let scenario = parsed(name, text, folder)?;
        diagnostics::show(name, text, &scenario.warnings);
        return Ok(Changed { scenario, before: None });
    }
    let before = parsed(name, text, folder)?;
    let put = scenario::patched(text, folder, &sets.set).map_err(|(number, problem)| {
        diagnostics::show(OPTION, &sets.set[number], &[problem]);
        Failure::Shown
    })?;
    let scenario = match scenario::parse(&put.text, folder) {
        Ok(scenario) => {
            shown(name, &put, sets, &scenario.warnings);
            scenario
        }
        Err(problems) => {
            shown(name, &put, sets, &problems);
            return Err(Failure::Shown);
        }
    };
    Ok(Changed { scenario, before: Some((before, put)) })
}

/// What an option is called where a problem points into it.
const OPTION: &str = "--set";

fn parsed(name: &str, text: &str, folder: &Path) -> Result<Scenario, Failure> {
    scenario::parse(text, folder).map_err(|problems| {
        diagnostics::show(name, text, &problems);
        Failure::Shown
    })
}

fn shown(
    name: &str,
    put: &Patched,
    sets: &Sets,
    problems: &[longodds_sim::diagnostic::Diagnostic],
) {
    for problem in problems {
        match put.pointed(problem) {
            Some((number, there)) => diagnostics::show(OPTION, &sets.set[number], &[there]),
            None => diagnostics::show(name, &put.text, std::slice::from_ref(problem)),
        }
    }
}

impl Changed {
    /// Flies both over the same draws; `None` where nothing was set.
    pub(crate) fn compared(&self, seed: u64, flights: u64) -> Result<Option<Told<'_>>, Failure> {
        let Some((before, put)) = &self.before else { return Ok(None) };
        let [first, second] =
            [before, &self.scenario].map(|scenario| Claim::ready(scenario.clone(), seed));
        let bar = Bar::new(2 * flights, "flights");
        let found = what_if(&first, &second, seed, flights, &bar);
        drop(bar);
        let found = found.ok_or(Failure::STOPPED)?;
        Ok(Some(Told { put, found }))
    }
}

/// What was set and what it does.
pub(crate) struct Told<'c> {
    put: &'c Patched,
    found: WhatIf,
}

impl Told<'_> {
    /// In words.
    pub(crate) fn say(&self, out: &mut dyn Write) -> Result<(), Failure> {
        for put in &self.put.put {
            let was = match &put.was {
                Some(was) => {
                    format!("was {}", was.split_whitespace().collect::<Vec<_>>().join(" "))
                }
                None => "was not written".to_owned(),
            };
            writeln!(out, "With `{}` at {} ({was})", put.path, put.value)?;
        }
        let said = answer::what_if(&self.found, Voice::plain(Show::Si));
        writeln!(out, "  before: {}", said.before)?;
        writeln!(out, "  after:  {}", said.after)?;
        match said.draws {
            None => writeln!(out, "  change: {}.\n", said.change)?,
            Some(draws) => writeln!(out, "  change: {}\n  {draws}.\n", said.change)?,
        }
        Ok(())
    }

    /// As JSON, in SI units.
    pub(crate) fn json(&self) -> Value {
        let set: Vec<Value> = self
            .put
            .put
            .iter()
            .map(|put| json!({ "key": put.path, "value": put.value, "was": put.was }))
            .collect();
        json!({
            "set": set,
            "before": self.found.before,
            "after": self.found.after,
            "change": self.found.change,
            "more_than_chance": self.found.change.is_more_than_chance(),
        })
    }
}
