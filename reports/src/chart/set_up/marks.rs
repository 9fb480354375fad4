//! The marks of a set-up: target, object, spreads, aim, wind.

use super::Views;
use crate::{
    canvas::{Canvas, Panel, Text},
    chart::{
        object::{self, look},
        small,
        view::{self, View, World, hull, moved},
    },
    look::{self as decided, Stroke, veil},
    words,
};
use longodds_sim::{
    findings::{FaceFinding, FlightFinding, SetUp, Silhouette, in_vacuum},
    math::{cos, hypot, sin},
    quantity::{Dimension, Show, significant},
};

/// Length of the stroke on the outward side of a face, px.
const OUTWARD: f64 = 16.0;
/// Of a drawn arrow's head, px.
const HEAD: f64 = 7.0;
/// An object shorter than this is drawn once more, larger, px.
const SMALL: f64 = 26.0;
/// Length of that, px.
const LARGE: f64 = 64.0;

/// One view that is being drawn.
pub(super) struct Drawn<'d> {
    pub canvas: &'d Canvas,
    pub panel: &'d Panel,
    pub set_up: &'d SetUp,
    pub view: View,
}

/// The outline of the object as it starts, in the view's own coordinates, m.
pub(super) fn outline(set_up: &SetUp, view: View) -> Vec<(f64, f64)> {
    look(&set_up.object, set_up.start.at, set_up.start.attitude, view).outline
}

/// Corners of a box.
pub(super) fn corners([x, y, z]: [[f64; 2]; 3]) -> impl Iterator<Item = World> {
    (0..8_usize).map(move |i| [x[i & 1], y[i >> 1 & 1], z[i >> 2]])
}

impl Drawn<'_> {
    fn flat(&self, p: World) -> (f64, f64) {
        self.view.flat(p)
    }

    pub(super) fn name(&self, at: (f64, f64)) {
        let name = match self.view {
            View::Side => "from the side",
            View::Plan => "from above",
        };
        let text = Text::new(name, decided::LABEL, self.canvas.palette.ink).bold();
        self.canvas.text(at, text);
    }

    /// Where spreads reach: the start, the aim, the target.
    pub(super) fn veils(&self) {
        let palette = self.canvas.palette;
        let start = &self.set_up.start;
        let start_box = hull(corners(start.reach).map(|p| self.flat(p)).collect());
        let pale = veil(palette.ember, 0.22);
        if start_box.len() > 2 {
            self.panel.shape(&start_box, Some(pale), None, None);
        } else {
            self.panel.broad_line(&start_box, Stroke { ink: pale, width: 8.0, dash: None });
        }
        for face in self.set_up.faces.iter().filter(|face| face.aim) {
            let reach = start.target_reach;
            let moved = view::face(face).into_iter().flat_map(|p| {
                corners([reach[0], reach[1], [0.0; 2]])
                    .map(move |by| [p[0] + by[0], p[1] + by[1], p[2]])
            });
            let wide = hull(moved.map(|p| self.flat(p)).collect());
            self.panel.shape(&wide, Some(veil(palette.harbour, 0.14)), None, None);
        }
    }

    /// Ground, solids, faces with the outward side marked, and their names.
    pub(super) fn target(&self) {
        let set_up = self.set_up;
        view::stage(self.canvas, self.panel, (&set_up.faces, &set_up.solids), self.view);
        for face in &set_up.faces {
            self.outward(face);
        }
    }

    /// The names of the aimed faces, where nothing is in their way.
    pub(super) fn names(&self) {
        for face in self.set_up.faces.iter().filter(|face| face.aim) {
            self.face_name(face);
        }
    }

    /// A stroke from the middle of a face to its outward side.
    fn outward(&self, face: &FaceFinding) {
        let at = self.flat(face.centre);
        if !self.panel.holds(at) {
            return;
        }
        let (dx, dy) = self.flat(face.normal);
        let length = hypot(dx, dy);
        let (x, y) = self.panel.place(at);
        let ink = self.canvas.palette.harbour;
        if length < 0.3 {
            // It looks at the eye, or away from it.
            return;
        }
        let to = (x + OUTWARD * dx / length, y - OUTWARD * dy / length);
        arrow(self.canvas, (x, y), to, Stroke::solid(ink, decided::LINE));
    }

    fn face_name(&self, face: &FaceFinding) {
        let points: Vec<_> =
            view::face(face).into_iter().map(|p| self.panel.place(self.flat(p))).collect();
        let ends = |pick: fn(&(f64, f64)) -> f64| {
            let all = points.iter().map(pick);
            (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (top, bottom)) = (ends(|p| p.0), ends(|p| p.1));
        let palette = self.canvas.palette;
        let text = Text::new(face.name.replace('_', " "), decided::LABEL, palette.harbour)
            .bold()
            .halo(palette.halo);
        let wide = text.width();
        let middle = f64::midpoint(left, right) - wide / 2.0;
        let rect = self.panel.rect;
        let places = [
            (middle, top - 9.0),
            (middle, bottom + 19.0),
            (left - wide - 10.0, f64::midpoint(top, bottom) + 5.0),
            (right + 10.0, f64::midpoint(top, bottom) + 5.0),
        ];
        let within = places.map(|(x, y)| {
            let most = (self.canvas.width() - wide - 2.0).max(2.0);
            (x.clamp(2.0, most), y.clamp(rect.top - 4.0, rect.bottom + 18.0))
        });
        self.canvas.try_text(&within, &text);
    }

    /// Flights that were flown, by how they ended.
    pub(super) fn paths(&self, flights: &[FlightFinding]) {
        super::super::flights::over(self.canvas, self.panel, flights, self.view);
    }

    /// The straight line of the aim, where it scatters, and the arc without air; of what a
    /// carrier loses, its way.
    pub(super) fn way(&self) {
        let start = &self.set_up.start;
        let palette = self.canvas.palette;
        if let Some(launch) = &start.launch {
            let far = self.set_up.faces.iter().filter(|face| face.aim);
            let far = far
                .map(|face| (0..3).map(|k| (face.centre[k] - start.at[k]).powi(2)).sum::<f64>())
                .fold(1.0, f64::max)
                .sqrt();
            let end = |bearing: f64, elevation: f64| {
                let along =
                    [cos(bearing) * cos(elevation), sin(bearing) * cos(elevation), sin(elevation)];
                self.flat([0, 1, 2].map(|k| start.at[k] + far * along[k]))
            };
            let (b, e) = (launch.bearing, launch.elevation);
            let cone = match self.view {
                View::Side => [end(b[1], e[0]), end(b[1], e[2])],
                View::Plan => [end(b[0], e[1]), end(b[2], e[1])],
            };
            let from = self.flat(start.at);
            self.panel.shape(
                &[from, cone[0], cone[1]],
                Some(veil(palette.ember, 0.12)),
                None,
                None,
            );
            let aim = Stroke {
                dash: Some(decided::ASSUMED),
                ..Stroke::solid(palette.ink, decided::THIN)
            };
            self.panel.line(&[from, end(b[1], e[1])], aim);
            if self.view == View::Side {
                let arc = Stroke {
                    dash: Some(decided::MISSED),
                    ..Stroke::solid(palette.ember, decided::LINE)
                };
                self.panel.line(&self.arc(far), arc);
            }
        }
        if let Some(carrier) = start.carrier {
            let (x, y) = self.over(&outline(self.set_up, self.view));
            let said = span(carrier, Dimension::Speed, self.set_up.show);
            self.moves((x, y), 1.0, &format!("carrier {said}"));
        }
        let [vx, vy, _] = self.set_up.target_velocity;
        let speed = hypot(vx, vy);
        if speed > 0.0
            && let Some(face) = self.set_up.faces.iter().find(|face| face.aim)
        {
            let points: Vec<_> = view::face(face).into_iter().map(|p| self.flat(p)).collect();
            let at = self.over(&points);
            let across = vx / speed;
            let said = words::quantity(speed, Dimension::Speed, self.set_up.show);
            if across.abs() > 0.3 {
                self.moves((at.0, at.1 - 20.0), across.signum(), &format!("moves at {said}"));
            }
        }
    }

    /// Above the middle of some points, px.
    fn over(&self, points: &[(f64, f64)]) -> (f64, f64) {
        let placed: Vec<_> = points.iter().map(|p| self.panel.place(*p)).collect();
        let x = placed.iter().map(|p| p.0).sum::<f64>() / placed.len().max(1) as f64;
        (x, placed.iter().map(|p| p.1).fold(f64::INFINITY, f64::min) - 14.0)
    }

    /// An arrow along x with what it is.
    fn moves(&self, (x, y): (f64, f64), way: f64, said: &str) {
        let palette = self.canvas.palette;
        let to = (x + 40.0 * way, y);
        arrow(self.canvas, (x, y), to, Stroke::solid(palette.ink, decided::LINE));
        let text = small(said, self.canvas).halo(palette.halo);
        let wide = text.width();
        let most = self.canvas.width() - wide - 2.0;
        let right = (x.max(to.0) + 6.0).min(most);
        let left = (x.min(to.0) - wide - 6.0).max(2.0);
        let places = [(right, y + 5.0), (left, y + 5.0), (right, y - 10.0), (left, y - 10.0)];
        self.canvas.try_text(&places, &text);
    }

    /// The flight without air, until it is past the target or on the ground.
    fn arc(&self, far: f64) -> Vec<(f64, f64)> {
        const STEPS: u32 = 400;
        let start = &self.set_up.start;
        let Some(launch) = &start.launch else { return Vec::new() };
        let slow = launch.speed[1].max(0.1);
        let time = |step: u32| f64::from(step) / f64::from(STEPS) * (1.3 * far / slow).max(0.2);
        let point = |step| in_vacuum(start, launch, time(step));
        (0..=STEPS).map(point).take_while(|p| p[2] >= 0.0).map(|p| self.flat(p)).collect()
    }

    /// The object as it starts, with its nose.
    pub(super) fn object(&self) {
        let start = &self.set_up.start;
        let place = |points: &[(f64, f64)]| points.iter().map(|p| self.panel.place(*p)).collect();
        let seen = look(&self.set_up.object, start.at, start.attitude, self.view);
        body(self.canvas, &seen, place);
        self.nose();
    }

    /// Where the nose points, unless it is a ball's or points to the eye.
    fn nose(&self) {
        let start = &self.set_up.start;
        let half = self.set_up.object.extents[0] / 2.0;
        if matches!(self.set_up.object.silhouette, Silhouette::Ball | Silhouette::Lump) {
            return;
        }
        let nose = moved([1.0, 0.0, 0.0], [0.0; 3], start.attitude);
        let (dx, dy) = self.flat(nose);
        let shown = hypot(dx, dy);
        if shown < 0.3 {
            return;
        }
        let (x, y) = self.panel.place(self.flat(start.at));
        let (tip, _) = self.panel.place(self.flat([0, 1, 2].map(|k| start.at[k] + half)));
        let length = ((tip - x).abs() * shown + 10.0).max(18.0);
        let to = (x + length * dx / shown, y - length * dy / shown);
        arrow(self.canvas, (x, y), to, Stroke::solid(self.canvas.palette.ink, decided::THIN));
        let text = small("nose", self.canvas).halo(self.canvas.palette.halo);
        let wide = text.width();
        let beside = if dx < 0.0 { to.0 - wide - 4.0 } else { to.0 + 4.0 };
        self.canvas
            .try_text(&[(beside, to.1 + 4.0), (beside, to.1 - 10.0), (beside, to.1 + 18.0)], &text);
    }
}

/// Draws a body.
fn body(canvas: &Canvas, seen: &object::Look, place: impl Fn(&[(f64, f64)]) -> Vec<(f64, f64)>) {
    let ember = canvas.palette.ember;
    let rim = Stroke::solid(ember, decided::LINE);
    let outline = place(&seen.outline);
    let (fill, least) = (Some(veil(ember, 0.4)), 2.0);
    let wide =
        outline.iter().flat_map(|a| outline.iter().map(move |b| hypot(a.0 - b.0, a.1 - b.1)));
    if wide.fold(0.0, f64::max) < 2.0 * least {
        if let Some(at) = outline.first() {
            canvas.round(*at, least, fill, Some(rim));
        }
        return;
    }
    canvas.shape(&outline, fill, None, Some(rim));
    for edge in &seen.edges {
        canvas.line(&place(edge), Stroke::solid(ember, decided::HAIR));
    }
}

/// A line with a head, px.
pub(super) fn arrow(canvas: &Canvas, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
    let length = hypot(to.0 - from.0, to.1 - from.1);
    canvas.line(&[from, to], stroke);
    if length < 1.0 {
        return;
    }
    let (dx, dy) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    let wing =
        |side: f64| (to.0 - HEAD * (dx + 0.45 * side * dy), to.1 - HEAD * (dy - 0.45 * side * dx));
    canvas.area(&[to, wing(1.0), wing(-1.0)], stroke.ink);
}

/// A spread as "10 to 14 mph", or one value.
fn span([low, middle, high]: [f64; 3], dimension: Dimension, show: Show) -> String {
    let [low, middle, high] = [low, middle, high].map(|v| words::quantity(v, dimension, show));
    if low == high { middle } else { format!("{low} to {high}") }
}

/// The wind beside the name of the view from above, as it blows there.
pub(super) fn weather(canvas: &Canvas, views: &Views, set_up: &SetUp) {
    let Some(wind) = &set_up.start.wind else { return };
    let (x, y) = views.name_at(View::Plan);
    let (x, y) = (x + 116.0, y - 5.0);
    let reach = 15.0;
    let point = |angle: f64| (x + reach * cos(angle), y - reach * sin(angle));
    let [low, middle, high] = wind.towards;
    if high - low > 0.02 {
        let fan = (0..=16).map(|i| point(low + (high - low) * f64::from(i) / 16.0));
        let mut area = vec![(x, y)];
        area.extend(fan);
        canvas.area(&area, veil(canvas.palette.ink, 0.22));
    }
    let (tx, ty) = point(middle);
    arrow(
        canvas,
        (2.0 * x - tx, 2.0 * y - ty),
        (tx, ty),
        Stroke::solid(canvas.palette.ink, decided::LINE),
    );
    let said = span(wind.speed, Dimension::Speed, set_up.show);
    canvas.text((x + reach + 8.0, y + 5.0), small(format!("wind {said}"), canvas));
}

/// Room under the views for an object that has to be drawn once more, px.
pub(super) fn larger_height(set_up: &SetUp, scale: f64) -> f64 {
    if longest(set_up) * scale < SMALL { LARGE + 26.0 } else { 0.0 }
}

fn longest(set_up: &SetUp) -> f64 {
    set_up.object.extents.into_iter().fold(0.0, f64::max)
}

/// A small object once more, larger, under the views.
pub(super) fn larger(canvas: &Canvas, views: &Views, set_up: &SetUp) {
    let px = longest(set_up) * views.scale;
    if px >= SMALL || px <= 0.0 {
        return;
    }
    let times = LARGE / px;
    let scale = views.scale * times;
    let (left, foot) = (views.side.corner.0, views.foot().1);
    let (x, y) = (left + LARGE / 2.0 + 8.0, foot + 26.0 + LARGE / 2.0);
    let seen = look(&set_up.object, [0.0; 3], set_up.start.attitude, View::Side);
    let place = |points: &[(f64, f64)]| {
        points.iter().map(|(a, b)| (x + a * scale, y - b * scale)).collect::<Vec<_>>()
    };
    let rule = Stroke::solid(canvas.palette.rule, decided::THIN);
    canvas.round((x, y), LARGE / 2.0 + 7.0, None, Some(rule));
    body(canvas, &seen, place);
    let said = format!("from the side, {} times larger", significant(times, 2));
    canvas.text((x + LARGE / 2.0 + 18.0, y + 5.0), small(said, canvas));
}
