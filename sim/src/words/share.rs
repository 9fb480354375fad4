//! A share as people say it.
//!
//! From 1 in 100 up to 99.9 in 100 it is said in hundredths, below as "1 in N"
//! and above as "all but 1 in N", N to two digits; hundredths have no more than
//! three digits, and no more than their interval bears out. A bound is rounded to the
//! side on which it still holds.

use super::count::{Side, about, two_digits};
use crate::math::pow;
use std::fmt;

/// Below this a share is said as 1 in N ...
const RARE: f64 = 0.01;

/// ... above this as all but 1 in N ...
const SURE: f64 = 0.999;

/// ... and above this there is a digit to be said of what is left.
const HIGH: f64 = 0.99;

/// Nothing smaller is told apart from nothing, nor 1 in more than this.
const LEAST: f64 = 1e-15;
const MANY: f64 = 1e15;

/// A probability, rounded as it is said: "31 in 100", "1 in 1,300", "never".
///
/// ```
/// use longodds_sim::words::Spoken;
/// assert_eq!(Spoken::near(0.309).to_string(), "31 in 100");
/// assert_eq!(Spoken::near(0.309).set(), "31 %");
/// assert_eq!(Spoken::near(8.1e-4).to_string(), "1 in 1,200");
/// assert_eq!(Spoken::at_most(1.0 / 1290.0).to_string(), "1 in 1,200");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spoken {
    /// No number.
    Unknown,
    /// 0.
    Never,
    /// Less than can be told.
    Under,
    /// 1 in so many, which is of two digits.
    OneIn(f64),
    /// Hundredths, with so many digits after the point.
    Hundredths(f64, usize),
    /// All but 1 in so many.
    AllBut(f64),
    /// 1.
    Always,
}

impl Spoken {
    /// The nearest.
    #[must_use]
    pub fn near(p: f64) -> Self {
        Self::new(p, Side::Near)
    }

    /// A share that is not exceeded, rounded up.
    #[must_use]
    pub fn at_most(p: f64) -> Self {
        Self::new(p, Side::Up)
    }

    /// A share that is reached at least, rounded down.
    #[must_use]
    pub fn at_least(p: f64) -> Self {
        Self::new(p, Side::Down)
    }

    /// A share with an interval, to as many digits as keep it inside: "42 in
    /// 100", but "42.4 in 100" of 42.4 to 42.6.
    #[must_use]
    pub fn inside(p: f64, low: f64, high: f64) -> Self {
        if !in_hundredths(p) {
            return Self::near(p);
        }
        let inside = |digits: &usize| {
            let told = rounded(p, *digits, Side::Near) / 100.0;
            low - 1e-12 <= told && told <= high + 1e-12
        };
        // An estimate that its interval does not hold gains nothing by more digits.
        let most = if (low..=high).contains(&p) { most_digits(p) } else { digits(p) };
        let digits = (digits(p)..=most).find(inside).unwrap_or(most);
        Self::Hundredths(rounded(p, digits, Side::Near), digits)
    }

    fn new(p: f64, side: Side) -> Self {
        match p {
            _ if p.is_nan() => Self::Unknown,
            _ if p <= 0.0 => Self::Never,
            _ if p >= 1.0 => Self::Always,
            _ if p < LEAST => match side {
                Side::Near => Self::Under,
                Side::Down => Self::Never,
                Side::Up => Self::OneIn(MANY),
            },
            _ if p < RARE => Self::OneIn(two_digits(1.0 / p, side.other())),
            _ if p > SURE => match (two_digits(1.0 / (1.0 - p), side), side) {
                (n, Side::Up) if n > MANY => Self::Always,
                (n, _) => Self::AllBut(n.min(MANY)),
            },
            _ => Self::Hundredths(rounded(p, digits(p), side), digits(p)),
        }
    }

    /// Whether a verb behind it is in the singular: "1 in 12 does".
    #[must_use]
    pub fn is_one(self) -> bool {
        matches!(self, Self::OneIn(_) | Self::Under)
    }

    /// In type: "31 %".
    #[must_use]
    pub fn set(self) -> String {
        match self {
            Self::Never => "0 %".to_owned(),
            Self::Always => "100 %".to_owned(),
            Self::Hundredths(value, digits) => format!("{value:.digits$} %"),
            other => other.to_string(),
        }
    }
}

impl fmt::Display for Spoken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Unknown => write!(f, "unknown"),
            Self::Never => write!(f, "never"),
            Self::Under => write!(f, "under 1 in {}", about(MANY)),
            Self::OneIn(n) => write!(f, "1 in {}", about(n)),
            Self::Hundredths(value, digits) => write!(f, "{value:.digits$} in 100"),
            Self::AllBut(n) => write!(f, "all but 1 in {}", about(n)),
            Self::Always => write!(f, "every time"),
        }
    }
}

pub(super) fn in_hundredths(p: f64) -> bool {
    (RARE..=SURE).contains(&p)
}

/// Digits after the point of hundredths.
pub(super) fn digits(p: f64) -> usize {
    usize::from(!(0.1..=HIGH).contains(&p))
}

/// Most digits after the point of hundredths: three in all.
fn most_digits(p: f64) -> usize {
    if p < 0.1 { 2 } else { 1 }
}

/// Digits that tell an interval up to `high` of this width.
pub(super) fn digits_of_width(width: f64, high: f64) -> usize {
    let most = most_digits(high);
    (0..most).find(|d| 100.0 * width * pow(10.0, *d as f64) >= 10.0).unwrap_or(most)
}

/// Hundredths to so many digits.
pub(super) fn rounded(p: f64, digits: usize, side: Side) -> f64 {
    let scale = pow(10.0, digits as f64);
    side.whole(100.0 * p * scale) / scale
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Any share: as likely 1 in a million as 1 in 2, and near certain as near
    /// never.
    pub(crate) fn anything() -> impl Strategy<Value = f64> {
        (0.0..=1.0_f64, 0..20_i32, any::<bool>()).prop_map(|(x, small, other)| {
            let p = x * pow(10.0, -f64::from(small));
            if other { 1.0 - p } else { p }
        })
    }

    /// A number as people say it, read back without the words that wrote it.
    pub(crate) fn number(text: &str) -> f64 {
        let mut words = text.split(' ');
        let n: f64 = words.next().unwrap().replace(',', "").parse().unwrap();
        n * match words.next() {
            Some("million") => 1e6,
            Some("billion") => 1e9,
            Some("trillion") => 1e12,
            Some("quadrillion") => 1e15,
            None => 1.0,
            Some(other) => panic!("{other}"),
        }
    }

    /// A share, read back; with how far its rounding may be off, of itself or
    /// of what is left to 1.
    pub(crate) fn read(text: &str) -> f64 {
        match text {
            "never" | "0 %" => return 0.0,
            "every time" | "100 %" => return 1.0,
            _ => {}
        }
        if let Some(n) = text.strip_prefix("all but 1 in ") {
            1.0 - 1.0 / number(n)
        } else if let Some(n) = text.strip_prefix("under 1 in ") {
            1.0 / number(n)
        } else if let Some(n) = text.strip_prefix("1 in ") {
            1.0 / number(n)
        } else {
            let hundredths = text.strip_suffix(" in 100").or(text.strip_suffix(" %"));
            number(hundredths.unwrap()) / 100.0
        }
    }

    #[test]
    fn a_share_is_said_by_one_rule() {
        for (p, text) in [
            (1.0 / 1234.0, "1 in 1,200"),
            (1e-6, "1 in 1 million"),
            (0.0067, "1 in 150"),
            (0.0523, "5.2 in 100"),
            (0.309, "31 in 100"),
            (0.996, "99.6 in 100"),
            (0.9997, "all but 1 in 3,300"),
            (1e-300, "under 1 in 1 quadrillion"),
        ] {
            assert_eq!(Spoken::near(p).to_string(), text);
        }
        assert_eq!(Spoken::at_most(0.3001).to_string(), "31 in 100");
        assert_eq!(Spoken::at_least(0.3099).to_string(), "30 in 100");
        assert_eq!(Spoken::at_most(1.0 / 1290.0).to_string(), "1 in 1,200");
        assert_eq!(Spoken::inside(0.4249, 0.4240, 0.4258).to_string(), "42.5 in 100");
        assert_eq!(Spoken::near(f64::NAN).to_string(), "unknown");
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]

        /// Said and read back, in either lettering, within the digits claimed:
        /// 5 % of it or of what is left to 1 (of two digits) or half a unit of
        /// the last.
        #[test]
        fn what_is_said_is_what_it_was(p in anything()) {
            let said = Spoken::near(p);
            let slack = if p > 0.5 { 1.1e-15 } else { 1e-18 };
            for text in [said.to_string(), said.set()] {
                let back = read(&text);
                let half = match said {
                    Spoken::Hundredths(_, digits) => 0.5 * pow(10.0, -2.0 - digits as f64),
                    Spoken::AllBut(_) => 0.051 * (1.0 - p),
                    Spoken::Under => LEAST,
                    _ => 0.051 * p,
                };
                prop_assert!((back - p).abs() <= half * (1.0 + 1e-9) + slack, "{p} {text}");
                prop_assert!(p <= 0.0 || text != "never" && text != "0 %", "{p} {text}");
                prop_assert!(p >= 1.0 || text != "every time" && text != "100 %", "{p} {text}");
                for wrong in ["NaN", "inf", "e-", " 0 in", " 0.0", "in 0", "-"] {
                    prop_assert!(!text.contains(wrong), "{p} {text}");
                }
            }
        }

        /// A bound still holds as it is said.
        #[test]
        fn a_bound_is_said_on_the_side_on_which_it_holds(p in anything()) {
            let (most, least) = (Spoken::at_most(p).to_string(), Spoken::at_least(p).to_string());
            prop_assert!(read(&most) >= p * (1.0 - 1e-9) - 1e-15, "{p} {most}");
            prop_assert!(read(&least) <= p * (1.0 + 1e-9) + 1e-15, "{p} {least}");
        }

        #[test]
        fn what_is_more_is_never_said_to_be_less(p in anything(), q in anything()) {
            let (p, q) = (p.min(q), p.max(q));
            for say in [Spoken::near, Spoken::at_most, Spoken::at_least] {
                let [less, more] = [p, q].map(|x| read(&say(x).to_string()));
                prop_assert!(less <= more + 1e-15, "{p} {q} {less} {more}");
            }
        }
    }
}
