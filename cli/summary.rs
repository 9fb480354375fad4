//! The answer on a terminal: read in ten seconds.

use longodds_sim::{
    answer::{
        bounces, energy, enough, face, how, in_words, most_likely, reading, shaky, summary,
        well_founded,
    },
    findings::{Findings, GateFinding},
    harm,
    quantity::{Dimension, Show},
    words::{Lettering, Voice},
};
use std::fmt::Write;

/// Width of a bar, in characters.
const BAR: usize = 20;

/// The whole answer as text, without colour.
pub(crate) fn text(findings: &Findings) -> String {
    let (words, voice) = (summary(findings, Lettering::Plain), Voice::plain(findings.show));
    let mut out = String::new();
    for said in &words.first {
        line(&mut out, said);
    }
    let said = [words.hangs.as_ref(), Some(&words.answer), words.open.as_ref()];
    let said: Vec<&str> = said.into_iter().flatten().map(String::as_str).collect();
    line(&mut out, &said.join(" "));
    line(&mut out, &format!("  {}.", words.counted));
    if let Some(how) = how(findings, voice) {
        line(&mut out, &format!("  How: {how}."));
    }
    if findings.partial {
        line(&mut out, "Stopped early: this is what was done so far.");
    }
    line(&mut out, "");
    line(&mut out, "Where it breaks");
    let name = findings.gates.iter().map(|gate| gate.meaning.chars().count()).max().unwrap_or(0);
    for gate in &findings.gates {
        // A row of the table is not cut.
        let _ = writeln!(out, "{}", row(gate, name, voice));
    }
    for chain in &findings.by_face {
        line(&mut out, &format!("  {}", face(chain, voice)));
    }
    line(&mut out, &words.breaks);
    if let Some(arrives) = &words.arrives {
        line(&mut out, "");
        line(&mut out, arrives);
    }
    if let Some(contacts) = &findings.contacts {
        line(&mut out, "");
        line(&mut out, &format!("Bounces: {}", bounces(contacts, voice)));
    }
    if let Some(way) = &findings.most_likely {
        line(&mut out, "");
        line(&mut out, &format!("The most likely way it happens: {}", most_likely(way, voice)));
    }
    line(&mut out, "");
    line(&mut out, &format!("Next: {}", words.next));
    if let Some(enough) = enough(findings, voice) {
        line(&mut out, &format!("Flights: {enough}"));
    }
    for one in &findings.shaky {
        line(&mut out, &format!("Doubt: {}", shaky(one, &findings.claim, voice)));
    }
    line(&mut out, &format!("Doubts: {}", doubts(findings, voice)));
    if let Some(founded) = well_founded(&findings.models) {
        line(&mut out, &format!("Sources: {founded} (tests/TRUST.md)."));
    }
    if let Some(audit) = &findings.energy_audit {
        line(&mut out, &format!("Energy: {}.", energy(audit, voice)));
    }
    if let Some(harm) = &findings.harm {
        line(&mut out, &format!("Harm: {}: {}.", harm.name.replace('_', " "), harm.source));
        if let Some(of) = &harm.reading {
            line(&mut out, &format!("{}.", reading(of, voice)));
        }
        line(&mut out, &format!("Caution: {}", harm::CAUTION));
    }
    if let Some(caution) = findings.cautions.first() {
        line(&mut out, &format!("Caution: {caution}"));
    }
    out
}

/// Adds a text, cut into lines.
fn line(out: &mut String, text: &str) {
    for part in wrapped(text, 78) {
        let _ = writeln!(out, "{part}");
    }
}

/// A gate with the share of those that come to it.
fn row(gate: &GateFinding, width: usize, voice: Voice) -> String {
    let p = if gate.came == 0 { 0.0 } else { gate.given_before.probability };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0..=BAR")]
    let full = (p * BAR as f64).round() as usize;
    let bar: String = (0..BAR).map(|i| if i < full { '#' } else { '.' }).collect();
    let pad = width - gate.meaning.chars().count();
    format!(
        "  {}{}  {bar}  {}",
        gate.meaning,
        " ".repeat(pad),
        if gate.came == 0 { "none came".to_owned() } else { in_words(&gate.given_before, voice) },
    )
}

fn doubts(findings: &Findings, voice: Voice) -> String {
    let step = &findings.step_error;
    let mut parts = vec![if step.flights == 0 {
        "the step error is not known: none of the flights looked at left and came to an end"
            .to_owned()
    } else {
        format!(
            "step error at most {} per 50 m and {} of energy in {} flights flown twice",
            // The budget is told in mm, and so is what it is held against.
            Voice::plain(Show::Si).quantity(step.point_max, Dimension::Length),
            voice.percent(step.energy_max),
            step.flights,
        )
    }];
    if step.outside > 0 {
        parts.push(format!("{} of them outside the budget", step.outside));
    }
    for breach in &findings.breaches {
        let (share, left) = (voice.part(breach.share), breach.breach);
        parts.push(format!("{share} of {} {}", left.among().words(), left.sentence()));
    }
    parts.join("; ")
}

/// Cuts a text into lines of at most `width` characters at its blanks,
/// keeping its indent.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let indent: String = text.chars().take_while(|c| *c == ' ').collect();
    if text.chars().count() <= width {
        return vec![text.to_owned()];
    }
    let mut lines = Vec::new();
    let mut line = indent.clone();
    for word in text.split_whitespace() {
        let fresh = line.len() == indent.len();
        if !fresh && line.chars().count() + 1 + word.chars().count() > width {
            lines.push(std::mem::replace(&mut line, format!("{indent}{word}")));
        } else {
            line.push_str(if fresh { "" } else { " " });
            line.push_str(word);
        }
    }
    lines.push(line);
    lines
}
