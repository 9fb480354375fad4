//! A film as one animated GIF with a palette made for it: the look's colours
//! and their shades against the ground.

use super::{Film, PER_SECOND};
use crate::picture::Picture;
use plotters::style::RGBColor;

/// Encodes the film at `scale` pixels per px; it runs for ever. Empty if a
/// frame cannot be painted.
#[must_use]
pub fn gif(film: &Film<'_>, scale: f32) -> Vec<u8> {
    encode(film, scale).unwrap_or_default()
}

fn encode(film: &Film<'_>, scale: f32) -> Option<Vec<u8>> {
    let ground = film.ground().colour();
    let palette = shades(film);
    let flat: Vec<u8> = palette.iter().flat_map(|c| [c.0, c.1, c.2]).collect();
    let near = nearest(&palette);
    let mut out = Vec::new();
    let mut encoder: Option<::gif::Encoder<&mut Vec<u8>>> = None;
    // One run of equal pictures at the end becomes one frame that stays.
    let last = film.len() - usize::from(PER_SECOND);
    let mut sink = Some(&mut out);
    for i in 0..last {
        let picture = Picture { paper: Some(ground), ..film.picture(i) };
        let (pixels, w, h) = picture.pixels(scale)?;
        let (w, h) = (u16::try_from(w).ok()?, u16::try_from(h).ok()?);
        if let Some(sink) = sink.take() {
            let mut made = ::gif::Encoder::new(sink, w, h, &flat).ok()?;
            made.set_repeat(::gif::Repeat::Infinite).ok()?;
            encoder = Some(made);
        }
        let indices: Vec<u8> =
            pixels.chunks_exact(4).map(|p| near[slot(p[0], p[1], p[2])]).collect();
        let stay = if i + 1 == last { 150 } else { 100 / PER_SECOND };
        let frame = ::gif::Frame {
            width: w,
            height: h,
            buffer: indices.into(),
            delay: stay,
            ..::gif::Frame::default()
        };
        encoder.as_mut()?.write_frame(&frame).ok()?;
    }
    drop(encoder);
    Some(out)
}

/// At most 256 colours: each of the look's, in steps from the ground.
fn shades(film: &Film<'_>) -> Vec<RGBColor> {
    let p = film.ground().palette();
    let ground = p.halo;
    let mut out = vec![ground];
    for ink in [p.ink, p.ember, p.harbour, p.rule, p.ash, p.quiet] {
        for k in 1..=28u16 {
            let mix = |a: u8, b: u8| {
                let sum = u16::from(a) * (28 - k) + u16::from(b) * k;
                u8::try_from(sum / 28).unwrap_or(u8::MAX)
            };
            out.push(RGBColor(mix(ground.0, ink.0), mix(ground.1, ink.1), mix(ground.2, ink.2)));
        }
    }
    out
}

/// Where a colour stands in the table of [`nearest`]: five bits a channel.
fn slot(r: u8, g: u8, b: u8) -> usize {
    (usize::from(r) >> 3) << 10 | (usize::from(g) >> 3) << 5 | usize::from(b) >> 3
}

/// For every colour, the palette's nearest.
fn nearest(palette: &[RGBColor]) -> Vec<u8> {
    let channel = |i: usize, shift: usize| i32::try_from((i >> shift & 31) * 255 / 31).unwrap_or(0);
    let find = |i: usize| {
        let (r, g, b) = (channel(i, 10), channel(i, 5), channel(i, 0));
        let far = |c: &RGBColor| {
            let (x, y, z) = (i32::from(c.0) - r, i32::from(c.1) - g, i32::from(c.2) - b);
            2 * x * x + 4 * y * y + 3 * z * z
        };
        let best = palette.iter().enumerate().min_by_key(|(_, c)| far(c));
        best.map_or(0, |(k, _)| u8::try_from(k).unwrap_or(0))
    };
    (0..1 << 15).map(find).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        camera::{Format, Ground},
        sample,
    };

    /// Read back with the decoder of the library that wrote it: checks the
    /// frames and their times, not the library.
    #[test]
    fn a_film_can_be_read_back_frame_by_frame_and_lasts_as_said() {
        let findings = sample::ordinary();
        let film = Film::new(&findings, Format::Wide, Ground::Light, 1.0).unwrap();
        let bytes = gif(&film, 0.5);
        let mut decoder = ::gif::DecodeOptions::new().read_info(&bytes[..]).unwrap();
        assert_eq!((decoder.width(), decoder.height()), (320, 180));
        let (mut frames, mut centiseconds) = (0_u32, 0);
        while let Some(frame) = decoder.read_next_frame().unwrap() {
            frames += 1;
            centiseconds += u32::from(frame.delay);
        }
        assert_eq!(frames as usize, film.len() - 25);
        assert_eq!(centiseconds, 4 * (frames - 1) + 150);
        assert!(bytes.len() < 1_000_000, "{} bytes", bytes.len());
    }

    #[test]
    fn the_ground_and_the_looks_colours_are_kept() {
        let findings = sample::ordinary();
        let film = Film::new(&findings, Format::Wide, Ground::Dark, 1.0).unwrap();
        let palette = shades(&film);
        let near = nearest(&palette);
        assert!(palette.len() <= 256);
        let p = film.ground().palette();
        for c in [p.halo, p.ink, p.ember, p.harbour] {
            let got = palette[usize::from(near[slot(c.0, c.1, c.2)])];
            let gap = |a: u8, b: u8| i32::from(a).abs_diff(i32::from(b));
            assert!(
                gap(got.0, c.0).max(gap(got.1, c.1)).max(gap(got.2, c.2)) <= 12,
                "{c:?} became {got:?}"
            );
        }
    }
}
