//! The embedded type: Barlow, regular and bold (SIL Open Font License 1.1,
//! `fonts/OFL.txt`), cut down to Latin. Widths here are those of the letters
//! as drawn: charts switch kerning off, so that text takes the same room in
//! the SVG, in the PNG and in the layout.

use skrifa::{
    FontRef, GlyphId, MetadataProvider,
    instance::{LocationRef, Size},
    outline::{DrawSettings, OutlinePen},
};

/// The regular weight, a TrueType file.
pub const REGULAR: &[u8] = include_bytes!("../fonts/Barlow-Regular.ttf");
/// The bold weight, a TrueType file.
pub const BOLD: &[u8] = include_bytes!("../fonts/Barlow-Bold.ttf");
/// Name under which pages and pictures embed it.
pub const FAMILY: &str = "Barlow";
/// Height of a capital, as a share of the size.
pub(crate) const CAP: f64 = 0.70;
/// Depth of a descender, as a share of the size.
pub(crate) const DESCENT: f64 = 0.20;

/// Which of the two weights.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    /// Running text.
    #[default]
    Regular,
    /// Titles and numbers that matter.
    Bold,
}

impl Weight {
    fn font(self) -> FontRef<'static> {
        let bytes = match self {
            Self::Regular => REGULAR,
            Self::Bold => BOLD,
        };
        #[expect(clippy::expect_used, reason = "the font is compiled in, and a test reads it")]
        FontRef::new(bytes).expect("the embedded font is readable")
    }

    /// Width of `text` at `size`, in the unit of `size`.
    #[must_use]
    pub fn width(self, text: &str, size: f64) -> f64 {
        let font = self.font();
        let metrics = font.glyph_metrics(Size::new(1000.0), LocationRef::default());
        let charmap = font.charmap();
        let units: f64 = text
            .chars()
            .map(|c| charmap.map(c).unwrap_or(GlyphId::NOTDEF))
            .map(|glyph| f64::from(metrics.advance_width(glyph).unwrap_or(0.0)))
            .sum();
        units * size / 1000.0
    }

    /// Shows every letter's outline to `pen`, y down, baseline at y = 0,
    /// starting at x = 0, for a type size of `size`.
    pub(crate) fn draw(self, text: &str, size: f32, pen: &mut impl OutlinePen) {
        let font = self.font();
        let metrics = font.glyph_metrics(Size::new(size), LocationRef::default());
        let (charmap, outlines) = (font.charmap(), font.outline_glyphs());
        let mut x = 0.0;
        for c in text.chars() {
            let glyph = charmap.map(c).unwrap_or(GlyphId::NOTDEF);
            if let Some(outline) = outlines.get(glyph) {
                let settings = DrawSettings::unhinted(Size::new(size), LocationRef::default());
                let mut shifted = Shifted { pen, x };
                // A glyph that cannot be drawn leaves its room empty.
                let _drawn = outline.draw(settings, &mut shifted);
            }
            x += metrics.advance_width(glyph).unwrap_or(0.0);
        }
    }
}

/// Moves a glyph to its place and turns y down.
struct Shifted<'a, P> {
    pen: &'a mut P,
    x: f32,
}

impl<P: OutlinePen> OutlinePen for Shifted<'_, P> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.pen.move_to(self.x + x, -y);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.pen.line_to(self.x + x, -y);
    }
    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.pen.quad_to(self.x + cx, -cy, self.x + x, -y);
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.pen.curve_to(self.x + ax, -ay, self.x + bx, -by, self.x + x, -y);
    }
    fn close(&mut self) {
        self.pen.close();
    }
}

/// Breaks `text` into lines no wider than `width` at `size`. A word wider than
/// the line is broken inside.
#[must_use]
pub(crate) fn wrap(text: &str, weight: Weight, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words(text) {
        for piece in pieces(&word, weight, size, width) {
            let joined = if line.is_empty() { piece.clone() } else { format!("{line} {piece}") };
            if weight.width(&joined, size) <= width {
                line = joined;
            } else {
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                line = piece;
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Longest sign of a unit, in letters.
const UNIT: usize = 6;

/// The words of a text, a number and its unit being one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut().filter(|last| belong(last, word)) {
            Some(number) => *number = format!("{number} {word}"),
            None => words.push(word.to_owned()),
        }
    }
    words
}

/// Do a number and what follows it belong on one line?
fn belong(number: &str, word: &str) -> bool {
    is_number(number) && word.chars().count() <= UNIT
}

/// A text whose numbers are not parted from their units.
pub(crate) fn unbroken(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut last = None;
    for word in text.split(' ') {
        if let Some(last) = last {
            out.push(if belong(last, word) { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
        last = Some(word);
    }
    out
}

fn is_number(word: &str) -> bool {
    let figures = word.trim_start_matches(['(', '−', '-']);
    !figures.is_empty() && figures.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',')
}

/// A word, cut where it would be wider than the line.
fn pieces(word: &str, weight: Weight, size: f64, width: f64) -> Vec<String> {
    let mut out = vec![String::new()];
    for c in word.chars() {
        let last = out.len() - 1;
        let mut longer = out[last].clone();
        longer.push(c);
        if !out[last].is_empty() && weight.width(&longer, size) > width {
            out.push(c.to_string());
        } else {
            out[last] = longer;
        }
    }
    out
}

/// `text`, cut with an ellipsis to be no wider than `width` at `size`.
#[must_use]
pub fn fit(text: &str, weight: Weight, size: f64, width: f64) -> String {
    if weight.width(text, size) <= width {
        return text.to_owned();
    }
    let mut cut: String = text.to_owned();
    while cut.pop().is_some() {
        let shown = format!("{}…", cut.trim_end());
        if weight.width(&shown, size) <= width {
            return shown;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the font's own `hmtx` table, read with another library
    /// (fontTools): the digits 0 and 1 advance 565 and 350 of 1000 units.
    #[test]
    fn widths_are_those_of_the_font_file() {
        assert!((Weight::Regular.width("0", 10.0) - 5.65).abs() < 1e-9);
        assert!((Weight::Regular.width("01", 10.0) - 9.15).abs() < 1e-9);
        assert!(Weight::Bold.width("0", 10.0) > 5.65);
    }

    #[test]
    fn a_number_stays_with_its_unit_on_the_page_too() {
        let text = unbroken(" at 25.6 mph, (−8.89 m) and 1 in 230 of 31 %. ");
        let bound = "at 25.6\u{a0}mph, (−8.89\u{a0}m) and 1\u{a0}in 230\u{a0}of 31\u{a0}%. ";
        assert_eq!(text, format!(" {bound}"));
    }

    #[test]
    fn a_word_too_long_for_the_line_is_broken_and_nothing_is_lost() {
        let text = "a pneumonoultramicroscopicsilicovolcanoconiosis b";
        let lines = wrap(text, Weight::Regular, 14.0, 90.0);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|l| Weight::Regular.width(l, 14.0) <= 90.0));
        let joined: String = lines.concat().split_whitespace().collect();
        assert_eq!(joined, text.split_whitespace().collect::<String>());
    }

    #[test]
    fn a_number_and_its_unit_stay_on_one_line() {
        let text = "a blow of 95.6 ft·lbf on 20,000 flights";
        for width in 60..400 {
            let lines = wrap(text, Weight::Regular, 14.0, f64::from(width));
            let cut = |line: &String| line.ends_with("95.6");
            let room = Weight::Regular.width("95.6 ft·lbf", 14.0) <= f64::from(width);
            assert!(!room || !lines.iter().any(cut), "{width} px: {lines:?}");
        }
    }

    #[test]
    fn what_does_not_fit_ends_in_an_ellipsis() {
        let shown = fit("a rather long name", Weight::Regular, 14.0, 60.0);
        assert!(shown.ends_with('…') && Weight::Regular.width(&shown, 14.0) <= 60.0);
        assert_eq!(fit("short", Weight::Regular, 14.0, 60.0), "short");
    }
}
