//! How a number is spread, as a small curve: its density over its range.

use super::{
    field::{Field, State},
    spread::Handle,
};
use longodds_sim::scenario::Input;
use maud::{Markup, html};
use std::fmt::Write as _;

/// Width of the drawing, px.
pub(crate) const WIDTH: f64 = 204.0;
/// Its height, px.
const HEIGHT: f64 = 46.0;
/// The line it stands on, px from the top.
const FOOT: f64 = 34.0;
/// Room above it, px.
const HEAD: f64 = 5.0;
/// How many points the curve has.
const POINTS: u32 = 60;

/// The values at the left and the right edge, in SI units: where nearly all draws
/// lie, and half as much again on either side for an end to be moved to.
fn domain(input: &Input) -> [f64; 2] {
    let [low, high] = [0.002, 0.998].map(|share| input.distribution.quantile(share));
    let wide = (high - low).abs().max(1e-9 * low.abs()).max(f64::MIN_POSITIVE);
    [low - 0.5 * wide, high + 0.5 * wide]
}

/// The curve alone, with the values of its edges; nothing for one value.
pub(crate) fn shape(input: &Input) -> Markup {
    if input.distribution.is_fixed() {
        return html! {};
    }
    let [low, high] = domain(input);
    let path = match input.distribution.chances() {
        Some(chances) => bars(input, &chances),
        None => density(input),
    };
    html! {
        g.shape data-low=(low) data-high=(high) {
            path.under d=(path) {}
            path.over d=(path) {}
        }
    }
}

fn x_of(input: &Input, value: f64) -> f64 {
    let [low, high] = domain(input);
    WIDTH * (value - low) / (high - low)
}

/// The density by steps of the quantile function.
fn density(input: &Input) -> String {
    let quantile = |share: f64| input.distribution.quantile(share);
    const STEP: f64 = 0.002;
    let points: Vec<(f64, f64)> = (0..=POINTS)
        .map(|i| {
            let share = 2.0 * STEP + f64::from(i) / f64::from(POINTS) * (1.0 - 4.0 * STEP);
            let wide = quantile(share + STEP) - quantile(share - STEP);
            (x_of(input, quantile(share)), STEP / wide.max(f64::MIN_POSITIVE))
        })
        .collect();
    let most = points.iter().map(|(_, density)| *density).fold(0.0, f64::max);
    let mut path = String::new();
    let (first, last) = (points[0].0, points[points.len() - 1].0);
    // Writing to a String cannot fail.
    let _ = write!(path, "M{first:.1},{FOOT}");
    for (x, density) in points {
        let _ = write!(path, "L{x:.1},{:.1}", FOOT - (FOOT - HEAD) * density / most);
    }
    let _ = write!(path, "L{last:.1},{FOOT}");
    path
}

/// A bar for each of a few values.
fn bars(input: &Input, chances: &[f64]) -> String {
    let most = chances.iter().copied().fold(0.0, f64::max);
    let mut path = String::new();
    let mut below = 0.0;
    for chance in chances {
        let x = x_of(input, input.distribution.quantile(below + 0.5 * chance));
        below += chance;
        let top = FOOT - (FOOT - HEAD) * chance / most;
        let _ = write!(path, "M{:.1},{FOOT}V{top:.1}H{:.1}V{FOOT}", x - 3.0, x + 3.0);
    }
    path
}

/// The drawing with what can be moved in it; nothing for one value.
pub(crate) fn drawing(field: &Field<'_>, name: &str) -> Markup {
    let Some(input) = field.input else { return html! {} };
    if input.distribution.is_fixed() || field.state == State::Assumed {
        return html! {};
    }
    let handles = field.handles();
    let [low, high] = domain(input);
    html! {
        svg.curve viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } width=(WIDTH) height=(HEIGHT) role="group"
            aria-label={ "How " (name) " is spread" } data-low=(low) data-high=(high) {
            path.foot d={ "M0," (FOOT) "H" (WIDTH) } {}
            (shape(input))
            @for handle in handles.iter().filter(|handle| handle.is_place() || handle.name == "sd") {
                (end(handle, input, name))
            }
        }
    }
}

/// One end: a slider.
fn end(handle: &Handle, input: &Input, name: &str) -> Markup {
    let Handle { path, value, from, scale, text, name: what } = handle;
    let [low, high] = domain(input);
    let least = if *from == 0.0 && *what != "sd" { low } else { 0.0 };
    let step = scale.step(high - low);
    html! {
        g.end tabindex="0" role="slider" aria-orientation="horizontal"
            aria-label={ (name) ", " (what) } aria-valuemin=((least - scale.off) / scale.per)
            aria-valuemax=((high - from - scale.off) / scale.per)
            aria-valuenow=((value - scale.off) / scale.per) aria-valuetext=(text)
            data-part=(path) data-value=(value) data-from=(from) data-step=(step)
            data-unit=(scale.unit) data-per=(scale.per) data-off=(scale.off)
            transform={ "translate(" (format!("{:.1}", x_of(input, from + value))) " " (FOOT) ")" } {
            circle.touch r="12" {}
            path.mark d="M0,-6L6,5H-6Z" {}
        }
    }
}
