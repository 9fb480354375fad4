//! One self-contained page: it works offline from a single file, needs no
//! script to be read, prints on A4 and Letter, and speaks to a screen reader.

mod answer;
mod beside;
mod doubts;
mod inputs;
mod notes;
mod what_ifs;

pub use self::what_ifs::Kept;

use crate::{
    Evidence,
    canvas::Frame,
    chart, font,
    picture::{Picture, font_faces},
};
use longodds_sim::{answer as said, findings::Findings, scenario::Gate, words::Voice};
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
    page_with(findings, evidence, &[])
}

/// The chance of a record as its page has it: the number, the word for it, what it
/// rests on, and what has to be said before it.
#[must_use]
pub fn chance(findings: &Findings) -> Markup {
    answer::chance(findings)
}

/// Where it breaks, the likeliest way and the next step, as the page has them.
#[must_use]
pub fn story(findings: &Findings) -> Markup {
    html! {
        dl.first {
            @for (name, words, _) in answer::told_first(findings) {
                dt { (name) }
                dd { (prose(&words)) }
            }
        }
    }
}

/// The page of a record, with what-ifs that were kept.
#[must_use]
pub fn page_with(findings: &Findings, evidence: &[Evidence], kept: &[Kept]) -> String {
    let mut parts = parts(findings, evidence);
    if !kept.is_empty() {
        let place = parts.iter().position(|part| part.id == "inputs").unwrap_or(parts.len());
        let table = what_ifs::table(findings.show, kept);
        parts.insert(place, Part::new("what-ifs", "What if", table));
    }
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
        Part::new("set-up", "The set-up", draw(&[chart::set_up_of])),
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
    let voice = Voice::set(findings.show);
    html! {
        (figure(&chart::chain(findings, Frame::page()), None))
        @if !findings.by_face.is_empty() {
            ul { @for face in &findings.by_face { li { (prose(&said::face(face, voice))) } } }
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

/// A sentence with its names in backticks set as such, its numbers on one line
/// with their units.
fn prose(text: &str) -> Markup {
    html! {
        @for (i, part) in text.split('`').enumerate() {
            @if i % 2 == 1 { code { (name(part)) } } @else { (font::unbroken(part)) }
        }
    }
}

/// An input's name, to be broken after its dots.
fn name(text: &str) -> Markup {
    html! {
        @for (i, part) in text.split('.').enumerate() {
            @if i > 0 { "." wbr; }
            (part)
        }
    }
}
