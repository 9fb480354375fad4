//! The body of a field: what its value is typed into, and what it comes to.

use super::{
    Scale, curve,
    field::{Field, State},
};
use longodds_sim::{
    text::{Kind, Told},
    words::Voice,
};
use maud::{Markup, html};

/// Ways to tell a number, in words.
const FORMS: [(&str, &str); 5] = [
    ("", "exactly"),
    ("range", "anything between"),
    ("between", "9 in 10 between"),
    ("triangle", "likeliest and ends"),
    ("normal", "bell curve"),
];

/// The name of a field within its group: `centre x`, `speed`.
pub(crate) fn label(field: &Field<'_>) -> String {
    let names: Vec<&str> = field.path().split('.').collect();
    let axis =
        matches!(field.leaf.row.kind, Kind::Tuple(_)) && names.len() > 1 && field.is_written();
    names[names.len() - if axis { 2 } else { 1 }..].join(" ").replace('_', " ")
}

/// What a value is typed into, its curve, and what it comes to in the reader's
/// units.
pub(crate) fn body(field: &Field<'_>, voice: Voice) -> Markup {
    let name = label(field);
    html! {
        @match (&field.leaf.told, field.leaf.kind) {
            (Told::Nothing, kind) => (empty(field, kind, &name)),
            (Told::Spread { form, unknown, skew, .. }, _) if !field.handles().is_empty() => {
                (spread(field, form, &name, [*unknown, *skew]))
            }
            (Told::Value(_), Kind::Number(_)) => (spread(field, "", &name, [false; 2])),
            (Told::Value(text), Kind::Words(words)) => (choice(&name, words, text)),
            (Told::Value(text), Kind::Flag) => {
                (choice(&name, &["true".to_owned(), "false".to_owned()], text))
            }
            _ => (plain(field, &name)),
        }
        @if field.input.is_some() { p.spoken { (field.spoken(voice)) } }
    }
}

/// A key that is not written.
fn empty(field: &Field<'_>, kind: &Kind, name: &str) -> Markup {
    let example = example(field, kind);
    html! {
        @match kind {
            Kind::Words(words) => (choice(name, words, "")),
            Kind::Flag => (choice(name, &["true".to_owned(), "false".to_owned()], "")),
            _ => input.value data-part="" aria-label=(name) placeholder=(example) value="" autocomplete="off" spellcheck="false";
        }
    }
}

/// How a key could be written.
fn example(field: &Field<'_>, kind: &Kind) -> String {
    let own = field.leaf.row.example();
    match kind {
        Kind::Group(_) | Kind::Names(_) if own.is_empty() => "{ … }".to_owned(),
        Kind::List(_) if own.is_empty() => "[ … ]".to_owned(),
        _ if own.is_empty() => String::new(),
        _ => format!("such as {own}"),
    }
}

/// One of a few words.
fn choice(name: &str, words: &[String], chosen: &str) -> Markup {
    html! {
        select.value data-part="" aria-label=(name) {
            @if !words.iter().any(|word| word == chosen) { option value=(chosen) selected { (chosen) } }
            @for word in words { option value=(word) selected[word == chosen] { (word.replace('_', " ")) } }
        }
    }
}

/// What is no number, as it is written; what stands over several lines is changed
/// in the file.
fn plain(field: &Field<'_>, name: &str) -> Markup {
    html! {
        @match &field.source {
            Some(text) if text.len() > 44 => {
                textarea.value data-part="" aria-label=(name) rows="3" spellcheck="false" { (text) }
            }
            Some(text) => input.value data-part="" aria-label=(name) value=(text) autocomplete="off" spellcheck="false";,
            None => p.elsewhere { "Over several lines: change it in the file; this page takes it up." },
        }
    }
}

/// A number and the way it is told.
fn spread(field: &Field<'_>, form: &str, name: &str, [unknown, skew]: [bool; 2]) -> Markup {
    let handles = field.handles();
    let known = FORMS.iter().any(|(word, _)| *word == form);
    let kept = format!(
        "{}{}",
        if unknown { ", unknown: true" } else { "" },
        if skew { ", skew: true" } else { "" }
    );
    let [low, middle, high] = starts(field);
    let scale = handles.first().map(|handle| handle.scale.clone());
    html! {
        div.told data-form=(form) data-flags=(kept) data-low=(low) data-middle=(middle) data-high=(high)
            data-spread-unit=[scale.as_ref().map(difference)] {
            select.form aria-label={ (name) ": how it is known" } {
                @for (word, words) in FORMS { option value=(word) selected[word == form] { (words) } }
                @if !known { option value=(form) selected { (form) } }
            }
            @for handle in &handles {
                span.part {
                    @if handles.len() > 2 || handle.name == "sd" { span.what aria-hidden="true" { (short(handle.name)) } }
                    input.value data-part=(handle.path) data-value=(handle.value) data-unit=(handle.scale.unit)
                        data-per=(handle.scale.per) data-off=(handle.scale.off)
                        data-step=(step(field, handle.value, &handle.scale))
                        aria-label={ (name) @if !handle.name.is_empty() { ", " (handle.name) } }
                        value=(handle.text) autocomplete="off" spellcheck="false";
                }
            }
            @if handles.is_empty() {
                input.value data-part="" aria-label=(name) value=[field.source.as_ref()] autocomplete="off" spellcheck="false";
            }
        }
        (curve::drawing(field, name))
        @if !form.is_empty() && !handles.is_empty() {
            label.open { input.unknown type="checkbox" checked[unknown]; " one value, not known" }
        }
    }
}

fn short(name: &str) -> &str {
    match name {
        "likely" => "likeliest",
        "sd" => "±",
        name => name,
    }
}

/// A unit of differences: of a temperature it is another than of the value.
fn difference(scale: &Scale) -> &str {
    if scale.off == 0.0 { &scale.unit } else { "K" }
}

/// Ends and middle to start from where another way to tell the number is chosen,
/// in SI units.
fn starts(field: &Field<'_>) -> [f64; 3] {
    let [low, middle, high] = field.quantiles();
    if low < high {
        return [low, middle, high];
    }
    let (least, most) = field.leaf.kind.what().map_or((f64::MIN, f64::MAX), |what| what.bounds());
    let off = field.handles().first().map_or(0.0, |handle| handle.scale.off);
    // A tenth to either side; of nothing, one unit.
    let wide = match 0.1 * (middle - off).abs() {
        wide if wide > 0.0 => wide,
        _ => field.handles().first().map_or(1.0, |handle| handle.scale.per),
    };
    [(middle - wide).max(least), middle, (middle + wide).min(most)]
}

/// What one press of an arrow moves a number by, in SI units.
fn step(field: &Field<'_>, value: f64, scale: &Scale) -> f64 {
    let [low, _, high] = field.quantiles();
    if field.state == State::Fixed || low >= high {
        step_of(value, scale)
    } else {
        scale.step(high - low)
    }
}

/// The same for a value by itself.
pub(crate) fn step_of(value: f64, scale: &Scale) -> f64 {
    let span = (value - scale.off).abs();
    scale.step(if span > 0.0 { span } else { 10.0 * scale.per })
}
