//! What may be wrong with the answer.

use super::prose;
use crate::words;
use longodds_sim::{
    answer::{energy, enough, shaky, summary},
    findings::{Findings, StepError},
    quantity::{Dimension, Show},
    words::{Lettering, Voice},
};
use maud::{Markup, html};

/// Sampling error, step error, validity breaches, warnings.
pub(super) fn list(findings: &Findings) -> Markup {
    let claim = &findings.claim;
    let voice = Voice::set(findings.show);
    let level = voice.percent(claim.level);
    let said = summary(findings, Lettering::Set);
    html! {
        h3 { "Sampling error" }
        p {
            @if claim.is_counted() { "From " (words::flights(claim.flights)) " the" } @else { "The" }
            " chance of the claim is known to be "
            (prose(&words::known(claim))) " (" (prose(&level)) " confidence, " (claim.method.name())
            "). This covers chance alone: neither wrong inputs nor wrong physics."
        }
        @if let Some(enough) = enough(findings, voice) { p { (prose(&enough)) } }
        h3 { "Assumptions that carry the answer" }
        @if findings.shaky.is_empty() && unseen(findings) {
            p { "Not known: no plain flight held, so moving one input at a time over a few thousand flights shows nothing. Set one to either end of its range and run again to see." }
        } @else if findings.shaky.is_empty() {
            p { "None was found: no unknown or assumed input, moved by itself as far as reason allows, changes the word for the answer." }
        } @else {
            p { "Each moved by itself over " (words::flights(findings.shaky[0].flights)) ", and beside it in brackets the same flights as they were." }
            ul { @for one in &findings.shaky { li { (prose(&shaky(one, claim, voice))) } } }
        }
        @if let Some(band) = &findings.band {
            h3 { "What varies and what is not known" }
            p {
                "Some inputs differ from one event to the next; others have one value that nobody told. "
                (prose(said.hangs.as_ref().or(said.open.as_ref()).map_or("", String::as_str)))
                @if said.ends {
                    " The two ends leave out one in twenty of what is thinkable on either side; the lower is itself known to be "
                    (prose(&words::between(band.low_interval))) ", the upper " (prose(&words::between(band.high_interval))) "."
                }
            }
        }
        h3 { "Step error" }
        p { (prose(&step(&findings.step_error))) }
        @if let Some(audit) = &findings.energy_audit {
            h3 { "Energy" }
            p { (prose(&words::capital(&energy(audit, voice)))) "." }
        }
        h3 { "Models used outside their range" }
        @if findings.breaches.is_empty() {
            p { "None: every flight stayed within the range its models are valid in." }
        } @else {
            ul { @for breach in &findings.breaches {
                li { (prose(&format!("{} of {} ({}) {}", words::share(breach.share), breach.breach.among().words(), words::count(breach.flights), breach.breach.sentence()))) }
            } }
        }
        h3 { "Warnings about the scenario" }
        @if findings.warnings.is_empty() {
            p { "None." }
        } @else {
            ul { @for warning in &findings.warnings { li { (prose(warning)) } } }
        }
    }
}

/// Did no flight hold of those flown at random?
fn unseen(findings: &Findings) -> bool {
    findings.claim.flights > 0 && findings.claim.held == 0
}

fn step(error: &StepError) -> String {
    if error.flights == 0 {
        return "Not known: none of the flights looked at left and came to an end.".to_owned();
    }
    // The budget is told in mm, and so is what it is held against.
    let voice = Voice::set(Show::Si);
    let length = |m: f64| voice.quantity(m, Dimension::Length);
    let part = |x: f64| voice.percent(x);
    let verdict = match (error.outside, error.changed) {
        (0, 0) => "All are within the budget (1 mm in 50 m, 0.1 % of the energy), and none changed its outcome.".to_owned(),
        (outside, changed) => format!(
            "{} outside the budget (1 mm in 50 m, 0.1 % of the energy; 1 in 40 may) and {} changed their outcome.",
            if outside == 1 { "1 lies".to_owned() } else { format!("{} lie", words::count(outside)) },
            if changed == 0 { "none".to_owned() } else { words::count(changed) }
        ),
    };
    format!(
        "{} were flown again at half the step. For each 50 m flown the end point moved by {} at most ({} typically), the energy by {} at most ({} typically). {verdict}",
        words::flights(error.flights),
        length(error.point_max),
        length(error.point_median),
        part(error.energy_max),
        part(error.energy_median)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn one_flight_lies_and_two_lie_outside() {
        let error = sample::ordinary().step_error;
        let said = |outside| step(&StepError { outside, ..error.clone() });
        assert!(said(1).contains("1 lies outside the budget") && said(2).contains("2 lie outside"));
        assert!(said(1).contains("and none changed their outcome"));
    }

    #[test]
    fn where_nothing_left_no_step_error_is_claimed() {
        let error = sample::ordinary().step_error;
        assert!(step(&error).starts_with("64 flights were flown again"), "{}", step(&error));
        assert!(step(&StepError { flights: 0, ..error }).contains("none of the flights"));
    }
}
