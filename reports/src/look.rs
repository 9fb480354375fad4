//! The one look of every chart and of the page: colours, type sizes, line
//! weights, dashes and hatches, and what each of them means.
//!
//! Nothing is told apart by colour alone. What holds is *ember*, solid, heavy
//! and ends in a filled diamond; what struck and was stopped is *ink* and ends
//! in a ring; what missed is *ash*, dashed, and ends in a cross. What resists
//! is *harbour* and hatched. What the user did not write is dotted.

use plotters::style::{RGBAColor, RGBColor};

/// Colours of one ground (light or dark).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// The ground itself; `None`: transparent.
    pub paper: Option<RGBColor>,
    /// What text is knocked out with where it crosses lines.
    pub halo: RGBColor,
    /// Text, axes, outlines.
    pub ink: RGBColor,
    /// Second-rank text.
    pub quiet: RGBColor,
    /// Grid and separators.
    pub rule: RGBColor,
    /// The claim holding, and what flies: demand.
    pub ember: RGBColor,
    /// What stands and resists: the target, the barrier.
    pub harbour: RGBColor,
    /// What failed.
    pub ash: RGBColor,
    /// What is not known.
    pub ochre: RGBColor,
}

/// The palette of pages and light frames.
pub const LIGHT: Palette = Palette {
    paper: Some(RGBColor(255, 255, 255)),
    halo: RGBColor(255, 255, 255),
    ink: RGBColor(22, 32, 42),
    quiet: RGBColor(82, 94, 104),
    rule: RGBColor(205, 212, 216),
    ember: RGBColor(198, 62, 20),
    harbour: RGBColor(20, 84, 120),
    ash: RGBColor(130, 140, 148),
    ochre: RGBColor(140, 100, 0),
};

/// The palette of dark frames.
pub const DARK: Palette = Palette {
    paper: Some(RGBColor(14, 20, 26)),
    halo: RGBColor(14, 20, 26),
    ink: RGBColor(244, 246, 245),
    quiet: RGBColor(178, 188, 196),
    rule: RGBColor(62, 74, 84),
    ember: RGBColor(255, 128, 74),
    harbour: RGBColor(120, 190, 228),
    ash: RGBColor(138, 150, 160),
    ochre: RGBColor(232, 190, 84),
};

/// Size of a chart's title, px.
pub const TITLE: f64 = 21.0;
/// Size of the line under the title, px.
pub const SUBTITLE: f64 = 14.0;
/// Size of labels on the data, px.
pub const LABEL: f64 = 14.0;
/// Size of axis numbers and small notes, px.
pub const TICK: f64 = 13.0;

/// Grid lines, px.
pub const HAIR: f64 = 0.7;
/// Outlines and what failed, px.
pub const THIN: f64 = 1.1;
/// What struck, and axes, px.
pub const LINE: f64 = 1.6;
/// What holds, and the aimed face, px.
pub const HEAVY: f64 = 2.8;

/// Dash of what missed: on, off, px.
pub const MISSED: [f64; 2] = [5.0, 4.0];
/// Dots of what was assumed, px.
pub const ASSUMED: [f64; 2] = [1.6, 3.0];
/// Distance between hatch lines, px.
pub const HATCH: f64 = 5.0;

/// How a line is drawn, sizes in px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Colour and opacity.
    pub ink: RGBAColor,
    /// Width, px.
    pub width: f64,
    /// On and off lengths, px.
    pub dash: Option<[f64; 2]>,
}

impl Stroke {
    /// A solid line.
    #[must_use]
    pub fn solid(ink: RGBColor, width: f64) -> Self {
        Self { ink: opaque(ink), width, dash: None }
    }

    /// The same line dashed.
    #[must_use]
    pub fn dashed(mut self, dash: [f64; 2]) -> Self {
        self.dash = Some(dash);
        self
    }

    /// The same line let through by `alpha` (0..=1).
    #[must_use]
    pub fn faded(mut self, alpha: f64) -> Self {
        self.ink.3 = alpha;
        self
    }
}

/// A colour at full opacity.
#[must_use]
pub fn opaque(c: RGBColor) -> RGBAColor {
    RGBAColor(c.0, c.1, c.2, 1.0)
}

/// A colour at `alpha` (0..=1).
#[must_use]
pub fn veil(c: RGBColor, alpha: f64) -> RGBAColor {
    RGBAColor(c.0, c.1, c.2, alpha)
}
