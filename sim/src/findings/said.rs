//! A share in words: the one rule for its digits, for every sentence.
//!
//! From 1 in 100 up to 99.9 in 100 a share is said in hundredths, below as "1
//! in N" and above as "all but 1 in N", N to two digits. A bound is rounded to
//! the side on which it still holds.

use crate::estimate::counted;

/// To which side a number is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Near,
    Down,
    Up,
}

/// Below this a share is said as 1 in N ...
const RARE: f64 = 0.01;

/// ... above this as all but 1 in N ...
const SURE: f64 = 0.999;

/// ... and above this there is a digit to be said of what is left.
const HIGH: f64 = 0.99;

/// Most digits after the point.
const MOST: usize = 4;

/// A probability as people say it: "31 in 100", "1 in 1,300", "never".
///
/// ```
/// use longodds_sim::findings::share_in_words;
/// assert_eq!(share_in_words(0.309), "31 in 100");
/// assert_eq!(share_in_words(8.1e-4), "1 in 1,200");
/// assert_eq!(share_in_words(0.996), "99.6 in 100");
/// ```
#[must_use]
pub fn share_in_words(p: f64) -> String {
    said(p, Side::Near)
}

/// A share that is not exceeded, rounded up.
#[must_use]
pub fn at_most_in_words(p: f64) -> String {
    said(p, Side::Up)
}

/// A share that is reached at least, rounded down.
#[must_use]
pub(super) fn at_least(p: f64) -> String {
    said(p, Side::Down)
}

/// A share with an interval, to as many digits as keep it inside: "42 in 100",
/// but "42.4 in 100" of 42.4 to 42.6.
#[must_use]
pub fn estimate_in_words(p: f64, low: f64, high: f64) -> String {
    if !hundredths(p) {
        return share_in_words(p);
    }
    let inside = |digits: &usize| {
        let told = rounded(p, *digits, Side::Near) / 100.0;
        low - 1e-12 <= told && told <= high + 1e-12
    };
    let digits = (digits(p)..=MOST).find(inside).unwrap_or(MOST);
    format!("{:.digits$} in 100", rounded(p, digits, Side::Near))
}

/// An interval: "30.1 to 31.9 in 100", "1 in 1,300 to 1 in 800", "at most 1 in
/// 3,300"; its ends rounded outwards.
#[must_use]
pub fn interval_in_words(low: f64, high: f64) -> String {
    match (low <= 0.0, high >= 1.0) {
        (true, true) => "anything from never to every time".to_owned(),
        (true, false) => format!("at most {}", at_most_in_words(high)),
        (false, true) => format!("at least {}", at_least(low)),
        (false, false) if hundredths(low) && hundredths(high) => {
            let width = 100.0 * (high - low);
            let fine = (0..MOST).find(|d| width * crate::math::pow(10.0, *d as f64) >= 10.0);
            let digits = fine.unwrap_or(MOST).max(digits(high).min(digits(low)));
            format!(
                "{:.digits$} to {:.digits$} in 100",
                rounded(low, digits, Side::Down),
                rounded(high, digits, Side::Up)
            )
        }
        (false, false) => format!("{} to {}", at_least(low), at_most_in_words(high)),
    }
}

fn hundredths(p: f64) -> bool {
    (RARE..=SURE).contains(&p)
}

fn digits(p: f64) -> usize {
    usize::from(!(0.1..=HIGH).contains(&p))
}

/// Hundredths to so many digits.
fn rounded(p: f64, digits: usize, side: Side) -> f64 {
    let scale = crate::math::pow(10.0, digits as f64);
    let x = 100.0 * p * scale;
    (match side {
        Side::Near => x.round(),
        // A hair of rounding error must not carry an exact number one step on.
        Side::Down => (x + 1e-7).floor(),
        Side::Up => (x - 1e-7).ceil(),
    }) / scale
}

fn said(p: f64, side: Side) -> String {
    let n = |x: f64, side: Side| {
        counted(
            1.0 / x,
            match side {
                Side::Near => f64::round,
                Side::Down => f64::floor,
                Side::Up => f64::ceil,
            },
        )
    };
    match p {
        p if p <= 0.0 => "never".to_owned(),
        p if p >= 1.0 => "every time".to_owned(),
        p if p < RARE => {
            let other = match side {
                Side::Near => Side::Near,
                Side::Down => Side::Up,
                Side::Up => Side::Down,
            };
            format!("1 in {}", n(p, other))
        }
        p if p > SURE => format!("all but 1 in {}", n(1.0 - p, side)),
        p => {
            let digits = digits(p);
            format!("{:.digits$} in 100", rounded(p, digits, side))
        }
    }
}

/// A count with its thousands separated: `1,250,000`.
#[must_use]
pub fn thousands(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn thousands_are_separated() {
        let cases = [(0, "0"), (999, "999"), (1000, "1,000"), (1_234_567, "1,234,567")];
        for (count, text) in cases {
            assert_eq!(thousands(count), text);
        }
    }

    #[test]
    fn a_share_is_said_by_one_rule() {
        for (p, text) in [
            (1.0 / 1234.0, "1 in 1,200"),
            (1e-6, "1 in 1 million"),
            (0.0523, "5.2 in 100"),
            (0.309, "31 in 100"),
            (0.996, "99.6 in 100"),
            (0.9997, "all but 1 in 3,300"),
        ] {
            assert_eq!(share_in_words(p), text);
        }
        assert_eq!(
            (at_most_in_words(0.3001), at_least(0.3099)),
            ("31 in 100".into(), "30 in 100".into())
        );
        assert_eq!(at_most_in_words(1.0 / 1290.0), "1 in 1,200");
        assert_eq!(interval_in_words(0.301, 0.319), "30.1 to 31.9 in 100");
        assert_eq!(interval_in_words(0.0, 3.7e-5), "at most 1 in 27,000");
        assert_eq!(estimate_in_words(0.4249, 0.4240, 0.4258), "42.5 in 100");
    }

    proptest! {
        /// What is said of an estimate lies in what is said of its interval.
        #[test]
        fn an_estimate_is_said_inside_its_interval(
            p in 0.0..1.0_f64, down in 0.0..1.0_f64, up in 0.0..1.0_f64, scale in 0..9_i32,
        ) {
            let p = p * crate::math::pow(10.0, -f64::from(scale));
            let (low, high) = (p * down, p + (1.0 - p) * up * p);
            let told = read(&estimate_in_words(p, low, high));
            let [from, to] = ends(&interval_in_words(low, high));
            prop_assert!(from <= told * (1.0 + 1e-9) && told <= to * (1.0 + 1e-9),
                "{} {}", estimate_in_words(p, low, high), interval_in_words(low, high));
        }

        /// A bound still holds as it is said.
        #[test]
        fn a_bound_is_said_on_the_side_on_which_it_holds(p in 1e-12..1.0_f64, scale in 0..9_i32) {
            let p = p * crate::math::pow(10.0, -f64::from(scale));
            prop_assert!(read(&at_most_in_words(p)) >= p * (1.0 - 1e-9), "{p} {}", at_most_in_words(p));
            prop_assert!(read(&at_least(p)) <= p * (1.0 + 1e-9), "{p} {}", at_least(p));
        }
    }

    fn number(text: &str) -> f64 {
        let mut words = text.split(' ');
        let n: f64 = words.next().unwrap().replace(',', "").parse().unwrap();
        n * match words.next() {
            Some("million") => 1e6,
            Some("billion") => 1e9,
            Some("trillion") => 1e12,
            Some("quadrillion") => 1e15,
            _ => 1.0,
        }
    }

    /// A share read back from its words.
    fn read(text: &str) -> f64 {
        match text {
            "never" => 0.0,
            "every time" => 1.0,
            _ => {
                if let Some(n) = text.strip_prefix("all but 1 in ") {
                    1.0 - 1.0 / number(n)
                } else if let Some(n) = text.strip_prefix("1 in ") {
                    1.0 / number(n)
                } else {
                    number(text.strip_suffix(" in 100").unwrap()) / 100.0
                }
            }
        }
    }

    fn ends(text: &str) -> [f64; 2] {
        if let Some(high) = text.strip_prefix("at most ") {
            return [0.0, read(high)];
        }
        if let Some(low) = text.strip_prefix("at least ") {
            return [read(low), 1.0];
        }
        let Some((low, high)) = text.split_once(" to ") else { panic!("{text}") };
        if text == "anything from never to every time" {
            return [0.0, 1.0];
        }
        let whole = low.contains(" in ");
        [if whole { read(low) } else { number(low) / 100.0 }, read(high)]
    }
}
