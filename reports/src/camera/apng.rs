//! A film as one animated PNG: full colour, and a clear ground where the
//! frames have one. Each frame holds only the part that changed.
//!
//! Source: PNG (third edition), 11.3.4, animation information.

use super::{Film, PER_SECOND};
use crate::picture::Picture;
use plotters::style::RGBColor;
use png::{BitDepth, BlendOp, ColorType, Encoder, EncodingError, Writer};

/// How long the end stands still, in frames.
const STILL: u16 = 37;

/// Encodes the film at `scale` pixels per px, on `paper` or clear; it runs for
/// ever. Empty if a frame cannot be painted.
#[must_use]
pub fn apng(film: &Film<'_>, scale: f32, paper: Option<RGBColor>) -> Vec<u8> {
    encode(film, scale, paper).unwrap_or_default()
}

fn encode(film: &Film<'_>, scale: f32, paper: Option<RGBColor>) -> Option<Vec<u8>> {
    // One run of equal pictures at the end becomes one frame that stays.
    let last = film.len() - usize::from(PER_SECOND);
    let paint = |i: usize| Picture { paper, ..film.picture(i) }.pixels(scale);
    let (mut shown, width, height) = paint(0)?;
    let mut out = Vec::new();
    let mut writer = start(&mut out, width, height, u32::try_from(last).ok()?).ok()?;
    stay(&mut writer, last == 1).ok()?;
    writer.write_image_data(&shown).ok()?;
    for i in 1..last {
        let (pixels, ..) = paint(i)?;
        let part = Part::changed(&shown, &pixels, width as usize);
        stay(&mut writer, i + 1 == last).ok()?;
        put(&mut writer, &part, &pixels, width as usize).ok()?;
        shown = pixels;
    }
    writer.finish().ok()?;
    Some(out)
}

fn start(
    out: &mut Vec<u8>,
    width: u32,
    height: u32,
    frames: u32,
) -> Result<Writer<&mut Vec<u8>>, EncodingError> {
    let mut encoder = Encoder::new(out, width, height);
    encoder.set_color(ColorType::Rgba);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_animated(frames, 0)?;
    encoder.set_blend_op(BlendOp::Source)?;
    encoder.write_header()
}

fn stay(writer: &mut Writer<&mut Vec<u8>>, end: bool) -> Result<(), EncodingError> {
    writer.set_frame_delay(if end { STILL } else { 1 }, PER_SECOND)
}

/// Writes the part of a frame that changed.
fn put(
    writer: &mut Writer<&mut Vec<u8>>,
    part: &Part,
    pixels: &[u8],
    width: usize,
) -> Result<(), EncodingError> {
    let whole = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    writer.reset_frame_position()?;
    writer.set_frame_dimension(whole(part.width()), whole(part.height()))?;
    writer.set_frame_position(whole(part.left), whole(part.top))?;
    let row = |y: usize| &pixels[4 * (y * width + part.left)..4 * (y * width + part.right)];
    let data: Vec<u8> = (part.top..part.bottom).flat_map(row).copied().collect();
    writer.write_image_data(&data)
}

/// A rectangle of pixels, its right and bottom left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Part {
    left: usize,
    top: usize,
    right: usize,
    bottom: usize,
}

impl Part {
    /// The smallest that holds every pixel in which two pictures of the same
    /// size differ; one pixel where they do not.
    fn changed(a: &[u8], b: &[u8], width: usize) -> Self {
        let mut part = Self { left: width, top: usize::MAX, right: 0, bottom: 0 };
        for (y, (p, q)) in a.chunks_exact(4 * width).zip(b.chunks_exact(4 * width)).enumerate() {
            let differs = |x: &usize| p[4 * x..4 * x + 4] != q[4 * x..4 * x + 4];
            let (Some(first), Some(last)) =
                ((0..width).find(differs), (0..width).rev().find(differs))
            else {
                continue;
            };
            part.left = part.left.min(first);
            part.right = part.right.max(last + 1);
            part.top = part.top.min(y);
            part.bottom = y + 1;
        }
        if part.bottom == 0 { Self { left: 0, top: 0, right: 1, bottom: 1 } } else { part }
    }

    fn width(&self) -> usize {
        self.right - self.left
    }

    fn height(&self) -> usize {
        self.bottom - self.top
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        camera::{Format, Ground},
        sample,
    };

    /// The frames of a file, composed one over the other, and their delays in
    /// 1/25 s. Read with the decoder of the library that wrote it: checks the
    /// parts and their places, not the library.
    fn read(bytes: &[u8]) -> Vec<(Vec<u8>, u16)> {
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let count = reader.info().animation_control().unwrap().num_frames;
        let (width, height) = reader.info().size();
        let mut canvas = vec![0; 4 * width as usize * height as usize];
        let mut buffer = vec![0; canvas.len()];
        let mut frames = Vec::new();
        for _ in 0..count {
            reader.next_frame(&mut buffer).unwrap();
            let control = *reader.info().frame_control().unwrap();
            let long = 4 * control.width as usize;
            for row in 0..control.height as usize {
                let y = control.y_offset as usize + row;
                let at = 4 * (y * width as usize + control.x_offset as usize);
                canvas[at..at + long].copy_from_slice(&buffer[row * long..(row + 1) * long]);
            }
            assert_eq!(control.delay_den, PER_SECOND);
            frames.push((canvas.clone(), control.delay_num));
        }
        frames
    }

    #[test]
    fn a_film_reads_back_pixel_for_pixel_and_stays_at_its_end() {
        let findings = sample::ordinary();
        let film = Film::new(&findings, Format::Wide, Ground::Dark, 1.0).unwrap();
        for paper in [None, Some(Ground::Dark.colour())] {
            let bytes = apng(&film, 0.5, paper);
            let frames = read(&bytes);
            assert_eq!(frames.len(), film.len() - 25);
            for i in [0, 1, frames.len() / 2, frames.len() - 1] {
                let (pixels, ..) = Picture { paper, ..film.picture(i) }.pixels(0.5).unwrap();
                assert!(frames[i].0 == pixels, "frame {i}");
            }
            assert!(frames.iter().rev().skip(1).all(|frame| frame.1 == 1));
            assert_eq!(frames[frames.len() - 1].1, STILL);
            assert_eq!(frames[0].0[3], if paper.is_some() { 255 } else { 0 });
            assert!(bytes.len() < 1_000_000, "{} bytes", bytes.len());
        }
    }

    #[test]
    fn the_changed_part_is_the_smallest_that_holds_the_change() {
        let a = vec![0; 4 * 5 * 4];
        let mut b = a.clone();
        (b[4 * (5 + 2)], b[4 * (2 * 5 + 3) + 1]) = (1, 1);
        assert_eq!(Part::changed(&a, &b, 5), Part { left: 2, top: 1, right: 4, bottom: 3 });
        assert_eq!(Part::changed(&a, &a, 5), Part { left: 0, top: 0, right: 1, bottom: 1 });
    }
}
