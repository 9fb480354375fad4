//! The sample sheet: every colour, line, mark, hatch and size of the look,
//! with what it stands for.

use crate::{
    canvas::{Canvas, Frame, Rect, Text},
    look::{self, Palette, Stroke, opaque, veil},
    picture::Picture,
};
use plotters::style::RGBColor;

/// Draws the sheet on a palette's ground.
#[must_use]
pub fn sheet(palette: Palette) -> Picture {
    let title = "One look: what each colour, line, mark and hatch stands for";
    let frame = Frame { width: 840, height: 560, palette };
    let canvas = Canvas::new(frame, 470.0);
    let y = canvas.heading(title, "Nothing is told apart by colour alone.") + 8.0;
    colours(&canvas, y);
    lines(&canvas, y);
    hatches(&canvas, y + 215.0);
    sizes(&canvas, y + 215.0);
    canvas.finish("look", title, "Swatches, lines, marks, hatches and type sizes of the charts.")
}

fn head(canvas: &Canvas, at: (f64, f64), words: &str) {
    canvas.text(at, Text::new(words, look::LABEL, canvas.palette.ink).bold());
}

fn colours(canvas: &Canvas, top: f64) {
    let p = canvas.palette;
    head(canvas, (0.0, top + 14.0), "Colours");
    let swatches: [(RGBColor, &str); 7] = [
        (p.ink, "ink: text, axes, what struck"),
        (p.quiet, "quiet: second-rank text"),
        (p.rule, "rule: grid"),
        (p.ember, "ember: what flies, and the claim holding"),
        (p.harbour, "harbour: what stands and resists"),
        (p.ash, "ash: what failed"),
        (p.ochre, "ochre: what is not known"),
    ];
    let mut y = top + 26.0;
    for (colour, words) in swatches {
        let rect = Rect { left: 0.0, top: y, right: 40.0, bottom: y + 18.0 };
        canvas.area(&rect.corners(), opaque(colour));
        canvas.text((52.0, y + 14.0), Text::new(words, look::LABEL, p.ink));
        y += 25.0;
    }
}

fn lines(canvas: &Canvas, top: f64) {
    let p = canvas.palette;
    let left = 440.0;
    head(canvas, (left, top + 14.0), "Lines and marks");
    let mut y = top + 35.0;
    for (stroke, words) in [
        (Stroke::solid(p.rule, look::HAIR), "hair: grid"),
        (Stroke::solid(p.ink, look::THIN), "thin: axes, outlines"),
        (Stroke::solid(p.ink, look::LINE), "line: brackets, ends"),
        (Stroke::solid(p.harbour, look::HEAVY), "heavy: the aimed face"),
        (
            Stroke::solid(p.ink, look::LINE).dashed(look::ASSUMED),
            "dots: noise, change of scale, path",
        ),
    ] {
        canvas.line(&[(left, y), (left + 60.0, y)], stroke);
        canvas.text((left + 74.0, y + 5.0), Text::new(words, look::LABEL, p.ink));
        y += 23.0;
    }
    for fate in crate::chart::Fate::ALL {
        canvas.line(&[(left, y), (left + 50.0, y)], fate.stroke(&p));
        fate.mark(canvas, (left + 55.0, y), 4.5);
        canvas.text((left + 74.0, y + 5.0), Text::new(fate.words(), look::LABEL, p.ink));
        y += 23.0;
    }
}

fn hatches(canvas: &Canvas, top: f64) {
    let p = canvas.palette;
    head(canvas, (0.0, top + 14.0), "Areas");
    let mut y = top + 28.0;
    let rim = |c| Some(Stroke::solid(c, look::LINE));
    let areas = [
        (
            Some(opaque(p.ember)),
            None,
            None,
            "solid ember: what is left of the claim; a cause that stands out",
        ),
        (
            Some(veil(p.ember, 0.3)),
            None,
            rim(p.ember),
            "veiled ember: a distribution of what arrives",
        ),
        (None, Some((veil(p.harbour, 0.75), false)), rim(p.harbour), "rising hatch: what resists"),
        (
            Some(veil(p.ash, 0.1)),
            Some((veil(p.ash, 0.9), true)),
            None,
            "falling hatch: what died; no more than noise",
        ),
    ];
    for (fill, hatch, rim, words) in areas {
        let rect = Rect { left: 0.0, top: y, right: 70.0, bottom: y + 26.0 };
        canvas.shape(&rect.corners(), fill, hatch, rim);
        canvas.text((82.0, y + 18.0), Text::new(words, look::LABEL, p.ink));
        y += 36.0;
    }
}

fn sizes(canvas: &Canvas, top: f64) {
    let p = canvas.palette;
    let left = 560.0;
    head(canvas, (left, top + 14.0), "Type");
    canvas.text((left, top + 46.0), Text::new("Title 21, a sentence", look::TITLE, p.ink).bold());
    canvas.text(
        (left, top + 72.0),
        Text::new("Subtitle 14, how to read it", look::SUBTITLE, p.quiet),
    );
    canvas.text((left, top + 96.0), Text::new("Label 14, on the data", look::LABEL, p.ink));
    canvas.text((left, top + 120.0), Text::new("Axis numbers 13: 0123456789", look::TICK, p.ink));
}
