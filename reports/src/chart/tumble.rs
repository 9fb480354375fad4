//! The closest call: the tumbling object drawn in place along its path.

use super::{
    flights::fate_of,
    nothing,
    view::{self, View, Window, hull},
};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Text, heading_height},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{Findings, FlightFinding, PathPoint},
    quantity::{Dimension, Show},
    scenario::Gate,
};

const LEFT: f64 = 46.0;

/// The flight that got farthest, from the side.
#[must_use]
pub fn tumble(findings: &Findings, frame: Frame) -> Picture {
    let Some(flight) = closest(findings) else {
        let why = "The record holds no paths.";
        return nothing("tumble", "No closest call can be drawn", why, frame);
    };
    let title = title(flight);
    let subtitle = format!(
        "Flight {} of the run from the side, to true scale: the {} where it was at each moment drawn.",
        words::count(flight.draw),
        findings.object.shape
    );
    let window = window(findings, flight);
    let width = f64::from(frame.width);
    let scale = ((width - LEFT - 14.0) / window.wide()).min(380.0 / window.high());
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 30.0 + window.high() * scale + 46.0);
    let y = canvas.heading(&title, &subtitle);
    let panel = window.panel(&canvas, LEFT, y + 30.0, scale);
    let axis = Scale::new(Dimension::Length, words::show(findings), window.wide());
    panel.y_axis(&canvas, &axis, "height");
    panel.x_axis(&canvas, &axis, "downrange");
    view::scene(&canvas, &panel, findings, View::Side);
    draw(&canvas, &panel, findings, flight);
    canvas.finish("tumble", &title, &format!("{title}. {subtitle}"))
}

/// The flight that came nearest where none held; else the one that passed most
/// gates, among equals the one that ended nearest to the middle of an aimed
/// face.
pub(crate) fn closest(findings: &Findings) -> Option<&FlightFinding> {
    let mut marked = findings.flights.iter().filter(|f| f.closest && f.path.len() > 1);
    if let Some(nearest) = marked.next() {
        return Some(nearest);
    }
    let rank = |f: &FlightFinding| f.stopped_at.map_or(99, |gate| gate as usize);
    let middle = findings.faces.iter().find(|f| f.aim).map_or([0.0; 3], |f| f.centre);
    let gap = |f: &FlightFinding| {
        f.path.last().map_or(f64::INFINITY, |p| {
            let at = view::seen(p);
            (0..3).map(|i| (at[i] - middle[i]) * (at[i] - middle[i])).sum()
        })
    };
    let drawn = findings.flights.iter().filter(|f| f.path.len() > 1);
    drawn.max_by(|a, b| rank(a).cmp(&rank(b)).then(gap(b).total_cmp(&gap(a))))
}

pub(crate) fn flat(point: &PathPoint) -> (f64, f64) {
    View::Side.flat(view::seen(point))
}

/// The axis of a round shape.
fn round_axis(shape: &str) -> Option<usize> {
    match shape {
        "cylinder" | "tube" => Some(0),
        "disc" | "wheel" => Some(2),
        _ => None,
    }
}

/// The object's outline from the side.
fn outline(findings: &Findings, point: &PathPoint) -> Vec<(f64, f64)> {
    let at = view::seen(point);
    let object = &findings.object;
    let corners = match round_axis(&object.shape) {
        Some(axis) => view::turned_round(object.extents, axis, at, point.attitude),
        None => view::turned(object.extents, at, point.attitude),
    };
    hull(corners.into_iter().map(|p| View::Side.flat(p)).collect())
}

pub(crate) fn window(findings: &Findings, flight: &FlightFinding) -> Window {
    let mut window = Window::new();
    for corner in flight.path.iter().flat_map(|p| outline(findings, p)) {
        window.include(corner);
    }
    for corner in findings.faces.iter().filter(|f| f.aim).flat_map(view::face) {
        window.include(View::Side.flat(corner));
    }
    window.include((window.x.0, 0.0));
    window.padded(0.05, 0.5)
}

/// Moments a good body length apart, the first and the last always.
fn moments<'a>(findings: &Findings, flight: &'a FlightFinding) -> Vec<&'a PathPoint> {
    let gap = |a: &PathPoint, b: &PathPoint| {
        let (p, q) = (flat(a), flat(b));
        ((p.0 - q.0) * (p.0 - q.0) + (p.1 - q.1) * (p.1 - q.1)).sqrt()
    };
    let Some((first, last)) = flight.path.first().zip(flight.path.last()) else {
        return Vec::new();
    };
    let length: f64 = flight.path.windows(2).map(|w| gap(&w[0], &w[1])).sum();
    let largest = findings.object.extents.iter().copied().fold(0.0, f64::max);
    let every = (0.8 * largest).max(length / 22.0);
    let (mut out, mut gone) = (vec![first], 0.0);
    for pair in flight.path.windows(2) {
        gone += gap(&pair[0], &pair[1]);
        if gone >= every && gap(&pair[1], last) > 0.5 * every {
            out.push(&pair[1]);
            gone = 0.0;
        }
    }
    out.push(last);
    out
}

fn draw(canvas: &Canvas, panel: &Panel, findings: &Findings, flight: &FlightFinding) {
    let palette = canvas.palette;
    let line: Vec<_> = flight.path.iter().map(flat).collect();
    panel.line(&line, Stroke::solid(palette.ink, look::THIN).dashed(look::ASSUMED));
    let moments = moments(findings, flight);
    for point in &moments {
        body(canvas, panel, findings, point);
    }
    let Some((first, last)) = moments.first().zip(moments.last()) else { return };
    for point in [first, last] {
        label(canvas, panel, findings, point, words::show(findings));
    }
    fate_of(flight).mark(canvas, panel.place(flat(last)), 4.5);
}

pub(crate) fn body(canvas: &Canvas, panel: &Panel, findings: &Findings, point: &PathPoint) {
    let palette = canvas.palette;
    let rim = Stroke::solid(palette.ember, look::LINE);
    let fill = Some(veil(palette.ember, 0.28));
    let middle = flat(point);
    let centre = panel.place(middle);
    if matches!(findings.object.shape.as_str(), "sphere" | "irregular") {
        let edge = panel.place((middle.0 + findings.object.extents[0] / 2.0, middle.1)).0;
        canvas.round(centre, (edge - centre.0).max(2.0), fill, Some(rim));
    } else {
        let outline = outline(findings, point);
        let outline: Vec<_> = outline.into_iter().map(|p| panel.place(p)).collect();
        canvas.shape(&outline, fill, None, Some(rim));
    }
    canvas.round(centre, 1.4, Some(opaque(palette.ink)), None);
}

/// Slower than this it lies still, in m/s: what is left is rounding.
const STILL: f64 = 1e-3;

fn label(canvas: &Canvas, panel: &Panel, findings: &Findings, point: &PathPoint, show: Show) {
    let speed = point.velocity.iter().map(|v| v * v).sum::<f64>().sqrt();
    let speed = if speed < STILL {
        "at rest".to_owned()
    } else {
        words::quantity(speed, Dimension::Speed, show)
    };
    let words = if point.time > 0.0 {
        format!("{}, {speed}", words::quantity(point.time, Dimension::Time, show))
    } else {
        format!("release, {speed}")
    };
    let palette = canvas.palette;
    let text = Text::new(words, look::LABEL, palette.ink).bold().halo(palette.halo);
    let corners: Vec<_> = outline(findings, point).into_iter().map(|p| panel.place(p)).collect();
    let left = corners.iter().map(|c| c.0).fold(f64::INFINITY, f64::min);
    let right = corners.iter().map(|c| c.0).fold(f64::NEG_INFINITY, f64::max);
    let top = corners.iter().map(|c| c.1).fold(f64::INFINITY, f64::min) - 10.0;
    let low = corners.iter().map(|c| c.1).fold(f64::NEG_INFINITY, f64::max) + 20.0;
    let width = text.width();
    // The end is usually at the target: its label stays on this side of it.
    let end = point.time > 0.0;
    let (side, width) = (if end { left - width - 6.0 } else { left }, width);
    let mut places =
        vec![(side, low), (side, top), (right - width, top), (right - width, low), (left, low)];
    if panel.rect.height() > panel.rect.width() {
        // The path goes down: above and below stand the object's other moments.
        let beside = if end { top } else { f64::midpoint(top, low) };
        places.splice(0..0, [(right + 9.0, beside), (left - 9.0 - width, beside)]);
    }
    canvas.try_text(&places, &text);
}

fn title(flight: &FlightFinding) -> String {
    match flight.stopped_at {
        None => "How the claim comes true: one flight that passes every gate",
        Some(Gate::Released) => "The closest call: it never came loose",
        Some(Gate::Reaches) => "The closest call: it fell short of the target",
        Some(Gate::Strikes) => "The closest call: it came to the target and passed beside it",
        Some(Gate::Attitude) => "The closest call: it struck, but not in the attitude needed",
        Some(Gate::Perforates) => "The closest call: it struck, and the barrier stopped it",
        Some(Gate::Harms) => "The closest call: it went through, and arrived too weak to harm",
    }
    .to_owned()
}
