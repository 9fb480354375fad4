//! A plan of shots: what each number of shots buys.

use super::small;
use crate::{
    canvas::{Canvas, Frame, Rect, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};

const ROW: f64 = 30.0;
const LEFT: f64 = 140.0;
const RIGHT: f64 = 220.0;

/// One row of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRow {
    /// What it is ("29 shots, no event").
    pub name: String,
    /// Chance that the plan does its work, 0..1.
    pub chance: f64,
    /// Targets used up and cost, in words.
    pub bill: String,
}

/// A plan to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanChart {
    /// A sentence with its numbers in it.
    pub title: String,
    /// What the bars are.
    pub subtitle: String,
    /// Rows in the order of shots.
    pub rows: Vec<PlanRow>,
    /// The chance asked for, 0..1, if any.
    pub wanted: Option<f64>,
}

/// Draws the rows as bars, with the chance that was asked for.
#[must_use]
pub fn trials(chart: &PlanChart, frame: Frame) -> Picture {
    let width = f64::from(frame.width);
    let top = heading_height(width, &chart.title, &chart.subtitle);
    let rows = u32::try_from(chart.rows.len()).unwrap_or(u32::MAX);
    let canvas = Canvas::new(frame, top + 16.0 + ROW * f64::from(rows) + 24.0);
    let top = canvas.heading(&chart.title, &chart.subtitle) + 16.0;
    let palette = canvas.palette;
    let full = width - LEFT - RIGHT;
    for (i, row) in (0_u32..).zip(&chart.rows) {
        let y = top + ROW * f64::from(i);
        let share = row.chance.clamp(0.0, 1.0);
        let bar = |right: f64| Rect { left: LEFT, top: y, right: LEFT + right, bottom: y + 18.0 };
        canvas.area(&bar(full).corners(), veil(palette.ash, 0.25));
        canvas.area(&bar(full * share).corners(), opaque(palette.harbour));
        let name = Text::new(row.name.clone(), look::LABEL, palette.ink).end();
        canvas.text((LEFT - 8.0, y + 14.0), name);
        let number = Text::new(words::share(share), look::LABEL, palette.ink).bold();
        canvas.text((LEFT + full + 8.0, y + 14.0), number);
        canvas.text((width, y + 14.0), small(row.bill.clone(), &canvas).end());
    }
    if let Some(wanted) = chart.wanted {
        let x = LEFT + full * wanted.clamp(0.0, 1.0);
        let bottom = top + ROW * f64::from(rows);
        let line = Stroke::solid(palette.ink, look::LINE).dashed(look::MISSED);
        canvas.line(&[(x, top - 6.0), (x, bottom)], line);
        let words = format!("asked for: {}", words::share(wanted));
        canvas.text((x, bottom + 14.0), small(words, &canvas).middle());
    }
    canvas.finish("trials", &chart.title, &chart.subtitle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_its_bar_and_its_bill() {
        let row =
            |name: &str, chance| PlanRow { name: name.into(), chance, bill: "12 panes".into() };
        let chart = PlanChart {
            title: "23 shots of each tell them apart".into(),
            subtitle: "Chance of seeing the difference.".into(),
            rows: vec![row("10 each", 0.3), row("23 each", 0.81)],
            wanted: Some(0.8),
        };
        let svg = trials(&chart, Frame::page()).svg();
        assert!(svg.contains("23 each") && svg.contains("12 panes") && svg.contains("asked for"));
    }
}
