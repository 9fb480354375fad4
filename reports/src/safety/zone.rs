//! The zone in plan, what it rests on, and what is around the target.

use super::{figure, list, missing};
use crate::{canvas::Frame, chart, evidence::ExclusionChart};
use longodds_sim::{
    exclusion::{Exceeded, left_out},
    findings::Findings,
    quantity::{Dimension, Show, format},
    words::Spoken,
};
use maud::{Markup, html};

pub(super) fn part(zone: Option<&ExclusionChart>) -> Markup {
    let Some(zone) = zone else {
        let ask = "longodds exclusion CLAIM --json > zone.json";
        return html! { section { h2 { "The zone" } (missing("where debris goes", ask)) } };
    };
    let (found, show) = (&zone.found, zone.show);
    let opened: Vec<String> = found.opened.iter().map(|one| one.words(show)).collect();
    html! {
        section.zone {
            h2 { "The zone" }
            div.beside {
                (figure(&chart::exclusion(found, show, Frame::page())))
                div {
                    @if found.partial { p.missing { strong { "Stopped early: these distances rest on part of the flights." } } }
                    div.wide tabindex="0" role="region" aria-label="How far debris goes" {
                        table {
                            thead {
                                tr {
                                    th scope="col" { "beyond which goes" }
                                    @if let Some(first) = found.reaches.first() {
                                        @for one in &first.exceeded { th scope="col" { (Spoken::OneIn(one.one_in)) } }
                                    }
                                }
                            }
                            tbody {
                                @for reach in &found.reaches {
                                    tr {
                                        th scope="row" { (reach.measure.words()) }
                                        @for one in &reach.exceeded { td { (distance(one, show)) } }
                                    }
                                }
                            }
                        }
                    }
                    p { "In brackets 95 % intervals. Nothing is taken as exact that is not so in life:" }
                    (list(&opened))
                    (list(&left_out(found.followed)))
                }
            }
        }
    }
}

fn distance(one: &Exceeded, show: Show) -> String {
    let say = |value: f64| format(value.max(0.0), Dimension::Length, show);
    match (one.distance, one.interval) {
        (Some(distance), _) if distance < 0.0 => "none".to_owned(),
        (Some(distance), [Some(low), Some(high)]) => {
            format!("{} ({} to {})", say(distance), say(low), say(high))
        }
        (Some(distance), _) => say(distance),
        (None, [Some(least), _]) => format!("at least {}", say(least)),
        (None, _) => "not known".to_owned(),
    }
}

/// Behind and beside the target.
pub(super) fn around(findings: Option<&Findings>) -> Markup {
    let faces = findings.map_or(&[][..], |findings| &findings.faces);
    let aimed: Vec<String> =
        faces.iter().filter(|face| face.aim).map(|face| face.name.replace('_', " ")).collect();
    let bounced = findings.and_then(|findings| findings.contacts.as_ref());
    html! {
        section {
            h2 { "Behind and beside the target" }
            ul {
                @if !aimed.is_empty() {
                    li { "Nobody behind " (aimed.join(", ")) ", however unlikely a hole is: nothing here says that it holds." }
                }
                li {
                    @match bounced {
                        Some(_) => "What the object strikes and goes on from is in the flights; where it then goes is in the zone only if the zone was asked for with the same ground.",
                        None => "What glances off is not followed: beside the target counts as in front of it.",
                    }
                }
                li { "Parts of the barrier fly, too: glass, splinters and fixings go farther than the object, to both sides. None of that is in the zone." }
                li.practice { "Practice: a catch behind the target that stops the object at its full speed without the target." }
            }
        }
    }
}
