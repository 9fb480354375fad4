//! Distances of a set-up, as on a drawing, and its scale bar.

use super::{
    Views, long,
    marks::{Drawn, arrow},
    nearest,
};
use crate::{
    canvas::{Canvas, Text},
    chart::{small, view::View},
    look::{self, Stroke},
};
use longodds_sim::quantity::{Dimension, Show, axis};

/// The gap over the ground, and heights, where there is room.
pub(super) fn draw(drawn: &Drawn<'_>) {
    if drawn.view == View::Side {
        gap(drawn);
        height(drawn);
    }
}

/// From under the start to under the middle of the nearest aimed face.
fn gap(drawn: &Drawn<'_>) {
    let Some((face, _)) = nearest(drawn.set_up) else { return };
    let from = drawn.panel.place((drawn.set_up.start.at[0], 0.0)).0;
    let to = drawn.panel.place((face.centre[0], 0.0)).0;
    let y = drawn.panel.rect.bottom + 12.0;
    if (to - from).abs() < 2.0 {
        return;
    }
    let ink = drawn.canvas.palette.quiet;
    let line = Stroke::solid(ink, look::THIN);
    for end in [from, to] {
        drawn.canvas.line(&[(end, y - 5.0), (end, y + 5.0)], line);
    }
    drawn.canvas.line(&[(from, y), (to, y)], line);
    let said = long((face.centre[0] - drawn.set_up.start.at[0]).abs(), drawn.set_up.show);
    let text = Text::new(said, look::LABEL, drawn.canvas.palette.ink).bold();
    let x = (f64::midpoint(from, to) - text.width() / 2.0).max(2.0);
    drawn.canvas.try_text(&[(x, y + 18.0), (from.max(to) + 8.0, y + 5.0)], &text);
}

/// From the ground to the middle of the object.
fn height(drawn: &Drawn<'_>) {
    let start = &drawn.set_up.start;
    if start.at[2] <= 0.0 {
        return;
    }
    let (x, top) = drawn.panel.place((start.at[0], start.at[2]));
    let (_, ground) = drawn.panel.place((start.at[0], 0.0));
    let palette = drawn.canvas.palette;
    let line = Stroke { dash: Some(look::ASSUMED), ..Stroke::solid(palette.quiet, look::THIN) };
    drawn.canvas.line(&[(x, top), (x, ground)], line);
    let text = Text::new(long(start.at[2], drawn.set_up.show), look::LABEL, palette.ink)
        .bold()
        .halo(palette.halo);
    let y = f64::midpoint(top, ground) + 5.0;
    let wide = text.width();
    drawn
        .canvas
        .try_text(&[(x + 6.0, y), ((x - wide - 6.0).max(2.0), y), (x + 6.0, y + 18.0)], &text);
}

/// A bar of a round length under the view from above.
pub(super) fn scale_bar(canvas: &Canvas, views: &Views, show: Show) {
    let (x, y) = views.foot();
    let (length, said) = round(120.0 / views.scale, show);
    let px = length * views.scale;
    let ink = canvas.palette.ink;
    let line = Stroke::solid(ink, look::LINE);
    canvas.line(&[(x, y), (x + px, y)], line);
    for end in [x, x + px] {
        canvas.line(&[(end, y - 4.0), (end, y + 4.0)], line);
    }
    canvas.text((x + px + 8.0, y + 5.0), small(said, canvas));
    let from = x + px + 120.0;
    let name = small("downrange", canvas);
    if from + 40.0 + name.width() < canvas.width() {
        arrow(canvas, (from, y), (from + 34.0, y), Stroke::solid(ink, look::THIN));
        canvas.text((from + 40.0, y + 5.0), name);
    }
}

/// The largest 1, 2 or 5 times a power of ten, in the reader's unit, that is no longer
/// than `most` m; in m and in words.
fn round(most: f64, show: Show) -> (f64, String) {
    let unit = axis(Dimension::Length, show, most);
    let value = unit.value(most);
    let ten = longodds_sim::math::pow(10.0, longodds_sim::math::log10(value).floor());
    let nice =
        [5.0, 2.0, 1.0].into_iter().find(|n| n * ten <= value * 1.000_001).unwrap_or(1.0) * ten;
    let length = most * nice / value;
    (length, long(length, show))
}
