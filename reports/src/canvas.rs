//! Where charts are drawn: pixels from the top left, or a panel with its own
//! coordinates. Everything goes through plotters to our own backend.

use crate::{
    font::{self, Weight},
    look::{self, Palette, Stroke, opaque},
    picture::{
        Anchor, Area, FINE, Head, Lettering, Line, Mark, Picture, Recorder, Round, Words, covers,
        crosses, cut, cut_area, inner,
    },
};
use plotters::{
    coord::{Shift, types::RangedCoordf64},
    drawing::{DrawingArea, IntoDrawingArea},
    element::{Drawable, PointCollection},
    prelude::Cartesian2d,
    style::{RGBAColor, RGBColor},
};
use std::{cell::RefCell, ops::Range, rc::Rc};

/// Size and ground of a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Width, px.
    pub width: u32,
    /// Largest height wanted, px; a chart may be lower, and a list may be
    /// higher.
    pub height: u32,
    /// Colours.
    pub palette: Palette,
}

impl Frame {
    /// The frame of the page's charts.
    #[must_use]
    pub const fn page() -> Self {
        Self { width: 840, height: 560, palette: look::LIGHT }
    }
}

/// A rectangle, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rect {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Rect {
    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn corners(&self) -> Vec<(f64, f64)> {
        let Self { left, top, right, bottom } = *self;
        vec![(left, top), (right, top), (right, bottom), (left, bottom)]
    }
}

/// A line of text to be placed.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    pub words: String,
    pub size: f64,
    pub weight: Weight,
    pub ink: RGBAColor,
    pub anchor: Anchor,
    pub halo: Option<RGBAColor>,
    /// Shift from its point, px.
    pub nudge: (f64, f64),
}

impl Text {
    pub(crate) fn new(words: impl Into<String>, size: f64, ink: RGBColor) -> Self {
        Self {
            words: words.into(),
            size,
            weight: Weight::Regular,
            ink: opaque(ink),
            anchor: Anchor::Start,
            halo: None,
            nudge: (0.0, 0.0),
        }
    }

    pub(crate) fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    pub(crate) fn middle(mut self) -> Self {
        self.anchor = Anchor::Middle;
        self
    }

    pub(crate) fn end(mut self) -> Self {
        self.anchor = Anchor::End;
        self
    }

    pub(crate) fn halo(mut self, ground: RGBColor) -> Self {
        self.halo = Some(opaque(ground));
        self
    }

    pub(crate) fn width(&self) -> f64 {
        self.weight.width(&self.words, self.size)
    }
}

type Flat = Cartesian2d<RangedCoordf64, RangedCoordf64>;

/// A sheet to draw on, in px.
pub(crate) struct Canvas {
    sheet: Rc<RefCell<Vec<Mark>>>,
    root: DrawingArea<Recorder, Shift>,
    pub frame: Frame,
    pub palette: Palette,
    head: RefCell<Head>,
}

impl Canvas {
    /// An empty sheet, `height` px high.
    pub(crate) fn new(frame: Frame, height: f64) -> Self {
        let frame = Frame { height: px(height), ..frame };
        let sheet = Rc::default();
        let fine = |px: u32| px.saturating_mul(10);
        let size = (fine(frame.width), fine(frame.height));
        let root = Recorder::new(Rc::clone(&sheet), size).into_drawing_area();
        Self { sheet, root, frame, palette: frame.palette, head: RefCell::default() }
    }

    /// Width, px.
    pub(crate) fn width(&self) -> f64 {
        f64::from(self.frame.width)
    }

    /// Height, px.
    pub(crate) fn height(&self) -> f64 {
        f64::from(self.frame.height)
    }

    /// The sheet as a finished picture.
    pub(crate) fn finish(self, name: &str, title: &str, description: &str) -> Picture {
        Picture {
            name: name.to_owned(),
            title: title.to_owned(),
            description: description.to_owned(),
            width: self.frame.width,
            height: self.frame.height,
            paper: self.palette.paper,
            head: self.head.take(),
            marks: self.sheet.take(),
        }
    }

    fn put<E>(&self, element: &E)
    where
        for<'a> &'a E: PointCollection<'a, (i32, i32)>,
        E: Drawable<Recorder>,
    {
        let drawn = self.root.draw(element);
        debug_assert!(drawn.is_ok(), "recording cannot fail");
    }

    pub(crate) fn line(&self, points: &[(f64, f64)], stroke: Stroke) {
        self.put(&Line { points: points.iter().map(fine).collect(), stroke });
    }

    pub(crate) fn area(&self, points: &[(f64, f64)], fill: RGBAColor) {
        let points = points.iter().map(fine).collect();
        self.put(&Area { points, fill: Some(fill), hatch: None, stroke: None });
    }

    /// An area with any of fill, hatch (rising to the right unless `falling`)
    /// and outline.
    pub(crate) fn shape(
        &self,
        points: &[(f64, f64)],
        fill: Option<RGBAColor>,
        hatch: Option<(RGBAColor, bool)>,
        stroke: Option<Stroke>,
    ) {
        self.put(&Area { points: points.iter().map(fine).collect(), fill, hatch, stroke });
    }

    pub(crate) fn round(
        &self,
        centre: (f64, f64),
        radius: f64,
        fill: Option<RGBAColor>,
        stroke: Option<Stroke>,
    ) {
        self.put(&Round { centre: [fine(&centre)], radius, fill, stroke });
    }

    pub(crate) fn text(&self, at: (f64, f64), text: Text) {
        self.put(&Words { at: [fine(&at)], text });
    }

    /// Places a text at the first of `places` where it stays on the sheet,
    /// touches no other text and hides no mark drawn so far, rather where no
    /// line passes behind it; says whether there was one.
    pub(crate) fn try_text(&self, places: &[(f64, f64)], text: &Text) -> bool {
        let mut free = Vec::new();
        for &at in places {
            self.text(at, text.clone());
            let Some(Mark::Text(placed)) = self.sheet.borrow_mut().pop() else { return false };
            if self.is_free(&placed) {
                free.push(placed);
            }
        }
        let clear = |placed: &&Lettering| {
            let inner = inner(placed);
            !self.sheet.borrow().iter().any(|mark| crosses(mark, &inner))
        };
        let best = free.iter().find(clear).or(free.first());
        self.sheet.borrow_mut().extend(best.cloned().map(Mark::Text));
        best.is_some()
    }

    fn is_free(&self, lettering: &Lettering) -> bool {
        let (room, inner) = (lettering.room(), inner(lettering));
        let inside = room.left >= 0.0
            && room.top >= 0.0
            && room.right <= self.width()
            && room.bottom <= self.height();
        let taken = |mark: &Mark| match mark {
            Mark::Text(other) => other.room().overlaps(&room),
            Mark::Path { .. } | Mark::Circle { .. } => covers(&inner, mark),
        };
        inside && !self.sheet.borrow().iter().any(taken)
    }

    /// Lines of text from `at` downwards; returns the baseline after the last.
    pub(crate) fn paragraph(&self, at: (f64, f64), width: f64, text: &Text) -> f64 {
        let mut y = at.1;
        for words in font::wrap(&text.words, text.weight, text.size, width) {
            self.text((at.0, y), Text { words, ..text.clone() });
            y += text.size * 1.28;
        }
        y
    }

    /// The title, its subtitle and the datum mark; returns the y below them.
    pub(crate) fn heading(&self, title: &str, subtitle: &str) -> f64 {
        let palette = self.palette;
        self.area(
            &Rect { left: 0.0, top: 4.0, right: 5.0, bottom: 4.0 + look::TITLE }.corners(),
            opaque(palette.ink),
        );
        let head = Text::new(title, look::TITLE, palette.ink).bold();
        let below = self.paragraph((14.0, 4.0 + 0.86 * look::TITLE), self.width() - 20.0, &head);
        let sub = Text::new(subtitle, look::SUBTITLE, palette.quiet);
        let height = self.paragraph((14.0, below), self.width() - 20.0, &sub) + 4.0;
        self.head.replace(Head { subtitle: subtitle.to_owned(), height });
        height
    }

    /// A panel with its own coordinates over part of the sheet.
    pub(crate) fn panel(&self, rect: Rect, x: Range<f64>, y: Range<f64>) -> Panel {
        let pixels = |a: f64, b: f64| fine(&(a, b)).0..fine(&(a, b)).1;
        let flat = Flat::new(
            RangedCoordf64::from(x.clone()),
            RangedCoordf64::from(y.clone()),
            (pixels(rect.left, rect.right), pixels(rect.bottom, rect.top)),
        );
        Panel { area: self.root.apply_coord_spec(flat), rect, x, y }
    }
}

/// Height that a heading takes on a sheet of this width.
pub(crate) fn heading_height(width: f64, title: &str, subtitle: &str) -> f64 {
    let lines = |text: &str, weight, size| font::wrap(text, weight, size, width - 20.0).len();
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    4.0 + 0.86 * look::TITLE
        + count(lines(title, Weight::Bold, look::TITLE)) * look::TITLE * 1.28
        + count(lines(subtitle, Weight::Regular, look::SUBTITLE)) * look::SUBTITLE * 1.28
        + 4.0
}

fn fine(p: &(f64, f64)) -> (i32, i32) {
    (grid(p.0), grid(p.1))
}

#[expect(clippy::cast_possible_truncation, reason = "held inside i32 before the cast")]
fn grid(x: f64) -> i32 {
    (x * FINE).round().clamp(-1e8, 1e8) as i32
}

#[expect(clippy::cast_possible_truncation, reason = "bounded before the cast")]
#[expect(clippy::cast_sign_loss, reason = "bounded before the cast")]
fn px(x: f64) -> u32 {
    x.ceil().clamp(1.0, 16_384.0) as u32
}

/// Part of a sheet with coordinates of its own, y up.
pub(crate) struct Panel {
    area: DrawingArea<Recorder, Flat>,
    pub rect: Rect,
    pub x: Range<f64>,
    pub y: Range<f64>,
}

impl Panel {
    fn put<E>(&self, element: &E)
    where
        for<'a> &'a E: PointCollection<'a, (f64, f64)>,
        E: Drawable<Recorder>,
    {
        let drawn = self.area.draw(element);
        debug_assert!(drawn.is_ok(), "recording cannot fail");
    }

    /// Where a point of the panel is on the sheet, px.
    pub(crate) fn place(&self, at: (f64, f64)) -> (f64, f64) {
        let (x, y) = self.area.map_coordinate(&at);
        (f64::from(x) / FINE, f64::from(y) / FINE)
    }

    pub(crate) fn holds(&self, at: (f64, f64)) -> bool {
        self.x.contains(&at.0) && self.y.contains(&at.1)
    }

    /// A line, cut at the panel's edges.
    pub(crate) fn line(&self, points: &[(f64, f64)], stroke: Stroke) {
        for points in cut(points, (self.x.start, self.x.end), (self.y.start, self.y.end)) {
            self.put(&Line { points, stroke });
        }
    }

    /// A broad line, cut so that its round ends stay inside the panel.
    pub(crate) fn broad_line(&self, points: &[(f64, f64)], stroke: Stroke) {
        let inset = |range: &Range<f64>, pixels: f64| {
            let half = (stroke.width / 2.0 / pixels).min(0.5) * (range.end - range.start);
            (range.start + half, range.end - half)
        };
        let (x, y) = (inset(&self.x, self.rect.width()), inset(&self.y, self.rect.height()));
        for points in cut(points, x, y) {
            self.put(&Line { points, stroke });
        }
    }

    /// A convex area, cut at the panel's edges.
    pub(crate) fn shape(
        &self,
        points: &[(f64, f64)],
        fill: Option<RGBAColor>,
        hatch: Option<(RGBAColor, bool)>,
        stroke: Option<Stroke>,
    ) {
        let points = cut_area(points, (self.x.start, self.x.end), (self.y.start, self.y.end));
        if points.len() > 1 {
            self.put(&Area { points, fill, hatch, stroke });
        }
    }

    /// An area of any form; its corners must lie inside the panel.
    pub(crate) fn silhouette(
        &self,
        points: Vec<(f64, f64)>,
        fill: Option<RGBAColor>,
        hatch: Option<(RGBAColor, bool)>,
        stroke: Stroke,
    ) {
        self.put(&Area { points, fill, hatch, stroke: Some(stroke) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broad_line_and_its_round_ends_stay_inside_the_panel() {
        let canvas = Canvas::new(Frame::page(), 200.0);
        let rect = Rect { left: 50.0, top: 40.0, right: 250.0, bottom: 140.0 };
        let panel = canvas.panel(rect, 0.0..4.0, 0.0..2.0);
        let pen = Stroke::solid(canvas.palette.ink, 6.0);
        panel.broad_line(&[(2.0, -9.0), (2.0, 9.0)], pen);
        panel.broad_line(&[(-9.0, 1.0), (9.0, 1.0)], pen);
        let marks = canvas.finish("made up", "", "").marks;
        let ends: Vec<_> = marks
            .iter()
            .flat_map(|mark| match mark {
                Mark::Path { points, .. } => points.clone(),
                Mark::Circle { .. } | Mark::Text(_) => Vec::new(),
            })
            .collect();
        // Half the width short of every edge, on the grid of tenths.
        assert_eq!(ends, [(1500, 1370), (1500, 430), (530, 900), (2470, 900)]);
    }
}
