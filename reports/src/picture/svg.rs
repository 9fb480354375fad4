//! A picture as SVG text: whole numbers on the fine grid, real text, a title
//! and a description.

use super::{
    FINE, Picture,
    mark::{Anchor, Lettering, Mark, Pen, Point},
};
use crate::font::{BOLD, FAMILY, REGULAR, Weight};
use plotters::style::RGBAColor;
use std::fmt::Write as _;

/// Writes the picture; `alone` embeds the type for use outside a page, and
/// says how many times as large it is shown.
pub(super) fn write(picture: &Picture, alone: Option<u32>) -> String {
    let Picture { name, width, height, .. } = picture;
    let (shown_w, shown_h) = (width * alone.unwrap_or(1), height * alone.unwrap_or(1));
    let (w, h) = (f64::from(*width) * FINE, f64::from(*height) * FINE);
    let mut out = String::new();
    put(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{shown_w}\" \
         height=\"{shown_h}\" role=\"img\" aria-labelledby=\"{name}-title {name}-desc\" \
         class=\"chart\" font-family=\"{FAMILY}, sans-serif\" \
         style=\"font-kerning:none;font-variant-ligatures:none\">\n\
         <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-desc\">{}</desc>\n",
            escape(&picture.title),
            escape(&picture.description),
        ),
    );
    if alone.is_some() {
        put(&mut out, format_args!("<style>{}</style>\n", font_faces()));
    }
    if let Some(paper) = picture.paper {
        put(
            &mut out,
            format_args!(
                "<rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>\n",
                hex(RGBAColor(paper.0, paper.1, paper.2, 1.0))
            ),
        );
    }
    for mark in &picture.marks {
        one(&mut out, mark);
    }
    out.push_str("</svg>\n");
    out
}

fn put(out: &mut String, text: std::fmt::Arguments<'_>) {
    // Writing to a String cannot fail.
    let _written = out.write_fmt(text);
}

fn one(out: &mut String, mark: &Mark) {
    match mark {
        Mark::Path { points, closed, fill, pen } => {
            put(
                out,
                format_args!("<path d=\"{}{}\"", steps(points), if *closed { "z" } else { "" }),
            );
            paint(out, *fill, *pen);
        }
        Mark::Circle { centre, radius, fill, pen } => {
            let (x, y) = centre;
            put(out, format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\""));
            paint(out, *fill, *pen);
        }
        Mark::Text(lettering) => text(out, lettering),
    }
}

/// Path data: the first corner, then steps from corner to corner.
fn steps(points: &[Point]) -> String {
    let mut out = String::new();
    let mut last = (0, 0);
    for (i, &(x, y)) in points.iter().enumerate() {
        let letter = match i {
            0 => "M",
            1 => "l",
            _ => " ",
        };
        put(&mut out, format_args!("{letter}{},{}", x - last.0, y - last.1));
        last = (x, y);
    }
    out
}

fn paint(out: &mut String, fill: Option<RGBAColor>, pen: Option<Pen>) {
    match fill {
        Some(ink) => colour(out, "fill", ink),
        None => out.push_str(" fill=\"none\""),
    }
    if let Some(pen) = pen {
        colour(out, "stroke", pen.ink);
        put(
            out,
            format_args!(
                " stroke-width=\"{}\" stroke-linejoin=\"round\" stroke-linecap=\"round\"",
                pen.width
            ),
        );
        if let Some([on, off]) = pen.dash {
            put(
                out,
                format_args!(" stroke-dasharray=\"{on} {off}\" style=\"stroke-linecap:butt\""),
            );
        }
    }
    out.push_str("/>\n");
}

fn colour(out: &mut String, what: &str, ink: RGBAColor) {
    put(out, format_args!(" {what}=\"{}\"", hex(ink)));
    if ink.3 < 1.0 {
        put(out, format_args!(" {what}-opacity=\"{:.2}\"", ink.3));
    }
}

fn hex(ink: RGBAColor) -> String {
    format!("#{:02x}{:02x}{:02x}", ink.0, ink.1, ink.2)
}

fn text(out: &mut String, lettering: &Lettering) {
    let (x, y) = lettering.at;
    put(out, format_args!("<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"", lettering.size));
    if lettering.weight == Weight::Bold {
        out.push_str(" font-weight=\"700\"");
    }
    match lettering.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if lettering.upward {
        put(out, format_args!(" transform=\"rotate(-90 {x} {y})\""));
    }
    if let Some(halo) = lettering.halo {
        colour(out, "stroke", halo);
        put(
            out,
            format_args!(
                " stroke-width=\"{}\" stroke-linejoin=\"round\" paint-order=\"stroke\"",
                lettering.size / 4
            ),
        );
    }
    colour(out, "fill", lettering.ink);
    put(out, format_args!(">{}</text>\n", escape(&lettering.text)));
}

/// Text made safe for XML; control characters, which XML forbids, are dropped.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// CSS that embeds both weights.
pub(crate) fn font_faces() -> String {
    let face = |weight: u32, bytes: &[u8]| {
        format!(
            "@font-face{{font-family:{FAMILY};font-weight:{weight};\
             src:url(data:font/ttf;base64,{})format(\"truetype\")}}",
            base64(bytes)
        )
    };
    format!("{}{}", face(400, REGULAR), face(700, BOLD))
}

/// Base64 with padding. Source: RFC 4648, section 4.
pub(crate) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let byte = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let word = byte(0) << 16 | byte(1) << 8 | byte(2);
        for i in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * i) & 63) as usize];
            out.push(if i > chunk.len() { '=' } else { char::from(letter) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RFC 4648, section 10, test vectors.
    #[test]
    fn base64_gives_the_published_vectors() {
        let cases = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (plain, coded) in cases {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn text_cannot_break_out_of_its_element() {
        assert_eq!(escape("<b> & \"x\"\u{7}"), "&lt;b&gt; &amp; &quot;x&quot;");
    }
}
