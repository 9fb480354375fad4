//! The chance of the claim, how far it is open, and what carries it.

use super::{BandFinding, Chance, ShakyFinding, share_in_words, thousands};
use crate::{
    engine::Stop,
    estimate::{
        Band, BandShape, Proportion,
        rare::{Method, RareEvent},
        word,
    },
    math::ln,
    quantity::{Dimension, Show, format},
    scenario::{Input, Scenario},
    study::{Moved, Study},
};

/// Share of the unknowns that the band covers.
const BAND: f64 = 0.9;

/// Most assumptions told.
const TOLD: usize = 3;

/// The chance of the claim: counted, or by the search where that says more.
pub(super) fn claim(study: &Study, counted: Chance) -> Chance {
    let Some(rare) = &study.rare else { return counted };
    if matches!(rare.method, Method::Plain | Method::Unresolved) {
        return counted;
    }
    Chance {
        probability: rare.probability,
        low: rare.low,
        high: rare.high,
        level: rare.level,
        likelihood: rare.in_words(),
        method: method(rare, &counted),
        ..counted
    }
}

fn method(rare: &RareEvent, counted: &Chance) -> String {
    let name = match rare.method {
        Method::Importance => "subset simulation, then importance sampling",
        _ => "subset simulation",
    };
    format!(
        "{name}, {} flights of its own, because of {} plain flights {}, too few to lean on (by \
         themselves they say {}); {}",
        thousands(rare.calls),
        thousands(counted.flights),
        times(counted.held),
        plain(counted),
        rare.why,
    )
}

fn times(count: u64) -> String {
    match count {
        0 => "none held".to_owned(),
        1 => "only one held".to_owned(),
        n => format!("only {n} held"),
    }
}

fn plain(counted: &Chance) -> String {
    between(if counted.held == 0 { 0.0 } else { counted.low }, counted.high)
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
        unknown && study.ask.doubts && study.held() == 0 && study.stop != Stop::Interrupted;
    missing.then(|| {
        "How far the unknown inputs could move the chance was not worked out: no plain flight \
         held. Set one to either end of its range and run again to see."
            .to_owned()
    })
}

/// What strikes, where its quantiles are not settled.
fn roughly_known(scenario: &Scenario, study: &Study) -> Option<String> {
    let speed = &study.tally.impact_speed;
    let strikes = match speed.count() {
        0 => return None,
        1 => "a single strike".to_owned(),
        n => format!("{} strikes", thousands(n)),
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
    let flown = thousands(study.tally.flights());
    let plain = match study.stop {
        Stop::AsAsked => format!("{flown} flights were asked for and flown."),
        Stop::Exact => format!(
            "{flown} flights were enough: the interval is no wider than a third of the estimate."
        ),
        Stop::BelowFloor => format!(
            "After {flown} plain flights it was shown to be rarer than {}: flying on at random \
             would teach little.",
            share_in_words(study.ask.rule().floor)
        ),
        Stop::BudgetSpent => format!(
            "All {flown} flights of the budget were flown; the interval is still wider than a \
             third of the estimate."
        ),
        Stop::Interrupted => format!("It was stopped after {flown} flights."),
    };
    match &study.rare {
        Some(rare) if matches!(rare.method, Method::Plain | Method::Unresolved) => {
            let calls = thousands(rare.calls);
            format!("{plain} A search of {calls} flights gave nothing better: {}.", rare.why)
        }
        _ => plain,
    }
}

/// The band of frequencies that the unknown inputs leave open.
///
/// `bound`: the chance of the claim is known from above only.
pub(super) fn band(scenario: &Scenario, study: &Study, bound: bool) -> Option<BandFinding> {
    let band = study.groups.as_ref()?.band(BAND, study.ask.seed)?;
    let inputs = scenario.inputs.uncertain().map(|id| scenario.inputs.get(id));
    let unknown: Vec<String> =
        inputs.filter(|input| input.unknown).map(|input| input.name.clone()).collect();
    Some(BandFinding {
        low: band.low,
        high: band.high,
        low_interval: band.low_interval,
        high_interval: band.high_interval,
        share: band.share,
        no_difference: band.shape == BandShape::NoDifference,
        words: band_words(&band, &unknown, bound),
        unknown,
    })
}

/// The band as a sentence; `bound`: every frequency is known from above only.
fn band_words(band: &Band, unknown: &[String], bound: bool) -> String {
    let unknown = unknown.join(", ");
    let [low, high] = [band.low, band.high].map(end_in_words);
    // No number of its own: beside the chance of the claim it would be a second
    // answer to the same question.
    if band.shape == BandShape::NoDifference || low == high {
        let least = if bound { 0.0 } else { band.low_interval[0] };
        let mut range = between(least, band.high_interval[1]);
        range[..1].make_ascii_uppercase();
        return format!(
            "{range} of such events, whatever the truth about what we do not know: {unknown}."
        );
    }
    if bound || band.low_interval[0] <= 0.0 {
        return format!(
            "Anything up to {high} of such events, depending on what we do not know: {unknown}."
        );
    }
    format!("Between {low} and {high} of such events, depending on what we do not know: {unknown}.")
}

fn between(low: f64, high: f64) -> String {
    let high = end_in_words(high);
    if low <= 0.0 {
        format!("at most {high}")
    } else {
        format!("between {} and {high}", end_in_words(low))
    }
}

/// An end of a range as people say it: near certainty "99.7 in 100", since "all
/// but 1 in 330" beside "29 in 100" would have to be worked out.
fn end_in_words(p: f64) -> String {
    match p {
        p if p > 0.999 && p < 1.0 => "over 99.9 in 100".to_owned(),
        p if p > 0.99 && p <= 0.999 => format!("{:.1} in 100", 100.0 * p),
        p => share_in_words(p),
    }
}

/// The assumptions whose change within reason changes the word for the answer.
pub(super) fn shaky(scenario: &Scenario, study: &Study) -> Vec<ShakyFinding> {
    let base = &study.unmoved;
    let mut found: Vec<&Moved> = study
        .moved
        .iter()
        .filter(|moved| {
            differs(base, &moved.chance) && point_word(base) != point_word(&moved.chance)
        })
        .collect();
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
        .map(|moved| one(scenario.inputs.get(moved.input), moved, base, scenario.show))
        .collect()
}

/// The word for the best estimate alone.
fn point_word(p: &Proportion) -> String {
    word(p.estimate, p.estimate)
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

fn one(input: &Input, moved: &Moved, base: &Proportion, show: Show) -> ShakyFinding {
    let chance = &moved.chance;
    let kind = if input.assumed { "was assumed, not told" } else { "is not known" };
    let say = |p: &Proportion| {
        let words = if p.k == 0 {
            format!("never in {}", thousands(p.n))
        } else {
            share_in_words(p.estimate)
        };
        format!("{} ({words})", point_word(p))
    };
    ShakyFinding {
        input: input.name.clone(),
        dimension: input.dimension.name().to_owned(),
        to: moved.to,
        probability: chance.estimate,
        low: chance.low,
        high: chance.high,
        flights: chance.n,
        words: format!(
            "`{}` {kind}: at {} the claim would be {}, not {}.",
            input.name,
            format(moved.to, input.dimension, show),
            say(chance),
            say(base),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(shape: BandShape, (low, high): (f64, f64), ends: [f64; 2], bound: bool) -> String {
        let band = Band {
            low,
            high,
            low_interval: [ends[0], low],
            high_interval: [high, ends[1]],
            share: BAND,
            sd: 0.0,
            shape,
        };
        band_words(&band, &["object.drag_factor".to_owned()], bound)
    }

    #[test]
    fn a_band_that_shows_no_difference_has_no_middle_to_contradict_the_answer() {
        let open = said(BandShape::NoDifference, (0.004, 0.008), [0.0, 0.014], false);
        assert_eq!(
            open,
            "At most 1.4 in 100 of such events, whatever the truth about what we do not know: \
             object.drag_factor."
        );
        let closed = said(BandShape::NoDifference, (0.31, 0.35), [0.29, 0.37], false);
        assert!(closed.starts_with("Between 29 in 100 and 37 in 100 of such events"), "{closed}");
    }

    #[test]
    fn of_a_chance_known_from_above_so_is_the_band() {
        let none = said(BandShape::NoDifference, (0.0006, 0.0009), [2e-4, 0.0032], true);
        assert!(none.starts_with("At most 1 in 313 of such events"), "{none}");
        let some = said(BandShape::Groups, (0.1, 0.3), [0.05, 0.35], true);
        assert!(some.starts_with("Anything up to 30 in 100 of such events"), "{some}");
    }

    #[test]
    fn a_band_next_to_certainty_is_read_without_working_it_out() {
        let high = said(BandShape::Groups, (0.87, 0.9995), [0.8, 0.9999], false);
        assert!(high.starts_with("Between 87 in 100 and over 99.9 in 100 of such"), "{high}");
        assert_eq!(end_in_words(0.9968), "99.7 in 100");
        assert_eq!(end_in_words(1.0), share_in_words(1.0));
    }
}
