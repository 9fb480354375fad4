//! What arrives against what the barrier takes: two bars.

use super::{MARGIN, fitted, sheet, upright};
use crate::{
    canvas::{Canvas, Frame, Rect},
    look::{self, Stroke, opaque, veil},
    picture::Picture,
    words,
};
use longodds_sim::findings::{Findings, Spread};

pub(super) fn energy(findings: &Findings, frame: Frame) -> Option<Picture> {
    let barrier = findings.barrier.as_ref()?;
    let canvas = sheet(frame);
    let palette = canvas.palette;
    let (dimension, _) = words::demand(barrier.demand);
    let show = findings.show;
    let half = |s: &Spread| words::quantity(s.quantiles[3], dimension, show);
    let most = barrier.demanded.quantiles[5].max(barrier.resisted.quantiles[5]);
    let full = (canvas.width() - 2.0 * MARGIN) / most.max(f64::MIN_POSITIVE);
    let (h, tall) = (canvas.height(), upright(&canvas));
    let first = if tall { 0.22 * h } else { 0.10 * h };
    let gap = if tall { 0.34 * h } else { 0.46 * h };
    bar(
        &canvas,
        &barrier.demanded,
        (full, first),
        true,
        &format!("{} arrives", half(&barrier.demanded)),
    );
    let breaks = if barrier.lower_bound {
        format!("it takes {} or more", half(&barrier.resisted))
    } else {
        format!("{} breaks it", half(&barrier.resisted))
    };
    bar(&canvas, &barrier.resisted, (full, first + gap), false, &words::capital(&breaks));
    let title = format!("{} arrives; {breaks}", half(&barrier.demanded));
    let description = format!("Two bars, middle values with nine in ten: {title}.");
    debug_assert!(palette.paper.is_none(), "camera frames are clear");
    Some(canvas.finish("energy", &title, &description))
}

/// A bar with its sentence over it and its nine in ten as a line.
fn bar(canvas: &Canvas, spread: &Spread, (full, top): (f64, f64), arrives: bool, words: &str) {
    let palette = canvas.palette;
    let ink = if arrives { palette.ember } else { palette.harbour };
    let text = fitted(words, 58.0, canvas.width() - 2.0 * MARGIN, ink);
    canvas.text((MARGIN, top + 44.0), text);
    let x = |q: usize| MARGIN + (spread.quantiles[q] * full).max(2.0);
    let rect = Rect { left: MARGIN, top: top + 60.0, right: x(3), bottom: top + 118.0 };
    let rim = Some(Stroke::solid(ink, look::HEAVY));
    if arrives {
        canvas.shape(&rect.corners(), Some(opaque(ink)), None, rim);
    } else {
        canvas.shape(&rect.corners(), Some(veil(ink, 0.15)), Some((opaque(ink), false)), rim);
    }
    let y = f64::midpoint(rect.top, rect.bottom);
    let line = Stroke::solid(palette.ink, look::HEAVY);
    canvas.line(&[(x(1), y), (x(5), y)], line);
    for end in [x(1), x(5)] {
        canvas.line(&[(end, y - 9.0), (end, y + 9.0)], line);
    }
}
