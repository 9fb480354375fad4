//! Flights from the side and from above, to true scale, with the target as it
//! stands.

use super::{
    fate::{self, Fate},
    moment::{self, deciding},
    nothing, small,
    view::{self, View, Window},
};
use crate::{
    axis::Scale,
    canvas::{Canvas, Frame, Panel, Text, heading_height},
    font::{self, Weight},
    look::{self, Stroke, opaque},
    picture::{Picture, cut},
    words,
};
use longodds_sim::{
    findings::{FaceFinding, Findings, FlightFinding},
    quantity::Dimension,
};

/// Room for the numbers to the left of a view, px.
const LEFT: f64 = 46.0;
/// Largest height of one view, px.
const TALL: f64 = 400.0;
/// Room over a view for its name, and under it for its axis, px.
const HEAD: f64 = 34.0;
const FOOT: f64 = 46.0;

/// The fan of flights.
#[must_use]
pub fn flights(findings: &Findings, frame: Frame) -> Picture {
    if findings.flights.is_empty() {
        let why = "The record holds no paths.";
        return nothing("flights", "No flight was kept for drawing", why, frame);
    }
    let windows = [View::Side, View::Plan].map(|v| (v, window(findings, v)));
    let title = title(findings);
    let plan = Plan::new(f64::from(frame.width), &windows);
    let times = plan.larger();
    let larger = if times > 1.5 {
        format!(" The view from above is drawn {times:.0} times larger.")
    } else {
        String::new()
    };
    let subtitle = subtitle(findings) + &larger + &not_shown(findings, &windows);
    let top = heading_height(f64::from(frame.width), &title, &subtitle);
    let canvas = Canvas::new(frame, top + 26.0 + plan.height);
    let y = canvas.heading(&title, &subtitle);
    fate::key(&canvas, (2.0, y + 16.0), counts(&findings.flights), true);
    for (((which, window), (left, top)), scale) in windows.iter().zip(plan.corners).zip(plan.scales)
    {
        let panel = window.panel(&canvas, left, y + 26.0 + top, scale);
        one(&canvas, &panel, findings, *which);
    }
    canvas.finish("flights", &title, &description(findings))
}

/// Where the two views go: one above the other, or side by side where that
/// lets them be drawn larger.
struct Plan {
    /// Px per m of each.
    scales: [f64; 2],
    /// Top left corners of the panels.
    corners: [(f64, f64); 2],
    height: f64,
}

/// A view from above that could be drawn so many times larger than the one from
/// the side, is.
const LARGER: f64 = 2.0;
/// Largest side of a view from above that has a scale of its own, px.
const OWN: f64 = 330.0;
/// Least room for a view's name, px.
const NAMED: f64 = 190.0;

impl Plan {
    fn new(width: f64, windows: &[(View, Window); 2]) -> Self {
        let [side, plan] = [&windows[0].1, &windows[1].1];
        let fits = |room: f64, tall: f64, w: &Window| (room / w.wide()).min(tall / w.high());
        let room = width - LEFT - 14.0;
        let stacked = fits(room, TALL, side).min(fits(room, TALL, plan));
        let half = width - 2.0 * LEFT - 28.0;
        let beside = (half / (side.wide() + plan.wide())).min(420.0 / side.high().max(plan.high()));
        if beside > 0.75 * stacked {
            let first = (side.wide() * beside).max(NAMED - LEFT);
            let left = width - first - 2.0 * LEFT - 28.0;
            let own = fits(left.min(OWN), OWN, plan);
            let own = if own > LARGER * beside { (own / beside).floor() * beside } else { beside };
            let height = (side.high() * beside).max(plan.high() * own) + HEAD + FOOT;
            let second = LEFT + first + LEFT + 14.0;
            return Self { scales: [beside, own], corners: [(LEFT, HEAD), (second, HEAD)], height };
        }
        let first = side.high() * stacked + HEAD + FOOT;
        let height = first + plan.high() * stacked + HEAD + FOOT;
        let corners = [(LEFT, HEAD), (LEFT, first + HEAD)];
        Self { scales: [stacked; 2], corners, height }
    }

    /// How many times larger the view from above is.
    fn larger(&self) -> f64 {
        self.scales[1] / self.scales[0]
    }
}

pub(crate) fn fate_of(flight: &FlightFinding) -> Fate {
    Fate::of(flight.struck, flight.stopped_at.is_none())
}

fn counts(flights: &[FlightFinding]) -> [usize; 3] {
    Fate::ALL.map(|fate| flights.iter().filter(|f| fate_of(f) == fate).count())
}

/// A flight's path as the view sees it.
fn path(flight: &FlightFinding, which: View) -> Vec<(f64, f64)> {
    let flat = |p: &longodds_sim::findings::PathPoint| which.flat(view::seen(p));
    flight.path.iter().map(flat).collect()
}

/// What the view has to hold: the release, the target, and the flights a
/// little beyond them, save the few that would make all else small.
pub(crate) fn window(findings: &Findings, which: View) -> Window {
    let mut window = Window::new();
    let paths: Vec<_> = findings.flights.iter().map(|f| path(f, which)).collect();
    for start in paths.iter().filter_map(|p| p.first()) {
        window.include(*start);
    }
    let aimed = findings.faces.iter().filter(|f| f.aim).flat_map(view::face);
    for corner in aimed.chain(findings.solids.iter().flat_map(view::solid)) {
        window.include(which.flat(corner));
    }
    if which == View::Side {
        window.include((window.x.0, 0.0));
    }
    let reach = window.wide().max(window.high()).max(1.0);
    let (x, y) = (window.x, window.y);
    let scene = window.clone();
    let (near_x, near_y) =
        ((x.0 - 0.25 * reach, x.1 + 0.25 * reach), (y.0 - 0.6 * reach, y.1 + 0.6 * reach));
    let boxes: Vec<Window> =
        paths.iter().map(|path| boxed(cut(path, near_x, near_y).into_iter().flatten())).collect();
    for corner in boxes.iter().flat_map(Window::corners) {
        window.include(corner);
    }
    without_the_far(&scene, &window, &boxes).padded(0.04, 0.5)
}

fn boxed(points: impl Iterator<Item = (f64, f64)>) -> Window {
    let mut window = Window::new();
    points.for_each(|point| window.include(point));
    window
}

/// Of the paths, one in so many may leave the frame on either side ...
const FAR: usize = 20;
/// ... where that makes this share, or less, of the side.
const WORTH: f64 = 0.75;

/// The window of all, drawn in on each side to where only few paths leave it.
fn without_the_far(scene: &Window, all: &Window, boxes: &[Window]) -> Window {
    let end = |side: fn(&Window) -> f64, sign: f64| {
        let mut ends: Vec<f64> = boxes.iter().map(|one| sign * side(one)).collect();
        ends.sort_by(f64::total_cmp);
        let most = ends.len().saturating_sub(1 + ends.len() / FAR);
        let few = ends.get(most).copied().unwrap_or(f64::NEG_INFINITY);
        sign * few.max(sign * side(scene))
    };
    let drawn_in = |all: (f64, f64), to: (f64, f64)| {
        if to.1 - to.0 < WORTH * (all.1 - all.0) { to } else { all }
    };
    Window {
        x: drawn_in(all.x, (end(|w| w.x.0, -1.0), end(|w| w.x.1, 1.0))),
        y: drawn_in(all.y, (end(|w| w.y.0, -1.0), end(|w| w.y.1, 1.0))),
    }
}

/// How many paths leave a window, and how far beyond it the farthest goes, m.
fn beyond(findings: &Findings, which: View, window: &Window) -> (u64, f64) {
    let out = |f: &FlightFinding| path(f, which).iter().map(|p| window.gap(*p)).fold(0.0, f64::max);
    let far: Vec<f64> = findings.flights.iter().map(out).filter(|gap| *gap > 0.0).collect();
    (far.len() as u64, far.iter().copied().fold(0.0, f64::max))
}

/// What is not in the picture, in words.
fn not_shown(findings: &Findings, windows: &[(View, Window); 2]) -> String {
    let [side, plan] = [0, 1].map(|i| {
        let (n, farthest) = beyond(findings, windows[i].0, &windows[i].1);
        let farthest = words::quantity(farthest, Dimension::Length, findings.show);
        let paths = if n == 1 { "path" } else { "paths" };
        (n > 0).then(|| (format!("{n} {paths}"), format!("the farthest by {farthest}")))
    });
    match (side, plan) {
        (None, None) => String::new(),
        (Some(side), Some(plan)) if side == plan => {
            format!(" Beyond the frame: {} ({}).", side.0, side.1)
        }
        (side, plan) => {
            let said = |(paths, farthest): (String, String), from: &str| {
                format!("{paths} from {from} ({farthest})")
            };
            let parts = [side.map(|one| said(one, "the side")), plan.map(|one| said(one, "above"))];
            format!(
                " Beyond the frame: {}.",
                parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
            )
        }
    }
}

fn one(canvas: &Canvas, panel: &Panel, findings: &Findings, which: View) {
    let show = findings.show;
    let scale = Scale::new(Dimension::Length, show, panel.x.end - panel.x.start);
    let up = match which {
        View::Side => "From the side: height",
        View::Plan => "From above: to the left",
    };
    panel.y_axis(canvas, &scale, up);
    panel.x_axis(canvas, &scale, "downrange");
    view::scene(canvas, panel, findings, which);
    paths(canvas, panel, findings, which);
    names(canvas, panel, findings, which);
}

/// In painting order: what holds lies on top.
fn ordered(findings: &Findings) -> Vec<&FlightFinding> {
    let mut order: Vec<&FlightFinding> = findings.flights.iter().collect();
    order.sort_by_key(|f| fate_of(f));
    order
}

/// The paths: to the strike as their fate has it, from there on thin.
pub(crate) fn lines(canvas: &Canvas, panel: &Panel, findings: &Findings, which: View) {
    for flight in ordered(findings) {
        let stroke = fate_of(flight).stroke(&canvas.palette);
        let line = path(flight, which);
        let Some(one) = deciding(findings, flight).filter(|one| flight.struck && one.goes_on)
        else {
            panel.line(&line, stroke);
            continue;
        };
        let split = flight.path.iter().take_while(|p| p.time < one.point.time).count();
        let strike = which.flat(view::seen(&one.point));
        let to: Vec<_> = line[..split].iter().copied().chain([strike]).collect();
        let on: Vec<_> = [strike].into_iter().chain(line[split..].iter().copied()).collect();
        panel.line(&on, Stroke { width: look::HAIR, ..stroke.faded(0.7) });
        panel.line(&to, stroke);
    }
}

/// The marks: at the strike, of a miss at its end.
pub(crate) fn marks(
    canvas: &Canvas,
    panel: &Panel,
    findings: &Findings,
    (which, size): (View, f64),
    shown: impl Fn(Fate) -> bool,
) {
    for flight in ordered(findings).into_iter().filter(|f| shown(fate_of(f))) {
        let end = || flight.path.last().cloned();
        let strike = deciding(findings, flight).filter(|_| flight.struck).map(|one| one.point);
        let at = strike.or_else(end).map(|point| which.flat(view::seen(&point)));
        if let Some(at) = at.filter(|at| panel.holds(*at)) {
            fate_of(flight).mark(canvas, panel.place(at), size);
        }
    }
}

/// Flights over a scene that is not theirs alone: each up to its strike or its end, with
/// its mark there.
pub(crate) fn over(canvas: &Canvas, panel: &Panel, flights: &[FlightFinding], which: View) {
    let mut order: Vec<_> = flights.iter().collect();
    order.sort_by_key(|flight| fate_of(flight));
    for flight in order {
        let Some(end) = flight.path.last() else { continue };
        let until = flight.strike.filter(|_| flight.struck).unwrap_or(end.time);
        let last = moment::arriving(&flight.path, until);
        let before = flight.path.iter().filter(|point| point.time < until);
        let flat = |point| which.flat(view::seen(point));
        let line: Vec<_> = before.map(flat).chain([flat(&last)]).collect();
        panel.line(&line, fate_of(flight).stroke(&canvas.palette));
        if panel.holds(flat(&last)) {
            fate_of(flight).mark(canvas, panel.place(flat(&last)), 3.6);
        }
    }
}

fn paths(canvas: &Canvas, panel: &Panel, findings: &Findings, which: View) {
    lines(canvas, panel, findings, which);
    marks(canvas, panel, findings, (which, 3.6), |_| true);
    let starts = findings.flights.iter().filter_map(|f| path(f, which).first().copied());
    for start in starts.filter(|s| panel.holds(*s)) {
        canvas.round(panel.place(start), 1.5, Some(opaque(canvas.palette.ink)), None);
    }
    if let Some(start) = release(findings, which).filter(|s| panel.holds(*s)) {
        let (ink, halo) = (canvas.palette.ink, opaque(canvas.palette.halo));
        canvas.round(panel.place(start), 4.5, Some(halo), Some(Stroke::solid(ink, 2.0)));
        canvas.round(panel.place(start), 1.6, Some(opaque(ink)), None);
    }
}

fn release(findings: &Findings, which: View) -> Option<(f64, f64)> {
    let first = findings.flights.first()?.path.first()?;
    Some(which.flat(view::seen(first)))
}

/// Names of the release and of the aimed faces, where there is room.
fn names(canvas: &Canvas, panel: &Panel, findings: &Findings, which: View) {
    let palette = canvas.palette;
    if let Some(start) = release(findings, which) {
        let (x, y) = panel.place(start);
        let text = Text::new("release", look::LABEL, palette.ink).bold().halo(palette.halo);
        canvas.try_text(&[(x - 4.0, y - 12.0), (x - 4.0, y + 22.0)], &text);
    }
    for face in findings.faces.iter().filter(|f| f.aim) {
        name(canvas, panel, findings, face, which);
    }
    if view::moves(findings) {
        let text = small("as the target sees it", canvas).end();
        canvas.try_text(&[(panel.rect.right, panel.rect.top - 12.0)], &text);
    }
}

/// The face's name to the right of the target, or else beside the face.
fn name(canvas: &Canvas, panel: &Panel, findings: &Findings, face: &FaceFinding, which: View) {
    let seen = |p: view::World| panel.place(which.flat(p));
    let corners: Vec<_> = view::face(face).into_iter().map(seen).collect();
    let solids = findings.solids.iter().flat_map(view::solid).map(seen);
    let behind = solids.map(|c| c.0).filter(|x| *x < panel.rect.right);
    let left = corners.iter().map(|c| c.0).fold(f64::INFINITY, f64::min) - 9.0;
    let right = corners.iter().map(|c| c.0).chain(behind).fold(f64::NEG_INFINITY, f64::max) + 8.0;
    let top = corners.iter().map(|c| c.1).fold(f64::INFINITY, f64::min);
    let low = corners.iter().map(|c| c.1).fold(f64::NEG_INFINITY, f64::max);
    let y = f64::midpoint(top, low) + 5.0;
    let words =
        font::fit(&face.name.replace('_', " "), Weight::Bold, look::LABEL, 0.2 * canvas.width());
    let ink = canvas.palette.harbour;
    let text = Text::new(words, look::LABEL, ink).bold().halo(canvas.palette.halo);
    let width = text.width();
    let middle = (left + right - width) / 2.0;
    let mut beside = vec![(right, y), (middle, top - 8.0), (left - width, y), (middle, low + 18.0)];
    // Behind what stands behind it, the name would be of that.
    if right > 20.0 + corners.iter().map(|c| c.0).fold(f64::NEG_INFINITY, f64::max) {
        beside.rotate_left(1);
    }
    // Where flights crowd round the target: farther off.
    let steps = (1..6).map(|k| 18.0 * f64::from(k));
    beside.extend(steps.flat_map(|s| [(middle, top - 8.0 - s), (middle, low + 18.0 + s)]));
    // Past the right edge there is room only if no other view stands there.
    let alone = panel.rect.right > 0.55 * canvas.width() || panel.rect.left > LEFT;
    let limit = if alone { canvas.width() } else { panel.rect.right + 12.0 };
    let inside = beside.into_iter().filter(|p| p.0 + width < limit);
    canvas.try_text(&inside.collect::<Vec<_>>(), &text);
}

fn title(findings: &Findings) -> String {
    let claim = &findings.claim;
    let struck = findings.flights.iter().any(|f| f.struck) || findings.impact_speed.is_some();
    let bound = claim.at_most && claim.probability > 0.0;
    let Some((held, all)) = words::counted(claim).filter(|_| !bound) else {
        let most = if bound { "At most " } else { "" };
        return format!("{most}{} what the claim says", words::flights_do(claim));
    };
    let n = words::flights(all);
    match (held, struck) {
        (0, false) => format!("Not one of {n} does what the claim says, and none even strikes"),
        (0, true) => format!("Some flights strike, but not one of {n} does what the claim says"),
        (1, _) if all == 1 => "The one flight flown does what the claim says".to_owned(),
        (held, _) if held == all => format!("All of {n} do what the claim says"),
        (held, _) => format!("{} of {n} do what the claim says", words::count(held)),
    }
}

fn subtitle(findings: &Findings) -> String {
    let shown = findings.flights.len() as u64;
    let drawn = format!(
        "A few of every fate, {} in all: the way of each centre from the dot where it starts, to true scale, with the target as it stands.{}",
        words::flights(shown),
        standing_off(findings)
    );
    if !view::moves(findings) {
        return drawn;
    }
    let speed = findings.target_velocity.iter().map(|v| v * v).sum::<f64>().sqrt();
    if speed < 1e-9 {
        return format!("{drawn} The target's place varies: paths are drawn as it sees them.");
    }
    let speed = words::quantity(speed, Dimension::Speed, findings.show);
    let course = match ["brakes", "steers"].map(|what| does(findings, what)) {
        [false, false] => format!("moves at {speed}"),
        [true, false] => format!("sets out at {speed} and brakes"),
        [false, true] => format!("sets out at {speed} and steers aside"),
        [true, true] => format!("sets out at {speed}, brakes and steers aside"),
    };
    format!("{drawn} The target {course}: paths are drawn in its own frame.")
}

/// Why the marks of strikes stand clear of the target, where the object is long
/// enough for that to look like a miss.
fn standing_off(findings: &Findings) -> String {
    let half = 0.5 * findings.object.extents.iter().copied().fold(0.0, f64::max);
    let struck = findings.flights.iter().any(|flight| flight.struck);
    if !struck || half < LONG * window(findings, View::Side).wide() {
        return String::new();
    }
    let half = words::quantity(half, Dimension::Length, findings.show);
    format!(" At a strike the centre is up to {half} from the edge that touches.")
}

/// Half an object that is this share of the view stands visibly off.
const LONG: f64 = 0.06;

/// Whether the driver of the target does this.
fn does(findings: &Findings, what: &str) -> bool {
    let name = format!("target.moves.{what}.at");
    findings.inputs.iter().any(|input| input.name == name)
}

fn description(findings: &Findings) -> String {
    let [held, struck, missed] = counts(&findings.flights);
    format!(
        "Paths of {} from the side and from above: {held} do what the claim says (solid, diamond), \
         {struck} strike and fail later (thin, ring), {missed} miss (dashed, cross).",
        words::flights(findings.flights.len() as u64)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn marks_that_stand_clear_of_the_target_are_accounted_for() {
        let mut findings = sample::ordinary();
        findings.object.extents = [8.0, 0.1, 0.1];
        assert!(standing_off(&findings).contains("up to 4 m from the edge that touches"));
        findings.object.extents = [0.2; 3];
        assert_eq!(standing_off(&findings), "");
    }
}
