//! What other commands found, each kind in its own part of the page.

use super::{Part, figure};
use crate::{Evidence, canvas::Frame, picture::Picture, words};
use longodds_sim::findings::{Findings, Swept};
use maud::{Markup, html};

/// A kind of evidence: its part of the page, and how to get it.
struct Kind {
    id: &'static str,
    name: &'static str,
    /// Which evidence is of this kind.
    holds: fn(&Evidence) -> bool,
    /// The command that finds it, with `{}` for the scenario's name.
    command: &'static str,
}

const KINDS: [Kind; 6] = [
    Kind {
        id: "true",
        name: "What would have to be true",
        holds: |one| matches!(one, Evidence::Sweep(_) | Evidence::Map(_)),
        command: "longodds sweep {} INPUT --from A --to B --json",
    },
    Kind {
        id: "rig",
        name: "The claim against the rig",
        holds: |one| matches!(one, Evidence::Comparison(_)),
        command: "longodds compare {} RIG_SCENARIO --json",
    },
    Kind {
        id: "calibration",
        name: "The launcher and its shots",
        holds: |one| matches!(one, Evidence::Calibration(_)),
        command: "longodds calibrate RIG SHOTS --speed V --json",
    },
    Kind {
        id: "judgement",
        name: "Shots against the claim",
        holds: |one| matches!(one, Evidence::Judgement(_)),
        command: "longodds judge FINDINGS SHOTS --rig RIG_SCENARIO --json",
    },
    Kind {
        id: "trials",
        name: "How many shots",
        holds: |one| matches!(one, Evidence::Plan(_)),
        command: "longodds trials rare --below 10% --json",
    },
    Kind {
        id: "debris",
        name: "Where debris goes",
        holds: |one| matches!(one, Evidence::Exclusion(_)),
        command: "longodds exclusion {} --json",
    },
];

/// The parts that there is evidence for.
pub(super) fn parts(findings: &Findings, evidence: &[Evidence]) -> Vec<Part> {
    let part = |kind: &Kind| {
        let mine: Vec<_> = evidence.iter().filter(|one| (kind.holds)(one)).collect();
        let body = html! {
            @for (one, picture) in mine.iter().zip(numbered(&mine)) {
                (figure(&picture, origin(findings, one).as_ref()))
            }
        };
        (!mine.is_empty()).then(|| Part::new(kind.id, kind.name, body))
    };
    KINDS.iter().filter_map(part).collect()
}

/// Their charts, under names of their own: a page holds a name only once.
fn numbered(evidence: &[&Evidence]) -> Vec<Picture> {
    let mut pictures: Vec<Picture> =
        evidence.iter().map(|one| one.picture(Frame::page())).collect();
    for (i, picture) in pictures.iter_mut().enumerate().skip(1) {
        picture.name = format!("{}-{}", picture.name, i + 1);
    }
    pictures
}

/// Where a finding is from, if that is not the run on this page.
fn origin(findings: &Findings, one: &Evidence) -> Option<Markup> {
    let swept = |swept: &Swept| {
        let flights = words::flights(swept.flights);
        (swept.scenario_name.clone(), format!("{flights} at each setting, seed {}", swept.seed))
    };
    let (name, how) = match one {
        Evidence::Sweep(record) => swept(&record.swept),
        Evidence::Map(record) => swept(&record.swept),
        Evidence::Comparison(record) => {
            let how =
                format!("against {}, {} of each", record.rig_name, words::flights(record.flights));
            (record.claim_name.clone(), how)
        }
        Evidence::Exclusion(_) => {
            let caution = "It helps to keep people away. It is no clearance: local codes, the \
                           site's safety officer and licensed practice set the zone.";
            return Some(html! { strong { "Caution. " } (caution) });
        }
        Evidence::Judgement(chart) => {
            return Some(html! {
                strong { "To say on camera. " } (chart.on_camera)
                @if chart.scenario_name != findings.scenario_name {
                    " " strong { "The run on this page is of another file." }
                }
            });
        }
        Evidence::Calibration(_) | Evidence::Plan(_) => return None,
    };
    Some(html! {
        "From " code { (name) } ": " (how) "."
        @if name != findings.scenario_name {
            " " strong { "The run on this page is of another file." }
        }
    })
}

/// A command as it is typed; its options are not broken at their hyphens.
fn typed(command: &str) -> Markup {
    html! {
        code {
            @for (i, word) in command.split(' ').enumerate() {
                @if i > 0 { " " }
                @if word.starts_with('-') { span.whole { (word) } } @else { (word) }
            }
        }
    }
}

/// What else could stand on the page, and how it gets there.
pub(super) fn more(findings: &Findings, evidence: &[Evidence]) -> Markup {
    let missing: Vec<_> = KINDS.iter().filter(|k| !evidence.iter().any(k.holds)).collect();
    let command = |kind: &Kind| kind.command.replace("{}", &findings.scenario_name);
    html! {
        @if !missing.is_empty() {
            h3 { "What else can stand on this page" }
            p {
                "Send the answer of a command to a file and hand it over: "
                (typed("longodds report FINDINGS --with FILE")) "."
            }
            ul { @for kind in missing { li { (kind.name) ": " (typed(&command(kind))) } } }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_option_stays_in_one_piece() {
        let html = typed("longodds sweep a.yaml --json").into_string();
        assert!(html.contains("a.yaml <span class=\"whole\">--json</span>"), "{html}");
    }
}
