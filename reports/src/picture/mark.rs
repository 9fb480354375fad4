//! What a picture is made of.

use super::FINE;
use crate::font::{CAP, DESCENT, Weight};
use plotters::style::RGBAColor;

/// A point on the fine grid, x to the right, y down.
pub type Point = (i32, i32);

/// How a line is drawn, on the fine grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Colour and opacity.
    pub ink: RGBAColor,
    /// Width.
    pub width: i32,
    /// On and off lengths.
    pub dash: Option<[i32; 2]>,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// Straight lines from point to point.
    Path {
        /// Corners.
        points: Vec<Point>,
        /// Joined back to the start?
        closed: bool,
        /// Inside.
        fill: Option<RGBAColor>,
        /// Outline.
        pen: Option<Pen>,
    },
    /// A circle.
    Circle {
        /// Centre.
        centre: Point,
        /// Radius.
        radius: i32,
        /// Inside.
        fill: Option<RGBAColor>,
        /// Outline.
        pen: Option<Pen>,
    },
    /// A line of text.
    Text(Lettering),
}

/// Where a text's point is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// At its left end.
    #[default]
    Start,
    /// In its middle.
    Middle,
    /// At its right end.
    End,
}

/// A line of text on the fine grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettering {
    /// The words.
    pub text: String,
    /// Its point on the baseline.
    pub at: Point,
    /// Type size.
    pub size: i32,
    /// Weight.
    pub weight: Weight,
    /// Colour.
    pub ink: RGBAColor,
    /// Which end is at the point.
    pub anchor: Anchor,
    /// Reads upwards (turned a quarter to the left)?
    pub upward: bool,
    /// Colour of a rim that keeps it readable across lines.
    pub halo: Option<RGBAColor>,
}

/// The room a text takes, px.
#[derive(Clone, Debug, PartialEq)]
pub struct TextBox {
    /// The words.
    pub text: String,
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
}

impl TextBox {
    /// Whether two texts run into each other.
    #[must_use]
    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

impl Lettering {
    /// Distance from its point to where it starts, along the reading direction.
    pub(crate) fn lead(&self) -> f64 {
        let width = self.weight.width(&self.text, f64::from(self.size));
        match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        }
    }

    /// The room it takes, in px.
    #[must_use]
    pub fn room(&self) -> TextBox {
        let (size, x, y) = (f64::from(self.size), f64::from(self.at.0), f64::from(self.at.1));
        let (lead, width) = (self.lead(), self.weight.width(&self.text, size));
        let (left, top, right, bottom) = if self.upward {
            (x - CAP * size, y - lead - width, x + DESCENT * size, y - lead)
        } else {
            (x + lead, y - CAP * size, x + lead + width, y + DESCENT * size)
        };
        TextBox {
            text: self.text.clone(),
            left: left / FINE,
            top: top / FINE,
            right: right / FINE,
            bottom: bottom / FINE,
        }
    }
}
