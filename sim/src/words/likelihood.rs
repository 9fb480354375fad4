//! Words for a probability, chosen from its whole interval.
//!
//! Source: Mastrandrea et al., Guidance Note for Lead Authors of the IPCC
//! Fifth Assessment Report on Consistent Treatment of Uncertainties (2010),
//! Table 1 and its note on additional terms.

use std::fmt;

/// Term, and the probabilities it covers, in %.
const TERMS: [(&str, f64, f64); 10] = [
    ("exceptionally unlikely", 0.0, 1.0),
    ("virtually certain", 99.0, 100.0),
    ("extremely unlikely", 0.0, 5.0),
    ("extremely likely", 95.0, 100.0),
    ("very unlikely", 0.0, 10.0),
    ("very likely", 90.0, 100.0),
    ("unlikely", 0.0, 33.0),
    ("about as likely as not", 33.0, 66.0),
    ("likely", 66.0, 100.0),
    ("more likely than not", 50.0, 100.0),
];

/// A likelihood in the terms of the scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Likelihood {
    /// Nothing is known.
    Unknown,
    /// The narrowest term that covers the whole interval.
    Within(&'static str),
    /// The terms of both ends of an interval that no term covers.
    From(&'static str, &'static str),
}

/// The narrowest term that covers the whole interval, or the two that its ends
/// fall into.
///
/// `low` and `high` are probabilities, `low <= high`.
///
/// ```
/// use longodds_sim::words::likelihood;
/// assert_eq!(likelihood(0.02, 0.08).to_string(), "very unlikely");
/// assert_eq!(likelihood(0.2, 0.5).to_string(), "from unlikely up to about as likely as not");
/// ```
#[must_use]
pub fn likelihood(low: f64, high: f64) -> Likelihood {
    let anything = low <= 0.0 && high >= 1.0;
    if anything || low.is_nan() || high.is_nan() {
        return Likelihood::Unknown;
    }
    let narrowest = |low: f64, high: f64| {
        TERMS
            .iter()
            .filter(|t| t.1 <= low * 100.0 && high * 100.0 <= t.2)
            .min_by(|a, b| (a.2 - a.1).total_cmp(&(b.2 - b.1)))
            .map(|t| t.0)
    };
    match narrowest(low, high) {
        Some(term) => Likelihood::Within(term),
        // Every single probability lies in some term.
        None => Likelihood::From(
            narrowest(low, low).unwrap_or_default(),
            narrowest(high, high).unwrap_or_default(),
        ),
    }
}

impl fmt::Display for Likelihood {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown => write!(f, "unknown"),
            Self::Within(term) => write!(f, "{term}"),
            Self::From(low, high) => write!(f, "from {low} up to {high}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Source: IPCC AR5 guidance note (2010), Table 1: edges of the terms.
    #[test]
    fn the_narrowest_term_that_covers_the_interval_is_chosen() {
        for (low, high, term) in [
            (0.991, 1.0, "virtually certain"),
            (0.96, 0.995, "extremely likely"),
            (0.91, 0.97, "very likely"),
            (0.7, 0.95, "likely"),
            (0.55, 0.8, "more likely than not"),
            (0.4, 0.6, "about as likely as not"),
            (0.15, 0.3, "unlikely"),
            (0.04, 0.09, "very unlikely"),
            (0.005, 0.04, "extremely unlikely"),
            (0.0, 0.01, "exceptionally unlikely"),
        ] {
            assert_eq!(likelihood(low, high), Likelihood::Within(term));
        }
    }

    #[test]
    fn an_interval_across_terms_names_both() {
        let said = |low, high| likelihood(low, high).to_string();
        assert_eq!(said(0.2, 0.4), "from unlikely up to about as likely as not");
        assert_eq!(said(0.005, 0.5), "from exceptionally unlikely up to about as likely as not");
        assert_eq!(said(0.0, 1.0), "unknown");
    }

    proptest! {
        /// Every single probability has a term, which covers it.
        #[test]
        fn every_probability_has_a_term(p in 0.0..=1.0_f64) {
            let Likelihood::Within(term) = likelihood(p, p) else { panic!("{p}") };
            let (_, low, high) = TERMS.into_iter().find(|one| one.0 == term).unwrap();
            prop_assert!(low <= 100.0 * p && 100.0 * p <= high);
        }

        /// A wider interval is never said to be better known.
        #[test]
        fn what_is_known_worse_has_no_narrower_term(p in 0.0..=1.0_f64, q in 0.0..=1.0_f64, s in 0.0..=1.0_f64) {
            let (low, high) = (p.min(q), p.max(q));
            let width = |of| match of {
                Likelihood::Within(term) => TERMS.iter().find(|t| t.0 == term).map_or(0.0, |t| t.2 - t.1),
                _ => 1000.0,
            };
            let inside = low + s * (high - low);
            prop_assert!(width(likelihood(inside, inside)) <= width(likelihood(low, high)));
        }
    }
}
