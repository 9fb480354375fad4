//! The lines of a sequential test: after each shot, the events counted so far
//! lie on one side of them, on the other, or between.

use super::small;
use crate::{
    canvas::{Canvas, Panel, Rect, Text},
    look::{self, Stroke, veil},
    words,
};
use longodds_sim::quantity::{Dimension, Show};
use serde::{Deserialize, Serialize};

const LEFT: f64 = 46.0;
const HIGH: f64 = 250.0;
/// Room over the panel for its sentence and the axis' name, px.
const HEAD: f64 = 48.0;
/// Room under it for the axis, px.
const FOOT: f64 = 74.0;
/// All of it, px.
pub(super) const HEIGHT: f64 = HEAD + HIGH + FOOT;

/// A sequential test: shoot until the count of events meets a line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Decision {
    /// The chance per shot that means no.
    pub low: f64,
    /// The chance per shot that means yes.
    pub high: f64,
    /// Slope of both lines, events per shot.
    pub slope: f64,
    /// How far below the slope's own line the lower one lies, events.
    pub accept: f64,
    /// How far above it the upper one lies, events.
    pub reject: f64,
    /// Largest number of shots.
    pub largest: u64,
}

impl Decision {
    #[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
    fn shots(&self) -> f64 {
        self.largest as f64
    }

    /// The lower line after so many shots.
    fn lower(&self, shots: f64) -> f64 {
        self.slope * shots - self.accept
    }

    fn upper(&self, shots: f64) -> f64 {
        self.slope * shots + self.reject
    }

    /// Shots without an event that are enough to say low.
    fn enough(&self) -> f64 {
        (self.accept / self.slope).ceil()
    }
}

/// Draws the lines from `top` down.
pub(super) fn draw(canvas: &Canvas, plan: &Decision, top: f64) {
    let palette = canvas.palette;
    let words = "After each shot: does the count of events meet a line? Between them, shoot on.";
    canvas.text((0.0, top + 14.0), Text::new(words, look::LABEL, palette.ink).bold());
    let top = top + HEAD;
    let rect = Rect { left: LEFT, top, right: canvas.width() - 14.0, bottom: top + HIGH };
    let panel = canvas.panel(rect, 0.0..plan.shots(), 0.0..plan.upper(plan.shots()));
    axes(canvas, &panel);
    regions(canvas, &panel, plan);
    labels(canvas, &panel, plan);
}

/// Both axes count whole things.
fn axes(canvas: &Canvas, panel: &Panel) {
    let palette = canvas.palette;
    let (rect, pen) = (panel.rect, Stroke::solid(palette.ink, look::THIN));
    for (n, words) in whole(panel.y.end, rect.height() / 45.0) {
        let y = panel.place((0.0, n)).1;
        canvas.line(&[(rect.left, y), (rect.right, y)], Stroke::solid(palette.rule, look::HAIR));
        canvas.text((rect.left - 7.0, y + 4.5), Text::new(words, look::TICK, palette.ink).end());
    }
    canvas.text((0.0, rect.top - 12.0), small("events so far", canvas));
    canvas.line(&[(rect.left, rect.bottom), (rect.right, rect.bottom)], pen);
    for (n, words) in whole(panel.x.end, rect.width() / 90.0) {
        let x = panel.place((n, 0.0)).0;
        canvas.line(&[(x, rect.bottom), (x, rect.bottom + 5.0)], pen);
        let text = Text::new(words, look::TICK, palette.ink);
        let half = text.width() / 2.0;
        let at = (x - half).min(canvas.width() - 2.0 * half);
        canvas.text((at, rect.bottom + 19.0), text);
    }
    canvas.text((rect.right, rect.bottom + 37.0), small("shots fired", canvas).end());
}

/// Round whole numbers from 0 to `most`, about `count` of them.
fn whole(most: f64, count: f64) -> Vec<(f64, String)> {
    let rough = (most / count.max(1.0)).max(1.0);
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    let step = steps.into_iter().find(|s| *s >= rough).unwrap_or(2000.0);
    let all = std::iter::successors(Some(0.0), |n| Some(n + step)).take_while(|n| *n <= most);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, above 0")]
    all.map(|n: f64| (n, words::count(n as u64))).collect()
}

fn regions(canvas: &Canvas, panel: &Panel, plan: &Decision) {
    let palette = canvas.palette;
    let (end, most) = (plan.shots(), panel.y.end);
    let above = [(0.0, plan.upper(0.0)), (end, plan.upper(end)), (0.0, most)];
    panel.shape(&above, Some(veil(palette.ember, 0.22)), None, None);
    let start = plan.accept / plan.slope;
    if start < end {
        let below = [(start, 0.0), (end, 0.0), (end, plan.lower(end))];
        let hatch = Some((veil(palette.harbour, 0.5), false));
        panel.shape(&below, Some(veil(palette.harbour, 0.08)), hatch, None);
        panel.line(&[(start, 0.0), (end, plan.lower(end))], heavy(palette.harbour));
    }
    panel.line(&[(0.0, plan.upper(0.0)), (end, plan.upper(end))], heavy(palette.ember));
    let cut = Stroke::solid(palette.ink, look::LINE).dashed(look::MISSED);
    let (x, _) = panel.place((end, 0.0));
    canvas.line(&[(x, panel.rect.top), (x, panel.rect.bottom)], cut);
}

fn heavy(ink: plotters::style::RGBColor) -> Stroke {
    Stroke::solid(ink, look::HEAVY)
}

fn labels(canvas: &Canvas, panel: &Panel, plan: &Decision) {
    let palette = canvas.palette;
    let percent = |share: f64| words::quantity(share, Dimension::Ratio, Show::Si);
    let rect = panel.rect;
    let put = |words: String, ink, places: &[(f64, f64)]| {
        let text = Text::new(words, look::LABEL, ink).bold().halo(palette.halo);
        let width = text.width();
        let placed: Vec<_> = places
            .iter()
            .map(|(x, y)| (rect.left + x * (rect.width() - width), rect.top + y * rect.height()))
            .collect();
        canvas.try_text(&placed, &text);
    };
    let high = format!("on or over this line: say {} or more", percent(plan.high));
    put(high, palette.ember, &[(0.02, 0.1), (0.02, 0.3)]);
    let low = format!("on or under this line: say {} or less", percent(plan.low));
    put(low, palette.harbour, &[(0.98, 0.94), (0.98, 0.8)]);
    let enough = plan.enough();
    if enough <= plan.shots() {
        let (x, y) = panel.place((enough, 0.0));
        canvas.round((x, y), 4.6, Some(veil(palette.halo, 1.0)), Some(heavy(palette.harbour)));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, > 0")]
        let words = format!("{} shots without an event say so", words::count(enough as u64));
        let text = small(words, canvas).halo(palette.halo);
        let width = text.width();
        // To the left of the lower line, which rises.
        canvas.try_text(&[((x - 10.0 - width).max(rect.left + 6.0), y - 12.0)], &text);
    }
    between(canvas, panel, plan);
}

/// "Shoot on" between the lines, where they leave room for it.
fn between(canvas: &Canvas, panel: &Panel, plan: &Decision) {
    let palette = canvas.palette;
    let text = Text::new("between them: shoot on", look::LABEL, palette.ink).bold().middle();
    let middle = 0.55 * plan.shots();
    let at = |n: f64, events: f64| panel.place((n, events)).1;
    let room = at(middle, plan.lower(middle)) - at(middle, plan.upper(middle));
    let rise = (at(0.0, plan.upper(0.0)) - at(plan.shots(), plan.upper(plan.shots())))
        / panel.rect.width();
    if room > 24.0 + rise * text.width() {
        let y = f64::midpoint(at(middle, plan.lower(middle)), at(middle, plan.upper(middle)));
        canvas.text((panel.place((middle, 0.0)).0, y + 5.0), text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the lines of Wald's test for 10 % against 30 % with 5 and 10 %
    /// of errors, as the plan's own reference has them.
    fn plan() -> Decision {
        Decision {
            low: 0.1,
            high: 0.3,
            slope: 0.186_169,
            accept: 1.667_714,
            reject: 2.141_132,
            largest: 60,
        }
    }

    #[test]
    fn the_lines_part_the_plane_into_three() {
        let plan = plan();
        assert!(plan.lower(30.0) < plan.upper(30.0));
        assert!((plan.upper(30.0) - plan.lower(30.0) - 3.808_846).abs() < 1e-9);
        // 1.667714 / 0.186169 = 8.96: nine shots without an event.
        assert!((plan.enough() - 9.0).abs() < 1e-12);
        let whole: Vec<String> = whole(13.3, 5.6).into_iter().map(|(_, words)| words).collect();
        assert_eq!(whole, ["0", "5", "10"]);
    }
}
