//! Counts.

use crate::quantity::significant;

/// To which side a number is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Near,
    Down,
    Up,
}

impl Side {
    /// To a whole number; a hair of rounding error must not carry an exact
    /// number one step on.
    pub(super) fn whole(self, x: f64) -> f64 {
        match self {
            Self::Near => x.round(),
            Self::Down => (x + 1e-7).floor(),
            Self::Up => (x - 1e-7).ceil(),
        }
    }

    /// The other side: of 1 in N, a larger N is less.
    pub(super) fn other(self) -> Self {
        match self {
            Self::Near => Self::Near,
            Self::Down => Self::Up,
            Self::Up => Self::Down,
        }
    }
}

/// A count with its thousands apart: `1,250,000`.
///
/// ```
/// assert_eq!(longodds_sim::words::count(1_234_567), "1,234,567");
/// ```
#[must_use]
pub fn count(count: u64) -> String {
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

/// So many of something: "1 flight", "2,000 flights".
#[must_use]
pub fn count_of(n: u64, what: &str) -> String {
    format!("{} {what}{}", count(n), if n == 1 { "" } else { "s" })
}

/// A number of 1 or more to two digits.
pub(super) fn two_digits(value: f64, side: Side) -> f64 {
    let mut step = 1.0;
    while value / step >= 100.0 {
        step *= 10.0;
    }
    side.whole(value / step) * step
}

/// A number of two digits as people say it: "8,400", "1.2 million".
pub(super) fn about(rounded: f64) -> String {
    for (size, name) in
        [(1e15, "quadrillion"), (1e12, "trillion"), (1e9, "billion"), (1e6, "million")]
    {
        if rounded >= size {
            return format!("{} {name}", significant(rounded / size, 4));
        }
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below a million")]
    count(rounded.round() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_apart() {
        let cases = [(0, "0"), (999, "999"), (1000, "1,000"), (1_234_567, "1,234,567")];
        for (n, text) in cases {
            assert_eq!(count(n), text);
        }
        assert_eq!(
            (count_of(1, "flight"), count_of(0, "shot")),
            ("1 flight".into(), "0 shots".into())
        );
    }

    #[test]
    fn large_numbers_are_rounded_to_their_side_and_said() {
        let said = |x, side| about(two_digits(x, side));
        assert_eq!(said(2597.0, Side::Down), "2,500");
        assert_eq!(said(2500.0, Side::Down), "2,500");
        assert_eq!(said(2501.0, Side::Up), "2,600");
        assert_eq!(said(1_234_567.0, Side::Near), "1.2 million");
        assert_eq!(said(999_999.0, Side::Near), "1 million");
        assert_eq!(said(31.4e9, Side::Near), "31 billion");
    }
}
