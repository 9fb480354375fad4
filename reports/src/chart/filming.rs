//! Where a camera stands, from above: the zone, the track, the field that it sees.

use super::{
    small,
    view::{self, View, Window},
};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
};
use longodds_sim::{
    filming::{Lane, Looks, Stand, View as Seen, Zone},
    findings::Findings,
    math::{cos, sin},
    quantity::{Dimension, Show, format, significant},
    words::Spoken,
};
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;

/// Room to the left of the plan, px.
const LEFT: f64 = 62.0;
/// Largest side of the plan, px.
const TALL: f64 = 430.0;
/// Corners of a drawn circle.
const CORNERS: u32 = 180;

/// A camera's place and what it sees of a claim's strike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FilmingChart {
    /// Units of display.
    pub show: Show,
    /// The way of what strikes.
    pub lane: Lane,
    /// The zone that nobody stands in, if it was told.
    pub zone: Option<Zone>,
    /// Where the camera stands.
    pub stand: Stand,
    /// What it sees.
    pub view: Seen,
    /// What of the track has to be seen.
    pub looks: Looks,
}

impl FilmingChart {
    fn field(&self) -> [[f64; 2]; 2] {
        self.lane.field(self.view.field, self.looks)
    }
}

/// The plan of a camera's place.
#[must_use]
pub fn filming(chart: &FilmingChart, findings: &Findings, frame: Frame) -> Picture {
    let (title, subtitle) = (title(chart), subtitle(chart));
    let width = f64::from(frame.width);
    let window = window(chart, findings);
    let scale = ((width - LEFT - 16.0) / window.wide()).min(TALL / window.high());
    let top = heading_height(width, &title, &subtitle) + 14.0;
    let canvas = Canvas::new(frame, top + window.high() * scale + 46.0);
    canvas.heading(&title, &subtitle);
    let panel = window.panel(&canvas, LEFT, top, scale);
    let length = |range: &std::ops::Range<f64>| {
        Scale::new(Dimension::Length, chart.show, range.start.abs().max(range.end.abs()))
    };
    panel.y_axis(&canvas, &length(&panel.y), "to the left");
    if let Some(zone) = &chart.zone {
        zoned(&canvas, &panel, zone);
    }
    panel.x_axis(&canvas, &length(&panel.x), "downrange");
    seen(&canvas, &panel, chart);
    view::scene(&canvas, &panel, findings, View::Plan);
    track(&canvas, &panel, chart);
    named(&canvas, &panel, chart);
    set_to(&canvas, (panel.rect.right + 22.0, top + 18.0), chart);
    canvas.finish("camera", &title, &subtitle)
}

fn title(chart: &FilmingChart) -> String {
    let say = |length: f64| format(length, Dimension::Length, chart.show);
    let side = if chart.stand.left { "left" } else { "right" };
    format!(
        "Camera {} to the {side} of the track, {} of it in the picture",
        say(chart.stand.distance),
        say(chart.view.field)
    )
}

fn subtitle(chart: &FilmingChart) -> String {
    let say = |length: f64| format(length, Dimension::Length, chart.show);
    match (&chart.zone, chart.stand.clear) {
        (Some(zone), Some(clear)) if clear >= 0.0 => format!(
            "From above, to scale. {} of debris goes beyond the circle; the camera stands {} outside it.",
            Spoken::OneIn(zone.one_in),
            say(clear)
        ),
        (Some(_), Some(clear)) => format!(
            "From above, to scale. INSIDE THE ZONE by {}: by remote control only, with nobody at it.",
            say(-clear)
        ),
        _ => "From above, to scale. No zone is told: where anybody may stand is not known."
            .to_owned(),
    }
}

fn window(chart: &FilmingChart, findings: &Findings) -> Window {
    let mut window = Window::new();
    let at = chart.stand.at;
    window.include((at[0], at[1]));
    window.include((chart.lane.at[0], chart.lane.at[1]));
    for [x, y] in chart.field() {
        window.include((x, y));
    }
    for corner in findings.faces.iter().filter(|face| face.aim).flat_map(view::face) {
        window.include((corner[0], corner[1]));
    }
    if let Some(zone) = &chart.zone {
        let [x, y] = zone.centre;
        window.include((x - zone.radius, y - zone.radius));
        window.include((x + zone.radius, y + zone.radius));
    }
    window.padded(0.08, 0.5)
}

fn zoned(canvas: &Canvas, panel: &Panel, zone: &Zone) {
    let point = |i: u32| {
        let angle = TAU * f64::from(i) / f64::from(CORNERS);
        (zone.centre[0] + zone.radius * cos(angle), zone.centre[1] + zone.radius * sin(angle))
    };
    let circle: Vec<_> = (0..=CORNERS).map(point).collect();
    let ember = canvas.palette.ember;
    panel.shape(&circle, Some(veil(ember, 0.10)), None, None);
    panel.line(&circle, Stroke::solid(ember, look::LINE));
}

/// The cone that the lens sees.
fn seen(canvas: &Canvas, panel: &Panel, chart: &FilmingChart) {
    let at = (chart.stand.at[0], chart.stand.at[1]);
    let [from, to] = chart.field().map(|[x, y]| (x, y));
    let ink = canvas.palette.ink;
    panel.shape(&[at, from, to], Some(veil(ink, 0.08)), None, None);
    for end in [from, to] {
        panel.line(&[at, end], Stroke::solid(ink, look::HAIR));
    }
}

fn track(canvas: &Canvas, panel: &Panel, chart: &FilmingChart) {
    let [from, _] = chart.field().map(|[x, y]| (x, y));
    let strike = (chart.lane.at[0], chart.lane.at[1]);
    panel.line(&[from, strike], Stroke::solid(canvas.palette.ember, look::HEAVY));
    let (x, y) = panel.place(strike);
    canvas.round((x, y), 5.0, Some(opaque(canvas.palette.ember)), None);
}

/// Least room for a column of words, px.
const COLUMN: f64 = 190.0;

/// What the camera is set to, beside the plan where there is room.
fn set_to(canvas: &Canvas, (x, mut y): (f64, f64), chart: &FilmingChart) {
    if canvas.width() - x < COLUMN {
        return;
    }
    let view = &chart.view;
    let [_, middle, _] = view.frames;
    let lines = [
        format!("{} frames/s", significant(view.rate, 4)),
        format!("1/{} s", significant(1.0 / view.exposure, 3)),
        format!("{} frames before the strike", significant(middle.floor(), 3)),
        format!("object {} pixels long", significant(view.object, 3)),
    ];
    for (row, line) in lines.into_iter().enumerate() {
        let text = Text::new(line, look::LABEL, canvas.palette.ink);
        canvas.text((x, y), if row < 2 { text.bold() } else { text });
        y += 24.0;
    }
}

fn named(canvas: &Canvas, panel: &Panel, chart: &FilmingChart) {
    let palette = canvas.palette;
    let (x, y) = panel.place((chart.stand.at[0], chart.stand.at[1]));
    let half = 6.0;
    let square =
        [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)];
    canvas.area(&square, opaque(palette.ink));
    let camera = Text::new("camera", look::TICK, palette.ink).bold().halo(palette.halo);
    canvas.try_text(&[(x + 12.0, y + 5.0), (x - 60.0, y + 5.0), (x - 20.0, y - 12.0)], &camera);
    let (x, y) = panel.place((chart.lane.at[0], chart.lane.at[1]));
    let strike = small("strike", canvas).halo(palette.halo);
    canvas.try_text(&[(x + 12.0, y - 8.0), (x + 12.0, y + 18.0), (x - 48.0, y - 8.0)], &strike);
    if let Some(zone) = &chart.zone {
        let (x, y) = panel.place((zone.centre[0], zone.centre[1] + zone.radius));
        let words = small("nobody inside this line", canvas).halo(palette.halo).middle();
        canvas.try_text(&[(x, y + 18.0), (x, y + 34.0)], &words);
    }
}
