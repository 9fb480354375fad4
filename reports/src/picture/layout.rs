//! Whether a picture's texts can be read: inside the frame, clear of each
//! other, not struck out by lines, and not over marks.

use super::{
    Picture,
    cover::{covers, crosses, inner},
    mark::{Mark, TextBox},
};

impl Picture {
    /// Texts that leave the frame.
    #[must_use]
    pub(crate) fn strays(&self) -> Vec<String> {
        let (w, h) = (f64::from(self.width) + 0.5, f64::from(self.height) + 0.5);
        let out = |t: &TextBox| t.left < -0.5 || t.top < -0.5 || t.right > w || t.bottom > h;
        let strays = self.texts().into_iter().filter(out);
        strays.map(|t| format!("`{}` leaves the frame: {t:?}", t.text)).collect()
    }

    /// Pairs of texts that run into each other.
    #[must_use]
    pub fn collisions(&self) -> Vec<String> {
        let texts = self.texts();
        let mut out = Vec::new();
        for (i, a) in texts.iter().enumerate() {
            for b in texts[i + 1..].iter().filter(|b| a.overlaps(b)) {
                out.push(format!("`{}` runs into `{}`: {a:?}, {b:?}", a.text, b.text));
            }
        }
        out
    }

    /// Texts that lie on marks, with a rim or without.
    #[must_use]
    pub(crate) fn hiding(&self) -> Vec<String> {
        let mut out = Vec::new();
        for mark in &self.marks {
            let Mark::Text(lettering) = mark else { continue };
            let room = inner(lettering);
            if let Some(hidden) = self.marks.iter().find(|mark| covers(&room, mark)) {
                out.push(format!("`{}` hides a mark: {room:?}, {hidden:?}", lettering.text));
            }
        }
        out
    }

    /// Texts with a line through them: a line behind a text does no harm where
    /// a rim cuts it out, one in front always does.
    #[must_use]
    pub(crate) fn struck_out(&self) -> Vec<String> {
        let mut out = Vec::new();
        for (i, mark) in self.marks.iter().enumerate() {
            let Mark::Text(lettering) = mark else { continue };
            let behind = if lettering.halo.is_some() { i } else { 0 };
            let room = inner(lettering);
            if self.marks[behind..].iter().any(|mark| crosses(mark, &room)) {
                out.push(format!("`{}` is struck out: {room:?}", lettering.text));
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        canvas::{Canvas, Frame, Text},
        look::{self, Stroke},
    };

    fn picture(halo: bool, before: bool, after: bool) -> super::Picture {
        let canvas = Canvas::new(Frame::page(), 60.0);
        let line = || {
            let pen = Stroke::solid(canvas.palette.ink, look::THIN);
            canvas.line(&[(0.0, 58.0), (200.0, 10.0)], pen);
        };
        if before {
            line();
        }
        let text = Text::new("a word or two", look::LABEL, canvas.palette.ink);
        let text = if halo { text.halo(canvas.palette.halo) } else { text };
        canvas.text((80.0, 40.0), text);
        if after {
            line();
        }
        canvas.finish("made up", "", "")
    }

    #[test]
    fn a_line_in_front_strikes_a_text_out_and_one_behind_a_rim_does_not() {
        let struck = |halo, before, after| !picture(halo, before, after).struck_out().is_empty();
        assert!(struck(false, true, false) && struck(false, false, true));
        assert!(struck(true, false, true));
        assert!(!struck(true, true, false) && !struck(false, false, false));
    }

    #[test]
    fn what_leaves_the_frame_or_runs_into_another_is_named() {
        let canvas = Canvas::new(Frame::page(), 60.0);
        let text = |words: &str| Text::new(words, look::LABEL, canvas.palette.ink);
        canvas.text((830.0, 40.0), text("too far"));
        canvas.text((10.0, 40.0), text("one"));
        canvas.text((20.0, 44.0), text("another"));
        let picture = canvas.finish("made up", "", "");
        assert!(picture.strays()[0].starts_with("`too far`") && picture.strays().len() == 1);
        assert!(picture.collisions()[0].starts_with("`one` runs into `another`"));
    }
}
