//! The closest call: the tumbling object drawn in place along its path.

use super::{
    flights::fate_of,
    moment::{Deciding, deciding, nearness},
    nothing,
    object::{Look, look},
    view::{self, View, Window},
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
    math,
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
    let window = window(findings, flight);
    let subtitle = subtitle(findings, flight, &window);
    let width = f64::from(frame.width);
    let scale = ((width - LEFT - 14.0) / window.wide()).min(380.0 / window.high());
    let top = heading_height(width, &title, &subtitle);
    let canvas = Canvas::new(frame, top + 30.0 + window.high() * scale + 46.0);
    let y = canvas.heading(&title, &subtitle);
    let panel = window.panel(&canvas, LEFT, y + 30.0, scale);
    let axis = Scale::new(Dimension::Length, findings.show, window.wide());
    panel.y_axis(&canvas, &axis, "height");
    panel.x_axis(&canvas, &axis, "downrange");
    view::scene(&canvas, &panel, findings, View::Side);
    draw(&canvas, &panel, findings, flight);
    canvas.finish("tumble", &title, &format!("{title}. {subtitle}"))
}

/// The most likely way, where that is told; else the flight that came nearest
/// where none held, or the one that passed most gates, among equals the one that struck, or came, nearest to the middle of
/// an aimed face.
pub(crate) fn closest(findings: &Findings) -> Option<&FlightFinding> {
    let way = findings.most_likely.as_ref().map(|way| &way.flight);
    if let Some(told) = way.filter(|flight| flight.path.len() > 1) {
        return Some(told);
    }
    let mut marked = findings.flights.iter().filter(|f| f.closest && f.path.len() > 1);
    if let Some(nearest) = marked.next() {
        return Some(nearest);
    }
    let rank = |f: &FlightFinding| f.stopped_at.map_or(99, |gate| gate as usize);
    let gap = |f: &FlightFinding| nearness(findings, f);
    let drawn = findings.flights.iter().filter(|f| f.path.len() > 1);
    drawn.max_by(|a, b| rank(a).cmp(&rank(b)).then(gap(b).total_cmp(&gap(a))))
}

pub(crate) fn flat(point: &PathPoint) -> (f64, f64) {
    View::Side.flat(view::seen(point))
}

/// The object as it is seen at a moment.
fn seen(findings: &Findings, point: &PathPoint) -> Look {
    look(&findings.object, view::seen(point), point.attitude, View::Side)
}

/// What the picture has to hold: all that leads to the deciding moment, the
/// aimed faces, and what comes after as far as it stays near them.
pub(crate) fn window(findings: &Findings, flight: &FlightFinding) -> Window {
    let decided = deciding(findings, flight).map_or(f64::INFINITY, |one| one.point.time);
    let split = flight.path.iter().take_while(|p| p.time <= decided).count();
    let (before, after) = flight.path.split_at(split);
    let outlines = |path: &[PathPoint]| {
        path.iter().flat_map(|p| seen(findings, p).outline).collect::<Vec<_>>()
    };
    let mut window = Window::new();
    for corner in outlines(before) {
        window.include(corner);
    }
    for corner in findings.faces.iter().filter(|f| f.aim).flat_map(view::face) {
        window.include(View::Side.flat(corner));
    }
    window.include((window.x.0, 0.0));
    let near = window.clone().padded(NEAR, 0.5);
    for (x, y) in outlines(after) {
        window.include((x.clamp(near.x.0, near.x.1), y.clamp(near.y.0, near.y.1)));
    }
    window.padded(0.05, 0.5)
}

/// How far beyond what led to the deciding moment the rest is shown, as a share
/// of that.
const NEAR: f64 = 0.3;

/// When a flight leaves a window after its deciding moment: its end, if it does
/// not.
pub(crate) fn shown_until(findings: &Findings, flight: &FlightFinding, window: &Window) -> f64 {
    let decided = deciding(findings, flight).map_or(f64::INFINITY, |one| one.point.time);
    let out = |p: &&PathPoint| p.time > decided && !window.holds(flat(p));
    let end = flight.path.last().map_or(0.0, |p| p.time);
    flight.path.iter().find(out).map_or(end, |p| p.time)
}

/// Moments a good body length apart; the first, the deciding one and the last
/// always.
fn moments(
    findings: &Findings,
    flight: &FlightFinding,
    one: &Deciding,
    panel: &Panel,
) -> Vec<PathPoint> {
    let split = flight.path.iter().take_while(|p| p.time < one.point.time).count();
    let (before, after) = flight.path.split_at(split);
    let pairs = flight.path.windows(2).filter(|pair| panel.holds(flat(&pair[1])));
    let way: f64 = pairs.map(|pair| gap(&pair[0], &pair[1])).sum();
    let largest = findings.object.extents.iter().copied().fold(0.0, f64::max);
    let every = (0.8 * largest).max(way / 22.0);
    let mut out = spaced(before, &one.point, every);
    out.push(one.point.clone());
    if let Some(last) = flight.path.last().filter(|_| one.goes_on) {
        let joined: Vec<_> = std::iter::once(&one.point).chain(after).cloned().collect();
        out.extend(spaced(&joined, last, every).into_iter().skip(1));
        out.push(last.clone());
    }
    out
}

fn gap(a: &PathPoint, b: &PathPoint) -> f64 {
    let (p, q) = (flat(a), flat(b));
    math::hypot(p.0 - q.0, p.1 - q.1)
}

/// The first of a path's points, and more at least `every` metres of way apart
/// and clear of its `end`.
fn spaced(path: &[PathPoint], end: &PathPoint, every: f64) -> Vec<PathPoint> {
    let mut out: Vec<PathPoint> = path.first().into_iter().cloned().collect();
    let mut gone = 0.0;
    for pair in path.windows(2) {
        gone += gap(&pair[0], &pair[1]);
        if gone >= every && gap(&pair[1], end) > 0.5 * every {
            out.push(pair[1].clone());
            gone = 0.0;
        }
    }
    out
}

fn draw(canvas: &Canvas, panel: &Panel, findings: &Findings, flight: &FlightFinding) {
    let palette = canvas.palette;
    let line: Vec<_> = flight.path.iter().map(flat).collect();
    panel.line(&line, Stroke::solid(palette.ink, look::THIN).dashed(look::ASSUMED));
    let Some(one) = deciding(findings, flight) else { return };
    let moments = moments(findings, flight, &one, panel);
    for point in moments.iter().filter(|point| panel.holds(flat(point))) {
        body(canvas, panel, findings, point);
    }
    let at = if flight.struck { &one.point } else { moments.last().unwrap_or(&one.point) };
    fate_of(flight).mark(canvas, panel.place(flat(at)), 4.5);
    let Some((first, last)) = moments.first().zip(moments.last()) else { return };
    let show = findings.show;
    label(canvas, panel, findings, first, &format!("release, {}", speed(first, show)));
    if one.goes_on {
        let what = if flight.struck { "strikes" } else { "nearest" };
        let said = format!("{what}: {}", timed(&one.point, show));
        label(canvas, panel, findings, &one.point, &said);
    }
    if last.time > 0.0 && panel.holds(flat(last)) {
        label(canvas, panel, findings, last, &timed(last, show));
    }
}

pub(crate) fn body(canvas: &Canvas, panel: &Panel, findings: &Findings, point: &PathPoint) {
    let palette = canvas.palette;
    let rim = Stroke::solid(palette.ember, look::LINE);
    let fill = Some(veil(palette.ember, 0.28));
    let centre = panel.place(flat(point));
    let seen = seen(findings, point);
    let place = |line: &[(f64, f64)]| line.iter().map(|p| panel.place(*p)).collect::<Vec<_>>();
    let outline = place(&seen.outline);
    let far = |p: &(f64, f64)| math::hypot(p.0 - centre.0, p.1 - centre.1);
    if outline.iter().map(far).fold(0.0, f64::max) < SPECK {
        canvas.round(centre, SPECK, fill, Some(rim));
    } else {
        canvas.shape(&outline, fill, None, Some(rim));
        for edge in &seen.edges {
            canvas.line(&place(edge), Stroke::solid(palette.ember, look::HAIR));
        }
    }
    canvas.round(centre, 1.4, Some(opaque(palette.ink)), None);
}

/// Least radius of a drawn object, px: smaller ones could not be seen.
const SPECK: f64 = 2.0;

/// Slower than this it lies still, in m/s: what is left is rounding.
const STILL: f64 = 1e-3;

fn speed(point: &PathPoint, show: Show) -> String {
    let speed = point.velocity.iter().map(|v| v * v).sum::<f64>().sqrt();
    if speed < STILL {
        "at rest".to_owned()
    } else {
        words::quantity(speed, Dimension::Speed, show)
    }
}

fn timed(point: &PathPoint, show: Show) -> String {
    format!("{}, {}", words::quantity(point.time, Dimension::Time, show), speed(point, show))
}

fn label(canvas: &Canvas, panel: &Panel, findings: &Findings, point: &PathPoint, words: &str) {
    let palette = canvas.palette;
    let text = Text::new(words, look::LABEL, palette.ink).bold().halo(palette.halo);
    let corners: Vec<_> =
        seen(findings, point).outline.into_iter().map(|p| panel.place(p)).collect();
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
    // Where other moments of the object stand there: farther off.
    let near = [left, right - width, side, f64::midpoint(left, right) - width / 2.0];
    let steps = (0..8).map(|k| 18.0 * f64::from(k));
    places.extend(steps.flat_map(|s| near.map(|x| [(x, low + s), (x, top - s)]).concat()));
    let beyond = [(right + 9.0, f64::midpoint(top, low)), (left - 9.0 - width, top)];
    places.extend(beyond);
    canvas.try_text(&places, &text);
}

fn subtitle(findings: &Findings, flight: &FlightFinding, window: &Window) -> String {
    let drawn = format!(
        "Flight {} of the run from the side, to true scale: the {} where it was at each moment drawn.",
        words::count(flight.draw),
        if findings.object.noun.is_empty() {
            &findings.object.shape
        } else {
            &findings.object.noun
        }
    );
    let drawn = if findings.target_velocity.iter().any(|v| v.abs() > 1e-9) {
        format!("{drawn} The way is as the target sees it; speeds are over the ground.")
    } else {
        drawn
    };
    match flight.path.last().filter(|last| !window.holds(flat(last))) {
        Some(last) => {
            let end = timed(last, findings.show);
            format!("{drawn} It goes on beyond the frame and ends after {end}.")
        }
        None => drawn,
    }
}

fn title(flight: &FlightFinding) -> String {
    match flight.stopped_at {
        None => "How the claim comes true: one flight that passes every gate",
        Some(Gate::Released) => "The closest call: it never came loose",
        Some(Gate::Reaches) => "The closest call: it fell short of the target",
        Some(Gate::Strikes) => "The closest call: it came as far as the target and missed it",
        Some(Gate::Attitude) => "The closest call: it struck, but not in the attitude needed",
        Some(Gate::Perforates) => "The closest call: it struck, and the barrier stopped it",
        Some(Gate::Harms) => "The closest call: it went through, and arrived too weak to harm",
    }
    .to_owned()
}
