//! Reads the numbers of an answer's sentences back and holds them against the
//! record and against each other. Nothing of the program's own wording is used:
//! what a reader takes a sentence to say is written down here a second time.

use longodds_sim::{
    answer::{shaky, summary},
    findings::Findings,
    math,
    words::{Lettering, Voice},
};

/// Terms and the chances that they cover.
/// Source: Mastrandrea et al., IPCC AR5 guidance note on uncertainty (2010),
/// Table 1.
const TERMS: [(&str, f64, f64); 10] = [
    ("exceptionally unlikely", 0.0, 0.01),
    ("extremely unlikely", 0.0, 0.05),
    ("very unlikely", 0.0, 0.10),
    ("about as likely as not", 0.33, 0.66),
    ("more likely than not", 0.50, 1.0),
    ("extremely likely", 0.95, 1.0),
    ("virtually certain", 0.99, 1.0),
    ("very likely", 0.90, 1.0),
    ("unlikely", 0.0, 0.33),
    ("likely", 0.66, 1.0),
];

/// What was seen, and must not come back.
const GONE: [&str; 12] = [
    "At most never",
    "at most never",
    "whatever the truth",
    "0.00 %",
    "0.0 times in 100",
    "(middle values)",
    "NaN",
    "inf ",
    "unlikely to about as likely",
    "e-",
    "100.0 in 100",
    " 0.0 in 100",
];

/// A share as it is said at the start of a text, with the half width of its
/// rounding and what follows it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Said<'a> {
    pub(crate) p: f64,
    pub(crate) half: f64,
    pub(crate) rest: &'a str,
}

/// A number such as `1,200`, `5.2` or `31 million`, the value of a unit of its
/// last digit, and the rest.
fn number(text: &str) -> Option<(f64, f64, &str)> {
    let end =
        text.find(|c: char| !(c.is_ascii_digit() || c == ',' || c == '.')).unwrap_or(text.len());
    let digits = text[..end].trim_end_matches([',', '.']);
    let mut rest = &text[digits.len()..];
    let value: f64 = digits.replace(',', "").parse().ok()?;
    let places = digits.split_once('.').map_or(0, |(_, places)| places.len());
    let mut unit = math::pow(10.0, -f64::from(u32::try_from(places).unwrap()));
    let mut size = 1.0;
    for (name, times) in
        [(" million", 1e6), (" billion", 1e9), (" trillion", 1e12), (" quadrillion", 1e15)]
    {
        if let Some(after) = rest.strip_prefix(name) {
            (size, rest) = (times, after);
        }
    }
    unit *= size;
    Some((value * size, unit, rest))
}

/// The share, half the width of its rounding and the rest, after "1 in ".
fn one_in_of(text: &str) -> Option<(f64, f64, &str)> {
    let (n, unit, rest) = number(text)?;
    // Two digits of N.
    let unit = unit.max(math::pow(10.0, math::log10(n).floor() - 1.0));
    Some((1.0 / n, 0.5 * unit / (n * n) * 1.1, rest))
}

/// The share that a text begins with.
pub(crate) fn share(text: &str) -> Option<Said<'_>> {
    let lower = text.get(..1)?.to_lowercase() + text.get(1..)?;
    let at = |len: usize| &text[len..];
    if let Some(rest) = lower.strip_prefix("never in ") {
        let (_, _, rest) = number(rest)?;
        return Some(Said { p: 0.0, half: 0.0, rest: at(text.len() - rest.len()) });
    }
    if let Some(rest) = lower.strip_prefix("every time in ") {
        let (_, _, rest) = number(rest)?;
        return Some(Said { p: 1.0, half: 0.0, rest: at(text.len() - rest.len()) });
    }
    for (word, p) in [("never", 0.0), ("every time", 1.0)] {
        if lower.starts_with(word) {
            return Some(Said { p, half: 0.0, rest: at(word.len()) });
        }
    }
    if let Some(rest) = lower.strip_prefix("all but 1 in ") {
        let (p, half, rest) = one_in_of(rest)?;
        return Some(Said { p: 1.0 - p, half, rest: at(text.len() - rest.len()) });
    }
    if let Some(rest) = text.strip_prefix("1 in ") {
        let (p, half, rest) = one_in_of(rest)?;
        return Some(Said { p, half, rest });
    }
    let (hundredths, unit, rest) = number(text)?;
    let rest = rest.strip_prefix(" in 100")?;
    Some(Said { p: hundredths / 100.0, half: 0.5 * unit / 100.0, rest })
}

/// An interval that a text begins with: "30.1 to 31.9 in 100", "at most ...".
pub(crate) fn interval(text: &str) -> Option<([f64; 2], &str)> {
    if let Some(rest) = text.strip_prefix("all but at most ") {
        let few = share(rest)?;
        return Some(([1.0 - few.p, 1.0], few.rest));
    }
    if let Some(rest) = text.strip_prefix("all but at least ") {
        let few = share(rest)?;
        return Some(([0.0, 1.0 - few.p], few.rest));
    }
    if let Some(rest) = text.strip_prefix("at most ") {
        let high = share(rest)?;
        return Some(([0.0, high.p], high.rest));
    }
    if let Some(rest) = text.strip_prefix("at least ") {
        let low = share(rest)?;
        return Some(([low.p, 1.0], low.rest));
    }
    if let Some(rest) = text.strip_prefix("anything from never to every time") {
        return Some(([0.0, 1.0], rest));
    }
    if let Some(low) = share(text) {
        let high = share(low.rest.strip_prefix(" to ")?)?;
        return Some(([low.p, high.p], high.rest));
    }
    let (low, _, rest) = number(text)?;
    let high = share(rest.strip_prefix(" to ")?)?;
    Some(([low / 100.0, high.p], high.rest))
}

/// The range of a likelihood word, or of "from one up to another".
fn covers(words: &str) -> [f64; 2] {
    let term = |word: &str| {
        // What is no likelihood word covers nothing.
        let found = TERMS.iter().find(|term| term.0 == word);
        found.map_or([2.0, -1.0], |term| [term.1, term.2])
    };
    if words == "unknown" {
        return [0.0, 1.0];
    }
    match words.strip_prefix("from ").and_then(|words| words.split_once(" up to ")) {
        Some((low, high)) => [term(low)[0], term(high)[1]],
        None => term(words),
    }
}

/// The words in brackets that a text begins with.
fn bracketed(text: &str) -> Option<(&str, &str)> {
    text.trim_start().strip_prefix('(')?.split_once(')')
}

fn within(x: f64, [low, high]: [f64; 2]) -> bool {
    low * (1.0 - 1e-9) - 1e-12 <= x && x <= high * (1.0 + 1e-9) + 1e-12
}

/// Everything that is wrong with the answer of these findings.
pub(crate) fn faults(findings: &Findings) -> Vec<String> {
    let said = summary(findings, Lettering::Plain);
    let mut faults = Vec::new();
    let mut hold = |good: bool, what: String| {
        if !good {
            faults.push(what);
        }
    };
    let claim = &findings.claim;
    let whole = [
        said.hangs.clone().unwrap_or_default(),
        said.answer.clone(),
        said.open.clone().unwrap_or_default(),
        said.counted.clone(),
        said.breaks.clone(),
        said.arrives.clone().unwrap_or_default(),
        said.next.clone(),
    ];
    for sentence in &whole {
        for gone in GONE {
            hold(!sentence.contains(gone), format!("`{gone}` in: {sentence}"));
        }
    }
    // The number, against the record.
    let bound =
        ["At most ", "Anything from never to "].iter().find_map(|b| said.answer.strip_prefix(b));
    let by_ways = bound.unwrap_or(&said.answer);
    let found = ["By the ways that were found, ", "by the ways that were found, "]
        .iter()
        .find_map(|start| by_ways.strip_prefix(start));
    let Some(number) = share(found.unwrap_or(by_ways)) else {
        return vec![format!("no number first: {}", said.answer)];
    };
    hold(
        found.is_some() == claim.ways_alone().is_some(),
        format!("are ways left that nobody saw? {}", said.answer),
    );
    let p = number.p;
    let off = p - claim.probability;
    let [down, up] = if bound.is_some() { [0.0, 2.0] } else { [1.0; 2] };
    hold(
        -down * number.half - 1e-9 <= off && off <= up * number.half + 1e-9,
        format!("{p} is said for {}: {}", claim.probability, said.answer),
    );
    // Its word covers it, and what flights alone leave open.
    let mut rest = number.rest;
    if found.is_some() {
        let most = rest.strip_prefix("; flights alone rule out no more than ").and_then(share);
        let Some(most) = most else { return vec![format!("no flights alone: {}", said.answer)] };
        hold(
            claim.high <= most.p + 1e-12 && most.p <= claim.high + 2.0 * most.half + 1e-9,
            format!("{} is said for {}: {}", most.p, claim.high, said.answer),
        );
        rest = most.rest;
    }
    let rest = rest.strip_prefix(" on what we know").unwrap_or(rest);
    let Some((words, _)) = bracketed(rest) else {
        return vec![format!("no word behind the number: {}", said.answer)];
    };
    let words = words.strip_suffix(", or less").unwrap_or(words);
    hold(within(p, covers(words)), format!("`{words}` is not {p}: {}", said.answer));
    // Its interval holds it, and is the record's.
    let counted = said.counted.split("alone leaves ").nth(1);
    let Some((ends, rest)) = counted.and_then(interval) else {
        return vec![format!("no interval: {}", said.counted)];
    };
    hold(within(p, ends), format!("{p} is not in {ends:?}: {}", said.counted));
    hold(rest.starts_with(" (95 % confidence"), format!("no level: {}", said.counted));
    let [low, high] = claim.ways_alone().unwrap_or([claim.low, claim.high]);
    hold(
        claim.at_most || ends[0] <= low + 1e-12 && high <= ends[1] + 1e-12,
        format!("{ends:?} for {low} to {high}"),
    );
    // Nothing finer than one in as many flights as were flown.
    let flights = findings.band.as_ref().map_or(0, |band| band.flights).max(claim.flights) as f64;
    if claim.is_counted() {
        for sentence in [&Some(said.answer.clone()), &said.open].into_iter().flatten() {
            for part in sentence.split("1 in ").skip(1) {
                let n = self::number(part).map_or(0.0, |n| n.0);
                hold(n <= 1.1 * flights, format!("1 in {n} of {flights} flights: {sentence}"));
            }
        }
    }
    let own = [claim.low.min(claim.probability), claim.high.max(claim.probability)];
    if let (Some(open), Some(band)) = (&said.open, &findings.band) {
        let same = open.ends_with("makes no difference to that number.");
        let odds = |p: f64| p / (1.0 - p).max(1e-12);
        hold(!same || odds(band.high) < 1.3 * odds(band.low), format!("{band:?}: {open}"));
        unknown(open, p, own, &mut hold);
    }
    for first in &said.first {
        still_holds(first, p, said.open.as_deref(), &mut hold);
    }
    if let Some(hangs) = &said.hangs {
        hold(said.open.is_none(), format!("said twice: {hangs}"));
        always_or_never(hangs, own, &mut hold);
    }
    breaks(findings, &said.breaks, own, &mut hold);
    for one in &findings.shaky {
        let words = shaky(one, claim, Voice::plain(findings.show));
        assumption(&words, p, &mut hold);
    }
    faults
}

/// "What holds all the same: at most 5.0 in 100, since ..." against the number and
/// the worst that the unknown is said to make of it.
fn still_holds(first: &str, p: f64, open: Option<&str>, hold: &mut Hold<'_>) {
    let Some((_, most)) = first.split_once("What holds all the same: at most ") else { return };
    let Some(most) = share(most) else { return hold(false, format!("no bound: {first}")) };
    hold(p <= most.p * (1.0 + 1e-9), format!("{p} is above: {first}"));
    let Some(open) = open else { return };
    let worst =
        open.split("up to ").last().filter(|_| open.contains("which we do not know, it is "));
    let worst = worst.or(open.split_once("more often than that: ").map(|(_, end)| end));
    let Some(worst) = worst.map(|text| text.strip_prefix("over ").unwrap_or(text)) else { return };
    let worst = share(worst).map_or(2.0, |said| said.p - said.half);
    hold(worst <= most.p * (1.0 + 1e-9), format!("{open} is above: {first}"));
}

pub(crate) type Hold<'a> = dyn FnMut(bool, String) + 'a;

/// "Depending on ... it is from 5.0 in 100 (...) up to 85 in 100 (...)."
fn unknown(open: &str, p: f64, own: [f64; 2], hold: &mut Hold<'_>) {
    if open.contains("is not resolved by these flights") {
        return;
    }
    if open.ends_with("makes no difference to that number.") {
        return;
    }
    if let Some((_, up_to)) = open.split_once("which we do not know, it is up to ") {
        let top = share(up_to).map_or(-1.0, |said| said.p);
        return hold(p <= top * (1.0 + 1e-9), format!("{p} is above: {open}"));
    }
    if let Some((_, from)) = open.split_once("which we do not know, it is from ") {
        let (under, from) = from.strip_prefix("under ").map_or((false, from), |rest| (true, rest));
        let Some(low) = share(from) else { return hold(false, format!("no lower end: {open}")) };
        let Some((between, to)) = low.rest.split_once("up to ") else {
            return hold(false, format!("no upper end: {open}"));
        };
        let (over, to) = to.strip_prefix("over ").map_or((false, to), |rest| (true, rest));
        let Some(high) = share(to) else { return hold(false, format!("no upper end: {open}")) };
        hold(low.p <= high.p * (1.0 + 1e-9), format!("ends the wrong way round: {open}"));
        hold(over || p <= high.p * (1.0 + 1e-9), format!("{p} is above: {open}"));
        hold(under || low.p * (1.0 - 1e-9) <= p, format!("{p} is below: {open}"));
        for (end, rest) in [(low.p, between), (high.p, high.rest)] {
            if let Some((words, _)) = bracketed(rest) {
                hold(within(end, covers(words)), format!("`{words}` is not {end}: {open}"));
            }
        }
        return;
    }
    let Some((cases, end)) = open.split_once("than that: ") else {
        return hold(false, format!("not understood: {open}"));
    };
    let cases_of = cases.strip_prefix("In ").and_then(share).map_or(-1.0, |said| said.p);
    let end = share(end).map_or(-1.0, |said| said.p);
    if cases.ends_with("less often ") {
        hold(end <= p * (1.0 + 1e-9), format!("{p} is not above: {open}"));
        let most = cases_of * end + 1.0 - cases_of;
        hold(own[0] <= most + 1e-9, format!("{own:?} cannot be carried by the others: {open}"));
    } else {
        hold(p <= end * (1.0 + 1e-9), format!("{p} is not below: {open}"));
        hold(own[1] >= cases_of * end - 1e-9, format!("{own:?} is pulled down too far: {open}"));
    }
}

/// "The claim always holds with ... (A ... for the first, N for the second)."
fn always_or_never(hangs: &str, own: [f64; 2], hold: &mut Hold<'_>) {
    let shares: Vec<f64> = if let Some((_, told)) = hangs.split_once("we do not know (") {
        if hangs.starts_with("It hangs on") {
            let parts = hangs.split(": in ").nth(1).into_iter();
            let more = hangs.split(" holds, in ").nth(1).into_iter();
            parts.chain(more).filter_map(share).map(|said| said.p).collect()
        } else {
            let second = told.split("for the first, ").nth(1).into_iter();
            std::iter::once(told).chain(second).filter_map(share).map(|said| said.p).collect()
        }
    } else {
        Vec::new()
    };
    let [always, never] = shares[..] else {
        return hold(false, format!("two shares are not there: {hangs}"));
    };
    let between = hangs.split("between the two, with ").nth(1).and_then(share);
    let between = between.map_or(0.01, |said| said.p + said.half);
    let sum = always + never;
    hold(sum <= 1.02 && sum + between >= 0.98, format!("{sum} in all: {hangs}"));
    // Rounded to two digits, and almost always is 99 in 100.
    let least = 0.99 * always * 0.95;
    let most = 1.0 - 0.99 * never * 0.95;
    hold(least <= own[1] && own[0] <= most + 0.01, format!("{own:?} is not borne out: {hangs}"));
}

/// What is said of the weakest step.
fn breaks(findings: &Findings, text: &str, own: [f64; 2], hold: &mut Hold<'_>) {
    if text.starts_with("Nothing in the story is weak") {
        hold(own[0] > 0.5, format!("{own:?}, but: {text}"));
        let told = text.split(" holds ").last().and_then(share);
        hold(told.is_some_and(|said| said.p > 0.89), format!("a weak step: {text}"));
        return;
    }
    let Some(told) = text.split("that come to it, ").nth(1) else { return };
    let of_bound = ["at most ", "anything from never to "];
    let told = of_bound.iter().find_map(|bound| told.strip_prefix(bound)).unwrap_or(told);
    let passes =
        if told.starts_with("none") { Some(0.0) } else { share(told).map(|s| s.p + s.half) };
    let Some(passes) = passes else { return hold(false, format!("not understood: {text}")) };
    let mostly = !text.starts_with("The weak step");
    hold(!mostly || passes < 0.51, format!("mostly: {text}"));
    if findings.claim.is_counted() {
        hold(own[0] <= passes + 1e-9, format!("{own:?} passes a step of {passes}: {text}"));
    }
}

/// "`x` was assumed, not told: at 3 it would be 70 in 100 (likely), not ...".
pub(crate) fn assumption(text: &str, p: f64, hold: &mut Hold<'_>) {
    let Some((then, now)) =
        text.split_once("it would be ").and_then(|(_, t)| t.split_once(", not "))
    else {
        return hold(false, format!("not understood: {text}"));
    };
    let now = now.strip_prefix("at most ").unwrap_or(now);
    let mut words = Vec::new();
    for part in [then, now] {
        let Some(said) = share(part) else { return hold(false, format!("no number: {text}")) };
        let Some((word, _)) = bracketed(said.rest) else {
            return hold(false, format!("no word: {text}"));
        };
        hold(within(said.p, covers(word)), format!("`{word}` is not {}: {text}", said.p));
        words.push((said.p, word));
    }
    hold(words[0].1 != words[1].1, format!("no change: {text}"));
    hold((words[1].0 - p).abs() < 1e-9, format!("{p} is another answer: {text}"));
}
