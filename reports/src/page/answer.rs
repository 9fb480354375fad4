//! The answer first: the number, its interval, the word for it; then where
//! the claim breaks and the next thing to do.

use super::prose;
use crate::{chart::weakest, words};
use longodds_sim::findings::{Findings, summary, why_at_most};
use maud::{Markup, html};

/// The head of the page.
pub(super) fn head(findings: &Findings) -> Markup {
    let claim = &findings.claim;
    let said = summary(findings);
    let number = words::headline(claim);
    let word = words::capital(&claim.likelihood().to_string());
    let bound = claim.at_most && claim.probability > 0.0;
    let long = if number.chars().count() > 7 { "number long" } else { "number" };
    html! {
        p.told { "The claim put to the test (" (findings.scenario_name) ")" }
        h1 { (told(&findings.claim_text)) }
        @if findings.partial {
            p.partial { strong { "Stopped early. " } "The run was ended before all its flights were flown; what follows rests on " (words::flights(claim.flights)) "." }
        }
        @for first in &said.first { p.partial { (prose(first)) } }
        @if let Some(hangs) = &said.hangs { p.said { (prose(hangs)) } }
        div.answer {
            p class=(long) {
                @if bound { span.most { "At most " } }
                (number)
            }
            div {
                @if claim.at_most {
                    p.word { (word) ", or less: " (why_at_most(findings)) }
                } @else {
                    p.word { (word) }
                }
                p.said { (prose(&interval(findings))) }
                @if let Some(open) = &said.open { p.said { (prose(open)) } }
            }
        }
        dl.first {
            dt { "Where it breaks" }
            dd { (prose(&breaks(findings))) " " a href="#chain" { "See the chain" } }
            @if let Some(way) = &findings.most_likely {
                dt { "The most likely way it happens" }
                dd { (prose(&way.words)) }
            }
            dt { "Next" }
            dd { (prose(&said.next)) }
            @if let Some(caution) = findings.cautions.first() {
                dt { "Caution" }
                dd { (caution) " " a href="#cautions" { "All cautions" } }
            }
        }
    }
}

fn told(claim: &str) -> String {
    let claim = claim.trim();
    if claim.is_empty() { "A claim without words".to_owned() } else { format!("“{claim}”") }
}

fn interval(findings: &Findings) -> String {
    let claim = &findings.claim;
    let level = longodds_sim::quantity::significant(claim.level * 100.0, 3);
    let interval = words::capital(&words::known(claim));
    let found = match words::counted(claim) {
        Some((held, all)) => {
            format!(
                "It held in {} of {} ({}).",
                words::count(held),
                words::flights(all),
                claim.method
            )
        }
        None => format!("How: {}.", claim.method),
    };
    format!("{interval} by the error of counting alone ({level} % confidence). {found}")
}

fn breaks(findings: &Findings) -> String {
    let Some(gate) = weakest(findings) else { return "No flight came to a gate.".to_owned() };
    let name = words::gate(gate.gate);
    if gate.passed >= gate.came {
        return "Nowhere: every flight passes every gate.".to_owned();
    }
    let share = words::estimate(&gate.given_before);
    let interval = words::known(&gate.given_before);
    let came = words::flights(gate.came);
    if gate.passed == 0 {
        return format!(
            "At “{name}” ({}): none of the {came} that come to it passes ({interval}).",
            gate.meaning
        );
    }
    if gate.given_before.probability > 0.9 {
        return format!(
            "Hardly anywhere: even at “{name}” ({}), {share} of the {came} that come to it pass ({interval}).",
            gate.meaning
        );
    }
    format!(
        "At “{name}” ({}): of the {came} that come to it, {share} pass ({interval}).",
        gate.meaning
    )
}
