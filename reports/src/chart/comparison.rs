//! A claim against a rig: their strikes side by side, and the launch speeds
//! that cover the claim.

use super::small;
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Rect, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{CompareFindings, CoverSpeed, Known, MeasureRow},
    quantity::{Dimension, Show},
};

const LEFT: f64 = 196.0;
const RIGHT: f64 = 28.0;
/// Height of one measure: two bars, an axis, and its numbers.
const ROW: f64 = 114.0;
/// Height of one covering speed.
const COVER: f64 = 26.0;

/// Draws the strikes of both sides and the covering speeds.
#[must_use]
pub fn comparison(record: &CompareFindings, frame: Frame) -> Picture {
    let (title, subtitle) = (title(record), subtitle(record));
    let width = f64::from(frame.width);
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(0));
    let covers = record.covers.as_ref().map_or(&[][..], |c| &c.speeds);
    let foot = if covers.is_empty() { 8.0 } else { 60.0 + COVER * count(covers.len()) + 52.0 };
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 14.0 + ROW * count(record.measures.len()) + foot);
    let mut y = canvas.heading(&title, &subtitle) + 14.0;
    for row in &record.measures {
        measure(&canvas, row, record.show, y);
        y += ROW;
    }
    if let Some(found) = record.covers.as_ref().filter(|c| !c.speeds.is_empty()) {
        speeds(&canvas, &found.input, &found.speeds, record.show, y);
    }
    canvas.finish("compare", &title, &description(record))
}

/// One measure: the claim over the rig, nine in ten and the middle of each.
fn measure(canvas: &Canvas, row: &MeasureRow, show: Show, top: f64) {
    let palette = canvas.palette;
    let dimension = words::dimension(&row.dimension);
    canvas.line(&[(0.0, top), (canvas.width(), top)], Stroke::solid(palette.rule, look::HAIR));
    let name = font::wrap(&words::capital(&row.measure), Weight::Bold, look::LABEL, LEFT - 74.0);
    for (line, y) in name.iter().zip([22.0, 40.0, 58.0]) {
        canvas.text((0.0, top + y), Text::new(line, look::LABEL, palette.ink).bold());
    }
    let high = row.claim[2].max(row.rig[2]);
    let low = row.claim[0].min(row.rig[0]).min(0.0);
    let high = if high > low { high + 0.04 * (high - low) } else { low + 1.0 };
    let bottom = top + 62.0;
    let rect = Rect { left: LEFT, top: top + 6.0, right: canvas.width() - RIGHT, bottom };
    let panel = canvas.panel(rect, low..high, 0.0..1.0);
    for (side, values, y, hatched) in
        [("claim", row.claim, top + 18.0, false), ("rig", row.rig, top + 44.0, true)]
    {
        let x = values.map(|v| panel.place((v, 0.0)).0);
        let ink = if hatched { palette.harbour } else { palette.ember };
        let bar = Rect { left: x[0], top: y - 8.0, right: x[2].max(x[0] + 1.0), bottom: y + 8.0 };
        let hatch = hatched.then(|| (veil(ink, 0.75), false));
        let fill = Some(veil(ink, if hatched { 0.08 } else { 0.3 }));
        canvas.shape(&bar.corners(), fill, hatch, Some(Stroke::solid(ink, look::LINE)));
        let pen = Stroke::solid(palette.ink, look::HEAVY);
        canvas.line(&[(x[1], y - 11.0), (x[1], y + 11.0)], pen);
        canvas.text((LEFT - 10.0, y + 5.0), Text::new(side, look::LABEL, ink).bold().end());
    }
    let scale = Scale::new(dimension, show, low.abs().max(high.abs()));
    numbers(canvas, &panel, &scale);
    let difference = small(said(row, show), canvas);
    canvas.text((LEFT, bottom + 38.0), difference);
}

/// An axis with its unit behind the numbers.
fn numbers(canvas: &Canvas, panel: &crate::canvas::Panel, scale: &Scale) {
    let palette = canvas.palette;
    let pen = Stroke::solid(palette.ink, look::THIN);
    let (y, right) = (panel.rect.bottom, panel.rect.right);
    canvas.line(&[(panel.rect.left, y), (right, y)], pen);
    let ticks = scale.ticks(panel.x.start, panel.x.end, panel.rect.width() / 90.0);
    let last = ticks.len().saturating_sub(1);
    for (i, (value, label)) in ticks.into_iter().enumerate() {
        let x = panel.place((value, 0.0)).0;
        canvas.line(&[(x, y), (x, y + 4.0)], pen);
        let sign = scale.sign();
        let words = match (i == last, sign.as_str()) {
            (true, "°") => format!("{label}°"),
            (true, sign) if !sign.is_empty() => format!("{label} {sign}"),
            _ => label,
        };
        let text = Text::new(words, look::TICK, palette.ink).middle();
        let half = text.width() / 2.0;
        canvas.text((x.min(canvas.width() - half), y + 18.0), text);
    }
}

/// The difference of the middles in words.
fn said(row: &MeasureRow, show: Show) -> String {
    let dimension = words::dimension(&row.dimension);
    let say = |v: f64| words::quantity(v.abs(), dimension, show);
    let d = &row.difference;
    if d.low <= 0.0 && 0.0 <= d.high {
        let most = say(d.low.abs().max(d.high.abs()));
        return format!("no difference seen in the middle (at most {most} either way)");
    }
    let [near, far] = if d.estimate > 0.0 { [d.low, d.high] } else { [d.high, d.low] };
    let side = if d.estimate > 0.0 { "more" } else { "less" };
    format!("the rig's middle is {} {side} ({} to {})", say(d.estimate), say(near), say(far))
}

/// Launch speeds that make the rig's middle shot as hard as a share of the
/// claim.
fn speeds(canvas: &Canvas, input: &str, list: &[CoverSpeed], show: Show, top: f64) {
    let palette = canvas.palette;
    canvas.line(&[(0.0, top), (canvas.width(), top)], Stroke::solid(palette.ink, look::LINE));
    let words =
        "Launch speed for the rig's middle shot to strike as hard as so many of the claim's:";
    canvas.text((0.0, top + 24.0), Text::new(words, look::LABEL, palette.ink).bold());
    let top = top + 40.0;
    let all = list.iter().flat_map(|c| [c.speed, c.low, c.high]).flatten();
    let (low, high) =
        all.fold((f64::INFINITY, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
    let count = f64::from(u32::try_from(list.len()).unwrap_or(0));
    let bottom = top + COVER * count + 4.0;
    let rect = Rect { left: LEFT, top, right: canvas.width() - 150.0, bottom };
    let (low, high) = if low < high { (low, high) } else { (0.0, 1.0_f64.max(high)) };
    let pad = 0.08 * (high - low);
    let panel = canvas.panel(rect, (low - pad).max(0.0)..high + pad, 0.0..1.0);
    let scale = Scale::new(Dimension::Speed, show, high);
    panel.x_axis(canvas, &scale, input);
    for (cover, i) in list.iter().zip(0_u32..) {
        one(canvas, &panel, cover, show, top + COVER * (f64::from(i) + 0.5));
    }
}

fn one(canvas: &Canvas, panel: &crate::canvas::Panel, cover: &CoverSpeed, show: Show, y: f64) {
    let palette = canvas.palette;
    let share = words::quantity(cover.share, Dimension::Ratio, show);
    canvas.text((LEFT - 10.0, y + 5.0), Text::new(share, look::LABEL, palette.ink).end());
    let say = |v: f64| words::quantity(v, Dimension::Speed, show);
    let words = match (cover.speed, cover.below) {
        (Some(speed), _) => say(speed),
        (None, Some(slowest)) => format!("under {}", say(slowest)),
        (None, None) => "out of reach".to_owned(),
    };
    let text = Text::new(words, look::LABEL, palette.ink).bold().end();
    canvas.text((canvas.width(), y + 5.0), text);
    let Some(speed) = cover.speed else { return };
    let x = |v: f64| panel.place((v, 0.0)).0;
    let pen = Stroke::solid(palette.harbour, look::LINE);
    let (low, high) = (cover.low.unwrap_or(speed), cover.high.unwrap_or(panel.x.end));
    canvas.line(&[(x(low), y), (x(high), y)], pen);
    for end in [cover.low, cover.high].into_iter().flatten() {
        canvas.line(&[(x(end), y - 5.0), (x(end), y + 5.0)], pen);
    }
    canvas.round((x(speed), y), 4.6, Some(opaque(palette.harbour)), None);
}

fn title(record: &CompareFindings) -> String {
    let Known { estimate, low, high } = record.as_hard;
    let share = words::inside([estimate, low, high]);
    let hard = "at least as hard as the claimed thing";
    if share.is_one() {
        return format!("{share} shots of the rig strikes {hard}");
    }
    format!("A shot of the rig strikes {hard} {} of the time", share.set())
}

fn subtitle(record: &CompareFindings) -> String {
    let hard = &record.as_hard;
    format!(
        "{} at 95 % confidence. Bars: nine in ten strikes and the middle; {} of the claim, {} of the rig.",
        words::capital(&words::between([hard.low, hard.high])),
        words::count(record.strikes.claim),
        words::count(record.strikes.rig)
    )
}

fn description(record: &CompareFindings) -> String {
    let row = |row: &MeasureRow| {
        let dimension = words::dimension(&row.dimension);
        let say = |v: [f64; 3]| {
            let [low, middle, high] = v.map(|v| words::quantity(v, dimension, record.show));
            format!("{middle} ({low} to {high})")
        };
        format!("{}: claim {}, rig {}", row.measure, say(row.claim), say(row.rig))
    };
    let rows: Vec<String> = record.measures.iter().map(row).collect();
    format!("{}. {}.", title(record), rows.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_difference_that_may_be_none_is_not_called_one() {
        let record = sample::comparison();
        assert!(said(&record.measures[0], Show::Si).starts_with("the rig's middle is"));
        assert!(said(&record.measures[2], Show::Si).starts_with("no difference seen"));
    }

    #[test]
    fn what_is_out_of_reach_is_said() {
        let picture = comparison(&sample::comparison(), Frame::page());
        let texts = picture.texts();
        assert!(texts.iter().any(|t| t.text == "out of reach"));
        assert!(texts.iter().any(|t| t.text == "99 %"));
    }
}
