//! Models, cautions, and how to get the same page again.

use super::{beside, prose};
use crate::Evidence;
use longodds_sim::{
    answer::{self, well_founded},
    findings::{Findings, ModelNote},
    words::Voice,
};
use maud::{Markup, html};

/// Models with their sources.
pub(super) fn models(findings: &Findings) -> Markup {
    if findings.models.is_empty() {
        return html! { p { "The record names no models." } };
    }
    html! {
        @if let Some(founded) = well_founded(&findings.models) { p { (founded) "." } }
        div.wide tabindex="0" role="region" aria-label="Table of the models" {
            table.models {
                thead { tr {
                    th scope="col" { "For" } th scope="col" { "Model" }
                    th scope="col" { "Valid" } th scope="col" { "Source" }
                } }
                tbody { @for note in &findings.models { tr {
                    th scope="row" { (note.what) }
                    td { (prose(&note.model)) } td { (prose(&ground(note))) } td { (prose(&source(note))) }
                } } }
            }
        }
        // Their sources stand in the table.
        @if let Some(reading) = findings.harm.as_ref().and_then(|harm| harm.reading.as_ref()) {
            p { (prose(&answer::reading(reading, Voice::set(findings.show)))) "." }
        }
    }
}

/// Where a model holds, and what it leaves out.
fn ground(note: &ModelNote) -> String {
    match [&note.valid, &note.leaves_out].map(|said| said.as_str()) {
        [valid, ""] => valid.to_owned(),
        ["", left] => format!("leaves out: {left}"),
        [valid, left] => format!("{valid}; leaves out: {left}"),
    }
}

/// Where a model is from, and where published values are set beside it.
fn source(note: &ModelNote) -> String {
    match note.key.as_str() {
        "" => note.source.clone(),
        key => format!("{}; held against published values in `tests/TRUST.md#{key}`", note.source),
    }
}

/// What has to be said wherever someone could be hurt.
pub(super) fn cautions(findings: &Findings) -> Markup {
    html! {
        @for caution in &findings.cautions { p.caution { (caution) } }
        p.caution {
            "This page judges a claim. It is no proof that an arrangement is safe and no permission to try it: \
             local codes and licensed practice come first, wherever energy is stored or things fly."
        }
    }
}

/// Whether a scenario reads other files: a rig, a table, shots.
fn names_files(text: &str) -> bool {
    let told = text.lines().filter_map(|line| line.split('#').next());
    told.flat_map(str::split_whitespace).any(|word| {
        let word = word.trim_end_matches(['}', ',', '"', '\'']);
        word.ends_with(".yaml") || word.ends_with(".csv")
    })
}

/// Seed, command, and the scenario whole.
pub(super) fn again(findings: &Findings, evidence: &[Evidence]) -> Markup {
    html! {
        p {
            "Save the text below as " code { (findings.scenario_name) } " and run the command. The same version, \
             seed and processor family (" code { (findings.family) } ") give the same numbers to the last bit."
            @if names_files(&findings.scenario_text) || findings.parts.iter().any(|part| part.file.is_some()) { " It reads other files: keep them where it names them." }
        }
        pre tabindex="0" aria-label="Command" {
            "longodds run " (findings.scenario_name) " --flights " (findings.claim.flights) " --seed " (findings.seed)
        }
        pre tabindex="0" aria-label="The scenario" { (findings.scenario_text) }
        (beside::more(findings, evidence))
    }
}

/// The last line.
pub(super) fn foot(findings: &Findings) -> Markup {
    html! {
        p {
            "Made by " (findings.program) ", seed " (findings.seed) ", processor family " (findings.family)
            ". Set in Barlow (SIL Open Font License 1.1)."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scenario_that_reads_other_files_says_so() {
        assert!(names_files("release:\n  rig:\n    file: rigs/crossbow.yaml\n"));
        assert!(names_files("barrier: {shots: \"wall.csv\"}"));
        assert!(!names_files("# The billet of `sawmill_billet.yaml`, thrown.\nmass: 3 kg"));
    }
}
