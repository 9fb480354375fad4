//! Where flights crossed the plane of the aimed face, on its own outline.

use super::{
    fate::{self, Fate},
    nothing, small,
    view::{self, Window},
};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Rect, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{Chance, CrossingFinding, FaceFinding, Findings},
    math,
    quantity::{Dimension, Show},
    scenario::{Gate, Outline},
};
use std::ops::Range;

const LEFT: f64 = 46.0;
/// Room over the map for the key, the outline's name and size, and the axis'
/// name, px.
const HEAD: f64 = 84.0;
/// Most crossings drawn: more would be a blot.
const MOST: usize = 1200;

/// The hit map of the aimed face that most crossings are of.
#[must_use]
pub fn hits(findings: &Findings, frame: Frame) -> Picture {
    let Some((index, face)) = busiest(findings) else {
        let why = "The record holds no aimed face.";
        return nothing("hits", "No face is aimed at", why, frame);
    };
    let crossings: Vec<_> = findings.crossings.iter().filter(|c| c.face == index).collect();
    if crossings.is_empty() {
        let title = format!("No flight came as far as the plane of {}", words::place(&face.name));
        return nothing("hits", &title, "There is no crossing to draw.", frame);
    }
    let window = window(face, &crossings);
    let inside = |c: &&&CrossingFinding| {
        (window.x.0..window.x.1).contains(&c.right) && (window.y.0..window.y.1).contains(&c.up)
    };
    let outside = crossings.len() - crossings.iter().filter(inside).count();
    let (title, subtitle) =
        (title(findings, face, &crossings), subtitle(findings, face, &crossings, outside));
    let width = f64::from(frame.width);
    let room = (width - LEFT - 14.0, f64::from(frame.height) - 172.0);
    let scale = (room.0 / window.wide()).min(room.1 / window.high());
    let body = HEAD + window.high() * scale + 46.0;
    let canvas = Canvas::new(frame, heading_height(width, &title, &subtitle) + body);
    let y = canvas.heading(&title, &subtitle);
    let counts = Fate::ALL.map(|f| crossings.iter().filter(|c| fate_of(c) == f).count());
    fate::key(&canvas, (2.0, y + 16.0), counts, false);
    outline_key(&canvas, (2.0, y + 40.0), face, findings.show);
    let left = LEFT + (room.0 - window.wide() * scale) / 2.0;
    let panel = window.panel(&canvas, left, y + HEAD, scale);
    draw(&canvas, &panel, findings, face, &crossings);
    canvas.finish("hits", &title, &description(face, counts))
}

fn busiest(findings: &Findings) -> Option<(usize, &FaceFinding)> {
    let crossings = |i: usize| findings.crossings.iter().filter(|c| c.face == i).count();
    let aimed = findings.faces.iter().enumerate().filter(|(_, f)| f.aim);
    aimed.rev().max_by_key(|(i, _)| crossings(*i))
}

fn fate_of(crossing: &CrossingFinding) -> Fate {
    Fate::of(crossing.struck, crossing.held)
}

fn size(face: &FaceFinding) -> (f64, f64) {
    match face.outline {
        Outline::Rectangle { width, height } => (width, height),
        Outline::Disc { diameter } => (diameter, diameter),
    }
}

/// The ranges drawn: the face, and nine in ten of the crossings as far as
/// four times its size away.
fn window(face: &FaceFinding, crossings: &[&CrossingFinding]) -> Window {
    let (w, h) = size(face);
    let margin = 0.15 * w.max(h);
    let range = |mut values: Vec<f64>, side: f64| {
        values.sort_by(f64::total_cmp);
        let at = |share: usize| values.get((values.len() - 1) * share / 20).copied().unwrap_or(0.0);
        let far = 4.0 * w.max(h);
        let near = 0.5 * side + margin;
        ((at(1) - margin).clamp(-far, -near), (at(19) + margin).clamp(near, far))
    };
    let mut x = range(crossings.iter().map(|c| c.right).collect(), w);
    let mut y = range(crossings.iter().map(|c| c.up).collect(), h);
    // Neither side may be squashed beyond reading.
    let (wide, high) = (x.1 - x.0, y.1 - y.0);
    let (more_x, more_y) = ((0.45 * high - wide).max(0.0), (0.25 * wide - high).max(0.0));
    x = (x.0 - more_x / 2.0, x.1 + more_x / 2.0);
    y = (y.0 - more_y / 2.0, y.1 + more_y / 2.0);
    Window { x, y }
}

fn draw(
    canvas: &Canvas,
    panel: &Panel,
    findings: &Findings,
    face: &FaceFinding,
    crossings: &[&CrossingFinding],
) {
    let palette = canvas.palette;
    let scale = Scale::new(Dimension::Length, findings.show, panel.x.end - panel.x.start);
    panel.y_axis(canvas, &scale, "up the face from its centre");
    panel.x_axis(canvas, &scale, "to the right");
    let rim = Stroke { ink: opaque(palette.harbour), width: look::HEAVY, dash: None };
    panel.shape(&view::outline(face, 96), Some(veil(palette.harbour, 0.12)), None, Some(rim));
    let mut order: Vec<_> = crossings.iter().copied().take(MOST).collect();
    order.sort_by_key(|c| fate_of(c));
    for crossing in order {
        let at = (crossing.right, crossing.up);
        if panel.holds(at) {
            fate_of(crossing).mark(canvas, panel.place(at), 3.8);
        } else {
            edge(canvas, panel, at);
        }
    }
}

/// A tick on the frame for a crossing that lies beyond it.
fn edge(canvas: &Canvas, panel: &Panel, at: (f64, f64)) {
    let held = (at.0.clamp(panel.x.start, panel.x.end), at.1.clamp(panel.y.start, panel.y.end));
    let (x, y) = panel.place(held);
    let toward = |v: f64, r: &Range<f64>| {
        if v > r.end {
            1.0
        } else if v < r.start {
            -1.0
        } else {
            0.0
        }
    };
    let (dx, dy) = (toward(at.0, &panel.x), -toward(at.1, &panel.y));
    let inward = (x - 7.0 * dx, y - 7.0 * dy);
    canvas.line(&[(x, y), inward], Stroke::solid(canvas.palette.ash, 1.2));
}

/// The outline's name and size over the map: on it they would hide crossings.
fn outline_key(canvas: &Canvas, (x, y): (f64, f64), face: &FaceFinding, show: Show) {
    let palette = canvas.palette;
    let say = |length: f64| words::quantity(length, Dimension::Length, show);
    let measure = match face.outline {
        Outline::Rectangle { width, height } => {
            // What lies flat has no height; a raked pane, up to 65 deg from
            // upright, still has one.
            let way = if face.normal[2].abs() > 0.94 { "deep" } else { "high" };
            format!("{} wide, {} {way}", say(width), say(height))
        }
        Outline::Disc { diameter } => format!("{} across", say(diameter)),
    };
    let frame = Rect { left: x, top: y - 10.0, right: x + 16.0, bottom: y };
    let rim = Stroke::solid(palette.harbour, look::HEAVY);
    canvas.shape(&frame.corners(), Some(veil(palette.harbour, 0.12)), None, Some(rim));
    let mut text = small(measure, canvas);
    text.ink = opaque(palette.harbour);
    let left = x + 26.0;
    let room = canvas.width() - left - 8.0 - text.width();
    let name = font::fit(&face.name.replace('_', " "), Weight::Bold, look::LABEL, room);
    let name = Text::new(name, look::LABEL, palette.harbour).bold();
    let width = name.width();
    canvas.text((left, y), name);
    canvas.text((left + width + 8.0, y), text);
}

fn title(findings: &Findings, face: &FaceFinding, crossings: &[&CrossingFinding]) -> String {
    let struck = crossings.iter().filter(|c| c.struck).count() as u64;
    let (n, name) = (crossings.len() as u64, words::place(&face.name));
    let half = findings.miss_distance.as_ref().map_or(0.0, |m| m.quantiles[3]);
    if half > 0.0 && struck < n {
        let half = words::quantity(half, Dimension::Length, findings.show);
        return format!("Half of the flights that come so far miss {name} by {half} or more");
    }
    match only_face(findings) {
        Some(chance) if chance.held == chance.flights => {
            format!("All that comes so far strikes {name}")
        }
        Some(chance) => {
            let share = words::capital(&words::estimate(chance));
            format!("{share} of what comes so far strikes {name}")
        }
        None if struck == n => format!("Every flight drawn that comes so far strikes {name}"),
        None => {
            format!("Of {} drawn here, {} strike {name}", words::flights(n), words::count(struck))
        }
    }
}

/// The chance of striking, where only one face is aimed at.
fn only_face(findings: &Findings) -> Option<&Chance> {
    let strikes = findings.gates.iter().find(|gate| gate.gate == Gate::Strikes)?;
    let one = findings.faces.iter().filter(|face| face.aim).count() == 1;
    (one && strikes.came > 0).then_some(&strikes.given_before)
}

/// What is drawn: which crossings, and how to read them.
fn subtitle(
    findings: &Findings,
    face: &FaceFinding,
    crossings: &[&CrossingFinding],
    outside: usize,
) -> String {
    let n = crossings.len() as u64;
    let came = findings.miss_distance.as_ref().map_or(n, |miss| miss.count);
    let all = if n < came {
        format!("{} of {}", words::count(n), words::flights(came))
    } else {
        words::flights(n)
    };
    let held = crossings.iter().filter(|c| c.held).count() as f64 / n as f64;
    let share = findings.claim.held as f64 / came.max(n) as f64;
    let favoured = if n < came && held > 1.2 * share {
        " Of those that hold more are drawn than their share."
    } else {
        ""
    };
    let edge = if crossings.iter().any(|c| c.struck && !is_within(face, c)) {
        " What strikes from outside the outline does so with its edge."
    } else {
        ""
    };
    let inside = if crossings.iter().any(|c| !c.struck && is_within(face, c)) {
        " A miss inside it met the ground or something else first."
    } else {
        ""
    };
    let beyond = match outside {
        0 => String::new(),
        1 => " One lies beyond the frame (tick on its edge).".to_owned(),
        m => format!(" {} lie beyond the frame (ticks on its edge).", words::count(m as u64)),
    };
    format!(
        "Where the centres of {all} crossed the plane of the face, seen from outside, to true scale.{favoured}{edge}{inside}{beyond}"
    )
}

/// Is it inside the outline?
fn is_within(face: &FaceFinding, at: &CrossingFinding) -> bool {
    let (right, up) = (at.right.abs(), at.up.abs());
    match face.outline {
        Outline::Rectangle { width, height } => 2.0 * right <= width && 2.0 * up <= height,
        Outline::Disc { diameter } => 2.0 * math::hypot(right, up) <= diameter,
    }
}

fn description(face: &FaceFinding, [held, struck, missed]: [usize; 3]) -> String {
    format!(
        "The outline of {} with the places where flights crossed its plane: {held} where the claim \
         holds (diamonds), {struck} that strike and fail later (rings), {missed} misses (crosses).",
        words::place(&face.name)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn what_lies_flat_is_deep_and_not_high() {
        let mut findings = sample::ordinary();
        let says = |findings: &Findings, word: &str| {
            hits(findings, Frame::page()).texts().iter().any(|text| text.text.ends_with(word))
        };
        assert!(says(&findings, "high") && !says(&findings, "deep"));
        for face in &mut findings.faces {
            face.normal = [-0.423, 0.0, 0.906];
        }
        assert!(says(&findings, "high") && !says(&findings, "deep"), "a raked pane");
        for face in &mut findings.faces {
            face.normal = [0.0, 0.0, 1.0];
        }
        assert!(says(&findings, "deep") && !says(&findings, "high"));
    }

    #[test]
    fn a_miss_inside_the_outline_is_explained() {
        let mut findings = sample::ordinary();
        let says = |findings: &Findings| {
            let drawn: Vec<_> = findings.crossings.iter().collect();
            subtitle(findings, &findings.faces[0], &drawn, 0).contains("or something else first")
        };
        for crossing in &mut findings.crossings {
            (crossing.struck, crossing.held, crossing.right) = (false, false, 1e3);
        }
        assert!(!says(&findings));
        (findings.crossings[0].right, findings.crossings[0].up) = (0.0, 0.0);
        assert!(says(&findings));
    }
}
