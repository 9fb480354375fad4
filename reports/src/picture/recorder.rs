//! A plotters backend that keeps what it is told to draw.

use super::mark::{Anchor, Lettering, Mark, Pen, Point};
use crate::font::Weight;
use plotters::style::RGBAColor;
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontStyle, FontTransform,
    text_anchor::{HPos, VPos},
};
use std::{cell::RefCell, convert::Infallible, rc::Rc};

/// Marks as they come in, shared with whoever asked for the drawing.
pub(crate) type Sheet = Rc<RefCell<Vec<Mark>>>;

/// Keeps every mark on a [`Sheet`]. Its unit is the fine grid.
#[derive(Debug)]
pub(crate) struct Recorder {
    sheet: Sheet,
    size: (u32, u32),
}

type Recorded = Result<(), DrawingErrorKind<Infallible>>;

impl Recorder {
    /// A recorder for a drawing of this size on the fine grid.
    pub(crate) fn new(sheet: Sheet, size: (u32, u32)) -> Self {
        Self { sheet, size }
    }

    /// Keeps a mark, also of a kind that plotters has no word for.
    pub(crate) fn keep(&mut self, mark: Mark) -> Recorded {
        self.sheet.borrow_mut().push(mark);
        Ok(())
    }
}

fn ink(color: BackendColor) -> RGBAColor {
    RGBAColor(color.rgb.0, color.rgb.1, color.rgb.2, color.alpha)
}

fn pen<S: BackendStyle>(style: &S) -> Pen {
    let width = i32::try_from(style.stroke_width()).unwrap_or(i32::MAX);
    Pen { ink: ink(style.color()), width, dash: None }
}

impl DrawingBackend for Recorder {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Recorded {
        Ok(())
    }

    fn present(&mut self) -> Recorded {
        Ok(())
    }

    fn draw_pixel(&mut self, point: BackendCoord, color: BackendColor) -> Recorded {
        self.draw_rect(point, (point.0 + 10, point.1 + 10), &color, true)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Recorded {
        self.draw_path([from, to], style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        (left, top): BackendCoord,
        (right, bottom): BackendCoord,
        style: &S,
        fill: bool,
    ) -> Recorded {
        let points = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
        let (fill, pen) =
            if fill { (Some(ink(style.color())), None) } else { (None, Some(pen(style))) };
        self.keep(Mark::Path { points, closed: true, fill, pen })
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Recorded {
        let points: Vec<Point> = path.into_iter().collect();
        self.keep(Mark::Path { points, closed: false, fill: None, pen: Some(pen(style)) })
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        centre: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Recorded {
        let radius = i32::try_from(radius).unwrap_or(i32::MAX);
        let (fill, pen) =
            if fill { (Some(ink(style.color())), None) } else { (None, Some(pen(style))) };
        self.keep(Mark::Circle { centre, radius, fill, pen })
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Recorded {
        let points = vert.into_iter().collect();
        let fill = Some(ink(style.color()));
        self.keep(Mark::Path { points, closed: true, fill, pen: None })
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        (x, y): BackendCoord,
    ) -> Recorded {
        let size = whole(style.size());
        let drop = match style.anchor().v_pos {
            VPos::Top => 70 * size / 100,
            VPos::Center => 35 * size / 100,
            VPos::Bottom => 0,
        };
        let anchor = match style.anchor().h_pos {
            HPos::Left => Anchor::Start,
            HPos::Center => Anchor::Middle,
            HPos::Right => Anchor::End,
        };
        let upward = matches!(style.transform(), FontTransform::Rotate270);
        let at = if upward { (x + drop, y) } else { (x, y + drop) };
        self.keep(Mark::Text(Lettering {
            text: text.to_owned(),
            at,
            size,
            weight: weight(style),
            ink: ink(style.color()),
            anchor,
            upward,
            halo: None,
        }))
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let width = whole(weight(style).width(text, style.size()));
        Ok((width.unsigned_abs(), whole(style.size()).unsigned_abs()))
    }
}

fn weight<S: BackendTextStyle>(style: &S) -> Weight {
    match style.style() {
        FontStyle::Bold => Weight::Bold,
        FontStyle::Normal | FontStyle::Oblique | FontStyle::Italic => Weight::Regular,
    }
}

/// The nearest grid step; what is not finite or too far lands on the edge.
#[expect(clippy::cast_possible_truncation, reason = "held inside i32 before the cast")]
pub(crate) fn whole(x: f64) -> i32 {
    x.round().clamp(-1e8, 1e8) as i32
}
