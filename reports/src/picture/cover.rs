//! Which marks a text must keep clear of: what stands for data, and not what
//! lies behind it as a ground.

use super::{
    FINE,
    mark::{Lettering, Mark, Point, TextBox},
};
use crate::look::{DARK, LIGHT};
use plotters::style::RGBAColor;

/// So much of a text's edge may be touched, px.
const EDGE: f64 = 1.5;
/// What lets more through than this is a ground for data to stand on.
const VEIL: f64 = 0.25;
/// What is lower or narrower than this is a stripe of a ground, px.
const STRIPE: f64 = 2.4;
/// A line fainter than this is none.
const FAINT: f64 = 0.2;
/// Lines thinner than this are grid, which may pass behind a text, px.
const GRID: f64 = 0.9;

/// The room of a text without its edge.
pub(crate) fn inner(lettering: &Lettering) -> TextBox {
    let room = lettering.room();
    TextBox {
        left: room.left + EDGE,
        top: room.top + EDGE,
        right: room.right - EDGE,
        bottom: room.bottom - EDGE,
        ..room
    }
}

/// Does a text in this room hide a mark, or get lost in it?
pub(crate) fn covers(room: &TextBox, mark: &Mark) -> bool {
    match mark {
        Mark::Text(_) => false,
        Mark::Circle { centre, radius, fill, pen } => {
            let drawn = pen.is_some_and(|pen| pen.ink.3 >= FAINT);
            let (near, far) = distances(room, px(*centre));
            let r = f64::from(*radius) / FINE;
            fill.is_some_and(solid) && near < r || drawn && near < r && far > r
        }
        Mark::Path { points, closed: true, fill: Some(fill), .. } => {
            let (wide, high) = size(points);
            solid(*fill) && wide.min(high) > STRIPE && meets_area(points, room)
        }
        // A cross: all of it within a few pixels.
        Mark::Path { points, closed: false, pen: Some(pen), .. } if points.len() > 3 => {
            let (wide, high) = size(points);
            pen.ink.3 >= FAINT && wide.max(high) < 9.0 && meets_line(points, room)
        }
        Mark::Path { .. } => false,
    }
}

/// Does a drawn line pass through the room?
pub(crate) fn crosses(mark: &Mark, room: &TextBox) -> bool {
    let Mark::Path { points, closed, pen: Some(pen), .. } = mark else { return false };
    if f64::from(pen.width) < GRID * FINE || pen.ink.3 < FAINT {
        return false;
    }
    let back = [points.last(), points.first()].map(|p| p.copied().unwrap_or_default());
    meets_line(points, room) || *closed && meets_line(&back, room)
}

/// Does this fill stand for something? The ground of the scene has the colour of
/// the grid.
fn solid(fill: RGBAColor) -> bool {
    let ground = [LIGHT.rule, DARK.rule];
    fill.3 >= VEIL
        && !ground.iter().any(|rule| (rule.0, rule.1, rule.2) == (fill.0, fill.1, fill.2))
}

fn px(p: Point) -> (f64, f64) {
    (f64::from(p.0) / FINE, f64::from(p.1) / FINE)
}

/// From a point to the nearest and to the farthest of a room.
fn distances(room: &TextBox, (x, y): (f64, f64)) -> (f64, f64) {
    let near = |v: f64, low: f64, high: f64| (low - v).max(v - high).max(0.0);
    let far = |v: f64, low: f64, high: f64| (v - low).abs().max((high - v).abs());
    let (nx, ny) = (near(x, room.left, room.right), near(y, room.top, room.bottom));
    let (fx, fy) = (far(x, room.left, room.right), far(y, room.top, room.bottom));
    ((nx * nx + ny * ny).sqrt(), (fx * fx + fy * fy).sqrt())
}

/// Smallest and largest x, smallest and largest y, px.
fn bounds(points: &[Point]) -> [f64; 4] {
    let none = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
    points
        .iter()
        .map(|p| px(*p))
        .fold(none, |[a, b, c, d], (x, y)| [a.min(x), b.max(x), c.min(y), d.max(y)])
}

fn size(points: &[Point]) -> (f64, f64) {
    let [left, right, top, bottom] = bounds(points);
    (right - left, bottom - top)
}

fn apart(points: &[Point], room: &TextBox) -> bool {
    let [left, right, top, bottom] = bounds(points);
    right < room.left || left > room.right || bottom < room.top || top > room.bottom
}

/// Does a line from point to point meet the room?
fn meets_line(points: &[Point], room: &TextBox) -> bool {
    !apart(points, room) && points.windows(2).any(|pair| meets(pair[0], pair[1], room))
}

fn meets_area(points: &[Point], room: &TextBox) -> bool {
    let middle = (f64::midpoint(room.left, room.right), f64::midpoint(room.top, room.bottom));
    let back = [points[points.len() - 1], points[0]];
    !apart(points, room)
        && (holds(points, middle) || meets_line(points, room) || meets_line(&back, room))
}

/// Is a place inside an outline? Even and odd crossings of a level line.
fn holds(points: &[Point], (x, y): (f64, f64)) -> bool {
    let corners = points.iter().map(|p| px(*p));
    let next = corners.clone().cycle().skip(1);
    let crossed = corners
        .zip(next)
        .filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) * (b.0 - a.0) / (b.1 - a.1));
    crossed.count() % 2 == 1
}

/// Does a straight line meet the room? Looked at piece by piece, a pixel each.
fn meets(a: Point, b: Point, room: &TextBox) -> bool {
    if apart(&[a, b], room) {
        return false;
    }
    let (a, b) = (px(a), px(b));
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let steps = dx.abs().max(dy.abs()).ceil().clamp(1.0, 8192.0);
    let mut k = 0.0;
    while k <= steps {
        let (x, y) = (a.0 + dx * k / steps, a.1 + dy * k / steps);
        if x > room.left && x < room.right && y > room.top && y < room.bottom {
            return true;
        }
        k += 1.0;
    }
    false
}

#[cfg(test)]
mod tests {
    use crate::{
        canvas::{Canvas, Frame, Rect, Text},
        chart::Fate,
        look::{self, Stroke, opaque, veil},
    };

    /// A text over what `draw` draws around (100, 40).
    fn hidden(draw: impl Fn(&Canvas)) -> bool {
        let canvas = Canvas::new(Frame::page(), 80.0);
        draw(&canvas);
        let text = Text::new("a word or two", look::LABEL, canvas.palette.ink);
        canvas.text((80.0, 45.0), text.halo(canvas.palette.halo));
        !canvas.finish("made up", "", "").hiding().is_empty()
    }

    #[test]
    fn a_text_hides_every_kind_of_mark_even_with_a_rim() {
        for fate in Fate::ALL {
            assert!(hidden(|canvas| fate.mark(canvas, (100.0, 40.0), 3.8)), "{fate:?}");
            assert!(!hidden(|canvas| fate.mark(canvas, (100.0, 60.0), 3.8)), "{fate:?} below it");
        }
        let bar = Rect { left: 0.0, top: 20.0, right: 400.0, bottom: 60.0 }.corners();
        assert!(hidden(|canvas| canvas.area(&bar, opaque(canvas.palette.ember))));
    }

    #[test]
    fn grids_grounds_and_rings_round_a_text_are_not_hidden() {
        let bar = Rect { left: 0.0, top: 20.0, right: 400.0, bottom: 60.0 }.corners();
        assert!(!hidden(|canvas| canvas.area(&bar, veil(canvas.palette.harbour, 0.12))));
        assert!(!hidden(|canvas| canvas.area(&bar, veil(canvas.palette.rule, 0.55))));
        let pen = Stroke::solid(look::LIGHT.ink, look::LINE);
        assert!(!hidden(|canvas| canvas.round((120.0, 40.0), 70.0, None, Some(pen))));
        assert!(hidden(|canvas| canvas.round((120.0, 40.0), 20.0, None, Some(pen))));
    }
}
