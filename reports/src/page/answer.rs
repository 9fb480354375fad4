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
    html! {
        p.told { "The claim put to the test (" (findings.scenario_name) ")" }
        h1 { (told(&findings.claim_text)) }
        @if findings.partial {
            p.partial { strong { "Stopped early. " } "The run was ended before all its flights were flown; what follows rests on " (words::flights(claim.flights)) "." }
        }
        (chance(findings))
        dl.first {
            @for (name, words, more) in told_first(findings) {
                dt { (name) }
                dd { (prose(&words)) @if let Some((at, link)) = more { " " a href=(at) { (link) } } }
            }
        }
    }
}

/// A name, the words, and where on the page there is more: its address and what it is.
type Told = (&'static str, String, Option<(&'static str, &'static str)>);

/// What is to be said first: where it breaks, and what to do next.
pub(super) fn told_first(findings: &Findings) -> Vec<Told> {
    let (said, voice) = (summary(findings, Lettering::Set), Voice::set(findings.show));
    let mut told = vec![("Where it breaks", said.breaks, Some(("#chain", "See the chain")))];
    if let Some(way) = &findings.most_likely {
        told.push(("The most likely way it happens", most_likely(way, voice), None));
    }
    told.push(("Next", said.next, None));
    if let Some(caution) = findings.cautions.first() {
        told.push(("Caution", caution.clone(), Some(("#cautions", "All cautions"))));
    }
    told
}

/// The chance in big type, the word for it, and what it rests on.
pub(super) fn chance(findings: &Findings) -> Markup {
    let claim = &findings.claim;
    let (said, voice) = (summary(findings, Lettering::Set), Voice::set(findings.show));
    let number = words::headline(claim);
    let word = words::capital(&claim.likelihood().to_string());
    let bound = claim.at_most && claim.probability > 0.0;
    let long = if number.chars().count() > 7 { "number long" } else { "number" };
    html! {
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
    }
}

fn told(claim: &str) -> String {
    let claim = claim.trim();
    if claim.is_empty() { "A claim without words".to_owned() } else { format!("“{claim}”") }
}
