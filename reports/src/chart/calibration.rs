//! A launcher's curve with its band, and the shots on it.

use super::small;
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
};
use longodds_sim::{
    quantity::{Dimension, Show, format},
    rig::calibrate::{CurvePoint, NextShot, ShotFit},
};

const LEFT: f64 = 70.0;
const HIGH: f64 = 330.0;

/// What the chart needs to be told. SI units.
#[derive(Debug)]
pub struct CalibrationChart<'a> {
    /// The rig's name.
    pub rig: &'a str,
    /// What the setting is called.
    pub setting_name: &'a str,
    /// What it measures.
    pub dimension: Dimension,
    /// Units of display.
    pub show: Show,
    /// The curve with its band.
    pub curve: &'a [CurvePoint],
    /// The shots.
    pub shots: &'a [ShotFit],
    /// The next setting, if a speed is wanted.
    pub next: Option<&'a NextShot>,
}

/// Draws the curve with its 95 % band, the shots on it, and the next setting.
#[must_use]
pub fn calibration(chart: &CalibrationChart<'_>, frame: Frame) -> Picture {
    let (title, subtitle) = (title(chart), subtitle(chart));
    let width = f64::from(frame.width);
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 24.0 + HIGH + 52.0);
    let top = canvas.heading(&title, &subtitle) + 24.0;
    let rect = Rect { left: LEFT, top, right: width - 14.0, bottom: top + HIGH };
    let (x, y) = ranges(chart);
    let panel = canvas.panel(rect, 0.0..x, 0.0..y);
    panel.y_axis(&canvas, &Scale::new(Dimension::Speed, chart.show, y), "speed");
    panel.x_axis(&canvas, &Scale::new(chart.dimension, chart.show, x), chart.setting_name);
    band(&canvas, &panel, chart);
    shots(&canvas, &panel, chart);
    next(&canvas, &panel, chart);
    canvas.finish("calibration", &title, &subtitle)
}

fn title(chart: &CalibrationChart<'_>) -> String {
    let setting = |s: f64| format(s, chart.dimension, chart.show);
    let speed = |v: f64| format(v, Dimension::Speed, chart.show);
    match chart.next {
        Some(next) => format!(
            "{}: a {} of {} should give {} to {}",
            chart.rig,
            chart.setting_name,
            setting(next.setting),
            speed(next.speed[0]),
            speed(next.speed[2])
        ),
        None => format!("{}: speed by its {}", chart.rig, chart.setting_name),
    }
}

fn subtitle(chart: &CalibrationChart<'_>) -> String {
    let strangers = chart.shots.iter().filter(|shot| !shot.fits).count();
    let odd = match strangers {
        0 => String::new(),
        1 => ", one of which does not fit".to_owned(),
        n => format!(", {n} of which do not fit"),
    };
    format!("Band: 95 in 100 true speeds. {} shots{odd}.", chart.shots.len())
}

fn ranges(chart: &CalibrationChart<'_>) -> (f64, f64) {
    let settings = chart.curve.iter().map(|point| point.setting);
    let speeds = chart.curve.iter().map(|point| point.speed[2]);
    let shots = chart.shots.iter().map(|shot| shot.speed);
    let x = settings.fold(0.0, f64::max);
    let y = speeds.chain(shots).fold(0.0, f64::max);
    (if x > 0.0 { x } else { 1.0 }, if y > 0.0 { 1.08 * y } else { 1.0 })
}

fn band(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart<'_>) {
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

fn shots(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart<'_>) {
    let palette = canvas.palette;
    for shot in chart.shots {
        let at = panel.place((shot.setting, shot.speed));
        let rim = Stroke::solid(palette.ember, 2.0);
        let fill = shot.fits.then(|| opaque(palette.ember));
        canvas.round(at, 5.0, fill, Some(rim));
        let words =
            if shot.fits { shot.name.clone() } else { format!("{}: does not fit", shot.name) };
        canvas.text((at.0 + 9.0, at.1 + 14.0), small(words, canvas).halo(palette.halo));
    }
}

fn next(canvas: &Canvas, panel: &Panel, chart: &CalibrationChart<'_>) {
    let Some(next) = chart.next else { return };
    let palette = canvas.palette;
    let (x, y) = panel.place((next.setting, next.speed[1]));
    let line = Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED);
    canvas.line(&[(x, panel.rect.bottom), (x, y), (panel.rect.left, y)], line);
    let words = format!("next: {}", format(next.setting, chart.dimension, chart.show));
    let text = Text::new(words, look::LABEL, palette.ink).bold().halo(palette.halo).end();
    canvas.text((x - 8.0, panel.rect.bottom - 10.0), text);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_band_the_shots_and_the_next_setting_are_on_it() {
        let curve: Vec<CurvePoint> = (1..=10)
            .map(|i| {
                let setting = 0.2 * f64::from(i);
                let v = 10.0 * setting;
                CurvePoint { setting, speed: [0.9 * v, v, 1.1 * v] }
            })
            .collect();
        let shot = |name: &str, fits| ShotFit {
            name: name.into(),
            setting: 1.0,
            speed: 10.0,
            expected: [9.0, 10.0, 11.0],
            chance: 0.5,
            fits,
        };
        let next = NextShot {
            setting: 1.6,
            speed: [14.0, 16.0, 18.0],
            chance_within: 0.8,
            tried_to: Some(1.0),
            beyond_tried: true,
            limits_kept: true,
        };
        let shots = [shot("one", true), shot("two", false)];
        let picture = calibration(
            &CalibrationChart {
                rig: "crossbow",
                setting_name: "pull-back",
                dimension: Dimension::Length,
                show: Show::Si,
                curve: &curve,
                shots: &shots,
                next: Some(&next),
            },
            Frame::page(),
        );
        let svg = picture.svg();
        assert!(svg.contains("does not fit") && svg.contains("next: 1.6 m"));
        assert!(picture.title.contains("14 m/s to 18 m/s"), "{}", picture.title);
    }
}
