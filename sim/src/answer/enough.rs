//! How a chance was found, and why no more flights were flown.

use crate::{
    engine::Stop,
    findings::{Enough, Findings, Method, Rough, SearchFinding, TimeUp},
    math::{log10, pow},
    quantity::{Dimension, significant},
    words::{Voice, count},
};

/// How the claim's chance was found, where it was not merely counted.
#[must_use]
pub fn how(findings: &Findings, voice: Voice) -> Option<String> {
    let (claim, search) = (&findings.claim, findings.search.as_ref()?);
    (claim.method != Method::Plain).then(|| {
        format!(
            "{}, {} flights of its own, because of {} plain flights {}, too few to lean on (by \
             themselves they say {}); {}; {}{}",
            claim.method.name(),
            count(search.calls),
            count(claim.flights),
            times(claim.held),
            voice.interval(search.plain[0], search.plain[1]),
            search.why,
            search.looked,
            left_open(search),
        )
    })
}

/// How many flights would rule out ways that nobody has seen.
fn left_open(search: &SearchFinding) -> String {
    search.flights_to_close.map_or_else(String::new, |flights| {
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

/// Why no more flights were flown; `None` in records that do not tell.
#[must_use]
pub fn enough(findings: &Findings, voice: Voice) -> Option<String> {
    let told = findings.enough.as_ref()?;
    let parts = [
        Some(counts(told, findings, voice)),
        told.time_up.as_ref().map(|up| time_up(up, told.stop, voice)),
        told.strikes.as_ref().and_then(|rough| roughly(rough, voice)),
        told.no_band.then(|| {
            "How far the unknown inputs could move the chance was not worked out: no flight held. \
             Set one to either end of its range and run again to see."
                .to_owned()
        }),
    ];
    Some(parts.into_iter().flatten().collect::<Vec<_>>().join(" "))
}

fn counts(told: &Enough, findings: &Findings, voice: Voice) -> String {
    let flown = count(findings.claim.flights);
    let plain = match told.stop {
        Stop::AsAsked => format!("{flown} flights were asked for and flown."),
        Stop::Exact => format!(
            "{flown} flights were enough: the interval is no wider than a third of the estimate."
        ),
        Stop::BelowFloor => format!(
            "After {flown} plain flights it was shown to be rarer than {}: flying on at random \
             would teach little.",
            voice.share(told.floor)
        ),
        Stop::BudgetSpent => format!(
            "All {flown} flights of the budget were flown; the interval is still wider than a \
             third of the estimate."
        ),
        Stop::TimeUp => format!("The time was up after {flown} flights."),
        Stop::Interrupted => format!("It was stopped after {flown} flights."),
    };
    match &findings.search {
        Some(search) if findings.claim.method == Method::Plain => format!(
            "{plain} A search of {} flights gave nothing better: {}.",
            count(search.calls),
            search.why
        ),
        _ => plain,
    }
}

/// What a longer time would buy.
fn time_up(up: &TimeUp, stop: Stop, voice: Voice) -> String {
    let had = voice.quantity(up.seconds, Dimension::Time);
    let left: Vec<&str> = up.left_out.iter().map(|part| part.words()).collect();
    let left = match &left[..] {
        [] => String::new(),
        [one] => format!(" There was no time for {one}."),
        [first @ .., last] => format!(" There was no time for {} and {last}.", first.join(", ")),
    };
    let longer = up.times.map(|times| voice.quantity(ceiling(up.seconds * times), Dimension::Time));
    let buys = match (stop, longer) {
        (Stop::TimeUp, Some(longer)) => {
            format!("`--for {longer}` instead of {had} would let it go to its end, about")
        }
        (_, Some(longer)) => {
            format!("`--for {longer}` instead of {had} may be enough for all of it")
        }
        (_, None) => format!("none held in {had}: how long it takes cannot be told"),
    };
    format!("{}.{left}", capital(&buys))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Up to two digits, so that a time that is told is never too short for what it is
/// told for.
fn ceiling(value: f64) -> f64 {
    let unit = pow(10.0, log10(value.max(1e-9)).floor() - 1.0);
    (value / unit).ceil() * unit
}

/// What strikes, where its quantiles are not settled.
fn roughly(rough: &Rough, voice: Voice) -> Option<String> {
    let strikes = match rough.strikes {
        0 => return None,
        1 => "a single strike".to_owned(),
        n => format!("{} strikes", count(n)),
    };
    let Some([share, low, high]) = rough.unsettled else {
        return Some(format!("What is said of the strike rests on {strikes}: take it as rough."));
    };
    let which = match share {
        share if share < 0.5 => "its slow end",
        share if share > 0.5 => "its fast end",
        _ => "its middle",
    };
    let [low, high] = [low, high].map(|speed| voice.quantity(speed, Dimension::Speed));
    Some(format!(
        "The speed at the strike rests on {strikes}: {which} is known no better than {low} to \
         {high}."
    ))
}
