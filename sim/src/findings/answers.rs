//! The chance of the claim, how far it is open, and what carries it.

use super::{BandFinding, Chance, DecidesFinding, ShakyFinding, SideFinding};
use crate::{
    engine::Stop,
    estimate::{
        Proportion,
        rare::{Method, RareEvent},
    },
    math::ln,
    quantity::{Dimension, Show, format, significant},
    scenario::{Input, InputId, Scenario},
    study::{Deciding, Moved, Side, Study},
    words::{Interval, Likelihood, Spoken, count, interval, likelihood},
};

/// Share of the unknowns that the band covers.
const BAND: f64 = 0.9;

/// Most assumptions told.
const TOLD: usize = 3;

/// Fewer flights than this that come to a gate say little of it.
const FEW: u64 = 20;

/// The chance of the claim: counted, or by the search where that says more.
pub(super) fn claim(study: &Study, counted: Chance) -> Chance {
    let Some(rare) = &study.rare else { return counted };
    match rare.method {
        Method::Plain => counted,
        // The first flights decided that it is rare: their bound allows for that.
        Method::Unresolved if counted.held == 0 => {
            Chance { high: counted.high.max(rare.high), ..counted }
        }
        Method::Unresolved => counted,
        Method::Importance | Method::Subset => Chance {
            probability: rare.probability,
            low: rare.low,
            high: rare.high,
            level: rare.level,
            method: method(rare, &counted),
            by_ways: rare.by_ways,
            ..counted
        },
    }
}

/// The last gate, given those before, by the chance of the whole claim; `None`
/// where too few come to it.
pub(super) fn last_gate(claim: &Chance, before: &Chance) -> Option<Chance> {
    if claim.is_counted() || !before.is_counted() || before.held < FEW {
        return None;
    }
    let given = |p: f64, before: f64| (p / before).min(1.0);
    let probability = given(claim.probability, before.probability);
    let (low, high) = (given(claim.low, before.high), given(claim.high, before.low));
    let by_ways =
        claim.by_ways.map(|[low, high]| [given(low, before.high), given(high, before.low)]);
    Some(Chance { probability, low, high, by_ways, ..claim.clone() })
}

fn method(rare: &RareEvent, counted: &Chance) -> String {
    let name = match rare.method {
        Method::Importance => "subset simulation, then importance sampling",
        _ => "subset simulation",
    };
    format!(
        "{name}, {} flights of its own, because of {} plain flights {}, too few to lean on (by \
         themselves they say {}); {}; {}{}",
        count(rare.calls),
        count(counted.flights),
        times(counted.held),
        plain(counted),
        rare.why,
        rare.looked,
        left_open(rare),
    )
}

/// How many flights would rule out ways that nobody has seen.
fn left_open(rare: &RareEvent) -> String {
    rare.flights_to_close().map_or_else(String::new, |flights| {
        format!(
            "; to rule out as much again in ways that nobody has seen would take {} plain flights",
            about(flights)
        )
    })
}

/// A large number of flights to two digits.
fn about(flights: f64) -> String {
    match flights {
        n if n >= 1e9 => format!("{} billion", significant(n / 1e9, 2)),
        n if n >= 1e6 => format!("{} million", significant(n / 1e6, 2)),
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
        n => count((n / 1000.0).ceil() as u64 * 1000),
    }
}

fn times(count: u64) -> String {
    match count {
        0 => "none held".to_owned(),
        1 => "only one held".to_owned(),
        n => format!("only {n} held"),
    }
}

fn plain(counted: &Chance) -> Interval {
    interval(if counted.held == 0 { 0.0 } else { counted.low }, counted.high)
}

/// Why no more flights were flown, in words.
pub(super) fn enough(scenario: &Scenario, study: &Study) -> String {
    let parts =
        [Some(enough_counts(study)), roughly_known(scenario, study), no_band(scenario, study)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// Why a band over the unknown inputs is missing, where one would be looked
/// for.
fn no_band(scenario: &Scenario, study: &Study) -> Option<String> {
    let inputs = &scenario.inputs;
    let unknown = inputs.uncertain().any(|id| inputs.get(id).unknown);
    let missing =
        unknown && study.ask.doubts && study.unknown.is_none() && study.stop != Stop::Interrupted;
    missing.then(|| {
        "How far the unknown inputs could move the chance was not worked out: no flight held. Set \
         one to either end of its range and run again to see."
            .to_owned()
    })
}

/// What strikes, where its quantiles are not settled.
fn roughly_known(scenario: &Scenario, study: &Study) -> Option<String> {
    let speed = &study.tally.impact_speed;
    let strikes = match speed.count() {
        0 => return None,
        1 => "a single strike".to_owned(),
        n => format!("{} strikes", count(n)),
    };
    let Some(known) = speed.settled() else {
        return Some(format!("What is said of the strike rests on {strikes}: take it as rough."));
    };
    let say = |value: f64| format(value, Dimension::Speed, scenario.show);
    (!known.is_settled()).then(|| {
        let which = match known.share {
            share if share < 0.5 => "its slow end",
            share if share > 0.5 => "its fast end",
            _ => "its middle",
        };
        format!(
            "The speed at the strike rests on {strikes}: {which} is known no better than {} to \
             {}.",
            say(known.low),
            say(known.high)
        )
    })
}

fn enough_counts(study: &Study) -> String {
    let flown = count(study.tally.flights());
    let plain = match study.stop {
        Stop::AsAsked => format!("{flown} flights were asked for and flown."),
        Stop::Exact => format!(
            "{flown} flights were enough: the interval is no wider than a third of the estimate."
        ),
        Stop::BelowFloor => format!(
            "After {flown} plain flights it was shown to be rarer than {}: flying on at random \
             would teach little.",
            Spoken::near(study.ask.rule().floor)
        ),
        Stop::BudgetSpent => format!(
            "All {flown} flights of the budget were flown; the interval is still wider than a \
             third of the estimate."
        ),
        Stop::Interrupted => format!("It was stopped after {flown} flights."),
    };
    match &study.rare {
        Some(rare) if matches!(rare.method, Method::Plain | Method::Unresolved) => {
            let calls = count(rare.calls);
            format!("{plain} A search of {calls} flights gave nothing better: {}.", rare.why)
        }
        _ => plain,
    }
}

/// The band of frequencies that the unknown inputs leave open.
pub(super) fn band(scenario: &Scenario, study: &Study) -> Option<BandFinding> {
    let unknown = study.unknown.as_ref()?;
    let band = unknown.worlds.band(BAND);
    let side = |side: &Side| match side {
        Side::Values(values) => SideFinding::Values(values.clone()),
        Side::UpTo(value) => SideFinding::UpTo(*value),
        Side::From(value) => SideFinding::From(*value),
    };
    let decides = |one: &Deciding| {
        let input = scenario.inputs.get(one.input);
        DecidesFinding {
            input: input.name.clone(),
            dimension: input.dimension.name().to_owned(),
            part: one.part,
            sides: one.sides.as_ref().map(|[holds, fails]| [side(holds), side(fails)]),
        }
    };
    let name = |id: &InputId| scenario.inputs.get(*id).name.clone();
    Some(BandFinding {
        low: band.low,
        high: band.high,
        low_interval: band.low_interval,
        high_interval: band.high_interval,
        share: band.share,
        unknown: unknown.inputs.iter().map(name).collect(),
        mean: band.mean,
        mean_interval: band.mean_interval,
        never: band.never,
        never_chance: band.never_chance,
        always: band.always,
        always_chance: band.always_chance,
        flights: unknown.worlds.flights,
        decides: unknown.deciding.iter().map(decides).collect(),
    })
}

/// The assumptions whose change within reason changes the word for the answer.
///
/// What the band tells of the unknown is not told again by other flights.
pub(super) fn shaky(scenario: &Scenario, study: &Study, claim: &Chance) -> Vec<ShakyFinding> {
    let base = &study.unmoved;
    let told = likelihood(claim.probability, claim.probability);
    let banded =
        |moved: &Moved| study.unknown.is_some() && scenario.inputs.get(moved.input).unknown;
    let other = |moved: &Moved| {
        differs(base, &moved.chance)
            && [point_word(base), told].iter().all(|word| *word != point_word(&moved.chance))
    };
    let mut found: Vec<&Moved> =
        study.moved.iter().filter(|moved| !banded(moved) && other(moved)).collect();
    found.sort_by(|a, b| distance(base, &b.chance).total_cmp(&distance(base, &a.chance)));
    let mut seen = Vec::new();
    found.retain(|moved| {
        let new = !seen.contains(&moved.input);
        seen.push(moved.input);
        new
    });
    found.truncate(TOLD);
    found
        .into_iter()
        .map(|moved| one(scenario.inputs.get(moved.input), moved, claim, scenario.show))
        .collect()
}

/// The word for the best estimate alone.
fn point_word(p: &Proportion) -> Likelihood {
    likelihood(p.estimate, p.estimate)
}

/// Apart by more than chance shows one time in twenty; the same draws on both
/// sides make it rarer still.
fn differs(a: &Proportion, b: &Proportion) -> bool {
    let variance = |p: &Proportion| p.estimate * (1.0 - p.estimate) / (p.n.max(1)) as f64;
    let gap = (a.estimate - b.estimate).abs();
    a.n > 0 && gap > 1.96 * (variance(a) + variance(b)).sqrt()
}

/// How far apart two chances are, in logarithms of their odds.
fn distance(a: &Proportion, b: &Proportion) -> f64 {
    let odds = |p: &Proportion| ln((p.k as f64 + 0.5) / ((p.n - p.k) as f64 + 0.5));
    (odds(a) - odds(b)).abs()
}

fn one(input: &Input, moved: &Moved, claim: &Chance, show: Show) -> ShakyFinding {
    let chance = &moved.chance;
    let kind = if input.assumed { "was assumed, not told" } else { "is not known" };
    let then = if chance.k == 0 {
        format!("never in {}", count(chance.n))
    } else {
        Spoken::near(chance.estimate).to_string()
    };
    let now = claim.probability;
    ShakyFinding {
        input: input.name.clone(),
        dimension: input.dimension.name().to_owned(),
        to: moved.to,
        probability: chance.estimate,
        low: chance.low,
        high: chance.high,
        flights: chance.n,
        words: format!(
            "`{}` {kind}: at {} it would be {then} ({}), not {} ({}).",
            input.name,
            format(moved.to, input.dimension, show),
            point_word(chance),
            super::in_words(claim),
            likelihood(now, now),
        ),
    }
}
