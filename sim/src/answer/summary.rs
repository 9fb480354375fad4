//! The answer in a few sentences, from the findings alone.

use super::{doubt, gate, ground, happens, next};
use crate::{
    findings::{Chance, Findings, GateFinding},
    quantity::Dimension,
    scenario::Gate,
    words::{Interval, Lettering, Spoken, Voice, capital, count},
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
    /// Whether that tells its two ends.
    pub ends: bool,
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
pub fn summary(findings: &Findings, lettering: Lettering) -> Summary {
    let voice = Voice { show: findings.show, lettering };
    let doubt = findings.band.as_ref().map(|band| doubt::doubt(&findings.claim, band, voice));
    let ends = doubt.as_ref().is_some_and(|doubt| doubt.ends);
    let (hangs, open) = match doubt {
        Some(doubt) if doubt.first => (Some(doubt.words), None),
        Some(doubt) => (None, Some(doubt.words)),
        None => (None, None),
    };
    Summary {
        first: ground::first(findings, voice),
        answer: answer(findings, voice),
        hangs,
        open,
        ends,
        counted: counted(&findings.claim, voice),
        breaks: breaks(findings, voice),
        arrives: arrives(findings, voice),
        next: next::step(findings),
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

fn answer(findings: &Findings, voice: Voice) -> String {
    let (claim, unknown) = (&findings.claim, findings.band.is_some());
    let number = by_ways(claim, voice);
    let word = claim.likelihood();
    let bound = why_at_most(findings);
    match claim.probability {
        p if !claim.at_most || p <= 0.0 => {}
        p if p >= 1.0 => {
            return format!("{} (unknown): {bound}.", capital(&voice.span(Interval::Anything)));
        }
        _ => return format!("At most {number} ({word}, or less): {bound}."),
    }
    let known = if unknown { " on what we know" } else { "" };
    format!("{}{known} ({word}).", capital(&number))
}

/// The number; and where ways that nobody has seen could matter more than those
/// that were found, how far flights alone rule them out.
fn by_ways(claim: &Chance, voice: Voice) -> String {
    let number = bare(claim, voice);
    if claim.ways_alone().is_none() {
        return number;
    }
    let at_most = voice.say(Spoken::at_most(claim.high));
    format!("by the ways that were found, {number}; flights alone rule out no more than {at_most}")
}

fn counted(claim: &Chance, voice: Voice) -> String {
    let (level, within) = (voice.percent(claim.level), voice.span(claim.interval()));
    if claim.is_counted() {
        format!(
            "{} of {} flights; counting error alone leaves {within} ({level} confidence, {})",
            count(claim.held),
            count(claim.flights),
            claim.method.name(),
        )
    } else {
        format!(
            "{}; the search's own error alone leaves {within} ({level} confidence)",
            bare(claim, voice)
        )
    }
}

/// A chance as people say it: "31 in 100", "1 in 1,300", "never in 3,000".
#[must_use]
pub fn in_words(chance: &Chance, voice: Voice) -> String {
    chance.bound().map_or_else(|| bare(chance, voice), |bound| voice.span(bound))
}

fn bare(chance: &Chance, voice: Voice) -> String {
    let flights = count(chance.flights);
    match chance.held {
        0 if chance.is_counted() && chance.flights > 0 => format!("never in {flights}"),
        held if chance.is_counted() && held == chance.flights && held > 0 => {
            format!("every time in {flights}")
        }
        _ => voice.say(chance.spoken()),
    }
}

/// The step that stops most of what comes to it.
#[must_use]
pub fn weakest(findings: &Findings) -> Option<&GateFinding> {
    let tried = findings.gates.iter().filter(|gate| gate.came > 0);
    tried.min_by(|a, b| a.given_before.probability.total_cmp(&b.given_before.probability))
}

fn breaks(findings: &Findings, voice: Voice) -> String {
    let Some(weak) = weakest(findings) else { return "No flight was flown.".to_owned() };
    let given = in_words(&weak.given_before, voice);
    let holds = weak.given_before.probability;
    if holds > 0.9 && findings.claim.low > 0.5 {
        return format!(
            "Nothing in the story is weak: even its weakest step ({}) holds {given}.",
            weak.meaning
        );
    }
    let by = weak.margin.as_ref().map_or(String::new(), |margin| {
        let dimension = Dimension::from_name(&weak.margin_dimension).unwrap_or(Dimension::Number);
        let half = voice.quantity(margin.quantiles[3], dimension);
        format!(" Half of those that fail there are {half} or more {}.", gate::margin(weak.gate))
    });
    let came = count(weak.came);
    if weak.passed == 0 {
        return format!(
            "{} The weak step is that {}: of {came} that come to it, none pass.{by}",
            verdict(weak.gate),
            weak.meaning,
        );
    }
    let verdict = if holds < 0.5 { format!("{} ", verdict(weak.gate)) } else { String::new() };
    format!(
        "{verdict}The weak step is that {}: of {came} that come to it, {given} pass.{by}",
        weak.meaning,
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

fn arrives(findings: &Findings, voice: Voice) -> Option<String> {
    let moved = findings.target_moved.as_ref().map(|moved| happens::moved(moved, voice));
    let words: Vec<String> =
        leaves(findings, voice).into_iter().chain(strikes(findings, voice)).chain(moved).collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// How much of the carrier's speed it takes with it.
fn leaves(findings: &Findings, voice: Voice) -> Option<String> {
    let (speed, share) = (findings.left_with.as_ref()?, findings.left_share.as_ref()?);
    let of =
        |spread: &[f64; 7], dimension| [3, 1, 5].map(|at| voice.quantity(spread[at], dimension));
    let [half, low, high] = of(&speed.quantiles, Dimension::Speed);
    let [part, least, most] = of(&share.quantiles, Dimension::Ratio);
    Some(format!(
        "What comes loose leaves at {half} (90 % between {low} and {high}), with {part} of the \
         carrier's speed (90 % between {least} and {most})."
    ))
}

fn strikes(findings: &Findings, voice: Voice) -> Option<String> {
    let speed = findings.impact_speed.as_ref()?;
    let [half, low, high] =
        [3, 1, 5].map(|at| voice.quantity(speed.quantiles[at], Dimension::Speed));
    let mut text = format!("It strikes at {half} (90 % between {low} and {high})");
    if let Some(barrier) = &findings.barrier {
        let dimension = barrier.demand.dimension();
        let say = |value: f64| voice.quantity(value, dimension);
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
