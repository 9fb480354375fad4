//! A version of a claim: a text with values set in it, checked.

use crate::asked::Sets;
use longodds_sim::{
    diagnostic::{Diagnostic, Severity},
    scenario::{Patched, Scenario, language, parse, patched},
    text::{Sort, leaves},
};
use serde::Serialize;
use std::path::Path;

/// What is wrong, or doubtful, with a version, at its field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Problem {
    /// The path of the key that it is about, where it is about one.
    pub(crate) key: Option<String>,
    /// What is wrong.
    pub(crate) message: String,
    /// What was found there.
    pub(crate) found: Option<String>,
    /// What to write instead.
    pub(crate) help: Option<String>,
}

/// A version that can be flown.
pub(crate) struct Version {
    /// What it means.
    pub(crate) scenario: Scenario,
    /// What is doubtful about it.
    pub(crate) doubts: Vec<Problem>,
}

/// Puts the values into the text.
pub(crate) fn text(text: &str, sets: &Sets, folder: &Path) -> Result<Patched, Vec<Problem>> {
    let options: Vec<String> = sets.iter().map(|(key, value)| format!("{key}={value}")).collect();
    patched(text, folder, &options).map_err(|(number, problem)| {
        let key = sets.get(number).map(|(key, _)| key.clone());
        vec![said(&problem, key)]
    })
}

/// Puts the values into the text and checks what it then means.
pub(crate) fn version(base: &str, sets: &Sets, folder: &Path) -> Result<Version, Vec<Problem>> {
    let put = text(base, sets, folder)?;
    match parse(&put.text, folder) {
        Ok(scenario) => {
            let doubts = placed(&put.text, &scenario.warnings);
            Ok(Version { scenario, doubts })
        }
        Err(problems) => Err(placed(&put.text, &problems)
            .into_iter()
            .zip(&problems)
            .filter(|(_, problem)| problem.severity == Severity::Error)
            .map(|(said, _)| said)
            .collect()),
    }
}

/// Problems of a text, each with the key that it points at.
fn placed(text: &str, problems: &[Diagnostic]) -> Vec<Problem> {
    if problems.is_empty() {
        return Vec::new();
    }
    let language = language();
    let all = leaves(text, Sort::Scenario, &language).unwrap_or_default();
    let key = |problem: &Diagnostic| {
        let (span, _) = problem.label.as_ref()?;
        let holds = |place: &std::ops::Range<usize>| {
            place.start <= span.start && span.start < place.end.max(place.start + 1)
        };
        let found = all.iter().find(|leaf| leaf.place.as_ref().is_some_and(holds));
        found.map(|leaf| leaf.path.clone())
    };
    problems.iter().map(|problem| said(problem, key(problem))).collect()
}

fn said(problem: &Diagnostic, key: Option<String>) -> Problem {
    Problem {
        key,
        message: problem.message.clone(),
        found: problem.label.as_ref().map(|(_, found)| found.clone()),
        help: problem.help.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::scenario::template;

    fn tried(sets: &[(&str, &str)]) -> Result<Version, Vec<Problem>> {
        let sets = sets.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        version(template(), &sets, Path::new(""))
    }

    #[test]
    fn a_problem_names_the_field_that_it_stands_in() {
        for (key, value) in [
            ("object.mass", "2 kgs"),
            ("object.mass", "-2 kg"),
            ("target.stands.at", "fast"),
            ("object.mass", "{between: [3 kg, 2 kg]}"),
        ] {
            let problems = tried(&[(key, value)]).err().unwrap();
            assert_eq!(problems[0].key.as_deref(), Some(key), "{value}: {problems:?}");
            assert!(!problems[0].message.is_empty());
        }
        assert!(tried(&[("object.mass", "2 kg")]).is_ok());
    }

    #[test]
    fn a_key_that_is_not_there_is_said_of_itself() {
        let problems = tried(&[("object.mas", "2 kg")]).err().unwrap();
        assert_eq!(problems[0].key.as_deref(), Some("object.mas"));
    }
}
