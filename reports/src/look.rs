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
pub(crate) const LIGHT: Palette = Palette {
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
pub(crate) const DARK: Palette = Palette {
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
pub(crate) const TITLE: f64 = 21.0;
/// Size of the line under the title, px.
pub(crate) const SUBTITLE: f64 = 14.0;
/// Size of labels on the data, px.
pub(crate) const LABEL: f64 = 14.0;
/// Size of axis numbers and small notes, px.
pub(crate) const TICK: f64 = 13.0;

/// Grid lines, px.
pub(crate) const HAIR: f64 = 0.7;
/// Outlines and what failed, px.
pub const THIN: f64 = 1.1;
/// What struck, and axes, px.
pub const LINE: f64 = 1.6;
/// What holds, and the aimed face, px.
pub(crate) const HEAVY: f64 = 2.8;

/// Dash of what missed: on, off, px.
pub(crate) const MISSED: [f64; 2] = [5.0, 4.0];
/// Dots of what was assumed, px.
pub const ASSUMED: [f64; 2] = [1.6, 3.0];
/// Distance between hatch lines, px.
pub(crate) const HATCH: f64 = 5.0;

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
    pub(crate) fn dashed(mut self, dash: [f64; 2]) -> Self {
        self.dash = Some(dash);
        self
    }

    /// The same line let through by `alpha` (0..=1).
    #[must_use]
    pub(crate) fn faded(mut self, alpha: f64) -> Self {
        self.ink.3 = alpha;
        self
    }
}

/// A colour at full opacity.
#[must_use]
pub(crate) fn opaque(c: RGBColor) -> RGBAColor {
    RGBAColor(c.0, c.1, c.2, 1.0)
}

/// A colour at `alpha` (0..=1).
#[must_use]
pub(crate) fn veil(c: RGBColor, alpha: f64) -> RGBAColor {
    RGBAColor(c.0, c.1, c.2, alpha)
}

#[cfg(test)]
mod tests {
    use super::*;
    use longodds_sim::math::{cbrt, pow};

    fn linear(c: RGBColor) -> [f64; 3] {
        [c.0, c.1, c.2].map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.040_45 { v / 12.92 } else { pow((v + 0.055) / 1.055, 2.4) }
        })
    }

    /// Source: WCAG 2.1, "contrast ratio" and "relative luminance".
    fn contrast(a: RGBColor, b: RGBColor) -> f64 {
        let light = |c| {
            let [r, g, b] = linear(c);
            0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05
        };
        let (a, b) = (light(a), light(b));
        a.max(b) / a.min(b)
    }

    /// Source: Machado, Oliveira and Fernandes (2009), a physiologically-based
    /// model for simulation of color vision deficiency, severity 1.0: protan,
    /// deutan, tritan; from memory. The first is full colour vision.
    const EYES: [[[f64; 3]; 3]; 4] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ];

    /// CIE L*a*b* under D65. Source: CIE 15; sRGB primaries of IEC 61966-2-1;
    /// from memory.
    fn lab(rgb: [f64; 3]) -> [f64; 3] {
        let dot = |row: [f64; 3]| row.iter().zip(rgb).map(|(a, b)| a * b).sum::<f64>();
        let xyz = [
            dot([0.4124, 0.3576, 0.1805]) / 0.9505,
            dot([0.2126, 0.7152, 0.0722]),
            dot([0.0193, 0.1192, 0.9505]) / 1.089,
        ];
        let [x, y, z] = xyz.map(|t| if t > 0.008_856 { cbrt(t) } else { 7.787 * t + 16.0 / 116.0 });
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn apart(a: RGBColor, b: RGBColor, eye: &[[f64; 3]; 3]) -> f64 {
        let seen = |c| {
            let c = linear(c);
            lab(eye.map(|row| row.iter().zip(c).map(|(m, v)| m * v).sum::<f64>().clamp(0.0, 1.0)))
        };
        seen(a).iter().zip(seen(b)).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
    }

    /// A difference of 20 is plain at a glance: common practice, no source.
    #[test]
    fn colours_that_mean_something_stay_apart_for_every_eye() {
        for p in [LIGHT, DARK] {
            let meant = [p.ember, p.harbour, p.ash];
            for (i, eye) in EYES.iter().enumerate() {
                for (a, b) in [(0, 1), (0, 2), (1, 2)] {
                    let gap = apart(meant[a], meant[b], eye);
                    assert!(gap > 20.0, "eye {i}: colours {a} and {b} are {gap:.0} apart");
                }
            }
        }
    }

    /// Source: WCAG 2.1, 1.4.3 (4.5 for text) and 1.4.11 (3 for graphics).
    #[test]
    fn text_and_lines_stand_out_from_the_ground() {
        for p in [LIGHT, DARK] {
            for (ink, least) in [
                (p.ink, 7.0),
                (p.quiet, 4.5),
                (p.ember, 4.5),
                (p.harbour, 4.5),
                (p.ochre, 4.5),
                (p.ash, 3.0),
            ] {
                assert!(contrast(ink, p.halo) >= least, "{ink:?} on {:?}", p.halo);
            }
        }
    }
}
