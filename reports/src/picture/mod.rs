//! A finished picture: marks on a grid ten times finer than a pixel, with the
//! words that tell a screen reader what it shows.
//!
//! Charts draw through plotters on a recorder that keeps every mark; the
//! same list is then written as SVG text or painted as a PNG, so that the two
//! cannot differ.

mod clip;
mod cover;
mod elements;
#[cfg(test)]
mod layout;
mod mark;
mod png;
mod recorder;
mod svg;

pub use self::mark::{Anchor, Lettering, Mark, Pen, Point, TextBox};
pub(crate) use self::{
    clip::{cut, cut_area},
    cover::{covers, crosses, inner},
    elements::{Area, Line, Round, Words},
    recorder::Recorder,
    svg::font_faces,
};

use plotters::style::RGBColor;

/// Grid steps per pixel.
pub(crate) const FINE: f64 = 10.0;

/// A chart, drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Short name, for files and anchors (`chain`).
    pub name: String,
    /// The title: a sentence that says what the chart shows.
    pub title: String,
    /// The same in words, for those who cannot see it.
    pub description: String,
    /// Width, px.
    pub width: u32,
    /// Height, px.
    pub height: u32,
    /// Colour of the ground; `None`: transparent.
    pub paper: Option<RGBColor>,
    /// What stands over the chart; empty where nothing does.
    pub head: Head,
    /// What is on it, in painting order.
    pub marks: Vec<Mark>,
}

/// The title's room on a picture: a page may set the words itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Head {
    /// The line under the title.
    pub subtitle: String,
    /// Height of both, px.
    pub height: f64,
}

impl Picture {
    /// A complete SVG file with the type embedded.
    #[must_use]
    pub fn svg(&self) -> String {
        svg::write(self, Some(1))
    }

    /// The same, shown `times` as large when opened by itself.
    #[must_use]
    pub fn svg_at(&self, times: u32) -> String {
        svg::write(self, Some(times))
    }

    /// SVG text for a page that already carries the type.
    #[must_use]
    pub fn inline(&self) -> String {
        svg::write(self, None)
    }

    /// A PNG file of `scale` pixels per px.
    ///
    /// Empty if the size is zero or beyond what memory can hold.
    #[must_use]
    pub fn png(&self, scale: f32) -> Vec<u8> {
        png::write(self, scale)
    }

    /// The picture as pixels, four bytes each (red, green, blue, opacity), row
    /// by row, with the width and height; `None` if it would not fit memory.
    #[must_use]
    pub fn pixels(&self, scale: f32) -> Option<(Vec<u8>, u32, u32)> {
        let pixmap = png::paint(self, scale)?;
        let (width, height) = (pixmap.width(), pixmap.height());
        Some((pixmap.take_demultiplied(), width, height))
    }

    /// The room that each text takes, in px.
    #[must_use]
    pub fn texts(&self) -> Vec<TextBox> {
        self.marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Text(lettering) => Some(lettering.room()),
                Mark::Path { .. } | Mark::Circle { .. } => None,
            })
            .collect()
    }
}
