//! The parts of the form: a part for each group at the top of the claim.

use super::{
    body::{body, label},
    field::{Field, State},
};
use longodds_sim::{
    scenario::Scenario,
    text::{Kind, Told},
    words::{Voice, count_of},
};
use maud::{Markup, html};

/// The name of the part for what belongs to no group.
const WHOLE: &str = "the claim";

/// Every part, in the order of the language.
pub(crate) fn all(fields: &[Field<'_>], scenario: &Scenario) -> Markup {
    let mut names: Vec<&str> = vec![WHOLE];
    for name in fields.iter().map(part) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let voice = Voice::set(scenario.show);
    html! {
        @for name in names {
            @let fields: Vec<&Field<'_>> = fields.iter().filter(|field| part(field) == name).collect();
            details.section open[name != WHOLE] data-section=(name) {
                summary { h3 { (name) } span.sum { (sum(&fields)) } }
                (written(&fields, voice))
                (unwritten(&fields, voice))
            }
        }
    }
}

fn part<'f>(field: &'f Field<'_>) -> &'f str {
    field.path().split_once('.').map_or(WHOLE, |(group, _)| group)
}

/// What there is in a part, in a line.
fn sum(fields: &[&Field<'_>]) -> String {
    let of =
        |state| fields.iter().filter(|field| field.is_written() && field.state == state).count();
    let counted = [
        (of(State::Varies), "varies", "vary"),
        (of(State::Unknown), "unknown", "unknown"),
        (of(State::Fixed), "fixed", "fixed"),
    ];
    let words: Vec<String> = counted
        .into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| format!("{n} {}", if n == 1 { one } else { many }))
        .collect();
    words.join(", ")
}

/// What is written, under headings of its groups.
fn written(fields: &[&Field<'_>], voice: Voice) -> Markup {
    let fields: Vec<&&Field<'_>> = fields.iter().filter(|field| field.is_written()).collect();
    html! {
        @for (i, field) in fields.iter().enumerate() {
            @let heading = heading(field);
            @if !heading.is_empty() && (i == 0 || self::heading(fields[i - 1]) != heading) {
                h4 { (heading) }
            }
            (one(field, voice))
        }
    }
}

/// What could be written, with what it means and what holds until then.
fn unwritten(fields: &[&Field<'_>], voice: Voice) -> Markup {
    let fields: Vec<&&Field<'_>> = fields.iter().filter(|field| !field.is_written()).collect();
    html! {
        @if !fields.is_empty() {
            details.more {
                summary { "Add: " (count_of(fields.len() as u64, "key")) " not written" }
                @for field in fields { (one(field, voice)) }
            }
        }
    }
}

/// Where in its part a field stands: `faces · shop window · pane`.
fn heading(field: &Field<'_>) -> String {
    let names: Vec<&str> = field.path().split('.').collect();
    let axis = matches!(field.leaf.row.kind, Kind::Tuple(_)) && field.is_written();
    let last = names.len().saturating_sub(if axis { 2 } else { 1 });
    names.get(1..last).unwrap_or_default().join(" · ").replace('_', " ")
}

/// A field.
fn one(field: &Field<'_>, voice: Voice) -> Markup {
    let name = if field.is_written() { label(field) } else { place(field) };
    let doc = field.leaf.row.described();
    html! {
        div.field.(field.state.word()) data-key=(field.path()) data-kind=(field.state.word())
            data-source=[field.source.as_ref()] title=[field.is_written().then_some(&doc)] {
            div.name {
                span.label { (name) }
                @if field.state != State::Word { span.tag.(field.state.word()) { (tag(field)) } }
            }
            @if !field.is_written() { p.doc { (doc) } }
            div.body { (body(field, voice)) }
            p.problem hidden {}
        }
    }
}

fn place(field: &Field<'_>) -> String {
    let path = field.path();
    path.split_once('.').map_or(path, |(_, rest)| rest).replace('.', " · ").replace('_', " ")
}

fn tag(field: &Field<'_>) -> &'static str {
    match (&field.leaf.told, field.state) {
        (Told::Spread { .. }, State::Fixed) => "fixed",
        (_, state) => state.word(),
    }
}
