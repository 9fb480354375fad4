//! Drawable things that plotters has no word for: dashed lines, hatched areas,
//! text with a rim. They are plotters elements for our own backend, so they
//! can stand in pixels as well as in a chart's coordinates.

use super::{
    clip::hatch,
    mark::{Lettering, Mark, Pen},
    recorder::{Recorder, whole},
};
use crate::{
    canvas::Text,
    look::{HATCH, Stroke},
    picture::FINE,
};
use plotters::{
    element::{Drawable, PointCollection},
    style::RGBAColor,
};
use plotters_backend::{BackendCoord, DrawingErrorKind};
use std::{convert::Infallible, slice::Iter};

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

/// An open line.
#[derive(Debug)]
pub(crate) struct Line<C> {
    pub points: Vec<C>,
    pub stroke: Stroke,
}

/// A closed outline.
#[derive(Debug)]
pub(crate) struct Area<C> {
    pub points: Vec<C>,
    pub fill: Option<RGBAColor>,
    /// Colour of hatch lines and whether they fall to the right.
    pub hatch: Option<(RGBAColor, bool)>,
    pub stroke: Option<Stroke>,
}

/// A circle, radius in px.
#[derive(Debug)]
pub(crate) struct Round<C> {
    pub centre: [C; 1],
    pub radius: f64,
    pub fill: Option<RGBAColor>,
    pub stroke: Option<Stroke>,
}

/// A line of text.
#[derive(Debug)]
pub(crate) struct Words<C> {
    pub at: [C; 1],
    pub text: Text,
}

macro_rules! points_of {
    ($($element:ident . $field:ident),*) => {$(
        impl<'a, C: 'a> PointCollection<'a, C> for &'a $element<C> {
            type Point = &'a C;
            type IntoIter = Iter<'a, C>;
            fn point_iter(self) -> Self::IntoIter {
                self.$field.iter()
            }
        }
    )*};
}
points_of!(Line.points, Area.points, Round.centre, Words.at);

fn pen(stroke: Stroke) -> Pen {
    let dash = stroke.dash.map(|d| d.map(|length| whole(length * FINE)));
    Pen { ink: stroke.ink, width: whole(stroke.width * FINE).max(1), dash }
}

impl<C> Drawable<Recorder> for Line<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        recorder: &mut Recorder,
        _: (u32, u32),
    ) -> Drawn {
        let mut points: Vec<_> = points.collect();
        points.dedup();
        if points.len() < 2 {
            return Ok(());
        }
        recorder.keep(Mark::Path { points, closed: false, fill: None, pen: Some(pen(self.stroke)) })
    }
}

impl<C> Drawable<Recorder> for Area<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        recorder: &mut Recorder,
        _: (u32, u32),
    ) -> Drawn {
        let points: Vec<_> = points.collect();
        let path = |fill, pen| Mark::Path { points: points.clone(), closed: true, fill, pen };
        if self.fill.is_some() {
            recorder.keep(path(self.fill, None))?;
        }
        if let Some((ink, falling)) = self.hatch {
            for (a, b) in hatch(&points, whole(HATCH * FINE), falling) {
                let pen = Pen { ink, width: whole(0.8 * FINE), dash: None };
                let points = vec![a, b];
                recorder.keep(Mark::Path { points, closed: false, fill: None, pen: Some(pen) })?;
            }
        }
        match self.stroke {
            Some(stroke) => recorder.keep(path(None, Some(pen(stroke)))),
            None => Ok(()),
        }
    }
}

impl<C> Drawable<Recorder> for Round<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        recorder: &mut Recorder,
        _: (u32, u32),
    ) -> Drawn {
        let Some(centre) = points.next() else { return Ok(()) };
        recorder.keep(Mark::Circle {
            centre,
            radius: whole(self.radius * FINE),
            fill: self.fill,
            pen: self.stroke.map(pen),
        })
    }
}

impl<C> Drawable<Recorder> for Words<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        recorder: &mut Recorder,
        _: (u32, u32),
    ) -> Drawn {
        let Some((x, y)) = points.next() else { return Ok(()) };
        let text = &self.text;
        if text.words.is_empty() {
            return Ok(());
        }
        recorder.keep(Mark::Text(Lettering {
            text: text.words.clone(),
            at: (x + whole(text.nudge.0 * FINE), y + whole(text.nudge.1 * FINE)),
            size: whole(text.size * FINE),
            weight: text.weight,
            ink: text.ink,
            anchor: text.anchor,
            upward: false,
            halo: text.halo,
        }))
    }
}
