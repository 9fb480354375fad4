//! "3 in 1,000" as a field of icons.

use super::{MARGIN, fitted, sheet, upright};
use crate::{
    canvas::{Canvas, Frame, Rect, Text},
    look::{Stroke, opaque},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{Chance, Findings},
    math,
    words::Spoken,
};

/// Most icons in a field.
const MOST: u64 = 10_000;

/// The chance as so many in so many.
struct Odds {
    lit: u64,
    of: u64,
    words: String,
    /// So many fields like this, with one icon lit among all of them.
    fields: Option<u64>,
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "of few digits")]
fn whole(x: f64) -> u64 {
    x.round().clamp(0.0, 1e15) as u64
}

#[expect(clippy::cast_precision_loss, reason = "at most 10,000")]
fn real(n: u64) -> f64 {
    n as f64
}

impl Odds {
    /// The field that shows the number as it is said everywhere else.
    fn new(chance: &Chance) -> Self {
        let (said, flights) = (chance.spoken(), chance.flights);
        let field = |lit: u64, of: u64| {
            let words = format!("{} in {}", words::count(lit), words::count(of));
            Self { lit, of, words, fields: None }
        };
        match said {
            Spoken::Hundredths(value, digits) => {
                let of = math::pow(10.0, 2.0 + digits as f64);
                let (mut lit, mut of) = (whole(value * of / 100.0), whole(of));
                while lit % 10 == 0 && of > 10 {
                    (lit, of) = (lit / 10, of / 10);
                }
                // Too many to be seen are shown by as many as can be.
                let fine = of.div_ceil(MOST);
                Self { lit: lit / fine, of: of / fine, ..field(lit, of) }
            }
            Spoken::OneIn(n) | Spoken::AllBut(n) => {
                let (n, of) = (whole(n), whole(n).clamp(1, MOST));
                let fields = (n > MOST).then(|| whole(n as f64 / MOST as f64).max(2));
                match said {
                    Spoken::OneIn(_) => Self { lit: 1, of, words: said.to_string(), fields },
                    _ => Self { lit: of - 1, of, words: said.to_string(), fields: None },
                }
            }
            Spoken::Always => field(flights.clamp(1, 10), flights.clamp(1, 10)),
            _ => Self {
                lit: 0,
                of: flights.clamp(1, MOST),
                words: format!("0 in {}", words::count(flights)),
                fields: None,
            },
        }
    }

    fn is_lit(&self, i: u64) -> bool {
        if self.lit * 20 >= self.of {
            return i < self.lit;
        }
        // Few: strewn over the field by the golden ratio, not in a corner.
        (0..self.lit)
            .any(|k| whole((real(k) * 0.618_034 + 0.3745).fract() * real(self.of - 1)) == i)
    }
}

pub(super) fn odds(findings: &Findings, frame: Frame) -> Option<Picture> {
    let odds = Odds::new(&findings.claim);
    let canvas = sheet(frame);
    let palette = canvas.palette;
    let (w, h) = (canvas.width(), canvas.height());
    let tall = upright(&canvas);
    let room = if tall { w - 2.0 * MARGIN } else { 0.42 * w };
    let number = fitted(&odds.words, 86.0, room, palette.ink);
    let bound = bounded(&findings.claim);
    let say =
        if findings.claim.flights == 1 { "flight bears it out" } else { "flights bear it out" };
    let below = fitted(say, 30.0, room, palette.ink);
    let y = if tall { MARGIN + 62.0 } else { 0.5 * h };
    if bound {
        let above = Text::new("At most", 30.0, palette.ink).bold();
        canvas.text((MARGIN, y - 4.0 - 0.8 * number.size), above);
    }
    canvas.text((MARGIN, y), number);
    canvas.text((MARGIN, y + 44.0), below);
    if let Some(fields) = odds.fields {
        let text = format!("in {} fields like this", words::count(fields));
        canvas.text((MARGIN, y + 82.0), fitted(&text, 24.0, room, palette.ember));
    }
    let field = if tall {
        Rect { left: MARGIN, top: y + 108.0, right: w - MARGIN, bottom: h - MARGIN }
    } else {
        Rect { left: 0.5 * w, top: MARGIN, right: w - MARGIN, bottom: h - MARGIN }
    };
    icons(&canvas, &field, &odds);
    let most = if bound { "At most " } else { "" };
    let title = format!("{most}{} {say}", odds.words);
    Some(canvas.finish("odds", &title, &format!("{title}, as a field of icons.")))
}

/// Is it only known to be no more?
fn bounded(chance: &Chance) -> bool {
    chance.at_most && chance.probability > 0.0
}

fn icons(canvas: &Canvas, field: &Rect, odds: &Odds) {
    let palette = canvas.palette;
    let columns = (real(odds.of) * field.width() / field.height()).sqrt().ceil().max(1.0);
    // A tenth of the whole in a row reads by itself.
    let columns = [2.0, 5.0, 10.0, 20.0, 25.0, 40.0, 50.0, 80.0, 100.0]
        .into_iter()
        .find(|c| *c >= columns * 0.93)
        .unwrap_or(columns);
    let rows = (real(odds.of) / columns).ceil();
    let step = (field.width() / columns).min(field.height() / rows);
    let (left, top) =
        (field.right - step * columns, f64::midpoint(field.top, field.bottom) - step * rows / 2.0);
    let few = odds.lit * 20 < odds.of;
    for i in 0..odds.of {
        let (column, row) = (real(i) % columns, (real(i) / columns).floor());
        let at = (left + (column + 0.5) * step, top + (row + 0.5) * step);
        if odds.is_lit(i) {
            let r = step * if few { 0.75 } else { 0.46 };
            let r = r.max(if few { 3.5 } else { 0.0 });
            let diamond = [(at.0, at.1 - r), (at.0 + r, at.1), (at.0, at.1 + r), (at.0 - r, at.1)];
            let rim = few.then(|| Stroke::solid(palette.halo, (0.12 * step).max(0.7)));
            canvas.shape(&diamond, Some(opaque(palette.ember)), None, rim);
        } else if step > 6.0 {
            let pen = Stroke::solid(palette.ash, (0.07 * step).clamp(0.7, 2.2));
            canvas.round(at, 0.30 * step, None, Some(pen));
        } else {
            canvas.round(at, 0.30 * step, Some(opaque(palette.ash)), None);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn odds(p: f64) -> (u64, u64, String) {
        let mut chance = crate::sample::ordinary().claim;
        (chance.probability, chance.held) = (p, u64::from(p > 0.0));
        (chance.low, chance.high) = (0.9 * p, 1.1 * p);
        let odds = Odds::new(&chance);
        let lit = (0..odds.of).filter(|i| odds.is_lit(*i)).count() as u64;
        assert_eq!(lit, odds.lit, "as many lit as said");
        (odds.lit, odds.of, odds.words)
    }

    #[test]
    fn a_chance_becomes_the_smallest_field_of_the_number_said() {
        assert_eq!(odds(0.0031), (1, 320, "1 in 320".to_owned()));
        assert_eq!(odds(0.3), (3, 10, "3 in 10".to_owned()));
        assert_eq!(odds(0.31), (31, 100, "31 in 100".to_owned()));
        assert_eq!(odds(0.052), (52, 1000, "52 in 1,000".to_owned()));
        assert_eq!(odds(1.0), (10, 10, "10 in 10".to_owned()));
        assert_eq!(odds(0.998), (998, 1000, "998 in 1,000".to_owned()));
        assert_eq!(odds(1.3e-4), (1, 7700, "1 in 7,700".to_owned()));
        assert_eq!(odds(2.3e-7), (1, 10_000, "1 in 4.3 million".to_owned()));
        assert_eq!(odds(0.0), (0, 10_000, "0 in 10,000".to_owned()));
    }

    #[test]
    fn a_bound_is_never_rounded_to_less_than_it_is() {
        let mut chance = crate::sample::ordinary().claim;
        (chance.probability, chance.at_most) = (7.46e-4, true);
        assert_eq!(Odds::new(&chance).words, "1 in 1,300");
        (chance.probability, chance.low, chance.high) = (0.312, 0.3, 0.33);
        assert_eq!(Odds::new(&chance).words, "32 in 100");
        chance.at_most = false;
        assert_eq!(Odds::new(&chance).words, "31 in 100");
    }
}
