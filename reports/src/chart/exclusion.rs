//! Where debris lands, from above: how thickly, and how far only a few go.

use super::{small, view::Window};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    exclusion::{Exclusion, Measure},
    math::{cos, ln, sin},
    quantity::{Dimension, Show, format},
    words::Spoken,
};
use std::f64::consts::TAU;

/// Left of the map, px.
const LEFT: f64 = 62.0;
/// Room over the map for the axis' name, px.
const HEAD: f64 = 26.0;
/// Width of the column of words beside the map, px.
const BESIDE: f64 = 236.0;
/// Corners of a drawn circle.
const CORNERS: u32 = 180;
/// Length of the outward strokes of the line to keep behind, px.
const FENCE: f64 = 9.0;

/// A line round the release.
struct Ring {
    radius: f64,
    words: String,
    outermost: bool,
}

/// Draws the map of a claim's debris.
#[must_use]
pub fn exclusion(found: &Exclusion, show: Show, frame: Frame) -> Picture {
    let rings = rings(found, show);
    let (title, subtitle) = (title(found, show), subtitle(found));
    let width = f64::from(frame.width);
    let window = window(&rings);
    let room = (width - LEFT - BESIDE, f64::from(frame.height) - 60.0);
    let scale = (room.0 / window.wide()).min(room.1 / window.high());
    let body = HEAD + window.high() * scale + 46.0;
    let canvas = Canvas::new(frame, heading_height(width, &title, &subtitle) + body);
    let top = canvas.heading(&title, &subtitle) + HEAD;
    let panel = window.panel(&canvas, LEFT, top, scale);
    let length = |range: &std::ops::Range<f64>| {
        Scale::new(Dimension::Length, show, range.start.abs().max(range.end.abs()))
    };
    panel.y_axis(&canvas, &length(&panel.y), "to the left");
    cells(&canvas, &panel, found);
    panel.x_axis(&canvas, &length(&panel.x), "downrange");
    for ring in &rings {
        draw(&canvas, &panel, ring);
    }
    release(&canvas, panel.place((0.0, 0.0)));
    keep_out(&canvas, &panel);
    beside(&canvas, panel.rect.right + 22.0, top + 6.0, &rings, found, show);
    canvas.finish("exclusion", &title, &description(found, &rings))
}

/// The distances in any direction, from the nearest to the farthest; where the
/// rarest cannot be told, the farthest flight.
fn rings(found: &Exclusion, show: Show) -> Vec<Ring> {
    let Some(away) = found.reach(Measure::Away) else { return Vec::new() };
    let say = |distance: f64| format(distance, Dimension::Length, show);
    let known = away.exceeded.iter().filter_map(|one| Some((one.one_in, one.distance?)));
    let mut rings: Vec<Ring> = known
        .map(|(one_in, radius)| Ring {
            radius,
            words: format!("{} goes beyond {}", Spoken::OneIn(one_in), say(radius)),
            outermost: false,
        })
        .collect();
    if away.exceeded.iter().any(|one| one.distance.is_none()) {
        let (n, radius) = (words::flights(found.loose.k), away.farthest);
        let words = format!("none of {n} went beyond {}", say(radius));
        rings.push(Ring { radius, words, outermost: false });
    }
    if let Some(last) = rings.last_mut() {
        last.outermost = true;
    }
    rings
}

fn window(rings: &[Ring]) -> Window {
    let mut window = Window::new();
    let radius = rings.iter().map(|ring| ring.radius).fold(0.0, f64::max);
    window.include((-radius, -radius));
    window.include((radius, radius));
    window.padded(0.05, 0.1)
}

/// Squares of the ground, the darker the more flights land in them, by the
/// logarithm of their number.
fn cells(canvas: &Canvas, panel: &Panel, found: &Exclusion) {
    let density = &found.density;
    let most = density.densest().map_or(1, |cell| cell.flights) as f64;
    for cell in &density.cells {
        let share = (1.0 + ln(cell.flights as f64)) / (1.0 + ln(most));
        let [x, y] = cell.corner;
        let (right, up) = (x + density.side, y + density.side);
        let square = [(x, y), (right, y), (right, up), (x, up)];
        panel.shape(&square, Some(veil(canvas.palette.ember, 0.1 + 0.75 * share)), None, None);
    }
}

fn circle(radius: f64) -> impl Iterator<Item = (f64, f64)> {
    (0..=CORNERS).map(move |i| {
        let angle = TAU * f64::from(i) / f64::from(CORNERS);
        (radius * cos(angle), radius * sin(angle))
    })
}

fn draw(canvas: &Canvas, panel: &Panel, ring: &Ring) {
    let points: Vec<_> = circle(ring.radius).collect();
    let stroke = stroke(canvas, ring);
    panel.line(&points, stroke);
    if !ring.outermost {
        return;
    }
    let (middle, fence) = (panel.place((0.0, 0.0)), Stroke::solid(canvas.palette.ink, look::LINE));
    for point in points.iter().step_by(5) {
        let at = panel.place(*point);
        let away = (at.0 - middle.0, at.1 - middle.1);
        let size = longodds_sim::math::hypot(away.0, away.1).max(1.0);
        let end = (at.0 + FENCE * away.0 / size, at.1 + FENCE * away.1 / size);
        canvas.line(&[at, end], fence);
    }
}

fn stroke(canvas: &Canvas, ring: &Ring) -> Stroke {
    let ink = canvas.palette.ink;
    if ring.outermost {
        Stroke::solid(ink, look::HEAVY)
    } else {
        Stroke::solid(ink, look::LINE).dashed(look::MISSED)
    }
}

fn release(canvas: &Canvas, (x, y): (f64, f64)) {
    let (ink, halo) = (canvas.palette.ink, opaque(canvas.palette.halo));
    canvas.round((x, y), 4.5, Some(halo), Some(Stroke::solid(ink, 2.0)));
    canvas.round((x, y), 1.6, Some(opaque(ink)), None);
}

/// "Keep out", inside the last line where there is room.
fn keep_out(canvas: &Canvas, panel: &Panel) {
    let (ink, halo) = (canvas.palette.ink, canvas.palette.halo);
    let text = Text::new("keep out", look::LABEL, ink).bold().halo(halo).middle();
    let at = |x: f64, y: f64| panel.place((x * panel.x.end, y * panel.y.end));
    canvas.try_text(&[at(0.0, -0.86), at(0.0, 0.86), at(-0.7, -0.5), at(0.7, -0.5)], &text);
}

/// What the lines say, in words beside the map.
fn beside(canvas: &Canvas, left: f64, top: f64, rings: &[Ring], found: &Exclusion, show: Show) {
    let palette = canvas.palette;
    let room = canvas.width() - left - 4.0;
    let mut y = top + 8.0;
    for ring in rings.iter().rev() {
        canvas.line(&[(left, y), (left + 34.0, y)], stroke(canvas, ring));
        if ring.outermost {
            for i in 0..5 {
                let x = left + 3.0 + 7.0 * f64::from(i);
                canvas.line(&[(x, y), (x, y - FENCE)], Stroke::solid(palette.ink, look::LINE));
            }
        }
        let text = Text::new(ring.words.clone(), look::LABEL, palette.ink);
        let text = if ring.outermost { text.bold() } else { text };
        y = canvas.paragraph((left, y + 20.0), room, &text) + 10.0;
    }
    release(canvas, (left + 17.0, y + 2.0));
    canvas.text((left + 44.0, y + 7.0), Text::new("release", look::LABEL, palette.ink));
    y += 24.0;
    let side = format(found.density.side, Dimension::Length, show);
    let mut notes = vec![
        "Keep people on the side of the short strokes, and farther: this is not a clearance."
            .to_owned(),
        format!("Squares of {side}: darker, more land there."),
        if found.followed {
            "To the far edge of the object at rest. Broken pieces go farther."
        } else {
            "To the far edge of the object. First touch of the ground: bounces, roll and broken \
             pieces go farther."
        }
        .to_owned(),
    ];
    notes.extend(exactly(found, show));
    for note in notes {
        y = canvas.paragraph((left, y + 8.0), room, &small(note, canvas)) + 2.0;
    }
}

/// What the farthest line would be if all were let go exactly as written.
fn exactly(found: &Exclusion, show: Show) -> Option<String> {
    let told = found.as_told.as_ref()?.reach(Measure::Away)?;
    let (one_in, distance) =
        told.exceeded.iter().rev().find_map(|one| Some((one.one_in, one.distance?)))?;
    Some(format!(
        "Attitude, aim, spin and the wind's direction are not taken as exact. Exactly as written, \
         {} goes beyond {}.",
        Spoken::OneIn(one_in),
        format(distance, Dimension::Length, show)
    ))
}

fn title(found: &Exclusion, show: Show) -> String {
    let away = found.reach(Measure::Away);
    let last = away.and_then(|away| {
        away.exceeded.iter().rev().find_map(|one| Some((one.one_in, one.distance?)))
    });
    match last {
        Some((one_in, distance)) => format!(
            "Of those that come loose, {} goes beyond {}",
            Spoken::OneIn(one_in),
            format(distance, Dimension::Length, show)
        ),
        None => format!(
            "None of {} went beyond {}",
            words::flights(found.loose.k),
            format(away.map_or(0.0, |away| away.farthest), Dimension::Length, show)
        ),
    }
}

fn subtitle(found: &Exclusion) -> String {
    let early = if found.partial { " It was stopped early." } else { "" };
    format!(
        "Where {} {} with nothing in their way, from above, to true scale.{early}",
        words::flights(found.loose.k),
        if found.followed { "come to rest" } else { "land" }
    )
}

fn description(found: &Exclusion, rings: &[Ring]) -> String {
    let lines: Vec<&str> = rings.iter().map(|ring| ring.words.as_str()).collect();
    format!(
        "A map of the ground round the release: squares where {} land, and circles: {}.",
        words::flights(found.loose.k),
        lines.join("; ")
    )
}
