//! Axes: round numbers in the reader's units, drawn only where there is data.

use crate::{
    canvas::{Canvas, Panel, Text},
    font::Weight,
    look::{self, Stroke},
    words,
};
use longodds_sim::{
    math,
    quantity::{self, Axis, Dimension, Show, significant},
};

/// One axis: the unit and its round numbers.
#[derive(Clone, Debug)]
pub(crate) struct Scale {
    pub unit: Axis,
    pub dimension: Dimension,
}

impl Scale {
    /// The unit that suits SI values up to `largest`.
    pub(crate) fn new(dimension: Dimension, show: Show, largest: f64) -> Self {
        Self { unit: quantity::axis(dimension, show, largest), dimension }
    }

    /// Round SI values between `low` and `high`, about `count` of them, with
    /// their labels.
    pub(crate) fn ticks(&self, low: f64, high: f64, count: f64) -> Vec<(f64, String)> {
        let ticks = self.about(low, high, count);
        // One number alone is no scale.
        if ticks.len() < 2 { self.about(low, high, 2.0 * count) } else { ticks }
    }

    fn about(&self, low: f64, high: f64, count: f64) -> Vec<(f64, String)> {
        let (a, b) = (self.unit.value(low), self.unit.value(high));
        let step = step(b - a, count, self.dimension);
        if !(step > 0.0 && step.is_finite()) {
            return Vec::new();
        }
        let mut out = Vec::new();
        let mut n = (a / step - 1e-9).ceil();
        while n * step <= b + 1e-9 * step && out.len() < 40 {
            out.push((self.unit.si(n * step), number(n * step, step)));
            n += 1.0;
        }
        out
    }

    /// The unit's sign, with a word for what has none.
    pub(crate) fn sign(&self) -> String {
        words::sign(self.unit.symbol)
    }
}

/// A tick's label: no more decimals than its step has.
fn number(value: f64, step: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let decimals = math::log10(step).floor().min(0.0).abs();
    if value.abs() >= 1e7 || decimals > 5.0 {
        return significant(value, 3);
    }
    let whole = (0..=5usize).find(|&d| f64::from(u8::try_from(d).unwrap_or(5)) >= decimals);
    let text = format!("{value:.*}", whole.unwrap_or(5));
    match text.strip_prefix('-').unwrap_or(&text).split_once('.') {
        None if value.abs() >= 1e4 => separated(&text),
        _ => text.replacen('-', "−", 1),
    }
}

fn separated(text: &str) -> String {
    let (minus, digits) = text.strip_prefix('-').map_or(("", text), |d| ("−", d));
    format!("{minus}{}", digits.parse().map_or_else(|_| digits.to_owned(), words::count))
}

/// 1, 2 or 5 times a power of ten (angles: also 15, 30, 45, 90).
fn step(span: f64, count: f64, dimension: Dimension) -> f64 {
    let rough = span / count.max(1.0);
    if !(rough > 0.0 && rough.is_finite()) {
        return 0.0;
    }
    if dimension == Dimension::Angle && rough > 5.0 {
        return [10.0, 15.0, 30.0, 45.0, 90.0]
            .into_iter()
            .find(|s| *s >= rough * 0.999)
            .unwrap_or(180.0);
    }
    let power = math::pow(10.0, math::log10(rough).floor());
    let lead = [1.0, 2.0, 5.0, 10.0].into_iter().find(|s| s * power >= rough * 0.999);
    lead.unwrap_or(10.0) * power
}

impl Panel {
    /// The axis under the panel: line, ticks, numbers and `what` with its
    /// unit. Numbers that would touch are left out.
    pub(crate) fn x_axis(&self, canvas: &Canvas, scale: &Scale, what: &str) {
        let palette = canvas.palette;
        let y = self.rect.bottom;
        canvas.line(
            &[(self.rect.left, y), (self.rect.right, y)],
            Stroke::solid(palette.ink, look::THIN),
        );
        let mut free = f64::NEG_INFINITY;
        for (value, label) in
            scale.ticks(self.x.start, self.x.end, (self.rect.width() / 90.0).max(2.0))
        {
            let x = self.place((value, self.y.start)).0;
            canvas.line(&[(x, y), (x, y + 5.0)], Stroke::solid(palette.ink, look::THIN));
            let text = Text::new(label, look::TICK, palette.ink).middle();
            let half = text.width() / 2.0;
            if x - half > free && x + half < canvas.width() && x - half > 0.0 {
                free = x + half + 6.0;
                canvas.text((x, y + 19.0), text);
            }
        }
        let title = titled(what, &scale.sign());
        let text = Text::new(
            crate::font::fit(&title, Weight::Regular, look::TICK, self.rect.width() + 40.0),
            look::TICK,
            palette.quiet,
        );
        canvas.text((self.rect.right, y + 37.0), text.end());
    }

    /// The axis to the left of the panel: grid lines, numbers, and `what` with
    /// its unit over it.
    pub(crate) fn y_axis(&self, canvas: &Canvas, scale: &Scale, what: &str) {
        let palette = canvas.palette;
        let left = self.rect.left;
        let mut free = f64::INFINITY;
        for (value, label) in scale.ticks(self.y.start, self.y.end, self.rect.height() / 45.0) {
            let y = self.place((self.x.start, value)).1;
            let line = Stroke::solid(palette.rule, look::HAIR);
            canvas.line(&[(left, y), (self.rect.right, y)], line);
            if y + 5.0 < free {
                free = y - look::TICK;
                let text = Text::new(label, look::TICK, palette.ink).end();
                canvas.text((left - 7.0, y + 4.5), text);
            }
        }
        let text = Text::new(titled(what, &scale.sign()), look::TICK, palette.quiet);
        canvas.text(((left - 46.0).max(0.0), self.rect.top - 12.0), text);
    }
}

fn titled(what: &str, unit: &str) -> String {
    if unit.is_empty() { what.to_owned() } else { format!("{what}, {unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_in_the_readers_units() {
        let mph = Scale::new(Dimension::Speed, Show::Imperial, 30.0);
        let labels: Vec<_> = mph.ticks(0.0, 30.0, 7.0).into_iter().map(|t| t.1).collect();
        assert_eq!(labels, ["0", "10", "20", "30", "40", "50", "60"]);
        let degrees = Scale::new(Dimension::Angle, Show::Si, 1.5);
        let labels: Vec<_> =
            degrees.ticks(0.0, std::f64::consts::FRAC_PI_2, 6.0).into_iter().map(|t| t.1).collect();
        assert_eq!(labels, ["0", "15", "30", "45", "60", "75", "90"]);
        let small = Scale::new(Dimension::Length, Show::Si, 3.0);
        let labels: Vec<_> = small.ticks(-0.5, 0.5, 4.0).into_iter().map(|t| t.1).collect();
        assert_eq!(labels, ["−0.5", "0.0", "0.5"].map(|s| if s == "0.0" { "0" } else { s }));
    }

    #[test]
    fn a_scale_has_more_than_one_number() {
        let metres = Scale::new(Dimension::Length, Show::Si, 5.0);
        for half in [1.9, 2.0, 4.9, 9.9] {
            assert!(metres.ticks(-half, half, 3.2).len() > 1, "{half}");
        }
    }

    #[test]
    fn an_empty_or_endless_range_has_no_ticks() {
        let metres = Scale::new(Dimension::Length, Show::Si, 3.0);
        assert!(metres.ticks(1.0, 1.0, 5.0).is_empty());
        assert!(metres.ticks(0.0, f64::NAN, 5.0).is_empty());
        assert!(metres.ticks(0.0, f64::INFINITY, 5.0).is_empty());
    }
}
