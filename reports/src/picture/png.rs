//! A picture as an anti-aliased PNG.

use super::{
    FINE, Picture,
    mark::{Lettering, Mark, Pen, Point},
};
use plotters::style::RGBAColor;
use skrifa::outline::OutlinePen;
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, StrokeDash,
    Transform,
};

/// Encodes the picture at `scale` pixels per px; empty where it cannot be.
pub(super) fn write(picture: &Picture, scale: f32) -> Vec<u8> {
    paint(picture, scale).and_then(|pixmap| pixmap.encode_png().ok()).unwrap_or_default()
}

/// Paints the picture at `scale` pixels per px.
pub(super) fn paint(picture: &Picture, scale: f32) -> Option<Pixmap> {
    let side = |px: u32| pixels(f64::from(px) * f64::from(scale));
    let mut pixmap = Pixmap::new(side(picture.width), side(picture.height))?;
    if let Some(c) = picture.paper {
        pixmap.fill(Color::from_rgba8(c.0, c.1, c.2, 255));
    }
    let view = Transform::from_scale(scale / small(FINE), scale / small(FINE));
    for mark in &picture.marks {
        one(&mut pixmap, mark, view);
    }
    Some(pixmap)
}

#[expect(clippy::cast_possible_truncation, reason = "bounded before the cast")]
#[expect(clippy::cast_sign_loss, reason = "bounded before the cast")]
fn pixels(x: f64) -> u32 {
    x.round().clamp(0.0, 16_384.0) as u32
}

#[expect(clippy::cast_possible_truncation, reason = "the painter works in f32")]
fn small(x: f64) -> f32 {
    x as f32
}

fn step(x: i32) -> f32 {
    small(f64::from(x))
}

fn one(pixmap: &mut Pixmap, mark: &Mark, view: Transform) {
    match mark {
        Mark::Path { points, closed, fill, pen } => {
            draw(pixmap, corners(points, *closed), *fill, *pen, view);
        }
        Mark::Circle { centre, radius, fill, pen } => {
            let circle = PathBuilder::from_circle(step(centre.0), step(centre.1), step(*radius));
            draw(pixmap, circle, *fill, *pen, view);
        }
        Mark::Text(lettering) => text(pixmap, lettering, view),
    }
}

fn corners(points: &[Point], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (i, &(x, y)) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(step(x), step(y));
        } else {
            path.line_to(step(x), step(y));
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

fn draw(
    pixmap: &mut Pixmap,
    path: Option<Path>,
    fill: Option<RGBAColor>,
    pen: Option<Pen>,
    view: Transform,
) {
    let Some(path) = path else { return };
    if let Some(ink) = fill {
        pixmap.fill_path(&path, &paint_of(ink), FillRule::EvenOdd, view, None);
    }
    if let Some(pen) = pen {
        let dash = pen.dash.and_then(|[on, off]| StrokeDash::new(vec![step(on), step(off)], 0.0));
        let line_cap = if pen.dash.is_some() { LineCap::Butt } else { LineCap::Round };
        let line_join = LineJoin::Round;
        let stroke =
            Stroke { width: step(pen.width), line_cap, line_join, dash, ..Stroke::default() };
        pixmap.stroke_path(&path, &paint_of(pen.ink), &stroke, view, None);
    }
}

fn paint_of(ink: RGBAColor) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(
        Color::from_rgba(
            f32::from(ink.0) / 255.0,
            f32::from(ink.1) / 255.0,
            f32::from(ink.2) / 255.0,
            small(ink.3.clamp(0.0, 1.0)),
        )
        .unwrap_or(Color::BLACK),
    );
    paint
}

fn text(pixmap: &mut Pixmap, lettering: &Lettering, view: Transform) {
    let mut outline = Outline(PathBuilder::new());
    lettering.weight.draw(&lettering.text, step(lettering.size), &mut outline);
    let Some(path) = outline.0.finish() else { return };
    let place = view.pre_translate(step(lettering.at.0), step(lettering.at.1));
    let turned = if lettering.upward { place.pre_rotate(-90.0) } else { place };
    let place = turned.pre_translate(small(lettering.lead()), 0.0);
    if let Some(halo) = lettering.halo {
        let stroke = Stroke {
            width: step(lettering.size / 4),
            line_join: LineJoin::Round,
            ..Stroke::default()
        };
        pixmap.stroke_path(&path, &paint_of(halo), &stroke, place, None);
    }
    pixmap.fill_path(&path, &paint_of(lettering.ink), FillRule::Winding, place, None);
}

/// Turns a font's outline into a path.
struct Outline(PathBuilder);

impl OutlinePen for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(x, y);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(x, y);
    }
    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to(cx, cy, x, y);
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.0.cubic_to(ax, ay, bx, by, x, y);
    }
    fn close(&mut self) {
        self.0.close();
    }
}
