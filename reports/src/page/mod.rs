//! One self-contained page: it works offline from a single file, needs no
//! script to be read, prints on A4 and Letter, and speaks to a screen reader.

mod answer;
mod beside;
mod doubts;
mod inputs;
mod notes;

use crate::{
    Evidence,
    canvas::Frame,
    chart,
    picture::{Picture, font_faces},
};
use longodds_sim::{findings::Findings, scenario::Gate};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");

/// A part of the page.
struct Part {
    id: &'static str,
    name: &'static str,
    body: Markup,
}

impl Part {
    fn new(id: &'static str, name: &'static str, body: Markup) -> Self {
        Self { id, name, body }
    }
}

/// The page of a record, with what other commands found beside it.
#[must_use]
pub fn page(findings: &Findings, evidence: &[Evidence]) -> String {
    let parts = parts(findings, evidence);
    let title = format!("{} · longodds", findings.scenario_name);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="generator" content=(findings.program);
                title { (title) }
                style { (PreEscaped(font_faces())) (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#chain" { "Skip to the evidence" }
                header { (answer::head(findings)) }
                nav aria-labelledby="contents" {
                    h2 #contents { "On this page" }
                    ul { @for part in &parts { li { a href={ "#" (part.id) } { (part.name) } } } }
                }
                main {
                    @for part in &parts {
                        section id=(part.id) aria-labelledby={ (part.id) "-name" } {
                            h2 id={ (part.id) "-name" } { (part.name) }
                            (part.body)
                        }
                    }
                }
                footer { (notes::foot(findings)) }
            }
        }
    }
    .into_string()
}

fn parts(findings: &Findings, evidence: &[Evidence]) -> Vec<Part> {
    let draw = |charts: &[fn(&Findings, Frame) -> Picture]| -> Markup {
        html! { @for chart in charts { (figure(&chart(findings, Frame::page()), None)) } }
    };
    let mut parts = vec![
        Part::new("chain", "Where the claim breaks", chain(findings)),
        Part::new("flights", "Flights", draw(&[chart::flights, chart::tumble])),
        Part::new("hits", "Where they come in", draw(&[chart::hits])),
    ];
    if findings.barrier.is_some() || findings.gates.iter().any(|g| g.gate == Gate::Perforates) {
        let name = "Energy against the barrier";
        parts.push(Part::new("barrier", name, draw(&[chart::barrier])));
    }
    parts.extend([
        Part::new(
            "arrival",
            "Speeds, misses, angles",
            draw(&[chart::impact_speed, chart::miss_distance, chart::obliquity]),
        ),
        Part::new("drivers", "What drives it", draw(&[chart::drivers])),
    ]);
    parts.extend(beside::parts(findings, evidence));
    parts.extend([
        Part::new("inputs", "Inputs as used", inputs::table(findings)),
        Part::new("doubts", "Doubts", doubts::list(findings)),
        Part::new("models", "Models and sources", notes::models(findings)),
        Part::new("cautions", "Cautions", notes::cautions(findings)),
        Part::new("again", "How to get this again", notes::again(findings, evidence)),
    ]);
    parts
}

/// The chain, and what became of the strikes on each of several aimed faces.
fn chain(findings: &Findings) -> Markup {
    html! {
        (figure(&chart::chain(findings, Frame::page()), None))
        @if !findings.by_face.is_empty() {
            ul { @for face in &findings.by_face { li { (prose(&face.words)) } } }
        }
    }
}

fn figure(picture: &Picture, caption: Option<&Markup>) -> Markup {
    html! {
        figure style={ "--width:" (picture.width) ";--head:" (picture.head.height) } {
            // On a phone the chart is wider than the window and scrolls, under its
            // words, which do not.
            div.over aria-hidden="true" {
                p.title { (picture.title) }
                p { (picture.head.subtitle) }
            }
            div.wide tabindex="0" role="region" aria-label={ "Chart " (picture.name) ": " (picture.title) } {
                (PreEscaped(picture.inline()))
            }
            @if let Some(words) = caption { figcaption { (words) } }
        }
    }
}

/// A sentence with its names in backticks set as such, and its quantities as in
/// the charts.
fn prose(text: &str) -> Markup {
    html! {
        @for (i, part) in text.split('`').enumerate() {
            @if i % 2 == 1 { code { (name(part)) } } @else { (typeset(part)) }
        }
    }
}

/// A number and its unit stay on one line, and units have the signs that charts
/// give them.
fn typeset(text: &str) -> String {
    let text = text.replace("ft lbf", "ft·lbf");
    let mut out = String::with_capacity(text.len());
    let mut rest = text.as_str();
    while let Some(c) = rest.chars().next() {
        let after = rest.get(c.len_utf8()..).unwrap_or_default();
        let digit = out.ends_with(|c: char| c.is_ascii_digit());
        let number = after.starts_with(|c: char| c.is_ascii_digit());
        let word = out.is_empty() || out.ends_with([' ', '(']);
        match c {
            ' ' if digit && ends(after, "deg") => {
                out.push('°');
                rest = &after["deg".len()..];
                continue;
            }
            // Shares have one form on the page.
            ' ' if digit && ends(after, "in 100") && !after["in 100".len()..].starts_with(',') => {
                out.push_str("\u{a0}%");
                rest = &after["in 100".len()..];
                continue;
            }
            ' ' if digit && ends(after, "degC") => {
                out.push_str("\u{a0}°");
                rest = &after["deg".len()..];
                continue;
            }
            ' ' if digit && UNITS.iter().any(|unit| ends(after, unit)) => out.push('\u{a0}'),
            '-' if word && number => out.push('−'),
            other => out.push(other),
        }
        rest = after;
    }
    out
}

/// Does the text begin with this whole word?
fn ends(text: &str, word: &str) -> bool {
    text.strip_prefix(word).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

/// Units that would look lost at the head of a line.
const UNITS: [&str; 13] =
    ["%", "m", "mm", "m/s", "ft", "mph", "J", "N", "kg", "lb", "lbf", "ft·lbf", "s"];

/// An input's name, to be broken after its dots.
fn name(text: &str) -> Markup {
    html! {
        @for (i, part) in text.split('.').enumerate() {
            @if i > 0 { "." wbr; }
            (part)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_in_sentences_look_as_in_charts() {
        assert_eq!(
            typeset("at 25.6 mph, 43.8 deg from square on, -8.89 m off. The blow is 335 ft lbf."),
            "at 25.6\u{a0}mph, 43.8° from square on, −8.89\u{a0}m off. The blow is \
             335\u{a0}ft·lbf."
        );
        assert_eq!(typeset("between 79 % and 81 %"), "between 79\u{a0}% and 81\u{a0}%");
        assert_eq!(typeset("26 in 100 and over 99.9 in 100"), "26\u{a0}% and over 99.9\u{a0}%");
        assert_eq!(typeset("1 in 100,000, 3 in 1,000"), "1 in 100,000, 3 in 1,000");
        assert_eq!(typeset("-10 to 35 degC"), "−10 to 35\u{a0}°C");
        // No unit, no minus.
        assert_eq!(
            typeset("36 searches, 2004-10-01, 3 degrees"),
            "36 searches, 2004-10-01, 3 degrees"
        );
        assert_eq!(typeset("1 in 230"), "1 in 230");
    }
}
