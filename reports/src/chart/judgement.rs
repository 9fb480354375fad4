//! What was thought of a barrier's strength, the shots at it, and what is
//! thought after them, over the claim's own blows.

use super::small;
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    answer::gate_chance,
    math,
    quantity::{Dimension, Show, significant},
    trials::judgement::Estimate,
    words::Voice,
};
use serde::{Deserialize, Serialize};

const SIDE: f64 = 14.0;
/// The two strips with names over them.
const STRENGTH: f64 = 150.0;
const BLOWS: f64 = 84.0;
/// Room for the shots between them.
const SHOTS: f64 = 76.0;
const NAME: f64 = 24.0;
/// Shots above one another at one place, at most.
const STACK: usize = 4;

/// Shots weighed against a claim's barrier. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JudgementChart {
    /// Units of display.
    pub show: Show,
    /// What the strength measures.
    pub dimension: String,
    /// What stands there.
    pub barrier: String,
    /// The claim's scenario.
    pub scenario_name: String,
    /// Edges of the bars, each the same factor above the one before.
    pub edges: Vec<f64>,
    /// Shares of what was thought of the strength.
    pub before: Vec<f64>,
    /// Shares of what is thought after the shots.
    pub after: Vec<f64>,
    /// Shares of the claim's own blows.
    pub claimed: Vec<f64>,
    /// The shots: (size, went through).
    pub shots: Vec<(f64, bool)>,
    /// The claim's chance of going through by the model alone.
    pub model: Estimate,
    /// By the scenario's strength and the shots.
    pub by_scenario: Estimate,
    /// By the shots, with next to nothing assumed.
    pub by_shots: Estimate,
    /// Both; absent where they disagree.
    #[serde(default)]
    pub both: Option<Estimate>,
    /// What can be said on camera.
    pub on_camera: String,
}

impl JudgementChart {
    fn dimension(&self) -> Dimension {
        words::dimension(&self.dimension)
    }

    fn through(&self) -> usize {
        self.shots.iter().filter(|shot| shot.1).count()
    }

    fn ends(&self) -> (f64, f64) {
        let first = self.edges.first().copied().unwrap_or(1.0).max(1e-9);
        let last = self.edges.last().copied().unwrap_or(10.0);
        (math::log10(first), math::log10(last.max(1.01 * first)))
    }
}

/// Draws prior and posterior of the strength, the shots, and the claim's blows,
/// on one axis.
#[must_use]
pub fn judgement(chart: &JudgementChart, frame: Frame) -> Picture {
    let (title, subtitle) = (title(chart), subtitle(chart));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 2.0 * NAME + STRENGTH + SHOTS + BLOWS + 56.0);
    let top = canvas.heading(&title, &subtitle) + NAME;
    let (low, high) = chart.ends();
    let strip = |top: f64, height: f64| {
        let rect = Rect { left: SIDE, top, right: width - SIDE, bottom: top + height };
        canvas.panel(rect, low..high, 0.0..1.0)
    };
    let strength = strip(top, STRENGTH);
    let marks = strip(top + STRENGTH, SHOTS);
    let blows = strip(top + STRENGTH + SHOTS + NAME, BLOWS);
    strengths(&canvas, &strength, chart);
    shots(&canvas, &marks, chart);
    claimed(&canvas, &blows, chart);
    axis(&canvas, &blows, chart);
    canvas.finish("judgement", &title, &chart.on_camera)
}

fn title(chart: &JudgementChart) -> String {
    let said = |e: &Estimate| gate_chance(e, Voice::set(chart.show));
    let counts = format!("{} of {} shots went through", chart.through(), chart.shots.len());
    match &chart.both {
        Some(both) => format!(
            "{counts}: the chance that the claim's blow does moves from {} to {}",
            said(&chart.model),
            said(both)
        ),
        None => format!(
            "{counts}: model and shots disagree, {} against {}",
            said(&chart.by_scenario),
            said(&chart.by_shots)
        ),
    }
}

fn subtitle(chart: &JudgementChart) -> String {
    let after = match &chart.both {
        Some(both) => format!(
            "After the shots the chance is {} (95 %).",
            words::between([both.low, both.high])
        ),
        None => "There is no number for both: the first takes the scenario's strength, the second \
                 no more of it than its spread."
            .to_owned(),
    };
    format!("What the {} holds, on the axis of the blows. {after}", chart.barrier)
}

/// A stepped curve from shares between the edges, `most` at its highest.
fn curve(chart: &JudgementChart, shares: &[f64], most: f64) -> Vec<(f64, f64)> {
    let edges: Vec<f64> = chart.edges.iter().map(|edge| math::log10(edge.max(1e-12))).collect();
    let mut line = Vec::new();
    for (edge, share) in edges.windows(2).zip(shares) {
        let height = if most > 0.0 { (0.94 * share / most).min(0.98) } else { 0.0 };
        line.extend([(edge[0], height), (edge[1], height)]);
    }
    if let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) {
        line.insert(0, (first.0, 0.0));
        line.push((last.0, 0.0));
    }
    line
}

fn most(shares: &[f64]) -> f64 {
    shares.iter().copied().fold(0.0, f64::max)
}

fn strengths(canvas: &Canvas, panel: &Panel, chart: &JudgementChart) {
    let palette = canvas.palette;
    let before = Stroke::solid(palette.quiet, look::LINE).dashed(look::ASSUMED);
    panel.silhouette(curve(chart, &chart.before, most(&chart.before)), None, None, before);
    let rim = Stroke::solid(palette.harbour, 2.2);
    let fill = Some(veil(palette.harbour, 0.22));
    panel.silhouette(curve(chart, &chart.after, most(&chart.after)), fill, None, rim);
    let y = panel.rect.top - 8.0;
    let after = Text::new("strength after the shots", look::LABEL, palette.harbour).bold();
    let told = Text::new("as the scenario has it (dashed)", look::LABEL, palette.quiet);
    canvas.text((panel.rect.left, y), after);
    let at = panel.rect.right - told.width();
    canvas.text((at, y), told);
    canvas.line(
        &[(panel.rect.left, panel.rect.bottom), (panel.rect.right, panel.rect.bottom)],
        Stroke::solid(palette.ink, look::THIN),
    );
}

/// Stopped shots as rings, those that went through full, in rows of their own.
fn shots(canvas: &Canvas, panel: &Panel, chart: &JudgementChart) {
    let palette = canvas.palette;
    let (low, high) = chart.ends();
    for (through, name, row) in [(false, "stopped", 0.30), (true, "went through", 0.78)] {
        let count = chart.shots.iter().filter(|shot| shot.1 == through).count();
        let y = panel.rect.top + row * panel.rect.height();
        let mut taken: Vec<(f64, usize)> = Vec::new();
        for (size, _) in chart.shots.iter().filter(|shot| shot.1 == through) {
            let at = math::log10(size.max(1e-12)).clamp(low, high);
            let (x, _) = panel.place((at, 0.0));
            let place = taken.iter().position(|spot| (spot.0 - x).abs() < 7.0);
            let stacked = match place {
                Some(place) => {
                    taken[place].1 += 1;
                    taken[place].1
                }
                None => {
                    taken.push((x, 0));
                    0
                }
            };
            if stacked >= STACK {
                continue;
            }
            let rim = Stroke::solid(palette.ember, 2.0);
            let fill = through.then(|| opaque(palette.ember));
            #[expect(clippy::cast_precision_loss, reason = "a few shots on one another")]
            let up = 7.0 * stacked as f64;
            canvas.round((x, y - up), 5.0, fill, Some(rim));
        }
        let words = match count {
            0 => format!("none {name}"),
            n => format!("{n} {name}"),
        };
        let text = small(words, canvas).halo(palette.halo);
        let places = [(panel.rect.left, y + 4.0), (panel.rect.right - text.width(), y + 4.0)];
        canvas.try_text(&places, &text);
    }
}

fn claimed(canvas: &Canvas, panel: &Panel, chart: &JudgementChart) {
    let palette = canvas.palette;
    let rim = Stroke::solid(palette.ember, 2.2);
    let fill = Some(veil(palette.ember, 0.30));
    panel.silhouette(curve(chart, &chart.claimed, most(&chart.claimed)), fill, None, rim);
    let name = Text::new("the claim's own blows", look::LABEL, palette.ember).bold();
    canvas.text((panel.rect.left, panel.rect.top - 8.0), name);
}

fn axis(canvas: &Canvas, panel: &Panel, chart: &JudgementChart) {
    let palette = canvas.palette;
    let (low, high) = chart.ends();
    let largest = math::exp(std::f64::consts::LN_10 * high);
    let scale = Scale::new(chart.dimension(), chart.show, largest);
    let bottom = panel.rect.bottom;
    canvas.line(
        &[(panel.rect.left, bottom), (panel.rect.right, bottom)],
        Stroke::solid(palette.ink, look::THIN),
    );
    for value in
        round(scale.unit.value(math::pow(10.0, low)), scale.unit.value(math::pow(10.0, high)))
    {
        let words = significant(value, 1);
        let (x, _) = panel.place((math::log10(scale.unit.si(value).max(1e-12)), 0.0));
        canvas.line(&[(x, bottom), (x, bottom + 5.0)], Stroke::solid(palette.ink, look::THIN));
        let text = small(words, canvas).middle();
        let half = text.width() / 2.0;
        let x = x.clamp(panel.rect.left + half, panel.rect.right - half);
        canvas.try_text(&[(x, bottom + 20.0)], &text);
    }
    let what = match chart.dimension() {
        Dimension::Speed => "speed",
        Dimension::Energy => "energy",
        _ => "times what the formula says",
    };
    let unit = scale.sign();
    let unit = if unit.is_empty() { unit } else { format!(", {unit}") };
    let text = small(format!("{what}{unit}; each step the same factor"), canvas).end();
    canvas.text((panel.rect.right, bottom + 38.0), text);
}

/// 1, 2 and 5 times the powers of ten in a range above 0; the powers alone, or
/// some of them, where that is many.
fn round(low: f64, high: f64) -> Vec<f64> {
    const MOST: usize = 10;
    let powers = || {
        let (first, last) = (math::log10(low).floor(), math::log10(high).ceil());
        (0..=40).map(move |i| first + f64::from(i)).take_while(move |power| *power <= last)
    };
    let within = |value: &f64| low <= *value && *value <= high;
    let fine = powers().flat_map(|p| [1.0, 2.0, 5.0].map(|lead| lead * math::pow(10.0, p)));
    let fine: Vec<f64> = fine.filter(within).collect();
    if fine.len() <= MOST {
        return fine;
    }
    let tens: Vec<f64> = powers().map(|p| math::pow(10.0, p)).filter(within).collect();
    let stride = tens.len().div_ceil(MOST).max(1);
    tens.into_iter().step_by(stride).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_log_axis_has_round_numbers() {
        assert_eq!(round(8.0, 120.0), [10.0, 20.0, 50.0, 100.0]);
        assert_eq!(round(0.5, 2e6).len(), 7);
    }

    #[test]
    fn shots_and_both_chances_are_on_it() {
        let svg = judgement(&sample::evidence::judgement(5, true), Frame::page()).svg();
        for words in
            ["strength after the shots", "stopped", "went through", "the claim's own blows"]
        {
            assert!(svg.contains(words), "{words}");
        }
        let split = judgement(&sample::evidence::judgement(5, false), Frame::page());
        assert!(split.title.contains("model and shots disagree"), "{}", split.title);
    }
}
