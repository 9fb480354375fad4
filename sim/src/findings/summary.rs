//! The answer in a few sentences, from the findings alone.

use super::{Chance, Findings, GateFinding, Units, doubt, ground, next};
use crate::{
    quantity::{Dimension, Show, format},
    scenario::Gate,
    words::{Spoken, capital, count},
};

/// The answer in words, answer first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// What has to be said before the number: that most of it lies outside a
    /// model's ground, or was cut off.
    pub first: Vec<String>,
    /// That it hangs on what is not known and hardly on luck, where it does:
    /// to be said before the number.
    pub hangs: Option<String>,
    /// How likely the claim is: the number, and the word for it.
    pub answer: String,
    /// How far what is not known leaves that open.
    pub open: Option<String>,
    /// What the number was counted from, and how far counting alone leaves it
    /// open.
    pub counted: String,
    /// Which step breaks it, and by how much.
    pub breaks: String,
    /// What arrives, against what it takes.
    pub arrives: Option<String>,
    /// The next thing to do.
    pub next: String,
}

/// Puts findings into words.
#[must_use]
pub fn summary(findings: &Findings) -> Summary {
    let doubt =
        findings.band.as_ref().map(|band| doubt::doubt(&findings.claim, band, findings.show));
    let (hangs, open) = match doubt {
        Some(doubt) if doubt.first => (Some(doubt.words), None),
        Some(doubt) => (None, Some(doubt.words)),
        None => (None, None),
    };
    Summary {
        first: ground::first(findings),
        answer: answer(findings),
        hangs,
        open,
        counted: counted(&findings.claim),
        breaks: breaks(findings),
        arrives: arrives(findings),
        next: next::step(findings),
    }
}

/// How findings are displayed.
#[must_use]
pub fn show(findings: &Findings) -> Show {
    match findings.show {
        Units::Si => Show::Si,
        Units::Imperial => Show::Imperial,
    }
}

/// Why a chance is known from above only.
#[must_use]
pub fn why_at_most(findings: &Findings) -> &'static str {
    match &findings.barrier {
        Some(barrier) if barrier.softer && !barrier.lower_bound => {
            "what strikes is softer than what the barrier was tested with"
        }
        _ => "what stands in the way is known only by a test it passed",
    }
}

fn answer(findings: &Findings) -> String {
    let (claim, unknown) = (&findings.claim, findings.band.is_some());
    let number = by_ways(claim);
    let word = claim.likelihood();
    let bound = why_at_most(findings);
    match claim.probability {
        p if !claim.at_most || p <= 0.0 => {}
        p if p >= 1.0 => return format!("Anything up to {number} (unknown): {bound}."),
        _ => return format!("At most {number} ({word}, or less): {bound}."),
    }
    let known = if unknown { " on what we know" } else { "" };
    format!("{}{known} ({word}).", capital(&number))
}

/// The number; and where ways that nobody has seen could matter more than those
/// that were found, how far flights alone rule them out.
fn by_ways(claim: &Chance) -> String {
    let number = bare(claim);
    if claim.ways_alone().is_none() {
        return number;
    }
    let at_most = Spoken::at_most(claim.high);
    format!("by the ways that were found, {number}; flights alone rule out no more than {at_most}")
}

fn counted(claim: &Chance) -> String {
    let level = crate::quantity::significant(100.0 * claim.level, 3);
    let within = claim.interval();
    if claim.is_counted() {
        format!(
            "{} of {} flights; counting error alone leaves {within} ({level} % confidence, {})",
            count(claim.held),
            count(claim.flights),
            claim.method,
        )
    } else {
        format!(
            "{}; the search's own error alone leaves {within} ({level} % confidence)",
            bare(claim)
        )
    }
}

/// A chance as people say it: "31 in 100", "1 in 1,300", "never in 3,000".
#[must_use]
pub fn in_words(chance: &Chance) -> String {
    chance.bounded(bare(chance))
}

fn bare(chance: &Chance) -> String {
    let flights = count(chance.flights);
    match chance.held {
        0 if chance.is_counted() && chance.flights > 0 => format!("never in {flights}"),
        held if chance.is_counted() && held == chance.flights && held > 0 => {
            format!("every time in {flights}")
        }
        _ => chance.spoken().to_string(),
    }
}

/// The step that stops most of what comes to it.
#[must_use]
pub fn weakest(findings: &Findings) -> Option<&GateFinding> {
    let tried = findings.gates.iter().filter(|gate| gate.came > 0);
    tried.min_by(|a, b| a.given_before.probability.total_cmp(&b.given_before.probability))
}

fn breaks(findings: &Findings) -> String {
    let Some(gate) = weakest(findings) else { return "no flight was flown".to_owned() };
    let given = in_words(&gate.given_before);
    let holds = gate.given_before.probability;
    if holds > 0.9 && findings.claim.probability > 0.5 {
        return format!(
            "Nothing in the story is weak: even its weakest step ({}) holds {given}.",
            gate.meaning
        );
    }
    let by = gate.margin.as_ref().map_or(String::new(), |margin| {
        let dimension = Dimension::from_name(&gate.margin_dimension).unwrap_or(Dimension::Number);
        let half = format(margin.quantiles[3], dimension, show(findings));
        format!(" Half of those that fail there are {half} or more {}.", gate.margin_meaning)
    });
    if gate.passed == 0 {
        let came = count(gate.came);
        return format!(
            "{} The weak step is that {}: of {came} that come to it, none pass.{by}",
            verdict(gate.gate),
            gate.meaning,
        );
    }
    let verdict = if holds < 0.5 { format!("{} ", verdict(gate.gate)) } else { String::new() };
    format!(
        "{verdict}The weak step is that {}: of {} that come to it, {given} pass.{by}",
        gate.meaning,
        count(gate.came),
    )
}

fn verdict(gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "It mostly does not come loose.",
        Gate::Reaches => "It mostly does not get there.",
        Gate::Strikes => "Aim breaks it, not force.",
        Gate::Attitude => "How it is turned breaks it.",
        Gate::Perforates => "Force breaks it, not aim.",
        Gate::Harms => "What comes through is mostly too weak.",
    }
}

fn arrives(findings: &Findings) -> Option<String> {
    let moved = findings.target_moved.clone();
    let words: Vec<String> =
        leaves(findings).into_iter().chain(strikes(findings)).chain(moved).collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// How much of the carrier's speed it takes with it.
fn leaves(findings: &Findings) -> Option<String> {
    let (speed, share) = (findings.left_with.as_ref()?, findings.left_share.as_ref()?);
    let say = |value: f64| format(value, Dimension::Speed, show(findings));
    let of = |value: f64| format!("{:.0} %", 100.0 * value);
    Some(format!(
        "What comes loose leaves at {} (90 % between {} and {}), with {} of the carrier's speed \
         (90 % between {} and {}).",
        say(speed.quantiles[3]),
        say(speed.quantiles[1]),
        say(speed.quantiles[5]),
        of(share.quantiles[3]),
        of(share.quantiles[1]),
        of(share.quantiles[5]),
    ))
}

fn strikes(findings: &Findings) -> Option<String> {
    let speed = findings.impact_speed.as_ref()?;
    let show = show(findings);
    let say = |value: f64| format(value, Dimension::Speed, show);
    let mut text = format!(
        "It strikes at {} (90 % between {} and {})",
        say(speed.quantiles[3]),
        say(speed.quantiles[1]),
        say(speed.quantiles[5]),
    );
    if let Some(barrier) = &findings.barrier {
        let dimension = match barrier.demand {
            crate::scenario::Demand::NormalSpeed => Dimension::Speed,
            _ => Dimension::Energy,
        };
        let say = |value: f64| format(value, dimension, show);
        text += &format!(
            "; in the middle of all, the blow is {} where the {} takes {}{}",
            say(barrier.demanded.quantiles[3]),
            barrier.face.replace('_', " "),
            if barrier.lower_bound { "at least " } else { "" },
            say(barrier.resisted.quantiles[3]),
        );
        if !barrier.counts_as.is_empty() {
            text += &format!("; it counts as {}, since nothing else is told", barrier.counts_as);
        }
    }
    Some(text + ".")
}
