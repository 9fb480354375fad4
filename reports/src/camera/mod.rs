//! Frames for the camera: one message each, at most ten words, big numbers,
//! legible at a glance; on a clear ground for laying over footage.
//!
//! A frame is laid out on a third of its pixels, so that the lines, marks and
//! type of the charts come out three times as heavy.

mod apng;
mod closest;
mod energy;
mod fan;
mod film;
mod gif;
mod odds;
mod stream;

pub use self::{
    apng::apng,
    film::{Film, PER_SECOND},
    gif::gif,
};

use crate::{
    canvas::{Canvas, Frame, Text},
    look::{self, Palette},
    picture::Picture,
};
use longodds_sim::findings::Findings;
pub use plotters::style::RGBColor;

/// Size of a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// 1920 by 1080 pixels.
    Wide,
    /// 3840 by 2160 pixels.
    Large,
    /// 1080 by 1920 pixels.
    Tall,
}

impl Format {
    /// Pixels per px of the layout: the argument for [`Picture::png`] and
    /// [`Picture::svg_at`].
    #[must_use]
    pub fn scale(self) -> u16 {
        match self {
            Self::Wide | Self::Tall => 3,
            Self::Large => 6,
        }
    }

    fn frame(self, ground: Ground) -> Frame {
        let (width, height) = match self {
            Self::Wide | Self::Large => (640, 360),
            Self::Tall => (360, 640),
        };
        Frame { width, height, palette: ground.palette() }
    }
}

/// What a frame is laid over. The ground itself is left clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// Dark letters, for light footage.
    Light,
    /// Light letters, for dark footage.
    Dark,
}

impl Ground {
    fn palette(self) -> Palette {
        let palette = match self {
            Self::Light => look::LIGHT,
            Self::Dark => look::DARK,
        };
        Palette { paper: None, ..palette }
    }

    /// The colour that the letters are made for, where a ground is needed.
    #[must_use]
    pub fn colour(self) -> RGBColor {
        self.palette().halo
    }
}

/// Space left clear along the edges, px.
const MARGIN: f64 = 24.0;
/// Size of the mark of what became of a flight, px.
const MARK: f64 = 4.5;

/// Every frame that the record has something to say for.
#[must_use]
pub fn frames(findings: &Findings, format: Format, ground: Ground) -> Vec<Picture> {
    let frame = format.frame(ground);
    [odds::odds, energy::energy, stream::stream, fan::fan, closest::closest]
        .iter()
        .filter_map(|draw| draw(findings, frame))
        .collect()
}

/// A text as large as fits `room`, but no larger than `size`.
fn fitted(words: &str, size: f64, room: f64, ink: RGBColor) -> Text {
    let text = Text::new(words, size, ink).bold();
    let width = text.width();
    let size = if width > room { size * room / width } else { size };
    Text::new(words, size, ink).bold()
}

/// An empty sheet for a frame.
fn sheet(frame: Frame) -> Canvas {
    Canvas::new(frame, f64::from(frame.height))
}

/// Is the frame higher than wide?
fn upright(canvas: &Canvas) -> bool {
    canvas.height() > canvas.width()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn everything() -> Vec<(&'static str, Picture)> {
        let mut out = Vec::new();
        for (name, findings) in sample::in_both_units() {
            for format in [Format::Wide, Format::Tall] {
                out.extend(frames(&findings, format, Ground::Dark).into_iter().map(|p| (name, p)));
            }
        }
        out
    }

    #[test]
    fn a_frame_has_at_most_ten_words() {
        for (record, picture) in everything() {
            let texts = picture.texts();
            let words = texts.iter().flat_map(|t| t.text.split_whitespace());
            // Numbers and unit signs are read as one with what they count.
            let count =
                words.filter(|w| w.chars().filter(|c| c.is_alphabetic()).count() > 2).count();
            assert!(count <= 10, "{record}/{}: {count} words", picture.name);
        }
    }

    #[test]
    fn every_text_can_be_read() {
        for (record, picture) in everything() {
            let wrong =
                [picture.strays(), picture.collisions(), picture.struck_out(), picture.hiding()]
                    .concat();
            assert_eq!(wrong, Vec::<String>::new(), "{record}/{}", picture.name);
        }
    }

    #[test]
    fn frames_have_the_size_asked_for_and_a_clear_ground() {
        let findings = sample::ordinary();
        for (format, size) in [
            (Format::Wide, (1920, 1080)),
            (Format::Large, (3840, 2160)),
            (Format::Tall, (1080, 1920)),
        ] {
            let frame = &frames(&findings, format, Ground::Light)[0];
            let (pixels, w, h) = frame.pixels(f32::from(format.scale())).unwrap();
            assert_eq!((w, h), size);
            assert_eq!(pixels[3], 0, "the corner is clear");
        }
    }

    /// Not a test: writes every frame for a person to look at.
    #[test]
    #[ignore = "writes pictures for a person to look at"]
    fn write_every_frame() {
        let folder = option_env!("LOOK").unwrap_or("target/look");
        std::fs::create_dir_all(folder).unwrap();
        for (record, picture) in everything() {
            let on = Picture { paper: Some(Ground::Dark.colour()), ..picture };
            let upright = if on.height > on.width { "tall" } else { "wide" };
            let path = format!("{folder}/camera-{record}-{}-{upright}.png", on.name);
            std::fs::write(path, on.png(1.5)).unwrap();
        }
        let findings = sample::ordinary();
        let film = Film::new(&findings, Format::Wide, Ground::Light, 4.0).unwrap();
        std::fs::write(format!("{folder}/film.gif"), gif(&film, 1.5)).unwrap();
        for i in [0, film.len() / 2, film.len() - 1] {
            let picture = Picture { paper: Some(Ground::Light.colour()), ..film.picture(i) };
            std::fs::write(format!("{folder}/film-{i}.png"), picture.png(1.5)).unwrap();
        }
    }
}
