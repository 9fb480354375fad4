//! How flights are told apart: by line, by mark, and only then by colour.

use crate::{
    canvas::{Canvas, Text},
    look::{self, Palette, Stroke, opaque},
    words,
};

/// What became of a flight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fate {
    /// Never touched what was aimed at.
    Missed,
    /// Struck, and was stopped at a later gate.
    Struck,
    /// Passed every gate.
    Held,
}

impl Fate {
    pub(crate) const ALL: [Self; 3] = [Self::Held, Self::Struck, Self::Missed];

    pub(crate) fn of(struck: bool, held: bool) -> Self {
        match (struck, held) {
            (_, true) => Self::Held,
            (true, false) => Self::Struck,
            (false, false) => Self::Missed,
        }
    }

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Held => "the claim holds",
            Self::Struck => "strikes, then fails",
            Self::Missed => "misses",
        }
    }

    /// The line of a flight.
    pub(crate) fn stroke(self, palette: &Palette) -> Stroke {
        match self {
            Self::Held => Stroke::solid(palette.ember, 2.2),
            Self::Struck => Stroke::solid(palette.ink, look::THIN).faded(0.8),
            Self::Missed => Stroke::solid(palette.ash, 0.8).dashed(look::MISSED),
        }
    }

    /// Its mark: a filled diamond, a ring, a cross.
    pub(crate) fn mark(self, canvas: &Canvas, (x, y): (f64, f64), r: f64) {
        let palette = canvas.palette;
        match self {
            Self::Held => {
                let r = r * 1.25;
                let corners = [(x, y - r), (x + r, y), (x, y + r), (x - r, y)];
                let rim = Stroke::solid(palette.halo, 0.8);
                canvas.shape(&corners, Some(opaque(palette.ember)), None, Some(rim));
            }
            Self::Struck => {
                let pen = Stroke::solid(palette.ink, 1.5);
                canvas.round((x, y), r, Some(opaque(palette.halo)), Some(pen));
            }
            Self::Missed => {
                let r = r * 0.75;
                let pen = Stroke::solid(palette.ash, 1.2);
                let (a, b) = ((x - r, y - r), (x + r, y + r));
                canvas.line(&[a, b, (x, y), (x + r, y - r), (x - r, y + r)], pen);
            }
        }
    }
}

/// A key in one row from `(x, y)`: line (if `lines`), mark, words, number.
pub(crate) fn key(canvas: &Canvas, (mut x, y): (f64, f64), counts: [usize; 3], lines: bool) {
    let palette = canvas.palette;
    for (fate, n) in Fate::ALL.into_iter().zip(counts) {
        if n == 0 {
            continue;
        }
        if lines {
            canvas.line(&[(x, y - 5.0), (x + 34.0, y - 5.0)], fate.stroke(&palette));
            x += 34.0;
        }
        fate.mark(canvas, (x + 5.0, y - 5.0), 4.5);
        let shown = words::count(n as u64);
        let text = Text::new(format!("{} ({shown})", fate.words()), look::LABEL, palette.ink);
        let width = text.width();
        canvas.text((x + 15.0, y), text);
        x += width + 42.0;
    }
}
