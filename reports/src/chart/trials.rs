//! A plan of shots: what each number of shots buys.

use super::{
    decision::{self, Decision},
    small,
};
use crate::{
    canvas::{Canvas, Frame, Rect, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use serde::{Deserialize, Serialize};

const ROW: f64 = 30.0;
/// Widest columns of names and of bills, px.
const NAMES: f64 = 240.0;
const BILLS: f64 = 240.0;
/// Room for the number behind a bar, px.
const NUMBER: f64 = 96.0;

/// One row of a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlanRow {
    /// What it is ("29 shots, no event").
    pub name: String,
    /// Length of its bar, 0..1: mostly the chance that the plan does its work.
    pub share: f64,
    /// The number behind the bar; the share itself if empty.
    #[serde(default)]
    pub said: String,
    /// Targets used up and cost, in words.
    pub bill: String,
}

/// A plan to draw.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlanChart {
    /// A sentence with its numbers in it.
    pub title: String,
    /// What the bars are.
    pub subtitle: String,
    /// Rows in the order of shots.
    pub rows: Vec<PlanRow>,
    /// The chance asked for, 0..1, if any.
    #[serde(default)]
    pub wanted: Option<f64>,
    /// The lines of a sequential test, drawn over the bars.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decision: Option<Decision>,
}

/// Draws the rows as bars, with the chance that was asked for; of a sequential
/// test its lines first.
#[must_use]
pub fn trials(chart: &PlanChart, frame: Frame) -> Picture {
    let width = f64::from(frame.width);
    let lines = chart.decision.map_or(0.0, |_| decision::HEIGHT);
    let subtitle = if chart.decision.is_some() { LINES } else { &chart.subtitle };
    let top = heading_height(width, &chart.title, subtitle);
    let rows = u32::try_from(chart.rows.len()).unwrap_or(u32::MAX);
    let canvas = Canvas::new(frame, top + lines + 16.0 + ROW * f64::from(rows) + 24.0);
    let mut top = canvas.heading(&chart.title, subtitle) + 16.0;
    if let Some(plan) = &chart.decision {
        decision::draw(&canvas, plan, top);
        top += lines;
        let bars = font::fit(&chart.subtitle, Weight::Bold, look::LABEL, width);
        canvas.text((0.0, top - 14.0), Text::new(bars, look::LABEL, canvas.palette.ink).bold());
    }
    let columns = Columns::new(chart, width);
    for (i, row) in (0_u32..).zip(&chart.rows) {
        draw(&canvas, &columns, row, top + ROW * f64::from(i));
    }
    if let Some(wanted) = chart.wanted {
        asked_for(&canvas, &columns, wanted, (top, top + ROW * f64::from(rows)));
    }
    canvas.finish("trials", &chart.title, &description(chart, subtitle))
}

/// How to read the lines.
const LINES: &str = "Above, what to do after each shot; below, how the test ends whatever the chance turns out to be.";

fn description(chart: &PlanChart, subtitle: &str) -> String {
    let row = |row: &PlanRow| {
        let said = if row.said.is_empty() { words::share(row.share) } else { row.said.clone() };
        format!("{}: {said}, {}", row.name, row.bill)
    };
    let rows: Vec<String> = chart.rows.iter().map(row).collect();
    format!("{subtitle} {}.", rows.join("; "))
}

/// Where the bars stand between names and bills, px.
struct Columns {
    names: f64,
    bars: f64,
    full: f64,
    bills: f64,
}

impl Columns {
    fn new(chart: &PlanChart, width: f64) -> Self {
        let widest = |size: f64, text: fn(&PlanRow) -> &str| {
            let width = |row| Weight::Regular.width(text(row), size);
            chart.rows.iter().map(width).fold(0.0, f64::max)
        };
        let names = widest(look::LABEL, |row| &row.name).clamp(60.0, NAMES);
        let bills = widest(look::TICK, |row| &row.bill).clamp(0.0, BILLS);
        let bars = names + 10.0;
        Self { names, bars, full: width - bars - NUMBER - bills - 12.0, bills }
    }
}

fn draw(canvas: &Canvas, columns: &Columns, row: &PlanRow, y: f64) {
    let palette = canvas.palette;
    let Columns { names, bars, full, bills } = *columns;
    let share = row.share.clamp(0.0, 1.0);
    let bar = |long: f64| Rect { left: bars, top: y, right: bars + long, bottom: y + 18.0 };
    canvas.area(&bar(full).corners(), veil(palette.ash, 0.25));
    canvas.area(&bar(full * share).corners(), opaque(palette.harbour));
    let name = font::fit(&row.name, Weight::Regular, look::LABEL, names);
    canvas.text((names, y + 14.0), Text::new(name, look::LABEL, palette.ink).end());
    let said = if row.said.is_empty() { words::share(share) } else { row.said.clone() };
    let said = font::fit(&said, Weight::Bold, look::LABEL, NUMBER - 12.0);
    let number = Text::new(said, look::LABEL, palette.ink).bold();
    canvas.text((bars + full + 8.0, y + 14.0), number);
    let bill = font::fit(&row.bill, Weight::Regular, look::TICK, bills);
    canvas.text((canvas.width(), y + 14.0), small(bill, canvas).end());
}

fn asked_for(canvas: &Canvas, columns: &Columns, wanted: f64, (top, bottom): (f64, f64)) {
    let x = columns.bars + columns.full * wanted.clamp(0.0, 1.0);
    let line = Stroke::solid(canvas.palette.ink, look::LINE).dashed(look::MISSED);
    canvas.line(&[(x, top - 6.0), (x, bottom)], line);
    let words = format!("asked for: {}", words::share(wanted));
    canvas.text((x, bottom + 14.0), small(words, canvas).middle());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn every_row_has_its_bar_and_its_bill() {
        let svg = trials(&sample::evidence::plan(4), Frame::page()).svg();
        assert!(svg.contains("34 shots, 1 events") && svg.contains("68 targets, cost 2720"));
        assert!(svg.contains("asked for: 80 %"));
    }
}
