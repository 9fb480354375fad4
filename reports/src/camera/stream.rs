//! The narrowing stream: how many are left after each gate.

use super::{MARGIN, fitted, sheet, upright};
use crate::{
    canvas::{Canvas, Frame, Text},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::{
    findings::{Findings, GateFinding},
    words::Spoken,
};
use plotters::style::RGBColor;

pub(super) fn stream(findings: &Findings, frame: Frame) -> Option<Picture> {
    if findings.gates.is_empty() {
        return None;
    }
    let canvas = sheet(frame);
    let left = left(findings);
    let names: Vec<&str> = findings.gates.iter().map(|gate| words::gate(gate.gate)).collect();
    let stage = Stage::new(&canvas, &names, &left);
    let mut before = 1.0;
    for (i, (gate, after)) in findings.gates.iter().zip(&left).enumerate() {
        stage.gate(&canvas, i, before, (gate, after));
        before = after.share;
    }
    let last = left.last().map_or("", |left| &left.words);
    let title = format!("{last} of the flights are left after every gate");
    let gates: Vec<String> = findings
        .gates
        .iter()
        .zip(&left)
        .map(|(gate, left)| {
            format!("{} of all flights left after “{}”", left.words, words::gate(gate.gate))
        })
        .collect();
    Some(canvas.finish("stream", &title, &gates.join(", ")))
}

/// How much is left after a gate.
struct Left {
    share: f64,
    /// In large type; with "of all" under it, or less where it is only a `bound`.
    number: String,
    bound: bool,
    /// Both.
    words: String,
}

impl Left {
    fn of(&self) -> &'static str {
        if self.bound { OR_LESS } else { OF_ALL }
    }
}

/// What is left after each gate: of plain flights, and after the last what the
/// claim has, which a search may have found.
fn left(findings: &Findings) -> Vec<Left> {
    let claim = &findings.claim;
    let last = findings.gates.len() - 1;
    let one = |(i, gate): (usize, &GateFinding)| {
        let chance = if i == last { claim } else { &gate.so_far };
        let share = chance.probability.max(claim.probability);
        let bounded = chance.at_most && chance.probability > 0.0;
        let (number, bound) = if chance.probability > 0.0 {
            (words::number(chance), bounded)
        } else if share > 0.0 {
            (Spoken::at_most(chance.high).set(), true)
        } else {
            ("none".to_owned(), false)
        };
        let words = match chance.bound() {
            Some(bound) => bound.set(),
            None if bound => format!("at most {number}"),
            None => number.clone(),
        };
        Left { share, number, bound, words }
    };
    findings.gates.iter().enumerate().map(one).collect()
}

/// The stream runs to the right, or down on an upright frame.
struct Stage {
    tall: bool,
    /// Where gates begin, and where the last ends.
    edges: Vec<f64>,
    /// Its middle and half its full width.
    middle: f64,
    half: f64,
    /// Room for a gate's words, where all have the same.
    room: f64,
    /// Size of all the numbers, px: one larger than the next would say more
    /// than it does.
    size: f64,
}

/// Largest size of the numbers, and their least, px.
const LARGE: f64 = 40.0;
const SMALL: f64 = 16.0;
const NAME: f64 = 24.0;
const BOUND: f64 = 17.0;
/// Of what each number is a share; and where it is only a bound.
const OF_ALL: &str = "of all";
const OR_LESS: &str = "of all, or less";
/// Least room between the words of two gates, px.
const APART: f64 = 13.0;

impl Stage {
    fn new(canvas: &Canvas, names: &[&str], left: &[Left]) -> Self {
        let (w, h) = (canvas.width(), canvas.height());
        let gates = names.len().max(1);
        let even = |from: f64, to: f64| -> Vec<f64> {
            (0..=gates).map(|i| from + (to - from) * real(i) / real(gates)).collect()
        };
        if upright(canvas) {
            let half = 0.21 * w;
            let room = w - 3.0 * MARGIN - 2.0 * half;
            let size = left.iter().map(|one| fitting(&one.number, room)).fold(LARGE, f64::min);
            let edges = even(MARGIN, h - MARGIN);
            return Self { tall: true, edges, middle: MARGIN + half, half, room, size };
        }
        let all = w - 2.0 * MARGIN;
        let (edges, size) = match shared_out(all, names, left) {
            Some((widths, size)) => {
                let mut edges = vec![MARGIN];
                edges.extend(widths.iter().scan(MARGIN, |at, wide| {
                    *at += wide;
                    Some(*at)
                }));
                (edges, size)
            }
            // More words than there is room for: each as small as it has to be.
            None => (even(MARGIN, w - MARGIN), LARGE),
        };
        let room = all / real(gates) - APART;
        Self { tall: false, edges, middle: 0.40 * h, half: 0.24 * h, room, size }
    }

    /// A place `along` the stream and `across` it.
    fn at(&self, along: f64, across: f64) -> (f64, f64) {
        if self.tall { (self.middle + across, along) } else { (along, self.middle + across) }
    }

    fn gate(&self, canvas: &Canvas, i: usize, before: f64, (gate, left): (&GateFinding, &Left)) {
        let palette = canvas.palette;
        let (from, to) = (self.edges[i], self.edges[i + 1]);
        let after = left.share;
        // A thread stays visible: its width is no longer to scale then.
        let wide = |p: f64| if p > 0.0 { (self.half * p).max(1.2) } else { 0.0 };
        let (a, b) = (wide(before), wide(after));
        let stop = from + (to - from) * 0.86;
        if a - b > 0.3 {
            let dead = [self.at(from, -a), self.at(from, a), self.at(stop, a), self.at(stop, -a)];
            canvas.shape(
                &dead,
                Some(veil(palette.ash, 0.12)),
                Some((opaque(palette.ash), true)),
                None,
            );
            for side in [-1.0, 1.0] {
                let bar = [self.at(stop, side * b), self.at(stop, side * a)];
                canvas.line(&bar, Stroke::solid(palette.ink, look::HEAVY));
            }
        }
        if a > 0.0 {
            let rim = Some(Stroke::solid(palette.halo, look::LINE));
            let outline = self.narrowing(from, stop, to, a, b);
            canvas.shape(&outline, Some(opaque(palette.ember)), None, rim);
        }
        self.words(canvas, (from, to), (gate, left), before > 0.0);
    }

    fn narrowing(&self, from: f64, stop: f64, to: f64, a: f64, b: f64) -> Vec<(f64, f64)> {
        let edge = |side: f64| {
            (0..=16).map(move |k| {
                let t = f64::from(k) / 16.0;
                let ease = t * t * (3.0 - 2.0 * t);
                self.at(from + (stop - from) * t, side * (a + (b - a) * ease))
            })
        };
        let mut outline: Vec<_> = edge(-1.0).collect();
        outline.extend([self.at(to, -b), self.at(to, b)]);
        outline.extend(edge(1.0).collect::<Vec<_>>().into_iter().rev());
        outline
    }

    fn words(
        &self,
        canvas: &Canvas,
        (from, to): (f64, f64),
        (gate, left): (&GateFinding, &Left),
        reached: bool,
    ) {
        let palette = canvas.palette;
        let ink = if reached { palette.ink } else { palette.ash };
        let ember = if reached { palette.ember } else { ink };
        let room = if self.tall { self.room } else { (to - from - 4.0).max(self.room) };
        let name = fitted(words::gate(gate.gate), NAME, room, ink);
        let number = fitted(&left.number, self.size, room, ember);
        let at = if self.tall {
            (self.middle + self.half + MARGIN, f64::midpoint(from, to) - 8.0)
        } else {
            (from + 2.0, 0.775 * canvas.height())
        };
        canvas.text(at, name);
        canvas.text((at.0, at.1 + 4.0 + 0.88 * self.size), number);
        if reached {
            let words = Text::new(left.of(), BOUND, ember).bold();
            canvas.text((at.0, at.1 + 24.0 + 0.88 * self.size), words);
        }
    }
}

fn real(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

fn width(words: &str, size: f64) -> f64 {
    Text::new(words, size, RGBColor(0, 0, 0)).bold().width()
}

/// The size at which words are so wide, or less.
fn fitting(words: &str, room: f64) -> f64 {
    LARGE * (room / width(words, LARGE)).min(1.0)
}

/// How long each gate is, so that all numbers have one size, the largest that
/// there is room for; `None` if it would be too small to read.
fn shared_out(all: f64, names: &[&str], left: &[Left]) -> Option<(Vec<f64>, f64)> {
    let needs = |size: f64| -> Vec<f64> {
        let one = |(name, left): (&&str, &Left)| {
            let label = width(left.of(), BOUND);
            width(name, NAME).max(width(&left.number, size)).max(label) + APART
        };
        names.iter().zip(left).map(one).collect()
    };
    let mut size = LARGE;
    while size >= SMALL {
        let needs = needs(size);
        let spare = all - needs.iter().sum::<f64>();
        if spare >= 0.0 {
            let each = spare / real(needs.len().max(1));
            return Some((needs.iter().map(|need| need + each).collect(), size));
        }
        size -= 0.5;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        camera::{Format, Ground},
        picture::Mark,
        sample,
    };

    fn bounded() -> Findings {
        let mut findings = sample::ordinary();
        findings.claim.at_most = true;
        for gate in &mut findings.gates {
            gate.so_far.at_most = true;
        }
        findings
    }

    #[test]
    fn all_numbers_have_one_size_and_a_bound_is_no_smaller() {
        for findings in [sample::ordinary(), bounded()] {
            for format in [Format::Wide, Format::Tall] {
                let picture = stream(&findings, format.frame(Ground::Dark)).unwrap();
                let numbers: Vec<i32> = left(&findings)
                    .iter()
                    .filter_map(|one| {
                        picture.marks.iter().find_map(|mark| match mark {
                            Mark::Text(text) if text.text == one.number => Some(text.size),
                            _ => None,
                        })
                    })
                    .collect();
                assert_eq!(numbers.len(), findings.gates.len());
                assert!(numbers.iter().all(|size| *size == numbers[0]), "{numbers:?}");
            }
        }
    }

    #[test]
    fn a_bound_says_so_under_its_number() {
        let picture = stream(&bounded(), Format::Wide.frame(Ground::Dark)).unwrap();
        assert!(picture.texts().iter().any(|text| text.text == OR_LESS));
        assert!(picture.title.contains("at most"), "{}", picture.title);
        let plain = stream(&sample::ordinary(), Format::Wide.frame(Ground::Dark)).unwrap();
        assert!(!plain.texts().iter().any(|text| text.text == OR_LESS));
    }
}
