//! A distribution as a stepped outline, with its half and its nine in ten.

use super::small;
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    look::{self, Stroke, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::Spread,
    quantity::{Dimension, Show},
};

/// What a histogram needs to be told.
pub(super) struct Histogram<'a> {
    pub name: &'a str,
    pub title: String,
    pub subtitle: String,
    pub spread: &'a Spread,
    pub dimension: Dimension,
    pub show: Show,
    /// What the axis measures.
    pub what: &'a str,
    /// Whether 0 has a meaning of its own (inside the outline, square on), so
    /// that how far values lie from it has to be seen.
    pub from_zero: bool,
}

/// Where 0 means nothing of its own the axis begins near the values, if they
/// all lie beyond this share of the largest.
const FAR: f64 = 0.4;

const LEFT: f64 = 14.0;
const HIGH: f64 = 130.0;

/// Heights of the steps against the highest, with their edges.
pub(super) fn steps(spread: &Spread) -> Vec<(f64, f64, f64)> {
    let most = spread.counts.iter().copied().max().unwrap_or(0).max(1);
    #[expect(clippy::cast_precision_loss, reason = "for drawing")]
    let high = |n: u64| n as f64 / most as f64;
    let edges = spread.edges.windows(2);
    edges.zip(&spread.counts).map(|(edge, &n)| (edge[0], edge[1], high(n))).collect()
}

/// Draws it.
pub(super) fn draw(what: &Histogram<'_>, frame: Frame) -> Picture {
    let width = f64::from(frame.width);
    let top = heading_height(width, &what.title, &what.subtitle);
    let canvas = Canvas::new(frame, top + 34.0 + HIGH + 110.0);
    let top = canvas.heading(&what.title, &what.subtitle) + 34.0;
    let rect = Rect { left: LEFT, top, right: width - LEFT, bottom: top + HIGH };
    let (low, high) = range(what);
    let panel = canvas.panel(rect, low..high, 0.0..1.0);
    bars(&canvas, &panel, what.spread);
    axis(&canvas, &panel, what);
    brackets(&canvas, &panel, what);
    canvas.finish(what.name, &what.title, &description(what))
}

fn range(what: &Histogram<'_>) -> (f64, f64) {
    let edges = &what.spread.edges;
    let first = edges.first().copied().unwrap_or(0.0);
    let high = edges.last().copied().unwrap_or(1.0);
    let near = first - 0.25 * (high - first);
    let low = if !what.from_zero && first > FAR * high { near.max(0.0) } else { first.min(0.0) };
    if high - low > 1e-6 { (low, high + 0.02 * (high - low)) } else { (low - 0.5, low + 0.5) }
}

fn bars(canvas: &Canvas, panel: &Panel, spread: &Spread) {
    let palette = canvas.palette;
    let mut outline: Vec<_> =
        steps(spread).into_iter().flat_map(|(a, b, h)| [(a, h), (b, h)]).collect();
    if let (Some(first), Some(last)) = (outline.first().copied(), outline.last().copied()) {
        outline.insert(0, (first.0, 0.0));
        outline.push((last.0, 0.0));
    }
    let rim = Stroke::solid(palette.ember, look::LINE);
    panel.silhouette(outline, Some(veil(palette.ember, 0.22)), None, rim);
}

/// The median as a line with its label, and the middle nine in ten as a
/// bracket under the axis.
fn brackets(canvas: &Canvas, panel: &Panel, what: &Histogram<'_>) {
    let palette = canvas.palette;
    let q = what.spread.quantiles;
    let at = |v: f64| panel.place((v.clamp(panel.x.start, panel.x.end), 0.0)).0;
    let say = |v: f64| words::quantity(v, what.dimension, what.show);
    let line = Stroke::solid(palette.ink, look::LINE);
    let x = at(q[3]);
    canvas.line(&[(x, panel.rect.top - 14.0), (x, panel.rect.bottom)], line);
    // Where many values are the same there is none below.
    let lowest = q[3] <= what.spread.min;
    let half = match (what.spread.count, lowest) {
        (1, _) => "only one, at",
        (_, true) => "half or more at",
        (_, false) => "half below",
    };
    let text = Text::new(format!("{half} {}", say(q[3])), look::LABEL, palette.ink).bold();
    let width = text.width();
    let y = panel.rect.top - 9.0;
    let left = if x + 8.0 + width < canvas.width() { x + 8.0 } else { x - 8.0 - width };
    canvas.text((left, y), text);
    let y = panel.rect.bottom + 56.0;
    let (a, b) = (at(q[1]), at(q[5]).max(at(q[1]) + 1.0));
    canvas.line(&[(a, y - 5.0), (a, y), (b, y), (b, y - 5.0)], line);
    let words = if q[1] < q[5] {
        format!("nine in ten from {} to {}", say(q[1]), say(q[5]))
    } else {
        format!("nine in ten or more at {}", say(q[1]))
    };
    let text = Text::new(words, look::LABEL, palette.ink);
    let width = text.width();
    let x = (f64::midpoint(a, b) - width / 2.0).clamp(0.0, (canvas.width() - width).max(0.0));
    canvas.text((x, y + 20.0), text);
}

fn axis(canvas: &Canvas, panel: &Panel, what: &Histogram<'_>) {
    let palette = canvas.palette;
    let largest = panel.x.start.abs().max(panel.x.end.abs());
    let scale = Scale::new(what.dimension, what.show, largest);
    let y = panel.rect.bottom;
    let line = Stroke::solid(palette.ink, look::THIN);
    canvas.line(&[(panel.rect.left, y), (panel.rect.right, y)], line);
    // Under its numbers: beside them it would take the place of the last.
    let title = small(format!("{}, {}", what.what, scale.sign()), canvas).end();
    canvas.text((panel.rect.right, y + 37.0), title);
    let limit = canvas.width();
    let mut free = 0.0;
    for (value, label) in scale.ticks(panel.x.start, panel.x.end, panel.rect.width() / 80.0) {
        let x = panel.place((value, 0.0)).0;
        canvas.line(&[(x, y), (x, y + 5.0)], line);
        let text = Text::new(label, look::TICK, palette.ink).middle();
        let half = text.width() / 2.0;
        if x - half > free && x + half < limit {
            free = x + half + 6.0;
            canvas.text((x, y + 19.0), text);
        }
    }
}

fn description(what: &Histogram<'_>) -> String {
    let q = |i: usize| words::quantity(what.spread.quantiles[i], what.dimension, what.show);
    format!(
        "Histogram of {} over {}: half below {}, nine in ten from {} to {}.",
        what.what,
        words::flights(what.spread.count),
        q(3),
        q(1),
        q(5)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn an_axis_starts_near_the_values_only_where_0_means_nothing_of_its_own() {
        let mut spread = sample::ordinary().impact_speed.unwrap();
        let mut from = |first: f64, from_zero: bool| {
            spread.edges = vec![first, 16.0];
            let title = String::new();
            range(&Histogram {
                name: "impact-speed",
                title: title.clone(),
                subtitle: title,
                spread: &spread,
                dimension: Dimension::Speed,
                show: Show::Si,
                what: "speed on arrival",
                from_zero,
            })
            .0
        };
        assert!((from(12.0, false) - 11.0).abs() < 1e-12);
        assert!(from(12.0, true).abs() < 1e-12);
        assert!(from(2.0, false).abs() < 1e-12, "the values reach down to near 0");
    }

    #[test]
    fn the_last_number_of_an_axis_stands_at_its_tick() {
        let findings = sample::ordinary();
        let picture = super::super::impact_speed(&findings, Frame::page());
        let texts = picture.texts();
        let name = texts.iter().find(|t| t.text.starts_with("speed on arrival")).unwrap();
        let numbers = texts.iter().filter(|t| t.text.parse::<f64>().is_ok());
        assert!(numbers.clone().count() > 2);
        assert!(numbers.into_iter().all(|number| number.bottom < name.top + 4.0));
    }
}
