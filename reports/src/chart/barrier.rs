//! What arrives against what the barrier resists: two curves, where they
//! overlap, and the chance in it.

use super::{histogram::steps, nothing, small};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{BarrierFinding, Chance, Findings, Spread},
    math,
    quantity::{Dimension, Show, significant},
    scenario::Gate,
};

const HIGH: f64 = 200.0;
const SIDE: f64 = 14.0;
/// Room over the curves for their names, px.
const HEAD: f64 = 52.0;

/// Demand against resistance.
#[must_use]
pub fn barrier(findings: &Findings, frame: Frame) -> Picture {
    let Some(barrier) = &findings.barrier else {
        let (title, why) = if through(findings).is_some() {
            ("Nothing arrived at the barrier", "No flight struck, so there is no blow to compare.")
        } else {
            ("No barrier stands in the way", "The claim asks for nothing to be broken.")
        };
        return nothing("barrier", title, why, frame);
    };
    let (title, subtitle) = (title(barrier, findings), subtitle(barrier, findings));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + HEAD + HIGH + 44.0);
    let top = canvas.heading(&title, &subtitle) + HEAD;
    let rect = Rect { left: SIDE, top, right: width - SIDE, bottom: top + HIGH };
    let warp = Warp::new(barrier);
    let panel = canvas.panel(rect, warp.low..warp.high, 0.0..1.0);
    curves(&canvas, &panel, barrier, warp);
    names(&canvas, &panel, barrier, warp, findings.show);
    axis(&canvas, &panel, barrier, warp, findings.show);
    chance(&canvas, &panel, findings, barrier, warp);
    canvas.finish("barrier", &title, &description(barrier, findings))
}

/// The axis: straight, or logarithmic where the two are far apart.
#[derive(Clone, Copy)]
struct Warp {
    log: bool,
    low: f64,
    high: f64,
}

impl Warp {
    fn new(barrier: &BarrierFinding) -> Self {
        let (d, r) = (&barrier.demanded, &barrier.resisted);
        let low = d.quantiles[0].min(r.quantiles[0]);
        let high = d.max.max(r.max);
        let apart = (d.quantiles[3] / r.quantiles[3]).max(r.quantiles[3] / d.quantiles[3]);
        if low > 0.0 && apart > 12.0 {
            return Self { log: true, low: math::log10(low * 0.7), high: math::log10(high * 1.2) };
        }
        let low = d.min.min(r.min).min(0.0);
        let high = if cut_off(barrier) { most(barrier) } else { high };
        let high = if high > low { high } else { low + 1.0 };
        Self { log: false, low, high: high + 0.03 * (high - low) }
    }

    fn at(self, si: f64) -> f64 {
        let v = if self.log { math::log10(si.max(1e-300)) } else { si };
        v.clamp(self.low, self.high)
    }
}

/// What all but the highest hundredth of either curve stays below.
fn most(barrier: &BarrierFinding) -> f64 {
    barrier.demanded.quantiles[6].max(barrier.resisted.quantiles[6])
}

/// Whether a long thin tail is left out: on the whole of it the rest would be
/// pressed into a corner.
fn cut_off(barrier: &BarrierFinding) -> bool {
    let (d, r) = (&barrier.demanded, &barrier.resisted);
    d.max.max(r.max) > TAIL * most(barrier)
}

/// A tail of one in a hundred that is so many times as long as the rest.
const TAIL: f64 = 1.4;

/// Between the quantiles, the share that lies there: equal steps of a histogram
/// are no steps at all at the low end of a logarithmic axis.
fn shares(spread: &Spread) -> Vec<(f64, f64, f64)> {
    let [a, b, c, d, e, f, g] = spread.quantiles;
    let edges = [spread.min, a, b, c, d, e, f, g, spread.max];
    let parts = [0.01, 0.04, 0.20, 0.25, 0.25, 0.20, 0.04, 0.01];
    edges.windows(2).zip(parts).map(|(edge, part)| (edge[0], edge[1], part)).collect()
}

/// The stepped curve from the axis up and back, on the warped axis.
fn curve(spread: &Spread, warp: Warp) -> Vec<(f64, f64)> {
    let bins = if warp.log { shares(spread) } else { steps(spread) };
    let mut bins: Vec<(f64, f64, f64)> = bins
        .into_iter()
        .map(|(a, b, n)| {
            let (a, b) = (warp.at(a), warp.at(b));
            // On a logarithmic axis a density is a share per decade.
            (a, b, if warp.log && b > a { n / (b - a) } else { n })
        })
        .filter(|(a, b, _)| b > a)
        .collect();
    let most = bins.iter().map(|b| b.2).fold(0.0, f64::max);
    for bin in &mut bins {
        bin.2 *= if most > 0.0 { 0.94 / most } else { 0.0 };
    }
    let mut line: Vec<_> = bins.iter().flat_map(|&(a, b, h)| [(a, h), (b, h)]).collect();
    if let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) {
        line.insert(0, (first.0, 0.0));
        line.push((last.0, 0.0));
    }
    line
}

fn curves(canvas: &Canvas, panel: &Panel, barrier: &BarrierFinding, warp: Warp) {
    let palette = canvas.palette;
    let rim = Stroke::solid(palette.harbour, 2.2);
    let hatch = Some((veil(palette.harbour, 0.75), false));
    panel.silhouette(curve(&barrier.resisted, warp), None, hatch, rim);
    let rim = Stroke::solid(palette.ember, 2.2);
    let fill = Some(veil(palette.ember, 0.30));
    panel.silhouette(curve(&barrier.demanded, warp), fill, None, rim);
}

/// Each curve's name over its own half, side by side if they are close.
fn names(canvas: &Canvas, panel: &Panel, barrier: &BarrierFinding, warp: Warp, show: Show) {
    let palette = canvas.palette;
    let (dimension, _) = words::demand(barrier.demand);
    let half = |spread: &Spread| words::quantity(spread.quantiles[3], dimension, show);
    let peak = |spread: &Spread| panel.place((warp.at(spread.quantiles[3]), 0.0)).0;
    let demanded = format!("what arrives: half below {}", half(&barrier.demanded));
    let how = if barrier.lower_bound { "at least" } else { "half below" };
    let resisted = format!("what {} resists: {how} {}", holder(barrier), half(&barrier.resisted));
    let first = peak(&barrier.demanded) <= peak(&barrier.resisted);
    let middle = canvas.width() / 2.0;
    let mut both = [
        (demanded, &barrier.demanded, palette.ember),
        (resisted, &barrier.resisted, palette.harbour),
    ];
    if !first {
        both.reverse();
    }
    // The left one in its half; the other as near to its curve as that leaves.
    let (mut low, mut most) = (SIDE, middle - 8.0);
    for (words, spread, ink) in both {
        let words = font::fit(&words, Weight::Bold, look::LABEL, middle - SIDE - 8.0);
        let text = Text::new(words, look::LABEL, ink).bold();
        let (width, x) = (text.width(), peak(spread));
        let at = (x - width / 2.0).clamp(low, (most - width).max(low));
        (low, most) = (at + width + 22.0, canvas.width() - SIDE);
        let y = panel.rect.top - 18.0;
        canvas.text((at, y), text);
        let foot =
            [(x.clamp(at, at + width), y + 6.0), (x, panel.rect.top), (x, panel.rect.bottom)];
        canvas.line(&foot, Stroke::solid(ink, look::THIN).dashed(look::MISSED));
    }
}

/// What resists: the barrier by its name, or the face where it has none.
fn holder(barrier: &BarrierFinding) -> String {
    let name = if barrier.name == "as told" { &barrier.face } else { &barrier.name };
    format!("the {}", name.replace('_', " "))
}

/// The chance that it goes through, large, over the lowest stretch of the
/// curves between their halves.
fn chance(
    canvas: &Canvas,
    panel: &Panel,
    findings: &Findings,
    barrier: &BarrierFinding,
    warp: Warp,
) {
    let Some(chance) = through(findings) else { return };
    let palette = canvas.palette;
    let number = Text::new(words::number(chance), 30.0, palette.ink).bold().middle();
    let words = if chance.at_most { "go through, at most" } else { "go through" };
    let below = Text::new(words, look::LABEL, palette.ink).middle();
    let half = (number.width().max(below.width()) / 2.0) + 8.0;
    let lines = [curve(&barrier.demanded, warp), curve(&barrier.resisted, warp)];
    let at = |s: &Spread| panel.place((warp.at(s.quantiles[3]), 0.0)).0;
    let (a, b) = (at(&barrier.demanded), at(&barrier.resisted));
    let middle = f64::midpoint(a, b);
    // Where the curves reach highest under the words, px from the top.
    let free = |x: f64| {
        let tops = lines.iter().flatten().map(|p| panel.place(*p));
        let near = tops.filter(|p| (p.0 - x).abs() <= half + 4.0);
        near.map(|p| p.1).fold(panel.rect.bottom, f64::min)
    };
    let spots = (0..=60).map(|i| half + f64::from(i) / 60.0 * (canvas.width() - 2.0 * half));
    let clear = |x: f64| (x - a).abs() > half && (x - b).abs() > half;
    let room = |x: &f64| clear(*x) && free(*x) > panel.rect.top + 58.0;
    let nearest = |x: &f64, y: &f64| (x - middle).abs().total_cmp(&(y - middle).abs());
    let Some(x) = spots.filter(room).min_by(nearest) else { return };
    let y = (free(x) - 34.0).min(panel.rect.top + 0.45 * panel.rect.height());
    canvas.text((x, y), number);
    canvas.text((x, y + 18.0), below);
}

fn axis(canvas: &Canvas, panel: &Panel, barrier: &BarrierFinding, warp: Warp, show: Show) {
    let (dimension, _) = words::demand(barrier.demand);
    let largest = barrier.demanded.quantiles[3].max(barrier.resisted.quantiles[3]);
    let scale = Scale::new(dimension, show, largest);
    let what = if dimension == Dimension::Speed { "speed" } else { "energy" };
    if warp.log {
        decades(canvas, panel, &scale, warp, what);
    } else {
        panel.x_axis(canvas, &scale, what);
    }
}

/// An axis on which each mark is ten times the last.
fn decades(canvas: &Canvas, panel: &Panel, scale: &Scale, warp: Warp, what: &str) {
    let palette = canvas.palette;
    let y = panel.rect.bottom;
    let line = Stroke::solid(palette.ink, look::THIN);
    canvas.line(&[(panel.rect.left, y), (panel.rect.right, y)], line);
    let unit = |power: f64| math::log10(scale.unit.value(math::pow(10.0, power)).max(1e-300));
    let (low, high) = (unit(warp.low), unit(warp.high));
    let stride = ((high - low) / 8.0).ceil().max(1.0);
    let mut power = low.ceil();
    while power <= high {
        let value = math::pow(10.0, power);
        let x = panel.place((warp.at(scale.unit.si(value)), 0.0)).0;
        canvas.line(&[(x, y), (x, y + 5.0)], line);
        let text = Text::new(significant(value, 1), look::TICK, palette.ink).middle();
        let half = text.width() / 2.0;
        canvas.text((x.clamp(half, canvas.width() - half), y + 19.0), text);
        power += stride;
    }
    let title = small(format!("{what}, {}; each mark ten times the last", scale.sign()), canvas);
    canvas.text((panel.rect.right, y + 37.0), title.end());
}

fn through(findings: &Findings) -> Option<&Chance> {
    findings.gates.iter().find(|g| g.gate == Gate::Perforates).map(|g| &g.given_before)
}

fn title(barrier: &BarrierFinding, findings: &Findings) -> String {
    let (dimension, _) = words::demand(barrier.demand);
    let show = findings.show;
    let half = |spread: &Spread| words::quantity(spread.quantiles[3], dimension, show);
    let (arrives, resists) = (half(&barrier.demanded), half(&barrier.resisted));
    let least = if barrier.lower_bound { "at least " } else { "" };
    let compare = format!("{arrives} typically arrives against {least}{resists}");
    match through(findings) {
        Some(c) => {
            format!(
                "{} of what comes to the barrier goes through: {compare}",
                words::capital(&words::estimate(c))
            )
        }
        None => compare,
    }
}

fn subtitle(barrier: &BarrierFinding, findings: &Findings) -> String {
    let (_, measured) = words::demand(barrier.demand);
    let known = through(findings).map_or_else(String::new, |chance| {
        format!(" Of what comes to it, {} goes through.", words::known(chance))
    });
    let warp = Warp::new(barrier);
    let tail = if !warp.log && cut_off(barrier) {
        " At most one in a hundred of either lies beyond the frame."
    } else {
        ""
    };
    format!(
        "Both as {measured}, over {} that struck {}. Each curve to its own height; where they overlap, some go through.{known}{tail}",
        words::flights(barrier.demanded.count),
        words::place(&barrier.face)
    )
}

fn description(barrier: &BarrierFinding, findings: &Findings) -> String {
    let chance = through(findings).map_or_else(String::new, |c| format!(" ({})", words::known(c)));
    format!(
        "Two curves over one axis: what arrives (filled) and what {} resists (hatched). {}{chance}. \
         The strength is from: {}.",
        holder(barrier),
        title(barrier, findings),
        barrier.source
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_long_thin_tail_is_left_out_and_said_to_be() {
        let mut findings = sample::ordinary();
        let said = |findings: &Findings| barrier(findings, Frame::page()).head.subtitle;
        assert!(!said(&findings).contains("beyond the frame"));
        let barrier = findings.barrier.as_mut().unwrap();
        let most = most(barrier);
        barrier.resisted.max = 10.0 * most;
        let warp = Warp::new(barrier);
        assert!(!warp.log && warp.high < 1.1 * most, "{} {most}", warp.high);
        assert!(said(&findings).contains("At most one in a hundred of either lies beyond"));
    }
}
