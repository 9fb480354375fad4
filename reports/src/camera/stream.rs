//! The narrowing stream: how many are left after each gate.

use super::{MARGIN, fitted, sheet, upright};
use crate::{
    canvas::{Canvas, Frame},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::findings::{Findings, GateFinding};

pub(super) fn stream(findings: &Findings, frame: Frame) -> Option<Picture> {
    if findings.gates.is_empty() {
        return None;
    }
    let canvas = sheet(frame);
    let stage = Stage::new(&canvas, findings.gates.len());
    let left = left(findings);
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
        .map(|(gate, left)| format!("{} left after “{}”", left.words, words::gate(gate.gate)))
        .collect();
    Some(canvas.finish("stream", &title, &gates.join(", ")))
}

/// How much is left after a gate.
struct Left {
    share: f64,
    words: String,
}

/// What is left after each gate: of plain flights, and after the last what the
/// claim has, which a search may have found.
fn left(findings: &Findings) -> Vec<Left> {
    let claim = &findings.claim;
    let last = findings.gates.len() - 1;
    let one = |(i, gate): (usize, &GateFinding)| {
        let chance = if i == last { claim } else { &gate.so_far };
        let share = chance.probability.max(claim.probability);
        let words = if chance.probability > 0.0 {
            words::estimate(chance)
        } else if share > 0.0 {
            format!("under {}", words::share(chance.high))
        } else {
            "none".to_owned()
        };
        Left { share, words }
    };
    findings.gates.iter().enumerate().map(one).collect()
}

/// The stream runs to the right, or down on an upright frame.
struct Stage {
    tall: bool,
    /// Where it starts, and how long one gate is.
    start: f64,
    each: f64,
    /// Its middle and half its full width.
    middle: f64,
    half: f64,
    /// Room for a gate's words.
    room: f64,
}

impl Stage {
    fn new(canvas: &Canvas, gates: usize) -> Self {
        let (w, h) = (canvas.width(), canvas.height());
        let n = f64::from(u32::try_from(gates).unwrap_or(1));
        if upright(canvas) {
            let each = (h - 2.0 * MARGIN) / n;
            let half = 0.21 * w;
            let room = w - 3.0 * MARGIN - 2.0 * half;
            return Self { tall: true, start: MARGIN, each, middle: MARGIN + half, half, room };
        }
        let each = (w - 2.0 * MARGIN) / n;
        Self {
            tall: false,
            start: MARGIN,
            each,
            middle: 0.42 * h,
            half: 0.24 * h,
            room: each - 10.0,
        }
    }

    /// A place `along` the stream and `across` it.
    fn at(&self, along: f64, across: f64) -> (f64, f64) {
        if self.tall { (self.middle + across, along) } else { (along, self.middle + across) }
    }

    fn gate(&self, canvas: &Canvas, i: usize, before: f64, (gate, left): (&GateFinding, &Left)) {
        let palette = canvas.palette;
        let from = self.start + self.each * f64::from(u32::try_from(i).unwrap_or(0));
        let after = left.share;
        // A thread stays visible: its width is no longer to scale then.
        let wide = |p: f64| if p > 0.0 { (self.half * p).max(1.2) } else { 0.0 };
        let (a, b) = (wide(before), wide(after));
        let stop = from + self.each * 0.86;
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
            let outline = self.narrowing(from, stop, from + self.each, a, b);
            canvas.shape(&outline, Some(opaque(palette.ember)), None, rim);
        }
        self.words(canvas, from, (gate, left), before > 0.0);
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
        from: f64,
        (gate, left): (&GateFinding, &Left),
        reached: bool,
    ) {
        let palette = canvas.palette;
        let ink = if reached { palette.ink } else { palette.ash };
        let name = fitted(words::gate(gate.gate), 24.0, self.room, ink);
        let number =
            fitted(&left.words, 40.0, self.room, if reached { palette.ember } else { ink });
        if self.tall {
            let x = self.middle + self.half + MARGIN;
            let y = from + self.each / 2.0;
            canvas.text((x, y - 8.0), name);
            canvas.text((x, y + 30.0), number);
        } else {
            canvas.text((from + 2.0, 0.80 * canvas.height()), name);
            canvas.text((from + 2.0, 0.80 * canvas.height() + 42.0), number);
        }
    }
}
