//! The answer first: the number, its interval, the word for it; then where
//! the claim breaks and the next thing to do.

use super::prose;
use crate::words;
use longodds_sim::{
    answer::{how, most_likely, summary, why_at_most},
    findings::Findings,
    words::{Lettering, Voice},
};
use maud::{Markup, html};

/// The head of the page.
pub(super) fn head(findings: &Findings) -> Markup {
    let claim = &findings.claim;
    let (said, voice) = (summary(findings, Lettering::Set), Voice::set(findings.show));
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
                @if claim.ways_alone().is_some() { p.said { (prose(&said.answer)) } }
                p.said {
                    (prose(&words::capital(&said.counted))) "."
                    @if let Some(how) = how(findings, voice) { " How: " (prose(&how)) "." }
                }
                @if let Some(open) = &said.open { p.said { (prose(open)) } }
            }
        }
        dl.first {
            dt { "Where it breaks" }
            dd { (prose(&said.breaks)) " " a href="#chain" { "See the chain" } }
            @if let Some(way) = &findings.most_likely {
                dt { "The most likely way it happens" }
                dd { (prose(&most_likely(way, voice))) }
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
