//! The chain as a narrowing stream of flights: what dies where, why, and how
//! much is left.

use crate::{
    canvas::{Canvas, Frame, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    answer::{self, weakest},
    findings::{Chance, Findings, GateFinding},
    math,
    quantity::Show,
};

/// Half the width of the whole stream, px.
const HALF: f64 = 125.0;
/// Left and right columns' width, px.
const COLUMN: f64 = 268.0;
/// Least height of a gate's row, px.
const ROW: f64 = 92.0;
/// Height of the step where the stream is drawn larger, px.
const LENS: f64 = 40.0;
/// Below this half width the stream is drawn larger from there, px.
const THREAD: f64 = 4.0;

/// The chain, gate by gate.
#[must_use]
pub fn chain(findings: &Findings, frame: Frame) -> Picture {
    let (title, subtitle) = (title(findings), subtitle(findings));
    let width = f64::from(frame.width);
    let rows: Vec<Row> = rows(findings, findings.show);
    let body: f64 = rows.iter().map(Row::total).sum();
    let end = ending(findings, width);
    let foot = 26.0 + lines(end.len()) * 1.3;
    let canvas = Canvas::new(frame, heading_height(width, &title, &subtitle) + 30.0 + body + foot);
    let mut y = canvas.heading(&title, &subtitle) + 30.0;
    start(&canvas, findings, y);
    for (i, row) in rows.iter().enumerate() {
        y = draw(&canvas, row, i + 1, y);
    }
    finish(&canvas, &end, rows.last().map_or(0.0, |r| r.left), y);
    canvas.finish("chain", &title, &description(findings))
}

/// One gate, laid out.
struct Row {
    name: String,
    meaning: Vec<String>,
    on: String,
    lost: Vec<String>,
    /// Half widths coming and going, px.
    wide: f64,
    left: f64,
    /// Drawn so many times larger below this gate.
    lens: Option<f64>,
    reached: bool,
    height: f64,
}

impl Row {
    fn total(&self) -> f64 {
        self.height + if self.lens.is_some() { LENS } else { 0.0 }
    }
}

fn rows(findings: &Findings, show: Show) -> Vec<Row> {
    let (mut scale, mut before) = (1.0, 1.0);
    let last = findings.gates.len().saturating_sub(1);
    let mut rows = Vec::new();
    for (i, gate) in findings.gates.iter().enumerate() {
        let after = gate.so_far.probability;
        let (wide, left) = (HALF * before * scale, HALF * after * scale);
        let lens = (left < THREAD && after > 0.0 && i < last)
            .then(|| math::pow(10.0, math::log10(HALF / left).floor().max(1.0)));
        scale *= lens.unwrap_or(1.0);
        rows.push(row(gate, show, (wide, left), lens, before > 0.0));
        before = after;
    }
    rows
}

fn row(gate: &GateFinding, show: Show, sides: (f64, f64), lens: Option<f64>, reached: bool) -> Row {
    let (on, lost) = if reached {
        let on = match gate.passed {
            0 => "None goes on".to_owned(),
            _ => words::capital(&goes_on(&gate.given_before)),
        };
        (on, lost(gate, show))
    } else {
        ("No flight came this far".to_owned(), String::new())
    };
    let meaning = font::wrap(&gate.meaning, Weight::Regular, look::TICK, COLUMN - 40.0);
    let lost = font::wrap(&lost, Weight::Regular, look::TICK, COLUMN);
    let height = ROW.max(48.0 + lines(meaning.len().max(lost.len())));
    let name = words::capital(words::gate(gate.gate));
    Row { name, meaning, on, lost, wide: sides.0, left: sides.1, lens, reached, height }
}

/// "24 % go on", of those that come to it.
fn goes_on(given: &Chance) -> String {
    let verb = if given.spoken().is_one() { "goes" } else { "go" };
    format!("{} {verb} on", words::estimate(given))
}

/// Height of so many small lines, px.
#[expect(clippy::cast_precision_loss, reason = "a few lines")]
fn lines(n: usize) -> f64 {
    n as f64 * look::TICK * 1.28
}

/// What stopped here and by how much.
fn lost(gate: &GateFinding, show: Show) -> String {
    let counts = match words::counted(&gate.given_before) {
        Some((passed, came)) => {
            let (passed, came) = (words::count(passed), words::count(came));
            let known = words::known(&gate.given_before);
            format!("{passed} of {came} that come to it: {known}. ")
        }
        None => {
            let came = words::count(gate.given_before.flights);
            format!("Of {came} that come to it, by the search. ")
        }
    };
    if gate.given_before.probability >= 1.0 {
        // The barrier is only known by a test it passed: it may stop any of them.
        let known = if gate.given_before.at_most { "None is known to stop" } else { "None stops" };
        return format!("{counts}{known} here.");
    }
    match &gate.margin {
        Some(margin) if margin.count > 0 => {
            let dimension = words::dimension(&gate.margin_dimension);
            let half = words::quantity(margin.quantiles[3], dimension, show);
            let short = answer::margin(gate.gate);
            format!("{counts}In half of those that stop: {half} or more {short}.")
        }
        _ => counts.trim_end().to_owned(),
    }
}

fn middle(canvas: &Canvas) -> f64 {
    canvas.width() / 2.0
}

fn start(canvas: &Canvas, findings: &Findings, y: f64) {
    let all = words::flights(findings.claim.flights);
    let text = Text::new(all, look::LABEL, canvas.palette.ink).bold().middle();
    canvas.text((middle(canvas), y - 9.0), text);
}

/// Draws a gate's row from `y` down; returns where the next one starts.
fn draw(canvas: &Canvas, row: &Row, number: usize, y: f64) -> f64 {
    let palette = canvas.palette;
    let bottom = y + row.height;
    canvas.line(&[(0.0, y), (canvas.width(), y)], Stroke::solid(palette.rule, look::HAIR));
    stream(canvas, row, y, bottom);
    let right = canvas.width() - COLUMN;
    let tag = if row.reached { palette.ink } else { palette.ash };
    canvas.round((12.0, y + 22.0), 11.0, None, Some(Stroke::solid(tag, look::LINE)));
    canvas.text((12.0, y + 26.8), Text::new(number.to_string(), look::LABEL, tag).bold().middle());
    canvas.text((32.0, y + 27.5), Text::new(&row.name, 17.0, tag).bold());
    for (i, line) in row.meaning.iter().enumerate() {
        canvas.text((32.0, y + 46.0 + lines(i)), Text::new(line, look::TICK, palette.quiet));
    }
    canvas.text((right, y + 27.5), Text::new(&row.on, 17.0, tag).bold());
    for (i, line) in row.lost.iter().enumerate() {
        canvas.text((right, y + 46.0 + lines(i)), Text::new(line, look::TICK, palette.quiet));
    }
    row.lens.map_or(bottom, |times| lens(canvas, row.left, times, bottom))
}

/// What comes, narrowing to what is left; the rest is hatched and ends.
fn stream(canvas: &Canvas, row: &Row, top: f64, bottom: f64) {
    if !row.reached {
        return;
    }
    let palette = canvas.palette;
    let x = middle(canvas);
    let wide = row.wide.max(0.8);
    let left = if row.left > 0.0 { row.left.max(0.8) } else { 0.0 };
    let stop = bottom - 14.0;
    if wide - left > 0.3 {
        let dead = [(x - wide, top), (x + wide, top), (x + wide, stop), (x - wide, stop)];
        let hatch = Some((veil(palette.ash, 0.9), true));
        canvas.shape(&dead, Some(veil(palette.ash, 0.10)), hatch, None);
        for side in [-1.0, 1.0] {
            let bar = [(x + side * left, stop), (x + side * wide, stop)];
            canvas.line(&bar, Stroke::solid(palette.ink, look::LINE));
        }
    }
    let edge = |side: f64| -> Vec<(f64, f64)> {
        (0..=16)
            .map(|k| {
                let t = f64::from(k) / 16.0;
                let ease = t * t * (3.0 - 2.0 * t);
                (x + side * (wide + (left - wide) * ease), top + (stop - top) * t)
            })
            .collect()
    };
    let mut outline = vec![(x - left, bottom)];
    outline.extend(edge(-1.0).into_iter().rev());
    outline.extend(edge(1.0));
    outline.push((x + left, bottom));
    let rim = (wide - left > 0.3).then(|| Stroke::solid(palette.halo, look::LINE));
    canvas.shape(&outline, Some(opaque(palette.ember)), None, rim);
}

/// A step at which the stream is drawn `times` larger.
fn lens(canvas: &Canvas, left: f64, times: f64, y: f64) -> f64 {
    let palette = canvas.palette;
    let (x, below) = (middle(canvas), y + LENS);
    let (thin, wide) = (left.max(0.8), left * times);
    let flare = [(x - thin, y), (x + thin, y), (x + wide, below), (x - wide, below)];
    let rim = Stroke::solid(palette.ember, look::THIN).dashed(look::ASSUMED);
    canvas.shape(&flare, Some(veil(palette.ember, 0.18)), None, Some(rim));
    let words = format!("drawn {} times wider from here", words::count(rounded(times)));
    let at = (canvas.width() - COLUMN, y + LENS / 2.0 + 4.0);
    canvas.text(at, Text::new(words, look::TICK, palette.ember));
    below
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a power of ten")]
fn rounded(x: f64) -> u64 {
    x.round() as u64
}

fn ending(findings: &Findings, width: f64) -> Vec<String> {
    let claim = &findings.claim;
    let (share, interval) = (words::estimate(claim), words::known(claim));
    let word = claim.likelihood();
    let words = if claim.probability <= 0.0 {
        format!(
            "No flight of {} bears the claim out ({interval}): {word}",
            words::count(claim.flights)
        )
    } else if claim.at_most {
        format!("The claim holds in {share} ({interval}, 95 % confidence): {word}, or less")
    } else {
        format!("The claim holds in {share} ({interval}): {word}")
    };
    font::wrap(&words, Weight::Bold, 17.0, width - 20.0)
}

fn finish(canvas: &Canvas, words: &[String], left: f64, y: f64) {
    let palette = canvas.palette;
    let x = middle(canvas);
    canvas.line(&[(0.0, y), (canvas.width(), y)], Stroke::solid(palette.ink, look::LINE));
    if left > 0.0 {
        let half = left.max(7.0);
        let tip = [(x - half, y + 2.0), (x + half, y + 2.0), (x, y + 16.0)];
        canvas.area(&tip, opaque(palette.ember));
    }
    for (i, line) in words.iter().enumerate() {
        let at = (x, y + 38.0 + 1.3 * lines(i));
        canvas.text(at, Text::new(line, 17.0, palette.ink).bold().middle());
    }
}

fn title(findings: &Findings) -> String {
    let Some(gate) = weakest(findings) else {
        return "No flight came to a gate".to_owned();
    };
    let (name, came) = (words::gate(gate.gate), words::flights(gate.came));
    if gate.passed >= gate.came {
        format!(
            "Nothing breaks the chain: {came} out of {} pass every gate",
            words::count(gate.came)
        )
    } else if gate.passed == 0 {
        if findings.claim.probability > 0.0 {
            // A search found it where plain flights did not.
            format!("The chain is weakest at “{name}”: none of {came} flown at random passes it")
        } else {
            format!("The claim breaks at “{name}”: none of {came} passes it")
        }
    } else {
        let share = words::estimate(&gate.given_before);
        let all = findings.gates.first().is_some_and(|first| first.came == gate.came);
        let of = if all { "all flights" } else { "the flights that come so far" };
        format!("The chain is weakest at “{name}”: {share} of {of} {}", words::passes(gate.gate))
    }
}

fn subtitle(findings: &Findings) -> String {
    let drawn = "Solid is what is left of the claim; hatched is what dies at each gate.";
    if findings.partial { format!("{drawn} The run was stopped early.") } else { drawn.to_owned() }
}

fn description(findings: &Findings) -> String {
    let one = |g: &GateFinding| {
        if g.came == 0 {
            return format!("{}: no flight came this far", words::gate(g.gate));
        }
        let share = words::estimate(&g.given_before);
        let (passed, came) = (words::count(g.passed), words::flights(g.came));
        format!("{}: {passed} of {came} that come to it go on ({share})", words::gate(g.gate))
    };
    let gates: Vec<String> = findings.gates.iter().map(one).collect();
    format!("A stream of flights that narrows from gate to gate. {}.", gates.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn said(gate: &GateFinding) -> (String, String) {
        let row = row(gate, Show::Si, (1.0, 1.0), None, true);
        (row.on, row.lost.join(" "))
    }

    #[test]
    fn what_nobody_came_to_has_no_share_for_those_who_listen() {
        let mut findings = sample::ordinary();
        let last = findings.gates.last_mut().unwrap();
        (last.came, last.passed, last.given_before.probability) = (0, 0, 0.5);
        let said = description(&findings);
        assert!(said.ends_with("no flight came this far.") && !said.contains("50 %"), "{said}");
    }

    #[test]
    fn a_bound_stops_nobody_that_is_known_of() {
        let mut gate = sample::ordinary().gates[0].clone();
        gate.passed = gate.came;
        let chance = &mut gate.given_before;
        (chance.probability, chance.held, chance.high) = (1.0, chance.flights, 1.0);
        assert!(said(&gate).1.ends_with("None stops here."));
        gate.given_before.at_most = true;
        assert!(said(&gate).1.ends_with("None is known to stop here."));
        gate.passed = 0;
        assert_eq!(said(&gate).0, "None goes on");
    }
}
