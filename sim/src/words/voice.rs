//! For whom a number is put into words.

use super::{Interval, Spoken, interval};
use crate::quantity::{Dimension, Show, format};

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lettering {
    /// Plain text, for a terminal: "31 in 100", "30 deg".
    Plain,
    /// In type, for page and pictures: "31 %", "30°".
    Set,
}

/// For whom: in whose units, and how it looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Voice {
    /// Units of display.
    pub show: Show,
    /// How words look.
    pub lettering: Lettering,
}

impl Voice {
    /// For a terminal.
    #[must_use]
    pub fn plain(show: Show) -> Self {
        Self { show, lettering: Lettering::Plain }
    }

    /// For page and pictures.
    #[must_use]
    pub fn set(show: Show) -> Self {
        Self { show, lettering: Lettering::Set }
    }

    /// A rounded share.
    #[must_use]
    pub fn say(self, share: Spoken) -> String {
        match self.lettering {
            Lettering::Plain => share.to_string(),
            Lettering::Set => share.set(),
        }
    }

    /// A share of things that are named next: "all", "12 in 100".
    #[must_use]
    pub fn part(self, share: f64) -> String {
        let share = Spoken::near(share);
        if share == Spoken::Always { "all".to_owned() } else { self.say(share) }
    }

    /// A share, the nearest.
    #[must_use]
    pub fn share(self, p: f64) -> String {
        self.say(Spoken::near(p))
    }

    /// An interval.
    #[must_use]
    pub fn interval(self, low: f64, high: f64) -> String {
        self.span(interval(low, high))
    }

    /// A rounded interval.
    #[must_use]
    pub fn span(self, span: Interval) -> String {
        match self.lettering {
            Lettering::Plain => span.to_string(),
            Lettering::Set => span.set(),
        }
    }

    /// What is told in percent and is no chance: a level, a tolerance.
    #[must_use]
    pub fn percent(self, ratio: f64) -> String {
        self.quantity(ratio, Dimension::Ratio)
    }

    /// A quantity, from SI, in the reader's units.
    ///
    /// ```
    /// use longodds_sim::{quantity::{Dimension, Show}, words::Voice};
    /// let say = |voice: Voice| voice.quantity(79.0, Dimension::Energy);
    /// assert_eq!(say(Voice::plain(Show::Imperial)), "58.3 ft lbf");
    /// assert_eq!(say(Voice::set(Show::Imperial)), "58.3 ft·lbf");
    /// ```
    #[must_use]
    pub fn quantity(self, si: f64, dimension: Dimension) -> String {
        let text = format(si, dimension, self.show);
        if self.lettering == Lettering::Plain {
            return text;
        }
        if si == 0.0 && dimension != Dimension::Temperature {
            // Zero needs no unit, and the one picked for it would be the smallest.
            return "0".to_owned();
        }
        let text = text.replace('-', "−").replace(" ft lbf", " ft·lbf");
        let text = text.replace(" delta degF", " degF");
        match text.rsplit_once(' ') {
            Some((number, "deg")) => format!("{number}°"),
            Some((number, unit)) => {
                format!("{number} {}", self.unit(unit))
            }
            None => text,
        }
    }

    /// A unit's symbol.
    #[must_use]
    pub fn unit(self, symbol: &str) -> String {
        match symbol {
            _ if self.lettering == Lettering::Plain => symbol.to_owned(),
            "deg" => "°".to_owned(),
            "degC" => "°C".to_owned(),
            "degF" | "delta degF" => "°F".to_owned(),
            "ft lbf" => "ft·lbf".to_owned(),
            other => other.replace('2', "²").replace('3', "³"),
        }
    }
}

/// The first letter as a capital.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// Set and plain say the same number, which is the one that was meant,
        /// and no reader meets powers of ten.
        #[test]
        fn a_quantity_is_the_same_in_either_lettering(
            mantissa in 1.0..10.0f64, power in -18..9i32, which in 0..Dimension::ALL.len(), imperial: bool,
        ) {
            let dimension = Dimension::ALL[which];
            let show = if imperial { Show::Imperial } else { Show::Si };
            let si = mantissa * 10f64.powi(power);
            let plain = Voice::plain(show).quantity(si, dimension);
            let mut set = Voice::set(show).quantity(si, dimension);
            for (sign, word) in [("°C", "degC"), ("°F", "degF"), ("°", " deg"), ("ft·lbf", "ft lbf"), ("²", "2"), ("³", "3"), ("−", "-")] {
                set = set.replace(sign, word);
            }
            let set = if dimension == Dimension::TemperatureDifference { set.replace(" degF", " delta degF") } else { set };
            prop_assert_eq!(&set, &plain);
            prop_assert!(!plain.contains("e-") && !plain.contains("NaN") && !plain.contains('e') || plain.contains("deg"), "{}", plain);
            prop_assert!(parse(&plain, dimension).is_ok(), "{}", plain);
        }
    }

    #[test]
    fn units_are_set_with_their_signs() {
        let set = |si, dimension| Voice::set(Show::Si).quantity(si, dimension);
        assert_eq!(set(std::f64::consts::FRAC_PI_6, Dimension::Angle), "30°");
        assert_eq!(set(12.5, Dimension::Speed), "12.5 m/s");
        assert_eq!(set(-8.89, Dimension::Length), "−8.89 m");
        assert_eq!(set(6e-17, Dimension::Angle), "0°");
        assert_eq!(set(0.0, Dimension::Angle), "0");
    }
}
