//! The closest call as a storyboard: up to six moments, the tumbling object in
//! place in each.

use super::{MARGIN, MARK, fitted, sheet, upright};
use crate::{
    canvas::{Canvas, Frame, Rect},
    chart::{View, Window, at_time, body, closest_flight, deciding, fate_of, flat, scene},
    look::{self, Stroke},
    picture::Picture,
    words,
};
use longodds_sim::findings::{Findings, FlightFinding, PathPoint};

const HEAD: f64 = 72.0;
const GAP: f64 = 10.0;
/// Room for the time over each moment, px: on the picture it would hide things.
const STRIP: f64 = 30.0;

pub(super) fn closest(findings: &Findings, frame: Frame) -> Option<Picture> {
    let flight = closest_flight(findings)?;
    let canvas = sheet(frame);
    let (columns, rows) = if upright(&canvas) { (2, 3) } else { (3, 2) };
    let (w, h) = (canvas.width() - 2.0 * MARGIN, canvas.height() - HEAD - MARGIN);
    let (cell_w, cell_h) = (
        (w - GAP * f64::from(columns - 1)) / f64::from(columns),
        (h - GAP * f64::from(rows - 1)) / f64::from(rows),
    );
    let words = if flight.stopped_at.is_none() { "How it happens" } else { "The closest call" };
    let title = fitted(words, 40.0, w, canvas.palette.ink);
    canvas.text((MARGIN, MARGIN + 28.0), title);
    let metres = span(findings);
    let moments = moments(findings, flight)?;
    for (i, one) in (0..columns * rows).zip(&moments) {
        let (column, row) = (f64::from(i % columns), f64::from(i / columns));
        let (left, top) = (MARGIN + column * (cell_w + GAP), HEAD + row * (cell_h + GAP));
        let rect = Rect { left, top, right: left + cell_w, bottom: top + cell_h };
        moment(&canvas, rect, findings, flight, one, metres);
    }
    let said = match &findings.most_likely {
        Some(way) if way.flight == *flight => format!("{words}: six moments of the likeliest way"),
        _ => format!("{words}: six moments of flight {}", words::count(flight.draw)),
    };
    Some(canvas.finish("closest", &said, &said))
}

/// A moment of the storyboard.
struct Moment {
    point: PathPoint,
    /// What happens then, if it is not merely on its way.
    what: &'static str,
    /// It bears the mark of the flight.
    marked: bool,
}

/// Six moments: even steps to the strike, or to where a miss was nearest, and
/// then the end where the flight goes on.
fn moments(findings: &Findings, flight: &FlightFinding) -> Option<Vec<Moment>> {
    let (one, last) = (deciding(findings, flight)?, flight.path.last()?);
    let steps: u32 = if one.goes_on { 4 } else { 5 };
    let on_the_way = |i: u32| {
        let time = one.point.time * f64::from(i) / f64::from(steps);
        Moment { point: at_time(&flight.path, time), what: "", marked: false }
    };
    let mut out: Vec<Moment> = (0..steps).map(on_the_way).collect();
    let what = match (flight.struck, one.goes_on) {
        (true, _) => "strikes",
        (false, true) => "nearest",
        (false, false) => "",
    };
    out.push(Moment { point: one.point, what, marked: flight.struck });
    if one.goes_on {
        out.push(Moment { point: last.clone(), what: "ends", marked: false });
    }
    Some(out)
}

/// How many metres a cell is wide: the object and its surroundings.
fn span(findings: &Findings) -> f64 {
    3.2 * findings.object.extents.iter().copied().fold(0.05, f64::max)
}

fn moment(
    canvas: &Canvas,
    rect: Rect,
    findings: &Findings,
    flight: &FlightFinding,
    one: &Moment,
    metres: f64,
) {
    let point = &one.point;
    let palette = canvas.palette;
    let (x, y) = flat(point);
    let high = metres * (rect.height() - STRIP) / rect.width();
    // The ground stays in the lower part of a cell when it is near.
    let low = if y < 0.5 * high { -0.18 * high } else { y - 0.5 * high };
    let window = Window { x: (x - 0.5 * metres, x + 0.5 * metres), y: (low, low + high) };
    let panel = window.panel(canvas, rect.left, rect.top + STRIP, rect.width() / metres);
    scene(canvas, &panel, findings, View::Side);
    let line: Vec<_> = flight.path.iter().map(flat).collect();
    panel.line(&line, Stroke::solid(palette.ink, look::LINE).dashed(look::ASSUMED));
    body(canvas, &panel, findings, point);
    if one.marked {
        fate_of(flight).mark(canvas, panel.place((x, y)), MARK);
    }
    canvas.shape(&rect.corners(), None, None, Some(Stroke::solid(palette.rule, look::LINE)));
    let time = if point.time > 0.0 { format!("{:.2} s", point.time) } else { "0 s".to_owned() };
    let said = if one.what.is_empty() { time } else { format!("{time} {}", one.what) };
    let text = fitted(&said, 20.0, rect.width() - 12.0, palette.ink);
    canvas.text((rect.left + 7.0, rect.top + 22.0), text);
}
