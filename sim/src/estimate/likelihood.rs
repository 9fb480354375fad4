//! Words for a probability, chosen from its whole interval.
//!
//! Source: Mastrandrea et al., Guidance Note for Lead Authors of the IPCC
//! Fifth Assessment Report on Consistent Treatment of Uncertainties (2010),
//! Table 1 and its note on additional terms.

use super::Proportion;

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

/// The narrowest term that covers the whole interval, or the two that its ends
/// fall into.
///
/// `low` and `high` are probabilities, `low <= high`.
///
/// ```
/// use longodds_sim::estimate::word;
/// assert_eq!(word(0.02, 0.08), "very unlikely");
/// assert_eq!(word(0.2, 0.5), "from unlikely up to about as likely as not");
/// ```
#[must_use]
pub fn word(low: f64, high: f64) -> String {
    if low <= 0.0 && high >= 1.0 {
        return "unknown".to_owned();
    }
    let narrowest = |low: f64, high: f64| {
        TERMS
            .iter()
            .filter(|t| t.1 <= low * 100.0 && high * 100.0 <= t.2)
            .min_by(|a, b| (a.2 - a.1).total_cmp(&(b.2 - b.1)))
            .map(|t| t.0)
    };
    if let Some(term) = narrowest(low, high) {
        return term.to_owned();
    }
    // Every single probability lies in some term.
    let ends = [narrowest(low, low), narrowest(high, high)].map(Option::unwrap_or_default);
    format!("from {} up to {}", ends[0], ends[1])
}

/// "about 1 in N (between 1 in A and 1 in B)": the estimate to two digits, the
/// ends rounded outwards to two digits.
///
/// ```
/// use longodds_sim::estimate::one_in;
/// assert_eq!(one_in(2.5e-4, 1.2e-4, 4.1e-4), "about 1 in 4,000 (between 1 in 8,400 and 1 in 2,400)");
/// ```
#[must_use]
pub fn one_in(estimate: f64, low: f64, high: f64) -> String {
    if high <= 0.0 {
        return "never".to_owned();
    }
    let often = counted(1.0 / high, f64::floor);
    if estimate <= 0.0 {
        return format!("fewer than 1 in {often}");
    }
    let about = counted(1.0 / estimate, f64::round);
    if low > 0.0 {
        let seldom = counted(1.0 / low, f64::ceil);
        format!("about 1 in {about} (between 1 in {seldom} and 1 in {often})")
    } else {
        format!("about 1 in {about} (at most 1 in {often})")
    }
}

/// Words and, below 1 %, numbers for an estimate with its interval.
#[must_use]
pub(super) fn in_words(estimate: f64, low: f64, high: f64) -> String {
    let word = word(low, high);
    if estimate < 0.01 { format!("{word}: {}", one_in(estimate, low, high)) } else { word }
}

/// Words for an estimate by the ways that were found, where ways that nobody has
/// seen could matter more: `ends` of the found ways alone, `all` of the
/// interval with what plain flights leave open.
pub(super) fn by_ways(estimate: f64, ends: [f64; 2], all: [f64; 2]) -> String {
    format!(
        "{}: by the ways that were found, {}; flights alone rule out no more than 1 in {}",
        word(all[0], all[1]),
        one_in(estimate, ends[0], ends[1]),
        counted(1.0 / all[1], f64::floor),
    )
}

/// Words for counts: without a single success, or a single failure, the
/// one-sided bound speaks.
pub(super) fn of_counts(p: &Proportion) -> String {
    if p.n == 0 {
        return "unknown: nothing came this far".to_owned();
    }
    let percent = p.level * 100.0;
    if p.k == 0 {
        let bound = one_in(0.0, 0.0, p.at_most());
        return format!("{}: {bound} ({percent:.0} %)", word(0.0, p.at_most()));
    }
    if p.k == p.n {
        let bound = one_in(0.0, 0.0, 1.0 - p.at_least());
        return format!("{}: fails {bound} ({percent:.0} %)", word(p.at_least(), 1.0));
    }
    in_words(p.estimate, p.low, p.high)
}

/// A count to two digits, with thousands set apart; words from a million on.
#[must_use]
pub fn counted(value: f64, round: fn(f64) -> f64) -> String {
    let mut step = 1.0;
    while value / step >= 100.0 {
        step *= 10.0;
    }
    // A hair of rounding error must not carry an exact count one step on.
    let shaved = if (value / step - (value / step).round()).abs() < 1e-9 {
        (value / step).round()
    } else {
        value / step
    };
    let rounded = round(shaved) * step;
    for (size, name) in
        [(1e15, "quadrillion"), (1e12, "trillion"), (1e9, "billion"), (1e6, "million")]
    {
        if rounded >= size {
            let mantissa = rounded / size;
            let digits = usize::from(mantissa < 10.0);
            return format!("{mantissa:.digits$} {name}").replace(".0 ", " ");
        }
    }
    let plain = format!("{rounded:.0}");
    match plain.len() {
        0..=3 => plain,
        n => format!("{},{}", &plain[..n - 3], &plain[n - 3..]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
            assert_eq!(word(low, high), term);
        }
    }

    #[test]
    fn an_interval_across_terms_names_both() {
        assert_eq!(word(0.2, 0.4), "from unlikely up to about as likely as not");
        assert_eq!(word(0.005, 0.5), "from exceptionally unlikely up to about as likely as not");
        assert_eq!(word(0.0, 1.0), "unknown");
    }

    #[test]
    fn every_probability_has_a_term() {
        for i in 0..=1000 {
            let p = f64::from(i) / 1000.0;
            assert!(!word(p, p).contains(" up to "), "{p}");
            assert!(!word(p, p).is_empty(), "{p}");
        }
    }

    #[test]
    fn rare_events_are_told_in_counts() {
        assert_eq!(
            one_in(2e-5, 8e-6, 4.1e-5),
            "about 1 in 50,000 (between 1 in 130,000 and 1 in 24,000)"
        );
        assert_eq!(
            one_in(3.2e-8, 1e-8, 1e-7),
            "about 1 in 31 million (between 1 in 100 million and 1 in 10 million)"
        );
        assert_eq!(one_in(1e-6, 0.0, 5e-6), "about 1 in 1 million (at most 1 in 200,000)");
        assert_eq!(one_in(0.0, 0.0, 3e-5), "fewer than 1 in 33,000");
    }

    #[test]
    fn counts_without_a_success_or_a_failure_speak_of_the_bound() {
        let none = Proportion::clopper_pearson(0, 100_000, 0.95);
        assert_eq!(none.in_words(), "exceptionally unlikely: fewer than 1 in 33,000 (95 %)");
        let all = Proportion::clopper_pearson(1000, 1000, 0.95);
        assert_eq!(all.in_words(), "virtually certain: fails fewer than 1 in 330 (95 %)");
        let few = Proportion::clopper_pearson(3, 100_000, 0.95);
        assert_eq!(
            few.in_words(),
            "exceptionally unlikely: about 1 in 33,000 (between 1 in 170,000 and 1 in 11,000)"
        );
        // 2,597 to the safe side is 2,500, not 2,600.
        let nearly = one_in(0.0, 0.0, 1.0 / 2597.0);
        assert_eq!(nearly, "fewer than 1 in 2,500");
        let nobody = Proportion::clopper_pearson(0, 0, 0.95);
        assert_eq!(nobody.in_words(), "unknown: nothing came this far");
    }
}
