//! The safety officer's page: one printable sheet, self-contained.
//!
//! What the trade does is marked as such; nothing on it is a clearance.

mod launcher;
mod steps;
mod zone;

use crate::{
    canvas::Frame,
    chart,
    evidence::ExclusionChart,
    picture::{Picture, font_faces},
};
use longodds_sim::{
    answer::summary,
    findings::{Findings, SweepFindings},
    harm::CAUTION,
    words::Lettering,
};
use maud::{DOCTYPE, Markup, PreEscaped, html};

pub use self::launcher::Loaded;

const STYLE: &str = include_str!("safety.css");

/// What is written in by hand.
const BLANKS: [&str; 4] = ["Date and place", "In charge", "Safety officer", "Wind now, and gusts"];

/// What the page is made from.
#[derive(Debug)]
pub struct SafetySheet<'s> {
    /// A run of the claim, if there is one.
    pub findings: Option<&'s Findings>,
    /// Where debris goes, if that was asked.
    pub zone: Option<&'s ExclusionChart>,
    /// The launcher at its setting, if there is one.
    pub rig: Option<Loaded<'s>>,
    /// The chance as the wind is moved, if that was asked.
    pub wind: Option<&'s SweepFindings>,
}

/// The page as one HTML text.
#[must_use]
pub fn safety(sheet: &SafetySheet<'_>) -> String {
    let title = title(sheet);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Safety: " (title) }
                style { (PreEscaped(font_faces())) (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { "Safety: " (title) }
                    p.caution {
                        strong { "No clearance. " }
                        "A model's distances and loads help to keep people away. Local codes, the site's safety officer \
                         and licensed practice decide what may be done, and may ask for far more."
                    }
                    ul.blanks { @for blank in BLANKS { li { (blank) span.line {} } } }
                }
                main {
                    (zone::part(sheet.zone))
                    div.columns {
                        (zone::around(sheet.findings))
                        (launcher::part(sheet.rig.as_ref()))
                        (weather(sheet))
                        (harm(sheet.findings))
                        (steps::order())
                        (steps::misfire())
                        (steps::who())
                        (left_out(sheet))
                    }
                }
                footer {
                    p { "“Practice” marks what is common practice in the trade, without a source. Set in Barlow (SIL Open Font License 1.1)." }
                }
            }
        }
    };
    page.into_string()
}

fn title(sheet: &SafetySheet<'_>) -> String {
    match (sheet.findings, &sheet.rig) {
        (Some(findings), _) => findings.claim_text.trim().to_owned(),
        (None, Some(loaded)) => loaded.name.to_owned(),
        (None, None) => "nothing is told".to_owned(),
    }
}

/// What to ask for, said where it is missing.
fn missing(what: &str, command: &str) -> Markup {
    html! { p.missing { strong { "NOT TOLD: " (what) ". " } "Ask " code { (command) } "." } }
}

fn list(items: &[String]) -> Markup {
    html! { ul { @for item in items { li { (item.replace('`', "")) } } } }
}

/// A chart without its words, which stand beside it.
fn figure(picture: &Picture) -> Markup {
    html! { figure { (PreEscaped(picture.inline())) } }
}

/// What the wind does to the claim.
fn weather(sheet: &SafetySheet<'_>) -> Markup {
    html! {
        section {
            h2 { "Weather" }
            @match sheet.wind {
                Some(swept) => (figure(&chart::sweep(swept, Frame::page()))),
                None => (missing("up to which wind", "longodds sweep CLAIM wind.speed --from … --to … --json > wind.json")),
            }
            p.practice { "Practice: a limit for gusts, not for the mean wind, measured where the object is; stop before it is reached, not after; none in thunder or ice." }
        }
    }
}

/// The criterion that the claim's harm was held to, and how often it is reached.
fn harm(findings: Option<&Findings>) -> Markup {
    html! {
        section {
            h2 { "Harm" }
            @if let Some(findings) = findings {
                p { "The claim: " (summary(findings, Lettering::Plain).answer) }
            }
            @match findings.and_then(|findings| findings.harm.as_ref()) {
                Some(harm) => p { (harm.name.replace('_', " ")) ": " (harm.source) },
                None => p { "No criterion was asked for: that something arrives is taken as reason enough to keep people out of its way." },
            }
            p { (CAUTION) }
        }
    }
}

/// What no number of this page holds.
fn left_out(sheet: &SafetySheet<'_>) -> Markup {
    let models = sheet.findings.map_or(&[][..], |findings| &findings.models);
    let mut out: Vec<&str> = models.iter().map(|model| model.leaves_out.as_str()).collect();
    out.retain(|text| !text.is_empty());
    out.sort_unstable();
    out.dedup();
    html! {
        section {
            h2 { "Not in these numbers" }
            ul {
                li { "what breaks off, of the object or of what it strikes" }
                li { "people who are not where they should be" }
                @for text in out { li { (text) } }
            }
        }
    }
}

#[cfg(test)]
mod tests;
