//! The answer in a few sentences, from the findings alone.

use super::{Chance, Findings, GateFinding, Units, next};
use crate::{
    quantity::{Dimension, Show, format},
    scenario::Gate,
};

/// The answer in words, answer first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// How likely the claim is.
    pub answer: String,
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
    Summary {
        answer: answer(&findings.claim),
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

fn answer(claim: &Chance) -> String {
    if claim.at_most && claim.probability > 0.0 {
        return format!(
            "At most {} ({}, or less): what stands in the way is known only by a test it passed.",
            bare(claim),
            claim.likelihood.split(':').next().unwrap_or_default(),
        );
    }
    // Below one in a hundred the likelihood words bring their own number. The
    // bound of what never happened, or never failed, is said with its interval.
    let one_sided = claim.is_counted() && (claim.held == 0 || claim.held == claim.flights);
    let word = claim.likelihood.split(':').next().unwrap_or_default();
    let likelihood = if claim.likelihood.contains("1 in ") && !one_sided {
        claim.likelihood.clone()
    } else {
        format!("{word}: {}", in_words(claim))
    };
    let mut letters = likelihood.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    format!("{}{}", first.unwrap_or_default(), letters.as_str())
}

/// A chance as people say it: "31 in 100", "1 in 1,250", "never in 3,000".
#[must_use]
pub fn in_words(chance: &Chance) -> String {
    chance.bounded(bare(chance))
}

fn bare(chance: &Chance) -> String {
    let p = chance.probability;
    if !chance.is_counted() {
        return share_in_words(p);
    }
    if chance.held == 0 && chance.flights > 0 {
        return format!("never in {}", thousands(chance.flights));
    }
    if p >= 0.995 && chance.held == chance.flights {
        return "every time".to_owned();
    }
    share_in_words(p)
}

/// A probability as people say it: "31 in 100", "1 in 1,250", "never".
#[must_use]
pub fn share_in_words(p: f64) -> String {
    if p <= 0.0 {
        "never".to_owned()
    } else if p > 0.995 && p < 1.0 {
        format!("all but 1 in {}", one_in(1.0 - p))
    } else if p >= 0.01 {
        format!("{} in 100", percent(p))
    } else {
        format!("1 in {}", one_in(p))
    }
}

/// A share as hundredths with as many digits as it deserves.
fn percent(p: f64) -> String {
    if (0.1..0.995).contains(&p) {
        format!("{:.0}", 100.0 * p)
    } else {
        format!("{:.1}", 100.0 * p)
    }
}

/// 1/p with three significant digits and thousands separated.
fn one_in(p: f64) -> String {
    let n = 1.0 / p;
    let scale = crate::math::pow(10.0, (crate::math::log10(n).floor() - 2.0).max(0.0));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive count")]
    let rounded = ((n / scale).round() * scale) as u64;
    thousands(rounded)
}

/// A count with its thousands separated: `1,250,000`.
#[must_use]
pub fn thousands(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
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
    if gate.given_before.probability > 0.9 {
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
        let came = thousands(gate.came);
        return format!(
            "{} The weak step is that {}: of {came} that come to it, none pass.{by}",
            verdict(gate.gate),
            gate.meaning,
        );
    }
    format!(
        "{} The weak step is that {}: of {} that come to it, {given} pass.{by}",
        verdict(gate.gate),
        gate.meaning,
        thousands(gate.came),
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
            "; the blow is {} where the {} takes {}{} (middle values)",
            say(barrier.demanded.quantiles[3]),
            barrier.face.replace('_', " "),
            if barrier.lower_bound { "at least " } else { "" },
            say(barrier.resisted.quantiles[3]),
        );
    }
    Some(text + ".")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_separated() {
        let cases = [(0, "0"), (999, "999"), (1000, "1,000"), (1_234_567, "1,234,567")];
        for (count, text) in cases {
            assert_eq!(thousands(count), text);
        }
    }

    #[test]
    fn small_chances_are_one_in_many() {
        assert_eq!(one_in(1.0 / 1234.0), "1,230");
        assert_eq!(one_in(0.009), "111");
        assert_eq!(one_in(1e-6), "1,000,000");
    }
}
