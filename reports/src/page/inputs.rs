//! The inputs as the run used them.

use crate::words;
use longodds_sim::{
    findings::{Findings, InputFinding, PartFinding},
    note::Kind,
    quantity::Show,
};
use maud::{Markup, html};

/// The table of inputs, uncertain ones first as in the record.
pub(super) fn table(findings: &Findings) -> Markup {
    let show = findings.show;
    let both = findings.show == Show::Imperial;
    // What the claim does not tell and nothing varies is a list, not a row each.
    let (given, told): (Vec<&InputFinding>, Vec<&InputFinding>) =
        findings.inputs.iter().partition(|i| (i.assumed || i.part.is_some()) && i.fixed);
    let (assumed, of_parts): (Vec<&InputFinding>, Vec<&InputFinding>) =
        given.into_iter().partition(|i| i.part.is_none());
    let varying = findings.inputs.iter().filter(|i| !i.fixed).count();
    html! {
        p {
            (findings.inputs.len()) " inputs, " (varying) " of them uncertain. "
            span.tag { "varies" } " differs from one event to the next; "
            span.tag.unknown { "unknown" } " is one value that nobody knows; "
            span.tag.assumed { "assumed" } " was not told: it is the model's own."
        }
        div.wide tabindex="0" role="region" aria-label="Table of the inputs" {
            table {
                thead { tr {
                    th scope="col" { "Input" }
                    th scope="col" { "As told" }
                    th scope="col" { "Half below (nine in ten)" }
                    @if both { th scope="col" { "In SI" } }
                    th scope="col" { "Kind" }
                } }
                tbody { @for input in &told { tr {
                    th scope="row" { (super::name(&input.name)) }
                    td { (input.written) }
                    td { (range(input, show)) }
                    @if both { td { (range(input, Show::Si)) } }
                    td { (kind(input)) }
                } } }
            }
        }
        @for part in &findings.parts {
            @let own: Vec<&InputFinding> = of_parts.iter().copied().filter(|i| i.name.starts_with(&part.side)).collect();
            p {
                (from(part))
                @if !own.is_empty() { " Fixed by it: " (list(&own, show)) "." }
            }
        }
        @if !assumed.is_empty() {
            p { "Fixed and " span.tag.assumed.last { "assumed" } ": " (list(&assumed, show)) "." }
        }
    }
}

/// Inputs with their values, in a sentence.
fn list(inputs: &[&InputFinding], show: Show) -> Markup {
    html! {
        @for (k, input) in inputs.iter().enumerate() {
            @if k > 0 { "; " }
            (super::name(&input.name)) " " (range(input, show))
        }
    }
}

/// Where the numbers of a part are from.
fn from(part: &PartFinding) -> Markup {
    let shelf = match &part.file {
        None => "a part of the shelf".to_owned(),
        Some(file) => format!("a part of your own ({file})"),
    };
    let kind = part.kind.map_or("", Kind::words);
    html! {
        code { (part.name) } " is " (shelf) ": " (part.about) ". Its figures: "
        (super::prose(&part.source)) " (" (kind) ")."
    }
}

fn range(input: &InputFinding, show: Show) -> String {
    let dimension = words::dimension(&input.dimension);
    let say = |i: usize| words::quantity(input.quantiles[i], dimension, show);
    if input.fixed { say(1) } else { format!("{} ({} to {})", say(1), say(0), say(2)) }
}

fn kind(input: &InputFinding) -> Markup {
    html! {
        @if input.fixed { span.tag.fixed { "fixed" } }
        @else if input.unknown { span.tag.unknown { "unknown" } }
        @else { span.tag { "varies" } }
        @if input.assumed { span.tag.assumed { "assumed" } }
        @if let Some(part) = &input.part { " from " code { (part) } }
    }
}
