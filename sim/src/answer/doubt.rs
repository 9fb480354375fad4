//! The two kinds of doubt told apart: how often it happens, and how far what
//! nobody knows leaves that open.
//!
//! Everything here is said from the numbers of the record, beside the chance of
//! the claim: where the two do not fit each other, no band is said at all.

use crate::{
    findings::{BandFinding, Chance, DecidesFinding, SideFinding, StrengthFinding},
    quantity::Dimension,
    words::{Spoken, Voice, likelihood},
};

/// Most of what is open that may lie between always and never where it is said
/// that one of the two it is.
const BETWEEN: f64 = 0.2;

/// Least of each of always and never for that.
const EACH: f64 = 1e-9;

/// Odds of the ends of an interval, one by the other, beyond which an end of
/// the band is not resolved.
const KNOWN: f64 = 4.0;

/// Share of what is open that an unknown must decide to be named.
const TELLING: f64 = 0.1;

/// Most unknowns named.
const NAMED: usize = 2;

/// Chance of a world, from either end, up to which never is never.
const NEVER: f64 = 1e-3;

/// Fewer flights than this show no band.
const FEWEST: u64 = 100;

/// What is said of the unknown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Doubt {
    /// The sentence.
    pub(super) words: String,
    /// Whether it is what has to be said first: that it hangs on what is not
    /// known, and on nothing else.
    pub(super) first: bool,
    /// Whether it tells the ends of the band.
    pub(super) ends: bool,
}

/// An end of the band as far as it is known.
#[derive(Clone, Copy, Debug)]
enum End {
    At(f64),
    /// Below this.
    Under(f64),
    /// Above this.
    Over(f64),
}

/// What the band says beside the chance of the claim.
pub(super) fn doubt(claim: &Chance, band: &BandFinding, voice: Voice) -> Doubt {
    let names = names(band);
    let later = |words: String| Doubt { words, first: false, ends: false };
    if band.flights < FEWEST || !agrees(claim, band) {
        return later(unresolved(&names));
    }
    if hangs(claim, band) {
        let words = always_or_never(band, &names, voice);
        return Doubt { words, first: true, ends: false };
    }
    let (Some(low), Some(high)) = (low_end(claim, band), high_end(claim, band)) else {
        return later(unresolved(&names));
    };
    let told = band_words(claim, band, [low, high], &names, voice);
    told.unwrap_or_else(|| later(unresolved(&names)))
}

/// The interval of the chance as far as it is one.
fn span(claim: &Chance) -> [f64; 2] {
    [claim.low.min(claim.probability), claim.high.max(claim.probability)]
}

/// Whether the mean over the unknowns is the chance of the claim, as far as
/// counting tells.
fn agrees(claim: &Chance, band: &BandFinding) -> bool {
    let [low, high] = span(claim);
    let proper = band.low <= band.high && band.never + band.always <= 1.0 + 1e-9;
    proper && band.mean_interval[0] <= high && low <= band.mean_interval[1]
}

/// Whether it hangs on what is not known and hardly on luck, and the shares of
/// always and never bear out the chance of the claim.
fn hangs(claim: &Chance, band: &BandFinding) -> bool {
    let between = 1.0 - band.always - band.never;
    let [least, most] = [0.99 * band.always, 1.0 - 0.99 * band.never];
    let [low, high] = span(claim);
    band.always > EACH
        && band.never > EACH
        && between < BETWEEN
        && least <= high
        && low <= most
        && band.always.min(band.never) > 1.5 * between
}

fn always_or_never(band: &BandFinding, names: &str, voice: Voice) -> String {
    let few = band.flights < 1000;
    let never = if band.never_chance > NEVER || few { "almost never" } else { "never" };
    let always = if band.always_chance < 1.0 - NEVER || few { "almost always" } else { "always" };
    let between = (1.0 - band.always - band.never).max(0.0);
    let [yes, no] = [band.always, band.never].map(|p| voice.share(p));
    let luck = if between > 0.005 {
        format!("; between the two, with {}, luck decides", voice.share(between))
    } else {
        String::new()
    };
    let shares =
        format!("{yes} of what we think possible for the first, {no} for the second{luck}");
    let sided = band.decides.first().and_then(|first| Some((first, first.sides.as_ref()?)));
    match sided {
        Some((first, [weak, strong])) if first.strength.is_some() && is_below(weak, strong) => {
            let StrengthFinding { thing, gone_through } =
                first.strength.clone().unwrap_or_default();
            let [what, through] =
                if gone_through { ["It", "goes through"] } else { ["The claim", "holds with"] };
            let again = if gone_through { "through" } else { "with" };
            format!(
                "{what} {always} {through} a weak `{thing}` ({}) and {never} {again} a strong one \
                 ({}); which one stands there we do not know ({shares}).",
                side(first, weak, voice),
                side(first, strong, voice),
            )
        }
        Some((first, [holds, fails])) => format!(
            "The claim {always} holds with `{}` {} and {never} {}; which it is we do not know \
             ({shares}).",
            first.input,
            side(first, holds, voice),
            side(first, fails, voice),
        ),
        None => format!(
            "It hangs on what we do not know ({names}), hardly on luck: in {yes} of the cases that \
             we think possible the claim {always} holds, in {no} {never}{luck}."
        ),
    }
}

/// Whether all of one side is below all of the other.
fn is_below(low: &SideFinding, high: &SideFinding) -> bool {
    match (low, high) {
        (SideFinding::UpTo(_), SideFinding::From(_)) => true,
        (SideFinding::Values(low), SideFinding::Values(high)) => {
            low.iter().all(|low| high.iter().all(|high| low < high))
        }
        _ => false,
    }
}

fn side(of: &DecidesFinding, side: &SideFinding, voice: Voice) -> String {
    let dimension = Dimension::from_name(&of.dimension).unwrap_or(Dimension::Number);
    let say = |value: f64| voice.quantity(value, dimension);
    match side {
        SideFinding::Values(values) => {
            let values: Vec<String> = values.iter().map(|value| say(*value)).collect();
            format!("at {}", values.join(" or "))
        }
        SideFinding::UpTo(value) => format!("up to {}", say(*value)),
        SideFinding::From(value) => format!("from {} on", say(*value)),
    }
}

fn names(band: &BandFinding) -> String {
    let telling = band.decides.iter().filter(|one| one.part >= TELLING);
    let mut names: Vec<&String> = telling.map(|one| &one.input).take(NAMED).collect();
    if names.is_empty() {
        names = band.unknown.iter().collect();
    }
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match names.as_slice() {
        [] => "the unknown".to_owned(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn unresolved(names: &str) -> String {
    format!("How far what we do not know ({names}) moves that is not resolved by these flights.")
}

fn odds(p: f64) -> f64 {
    p / (1.0 - p).max(f64::MIN_POSITIVE)
}

/// Whether an interval is narrow enough to say what lies in it.
fn known([from, to]: [f64; 2]) -> bool {
    odds(to) <= KNOWN * odds(from) || (from > 0.25 && to < 0.75)
}

/// Whether two shares are still apart when they are said in two digits.
fn apart(less: f64, more: f64) -> bool {
    more - less > 0.011 || (more < 0.1 && more > 1.12 * less)
}

fn floor(band: &BandFinding) -> f64 {
    1.0 / (band.flights.max(1)) as f64
}

fn low_end(claim: &Chance, band: &BandFinding) -> Option<End> {
    let floor = floor(band);
    if claim.at_most || band.low < floor {
        let under = band.low_interval[1].max(band.low).max(floor);
        return (under <= claim.probability.max(band.high)).then_some(End::Under(under));
    }
    if known(band.low_interval) {
        return Some(End::At(band.low));
    }
    (band.low_interval[1] <= claim.probability).then_some(End::Under(band.low_interval[1]))
}

fn high_end(claim: &Chance, band: &BandFinding) -> Option<End> {
    let floor = floor(band);
    if band.high > 1.0 - floor {
        let over = band.high_interval[0].min(band.high).min(1.0 - floor);
        return (over >= claim.probability).then_some(End::Over(over));
    }
    if known(band.high_interval) && band.high >= floor {
        return Some(End::At(band.high));
    }
    (band.high_interval[0] >= claim.probability && band.high_interval[0] >= floor)
        .then_some(End::Over(band.high_interval[0]))
}

/// The band in words; `None` if it does not fit the chance of the claim.
fn band_words(
    claim: &Chance,
    band: &BandFinding,
    [low, high]: [End; 2],
    names: &str,
    voice: Voice,
) -> Option<Doubt> {
    let ends = |words: String| Doubt { words, first: false, ends: true };
    let later = |words: String| Doubt { words, first: false, ends: false };
    let at_most = |p: f64| voice.say(Spoken::at_most(p));
    let at_least = |p: f64| voice.say(Spoken::at_least(p));
    let p = claim.probability;
    let (bottom, top) = (value(low), value(high));
    let rest = 0.5 * (1.0 - band.share);
    // The mean may honestly lie beyond the ends, if few worlds carry it.
    if p > top {
        let most = (1.0 - rest) * top + rest;
        return (claim.low <= most && matches!(high, End::At(_)) && apart(top, p)).then(|| {
            later(format!(
                "In {} of the cases that we think possible ({names} decides) it happens less often \
                 than that: {} or less; the few others carry the rest.",
                voice.share(1.0 - rest),
                at_most(top),
            ))
        });
    }
    if p < bottom {
        let least = (1.0 - rest) * bottom;
        return (claim.high >= least && matches!(low, End::At(_)) && apart(p, bottom)).then(|| {
            later(format!(
                "In {} of the cases that we think possible ({names} decides) it happens more often \
                 than that: {} or more; the few others pull it down.",
                voice.share(1.0 - rest),
                at_least(bottom),
            ))
        });
    }
    if claim.at_most {
        let top = at_most(top);
        return Some(ends(format!(
            "Depending on {names}, which we do not know, it is up to {top}."
        )));
    }
    if at_least(bottom) == at_most(top) {
        return Some(later(format!(
            "What {names} may be, which we do not know, makes no difference to that number."
        )));
    }
    let words = [bottom, top].map(|p| likelihood(p, p));
    let beside = |which: usize| {
        if words[0] == words[1] { String::new() } else { format!(" ({})", words[which]) }
    };
    let from = match low {
        End::At(p) => at_least(p),
        End::Under(p) | End::Over(p) => format!("under {}", at_most(p)),
    };
    let to = match high {
        End::At(p) => at_most(p),
        End::Over(p) | End::Under(p) => format!("over {}", at_least(p)),
    };
    Some(ends(format!(
        "Depending on {names}, which we do not know, it is from {from}{} up to {to}{}.",
        beside(0),
        beside(1),
    )))
}

fn value(end: End) -> f64 {
    match end {
        End::At(p) | End::Under(p) | End::Over(p) => p,
    }
}
