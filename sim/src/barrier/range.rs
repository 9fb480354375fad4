//! A number with the limits of the model that it came from.

/// What a model was tested on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The quantity, in words.
    pub what: &'static str,
    /// Least value tested, SI.
    pub low: f64,
    /// Largest value tested, SI.
    pub high: f64,
}

/// A model's answer, and which of its limits the question left. Nothing is
/// clamped: outside, the value is an extrapolation and says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranged {
    /// The answer, SI.
    pub value: f64,
    limits: &'static [Limit],
    left: u16,
}

impl Ranged {
    /// `limits` and `asked`: the model's limits and the question's own values,
    /// in the same order, 16 at most.
    pub(crate) fn new(value: f64, limits: &'static [Limit], asked: &[f64]) -> Self {
        debug_assert!(limits.len() == asked.len() && limits.len() <= 16, "one value a limit");
        let inside = |(limit, asked): (&Limit, &f64)| (limit.low..=limit.high).contains(asked);
        let left = limits
            .iter()
            .zip(asked)
            .enumerate()
            .filter(|(_, pair)| !inside(*pair))
            .fold(0, |left, (i, _)| left | 1 << i);
        Self { value, limits, left }
    }

    /// The same limits around another value.
    pub(crate) fn with(self, value: f64) -> Self {
        Self { value, ..self }
    }

    /// Whether the question lies within everything the model was tested on.
    #[must_use]
    pub(crate) fn in_range(&self) -> bool {
        self.left == 0
    }

    /// The limits that the question left.
    pub fn broken(&self) -> impl Iterator<Item = &'static Limit> {
        let left = self.left;
        self.limits.iter().enumerate().filter(move |(i, _)| left & 1 << i != 0).map(|(_, l)| l)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_that_was_left_is_named() {
        const LIMITS: &[Limit] = &[
            Limit { what: "speed", low: 1.0, high: 2.0 },
            Limit { what: "mass", low: 1.0, high: 2.0 },
        ];
        let answer = Ranged::new(5.0, LIMITS, &[1.5, 3.0]);
        assert!(!answer.in_range());
        assert_eq!(answer.broken().map(|limit| limit.what).collect::<Vec<_>>(), ["mass"]);
        assert!(!Ranged::new(5.0, LIMITS, &[f64::NAN, 1.0]).in_range());
        assert!(Ranged::new(5.0, LIMITS, &[1.0, 2.0]).in_range());
    }
}
