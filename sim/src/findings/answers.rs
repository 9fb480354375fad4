//! The chance of the claim, how far it is open, and what carries it.

use super::{
    BandFinding, Chance, DecidesFinding, Enough, Method as Found, Rough, SearchFinding,
    ShakyFinding, SideFinding, StrengthFinding, TimeUp,
};
use crate::{
    engine::Stop,
    estimate::{Proportion, rare::Method},
    math::ln,
    scenario::{Barrier, Gate, Input, InputId, Scenario},
    study::{Deciding, Moved, Part, Side, Study},
    words::{Likelihood, likelihood},
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
            method: match rare.method {
                Method::Importance => Found::Importance,
                _ => Found::Subset,
            },
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

/// The search, if there was one; `counted` is what plain flights say.
pub(super) fn search(study: &Study, counted: &Chance) -> Option<SearchFinding> {
    study.rare.as_ref().map(|rare| SearchFinding {
        calls: rare.calls,
        why: rare.why.clone(),
        looked: rare.looked.clone(),
        plain: [if counted.held == 0 { 0.0 } else { counted.low }, counted.high],
        flights_to_close: rare.flights_to_close(),
    })
}

/// Why no more flights were flown.
pub(super) fn enough(scenario: &Scenario, study: &Study) -> Enough {
    let inputs = &scenario.inputs;
    let unknown = inputs.uncertain().any(|id| inputs.get(id).unknown);
    let wanted = unknown && study.ask.doubts && study.stop != Stop::Interrupted;
    let speed = &study.tally.impact_speed;
    let rough = |unsettled| Some(Rough { strikes: speed.count(), unsettled });
    Enough {
        stop: study.stop,
        floor: study.ask.rule().floor,
        strikes: match speed.settled() {
            _ if speed.count() == 0 => None,
            None => rough(None),
            Some(known) if known.is_settled() => None,
            Some(known) => rough(Some([known.share, known.low, known.high])),
        },
        no_band: wanted && study.unknown.is_none() && !study.left_out.contains(&Part::Band),
        time_up: time_up(study),
    }
}

/// What the time was too short for, and how many times as long would do.
fn time_up(study: &Study) -> Option<TimeUp> {
    let left_out = study.left_out.clone();
    let seconds = study.ask.time?;
    let cut = study.stop == Stop::TimeUp;
    if !cut && left_out.is_empty() {
        return None;
    }
    // Of few that held only the count can tell how many flights it takes; of none, nothing.
    let (held, flown) = (study.held(), study.tally.flights());
    let all = study.ask.flights.or((held > 0).then(|| study.ask.rule().likely(held, flown)));
    let times = if cut { all.map(|all| all as f64 / flown.max(1) as f64) } else { Some(2.0) };
    Some(TimeUp { seconds, times, left_out })
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
            strength: strength(scenario, one.input),
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

/// What an input is the strength of.
fn strength(scenario: &Scenario, input: InputId) -> Option<StrengthFinding> {
    let is_its = |barrier: &Barrier| barrier.median == input;
    let faces = &scenario.target.faces;
    let face = faces.iter().find(|face| face.barrier.as_ref().is_some_and(is_its))?;
    let gone_through = scenario.chain.last() == Some(&Gate::Perforates);
    Some(StrengthFinding { thing: face.name.clone(), gone_through })
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
    found.into_iter().map(|moved| one(scenario.inputs.get(moved.input), moved)).collect()
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

fn one(input: &Input, moved: &Moved) -> ShakyFinding {
    let chance = &moved.chance;
    ShakyFinding {
        input: input.name.clone(),
        dimension: input.dimension.name().to_owned(),
        to: moved.to,
        probability: chance.estimate,
        low: chance.low,
        high: chance.high,
        flights: chance.n,
        assumed: input.assumed,
    }
}
