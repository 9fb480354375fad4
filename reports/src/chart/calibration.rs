//! A launcher's curve with its band, and the shots on it.

use super::small;
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    quantity::{Dimension, Show, format},
    rig::calibrate::{CurvePoint, NextShot, ShotFit},
};
use serde::Deserialize;

const LEFT: f64 = 70.0;
const HIGH: f64 = 330.0;
/// Most shots that are all named.
const NAMED: usize = 12;

/// A launcher fitted to its shots. SI units.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CalibrationChart {
    /// The rig's name.
    pub rig: String,
    /// What the setting is called.
    #[serde(rename = "setting")]
    pub setting_name: String,
    /// What it measures.
    pub dimension: String,
    /// Units of display.
    pub show: Show,
    /// The curve with its band.
    pub curve: Vec<CurvePoint>,
    /// The shots.
    pub shots: Vec<ShotFit>,
    /// The next setting, if a speed is wanted.
    #[serde(default)]
    pub next: Option<NextShot>,
}

impl CalibrationChart {
    fn dimension(&self) -> Dimension {
        words::dimension(&self.dimension)
    }
}

/// Draws the curve with its 95 % band, the shots on it, and the next setting.
#[must_use]
pub fn calibration(chart: &CalibrationChart, frame: Frame) -> Picture {
    let (title, subtitle) = (title(chart), subtitle(chart));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 24.0 + HIGH + 52.0);
    let top = canvas.heading(&title, &subtitle) + 24.0;
    let rect = Rect { left: LEFT, top, right: width - 14.0, bottom: top + HIGH };
    let (x, y) = ranges(chart);
    let panel = canvas.panel(rect, 0.0..x, 0.0..y);
    panel.y_axis(&canvas, &Scale::new(Dimension::Speed, chart.show, y), "speed");
    panel.x_axis(&canvas, &Scale::new(chart.dimension(), chart.show, x), &chart.setting_name);
    band(&canvas, &panel, chart);
    shots(&canvas, &panel, chart);
    next(&canvas, &panel, chart);
    names(&canvas, &panel, chart);
    canvas.finish("calibration", &title, &subtitle)
}

fn title(chart: &CalibrationChart) -> String {
    let setting = |s: f64| format(s, chart.dimension(), chart.show);
    let speed = |v: f64| format(v, Dimension::Speed, chart.show);
    match &chart.next {
        Some(next) => format!(
            "{}: a {} of {} should give {} to {}",
            chart.rig,
            chart.setting_name,
            setting(next.setting),
            speed(next.speed[0]),
            speed(next.speed[2])
        ),
        None => match (chart.curve.first(), chart.curve.last()) {
            (Some(first), Some(last)) => format!(
                "{}: from {} to {} of {} it should give {} to {}",
                chart.rig,
                setting(first.setting),
                setting(last.setting),
                chart.setting_name,
                speed(first.speed[1]),
                speed(last.speed[1])
            ),
            _ => format!("{}: there is no curve to draw", chart.rig),
        },
    }
}

fn subtitle(chart: &CalibrationChart) -> String {
    let strangers = chart.shots.iter().filter(|shot| !shot.fits).count();
    let odd = match strangers {
        0 => String::new(),
        1 => ", one of which does not fit".to_owned(),
        n => format!(", {n} of which do not fit"),
    };
    format!("Band: 95 in 100 true speeds. {} shots{odd}.", chart.shots.len())
}

fn ranges(chart: &CalibrationChart) -> (f64, f64) {
    let settings = chart.curve.iter().map(|point| point.setting);
    let speeds = chart.curve.iter().map(|point| point.speed[2]);
    let shots = chart.shots.iter().map(|shot| shot.speed);
    let x = settings.fold(0.0, f64::max);
    let y = speeds.chain(shots).fold(0.0, f64::max);
    (if x > 0.0 { x } else { 1.0 }, if y > 0.0 { 1.08 * y } else { 1.0 })
}

fn band(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart) {
    let palette = canvas.palette;
    let edge = |i: usize| chart.curve.iter().map(move |point| (point.setting, point.speed[i]));
    let mut outline: Vec<(f64, f64)> = edge(2).collect();
    let mut lower: Vec<(f64, f64)> = edge(0).collect();
    lower.reverse();
    outline.extend(lower);
    panel.shape(&outline, Some(veil(palette.harbour, 0.18)), None, None);
    let tried = chart.shots.iter().map(|shot| shot.setting).fold(0.0, f64::max);
    let line = Stroke::solid(palette.harbour, look::HEAVY);
    let (within, beyond): (Vec<_>, Vec<_>) = edge(1).partition(|point| point.0 <= tried);
    panel.line(&within, line);
    // What was not tried is dashed: the band there is an extrapolation.
    let joined: Vec<(f64, f64)> = within.last().copied().into_iter().chain(beyond).collect();
    panel.line(&joined, line.dashed(look::MISSED));
}

fn shots(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart) {
    let palette = canvas.palette;
    for shot in &chart.shots {
        let at = panel.place((shot.setting, shot.speed));
        let rim = Stroke::solid(palette.ember, 2.0);
        let fill = shot.fits.then(|| opaque(palette.ember));
        canvas.round(at, 5.0, fill, Some(rim));
    }
}

/// The shots' names where there is room, first of those that do not fit.
fn names(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart) {
    let (well, ill): (Vec<&ShotFit>, Vec<&ShotFit>) = chart.shots.iter().partition(|s| s.fits);
    // Among many, names would cover the shots themselves.
    let well = if chart.shots.len() > NAMED { Vec::new() } else { well };
    for shot in ill.into_iter().chain(well) {
        let words =
            if shot.fits { shot.name.clone() } else { format!("{}: does not fit", shot.name) };
        let words = font::fit(&words, Weight::Regular, look::TICK, 0.3 * canvas.width());
        let text = small(words, canvas).halo(canvas.palette.halo);
        let (x, y) = panel.place((shot.setting, shot.speed));
        let left = x - 9.0 - text.width();
        let places = [(x + 9.0, y + 14.0), (left, y - 5.0), (x + 9.0, y - 5.0), (left, y + 14.0)];
        canvas.try_text(&places, &text);
    }
}

fn next(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart) {
    let Some(next) = &chart.next else { return };
    let palette = canvas.palette;
    let (x, y) = panel.place((next.setting, next.speed[1]));
    let line = Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED);
    canvas.line(&[(x, panel.rect.bottom), (x, y), (panel.rect.left, y)], line);
    let words = format!("next: {}", format(next.setting, chart.dimension(), chart.show));
    let text = Text::new(words, look::LABEL, palette.ink).bold().halo(palette.halo);
    let (left, low) = (x - 8.0 - text.width(), panel.rect.bottom - 10.0);
    let places = [(left, low), (x + 8.0, low), (left, y - 12.0), (left, panel.rect.top + 18.0)];
    canvas.try_text(&places, &text);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_band_the_shots_and_the_next_setting_are_on_it() {
        let picture = calibration(&sample::evidence::calibration(5), Frame::page());
        let svg = picture.svg();
        assert!(svg.contains("does not fit") && svg.contains("next: 6 ft 6.7 in"));
        assert!(picture.title.contains("35.8 mph to 44.7 mph"), "{}", picture.title);
    }
}
