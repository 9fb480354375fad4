//! An interval as people say it, its ends rounded outwards.

use super::{
    Spoken,
    count::Side,
    share::{digits, digits_of_width, in_hundredths, rounded},
};
use std::fmt;

/// An interval of a probability, rounded as it is said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Interval {
    /// From 0 to 1.
    Anything,
    /// From 0.
    AtMost(Spoken),
    /// Up to 1.
    AtLeast(Spoken),
    /// Two hundredths with so many digits.
    Hundredths([f64; 2], usize),
    /// Two ends.
    Between(Spoken, Spoken),
}

/// An interval: "30.1 to 31.9 in 100", "1 in 1,300 to 1 in 800", "at most 1 in
/// 3,300"; its ends rounded outwards.
///
/// ```
/// use longodds_sim::words::interval;
/// assert_eq!(interval(0.301, 0.319).to_string(), "30.1 to 31.9 in 100");
/// assert_eq!(interval(0.301, 0.319).set(), "30.1 to 31.9 %");
/// ```
#[must_use]
pub fn interval(low: f64, high: f64) -> Interval {
    let known = |p: f64, other: f64| if p.is_nan() { other } else { p };
    let (low, high) = (known(low, 0.0), known(high, 1.0));
    match (Spoken::at_least(low), Spoken::at_most(high)) {
        (Spoken::Never, Spoken::Always) => Interval::Anything,
        (Spoken::Never, high) => Interval::AtMost(high),
        (low, Spoken::Always) => Interval::AtLeast(low),
        _ if in_hundredths(low) && in_hundredths(high) => {
            // What is not every time must not read as 100.
            let least = digits(high).min(digits(low)).max(usize::from(high > 0.99));
            let digits = digits_of_width(high - low, high).max(least);
            let ends = [rounded(low, digits, Side::Down), rounded(high, digits, Side::Up)];
            Interval::Hundredths(ends, digits)
        }
        (low, high) => Interval::Between(low, high),
    }
}

impl Interval {
    /// In type: "30.1 to 31.9 %".
    #[must_use]
    pub fn set(self) -> String {
        match self {
            Self::Anything => "anything from 0 to 100 %".to_owned(),
            Self::AtMost(high) => bound("at most", high, &high.set()),
            Self::AtLeast(low) => bound("at least", low, &low.set()),
            Self::Hundredths([low, high], digits) => {
                format!("{low:.digits$} to {high:.digits$} %")
            }
            Self::Between(low, high) => format!("{} to {}", low.set(), high.set()),
        }
    }
}

/// A bound on a share; what all but few do is bounded by those few: "all but at
/// most 1 in 3,300".
fn bound(side: &str, share: Spoken, said: &str) -> String {
    let few = matches!(share, Spoken::AllBut(_)).then(|| said.strip_prefix("all but ")).flatten();
    match few {
        Some(few) if side == "at least" => format!("all but at most {few}"),
        Some(few) => format!("all but at least {few}"),
        None => format!("{side} {said}"),
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Anything => write!(f, "anything from never to every time"),
            Self::AtMost(high) => f.write_str(&bound("at most", *high, &high.to_string())),
            Self::AtLeast(low) => f.write_str(&bound("at least", *low, &low.to_string())),
            Self::Hundredths([low, high], digits) => {
                write!(f, "{low:.digits$} to {high:.digits$} in 100")
            }
            Self::Between(low, high) => write!(f, "{low} to {high}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{
        super::share::tests::{anything, number, read},
        *,
    };
    use proptest::prelude::*;

    fn ends(text: &str) -> [f64; 2] {
        if text.starts_with("anything from") {
            return [0.0, 1.0];
        }
        if let Some(few) = text.strip_prefix("all but at most ") {
            return [1.0 - read(few), 1.0];
        }
        if let Some(few) = text.strip_prefix("all but at least ") {
            return [0.0, 1.0 - read(few)];
        }
        if let Some(high) = text.strip_prefix("at most ") {
            return [0.0, read(high)];
        }
        if let Some(low) = text.strip_prefix("at least ") {
            return [read(low), 1.0];
        }
        let (low, high) = text.split_once(" to ").unwrap();
        let whole = low.contains(' ') || low == "never";
        [if whole { read(low) } else { number(low) / 100.0 }, read(high)]
    }

    #[test]
    fn an_interval_is_said_by_one_rule() {
        for (low, high, text) in [
            (0.301, 0.319, "30.1 to 31.9 in 100"),
            (0.0, 3.7e-5, "at most 1 in 27,000"),
            (1.0 / 4290.0, 1.0 / 1910.0, "1 in 4,300 to 1 in 1,900"),
            (0.5, 0.995, "50.0 to 99.5 in 100"),
            (0.004, 0.3, "1 in 250 to 30 in 100"),
            (0.3, 1.0, "at least 30 in 100"),
            (0.9997, 1.0, "all but at most 1 in 3,300"),
            (0.0, 0.9997, "all but at least 1 in 3,400"),
            (0.0, 1.0, "anything from never to every time"),
        ] {
            assert_eq!(interval(low, high).to_string(), text);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]

        /// Whatever is said of an interval holds it, in either lettering.
        #[test]
        fn an_interval_is_said_outwards(p in anything(), q in anything()) {
            let (low, high) = (p.min(q), p.max(q));
            let said = interval(low, high);
            for text in [said.to_string(), said.set()] {
                let [from, to] = ends(&text);
                prop_assert!(from <= low + 1e-15 && high <= to + 1e-15, "{low} {high} {text}");
                prop_assert!(from <= to, "{text}");
                for wrong in ["NaN", "inf", "e-", "100 in 100", "100.0", "to 100 %"] {
                    let all = text == "anything from 0 to 100 %";
                    prop_assert!(all || !text.contains(wrong) || high >= 1.0, "{low} {high} {text}");
                }
            }
        }

        /// What is said of an estimate lies in what is said of its interval.
        #[test]
        fn an_estimate_is_said_inside_its_interval(
            p in anything(), down in 0.0..1.0_f64, up in 0.0..1.0_f64,
        ) {
            let (low, high) = (p * down, p + (1.0 - p) * up * p);
            let told = read(&Spoken::inside(p, low, high).to_string());
            let [from, to] = ends(&interval(low, high).to_string());
            prop_assert!(from <= told * (1.0 + 1e-9) + 1e-15 && told <= to * (1.0 + 1e-9) + 1e-15,
                "{} {}", Spoken::inside(p, low, high), interval(low, high));
        }
    }
}
