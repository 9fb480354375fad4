//! The parts of a shelf, a small picture each: what flies as it would lie in the
//! hand, what stands as seen from before it. Each to its own scale, told by a bar
//! under it.

use super::{
    object,
    view::{self, View, hull},
};
use crate::{
    canvas::{Canvas, Frame, Rect, Text},
    look::{self, Palette, Stroke, veil},
    picture::Picture,
};
use longodds_sim::{
    findings::{FaceFinding, ObjectFinding, SolidFinding},
    math,
    quantity::{Dimension, Show, format},
};

/// What is drawn of a part.
#[derive(Clone, Debug)]
pub enum Drawn {
    /// What flies.
    Object(ObjectFinding),
    /// What stands: its solids, and its faces.
    Target(Vec<SolidFinding>, Vec<FaceFinding>),
}

/// A part of a shelf.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its name.
    pub name: String,
    /// A line under it: mass or faces.
    pub line: String,
    /// What is drawn of it.
    pub drawn: Drawn,
}

/// Pictures beside each other.
const COLUMNS: usize = 4;
/// Height of a row, px.
const ROW: f64 = 168.0;
/// Room for the drawing itself, px.
const ROOM: (f64, f64) = (150.0, 84.0);

/// Turned by 35 degrees to the left, then tipped by 25 degrees towards the eye:
/// (x, y, z, w).
fn turned() -> [f64; 4] {
    let half = |degrees: f64| degrees.to_radians() / 2.0;
    let (yaw, tip) = (half(35.0), half(25.0));
    let [sy, cy] = [math::sin(yaw), math::cos(yaw)];
    let [st, ct] = [math::sin(tip), math::cos(tip)];
    [st * cy, -st * sy, ct * sy, ct * cy]
}

/// A drawing, m.
struct Sketch {
    areas: Vec<(Vec<(f64, f64)>, Ink)>,
    lines: Vec<Vec<(f64, f64)>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Ink {
    /// What flies.
    Flies,
    /// A solid.
    Stands,
    /// A face.
    Face,
    /// The face that the part is about.
    Aimed,
}

fn sketch(drawn: &Drawn) -> Sketch {
    match drawn {
        Drawn::Object(it) => {
            let look = object::look(it, [0.0; 3], turned(), View::Side);
            Sketch { areas: vec![(look.outline, Ink::Flies)], lines: look.edges }
        }
        Drawn::Target(solids, faces) => target(solids, faces),
    }
}

/// Seen along x, a little from the right and from above; what is far is drawn first.
fn flat([x, y, z]: [f64; 3]) -> (f64, f64) {
    (0.3 * x - y, 0.3 * x + z)
}

fn target(solids: &[SolidFinding], faces: &[FaceFinding]) -> Sketch {
    let mut areas = Vec::new();
    let mut far: Vec<&SolidFinding> = solids.iter().collect();
    far.sort_by(|a, b| b.centre[0].total_cmp(&a.centre[0]));
    let mut lines = Vec::new();
    for one in far {
        let corners = view::solid(one);
        areas.push((hull(corners.iter().map(|p| flat(*p)).collect()), Ink::Stands));
        // Its front, and its top.
        let near = corners.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
        let top = corners.iter().map(|p| p[2]).fold(f64::NEG_INFINITY, f64::max);
        for keep in [0, 2] {
            let side = corners.iter().filter(|p| match keep {
                0 => p[0] < near + 1e-6,
                _ => p[2] > top - 1e-6,
            });
            let mut side = hull(side.map(|p| flat(*p)).collect());
            side.extend(side.first().copied());
            lines.push(side);
        }
    }
    let corners = |face: &FaceFinding| view::face(face).into_iter().map(flat).collect::<Vec<_>>();
    for aim in [false, true] {
        let ink = if aim { Ink::Aimed } else { Ink::Face };
        areas.extend(faces.iter().filter(|face| face.aim == aim).map(|face| (corners(face), ink)));
    }
    Sketch { areas, lines }
}

/// Every part with its picture, in rows.
#[must_use]
pub fn shelf(title: &str, things: &[Thing], show: Show) -> Picture {
    let rows = things.len().div_ceil(COLUMNS);
    let frame = Frame::page();
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    let canvas = Canvas::new(frame, 70.0 + count(rows) * ROW);
    let subtitle =
        "Each to its own scale: the bar under it says which. A face that counts is drawn heavy.";
    let top = canvas.heading(title, subtitle) + 8.0;
    let wide = canvas.width() / count(COLUMNS);
    for (place, thing) in things.iter().enumerate() {
        let (column, row) = (count(place % COLUMNS), count(place / COLUMNS));
        let (left, top) = (column * wide, top + row * ROW);
        let cell = Rect { left, top, right: left + wide, bottom: top + ROW };
        one(&canvas, thing, cell, show);
    }
    let names: Vec<&str> = things.iter().map(|thing| thing.name.as_str()).collect();
    canvas.finish("shelf", title, &format!("Silhouettes of: {}.", names.join(", ")))
}

fn one(canvas: &Canvas, thing: &Thing, cell: Rect, show: Show) {
    let palette = canvas.palette;
    let drawing = sketch(&thing.drawn);
    let points = || drawing.areas.iter().flat_map(|(points, _)| points.iter());
    let ends = |pick: fn(&(f64, f64)) -> f64| {
        points().map(pick).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        })
    };
    let (across, up) = (ends(|p| p.0), ends(|p| p.1));
    let size = |(low, high): (f64, f64)| (high - low).max(1e-6);
    let scale = (ROOM.0 / size(across)).min(ROOM.1 / size(up));
    let middle = ((across.0 + across.1) / 2.0, (up.0 + up.1) / 2.0);
    let at = (cell.left + cell.width() / 2.0, cell.top + 6.0 + ROOM.1 / 2.0);
    let place =
        |(x, y): &(f64, f64)| (at.0 + scale * (x - middle.0), at.1 - scale * (y - middle.1));
    // What is behind first, with its edges, then what is on it.
    let on = |ink: &Ink| matches!(ink, Ink::Face | Ink::Aimed);
    for (outline, ink) in drawing.areas.iter().filter(|(_, ink)| !on(ink)) {
        area(canvas, &palette, &outline.iter().map(place).collect::<Vec<_>>(), *ink);
    }
    let edge = match thing.drawn {
        Drawn::Object(_) => palette.ember,
        Drawn::Target(..) => palette.harbour,
    };
    for line in &drawing.lines {
        let line: Vec<_> = line.iter().map(place).collect();
        canvas.line(&line, Stroke::solid(edge, look::HAIR));
    }
    for (outline, ink) in drawing.areas.iter().filter(|(_, ink)| on(ink)) {
        area(canvas, &palette, &outline.iter().map(place).collect::<Vec<_>>(), *ink);
    }
    words(canvas, thing, cell, scale, show);
}

fn area(canvas: &Canvas, palette: &Palette, points: &[(f64, f64)], ink: Ink) {
    let (colour, alpha, width) = match ink {
        Ink::Flies => (palette.ember, 0.16, look::LINE),
        Ink::Stands => (palette.harbour, 0.08, look::THIN),
        Ink::Face => (palette.harbour, 0.12, look::THIN),
        Ink::Aimed => (palette.harbour, 0.3, look::HEAVY),
    };
    canvas.shape(points, Some(veil(colour, alpha)), None, Some(Stroke::solid(colour, width)));
}

/// Scale bar, name and line of a part.
fn words(canvas: &Canvas, thing: &Thing, cell: Rect, scale: f64, show: Show) {
    let palette = canvas.palette;
    let middle = cell.left + cell.width() / 2.0;
    let y = cell.top + ROOM.1 + 20.0;
    let length = round(36.0 / scale, show);
    let said = Text::new(format(length, Dimension::Length, show), look::TICK, palette.quiet);
    let (bar, gap) = (length * scale, 6.0);
    let left = middle - (bar + gap + said.width()) / 2.0;
    canvas.line(&[(left, y), (left + bar, y)], Stroke::solid(palette.ink, look::LINE));
    for end in [left, left + bar] {
        canvas.line(&[(end, y - 3.0), (end, y + 3.0)], Stroke::solid(palette.ink, look::THIN));
    }
    canvas.text((left + bar + gap, y + 4.5), said);
    let name = Text::new(thing.name.clone(), look::TICK, palette.ink).bold().middle();
    canvas.text((middle, y + 24.0), name);
    canvas.text(
        (middle, y + 41.0),
        Text::new(thing.line.clone(), look::TICK, palette.quiet).middle(),
    );
}

/// A round length near to one, m: 1, 2 or 5 of a power of ten, of metres or of feet
/// or inches.
fn round(length: f64, show: Show) -> f64 {
    let unit = match show {
        Show::Si => 1.0,
        Show::Imperial if length < 0.3048 => 0.0254,
        Show::Imperial => 0.3048,
    };
    let many = (length / unit).max(1e-6);
    let power = math::pow(10.0, (math::ln(many) / math::ln(10.0)).floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|step| step * power);
    let near = |a: &f64, b: &f64| math::ln(a / many).abs().total_cmp(&math::ln(b / many).abs());
    unit * steps.into_iter().min_by(near).unwrap_or(many)
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::{
        findings::things,
        scenario::parts::{Side, in_claims},
    };

    fn every() -> Vec<Thing> {
        let drawn = |side| {
            in_claims(side).into_iter().map(move |(part, scenario)| {
                let all = things(&scenario);
                let drawn = match side {
                    Side::Object => Drawn::Object(all.object),
                    Side::Target => Drawn::Target(all.solids, all.faces),
                };
                Thing { line: "1.2 m x 0.8 m x 144 mm, 22 kg".to_owned(), name: part.name, drawn }
            })
        };
        Side::ALL.into_iter().flat_map(drawn).collect()
    }

    #[test]
    fn every_part_has_its_room_and_its_name() {
        for show in [Show::Si, Show::Imperial] {
            let picture = shelf("The shelf", &every(), show);
            assert_eq!(picture.strays(), Vec::<String>::new());
            assert_eq!(picture.collisions(), Vec::<String>::new());
            assert_eq!(picture.struck_out(), Vec::<String>::new());
            let svg = picture.svg();
            assert!(every().iter().all(|thing| svg.contains(&thing.name)));
        }
    }

    /// Source: closed form: turned by 35 degrees about z, then by 25 about x.
    #[test]
    fn the_eye_sees_the_top_and_two_sides() {
        let of = |axis| view::moved(axis, [0.0; 3], turned());
        let (a, b) = (35_f64.to_radians(), 25_f64.to_radians());
        let wanted = [
            ([0.0, 0.0, 1.0], [0.0, -math::sin(b), math::cos(b)]),
            (
                [1.0, 0.0, 0.0],
                [math::cos(a), math::sin(a) * math::cos(b), math::sin(a) * math::sin(b)],
            ),
        ];
        for (axis, wanted) in wanted {
            let found = of(axis);
            assert!((0..3).all(|i| (found[i] - wanted[i]).abs() < 1e-12), "{found:?} {wanted:?}");
        }
    }

    #[test]
    fn a_bar_is_a_round_length_near_to_what_is_asked() {
        for (asked, show, length) in [
            (0.41, Show::Si, 0.5),
            (0.012, Show::Si, 0.01),
            (1.3, Show::Si, 1.0),
            (0.05, Show::Imperial, 0.0508),
            (2.0, Show::Imperial, 5.0 * 0.3048),
        ] {
            assert!((round(asked, show) - length).abs() < 1e-9, "{asked}");
        }
    }
}
