//! The unit in which a number was written, as a straight line to SI.

use longodds_sim::quantity::{Dimension, Show, axis, parse, significant};

/// A unit: an SI value is `off + per × number`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Scale {
    /// The unit as it was written; empty for pure numbers.
    pub(crate) unit: String,
    /// SI value of one unit.
    pub(crate) per: f64,
    /// SI value of zero.
    pub(crate) off: f64,
}

impl Scale {
    /// The unit of a text such as `60 mph`; the first where several add up (`8 ft
    /// 6 in`), the reader's own where the text has none that is known.
    pub(crate) fn of(text: &str, dimension: Dimension, show: Show) -> Self {
        let unit = unit_of(text);
        let bare = matches!(dimension, Dimension::Number | Dimension::Ratio);
        let unit = if unit.is_empty() && !bare { "?" } else { unit };
        let own = || axis(dimension, show, parse(text, dimension).unwrap_or(1.0)).symbol;
        Self::named(unit, dimension).or_else(|| Self::named(own(), dimension)).unwrap_or(Self {
            unit: String::new(),
            per: 1.0,
            off: 0.0,
        })
    }

    fn named(unit: &str, dimension: Dimension) -> Option<Self> {
        let si = |number: u8| parse(format!("{number} {unit}").trim(), dimension).ok();
        let (off, one) = (si(0)?, si(1)?);
        Some(Self { unit: unit.to_owned(), per: one - off, off })
    }

    /// A value in this unit, as it would be typed.
    pub(crate) fn text(&self, si: f64) -> String {
        let number = significant((si - self.off) / self.per, 3);
        format!("{number} {}", self.unit).trim_end().to_owned()
    }

    /// A step that divides a span (SI) into some fifty: 1, 2 or 5 times a power of
    /// ten of the unit, in SI.
    pub(crate) fn step(&self, span: f64) -> f64 {
        let rough = (span / 50.0 / self.per).abs();
        // Its power of ten, from its digits: whole and the same everywhere.
        let digits = format!("{rough:e}");
        let power = digits.split('e').nth(1).and_then(|power| power.parse::<i32>().ok());
        let ten = format!("1e{}", power.unwrap_or(0)).parse::<f64>().unwrap_or(1.0);
        let step = [5.0, 2.0].into_iter().find(|&times| rough >= times * ten).unwrap_or(1.0);
        step * ten * self.per
    }
}

/// What stands behind the first number of a text, as far as the next.
fn unit_of(text: &str) -> &str {
    let text = text.trim();
    let bytes = text.as_bytes();
    let exponent = |i: usize| {
        matches!(bytes[i], b'e' | b'E')
            && i > 0
            && bytes[i - 1].is_ascii_digit()
            && bytes.get(i + 1).is_some_and(|next| next.is_ascii_digit() || b"+-".contains(next))
    };
    let starts = |&i: &usize| (bytes[i].is_ascii_alphabetic() && !exponent(i)) || bytes[i] == b'%';
    let Some(start) = (0..bytes.len()).find(starts) else { return "" };
    let rest = &text[start..];
    // `m2` ends in a digit of its own.
    let end = rest.find(" +").or_else(|| {
        let mut gaps = rest.match_indices(' ').map(|(at, _)| at);
        gaps.find(|&at| rest[at + 1..].starts_with(|c: char| c.is_ascii_digit()))
    });
    rest[..end.unwrap_or(rest.len())].trim_end()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_unit_is_the_one_that_was_typed() {
        let cases = [
            ("60 mph", "mph"),
            ("14m/s", "m/s"),
            ("8 ft 6 in", "ft"),
            ("1.5e3 mm", "mm"),
            ("-25 deg", "deg"),
            ("30 %", "%"),
            ("0.3", ""),
            ("2 m2", "m2"),
            ("1 delta degC", "delta degC"),
        ];
        for (text, unit) in cases {
            assert_eq!(unit_of(text), unit, "{text}");
        }
    }

    #[test]
    fn a_step_is_round_in_the_unit() {
        let mph = Scale::of("60 mph", Dimension::Speed, Show::Si);
        assert!((mph.step(120.0 * mph.per) / mph.per - 2.0).abs() < 1e-9);
        let degrees = Scale::of("5 deg", Dimension::Angle, Show::Si);
        assert!((degrees.step(60.0 * degrees.per) / degrees.per - 1.0).abs() < 1e-9);
    }

    proptest! {
        /// What is written in a unit reads as the value, to the digits shown.
        #[test]
        fn a_value_comes_back_from_its_text(value in -1e4f64..1e4, pick in 0usize..5) {
            let (text, dimension) = [
                ("1 mph", Dimension::Speed),
                ("1 degF", Dimension::Temperature),
                ("3 ft 2 in", Dimension::Length),
                ("2 rpm", Dimension::Rotation),
                ("4", Dimension::Number),
            ][pick];
            let scale = Scale::of(text, dimension, Show::Imperial);
            let again = parse(&scale.text(value), dimension).unwrap();
            prop_assert!((again - value).abs() <= 0.01 * (value - scale.off).abs() + 1e-9);
        }
    }
}
