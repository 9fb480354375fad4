//! How many shots show that something is rare, or that it happens at all.

use super::cost::{Bill, Cost};
use crate::{
    estimate::{BetaBinomial, Proportion, binomial_cdf},
    math::{expm1, ln, log1p},
};
use serde::Serialize;

/// Smallest number of shots such that at most `allowed` events in them show,
/// with `confidence`, that the event's chance is below `rate`.
///
/// `rate` and `confidence` in (0, 1). The smallest n with
/// `P(K <= allowed; n, rate) <= 1 - confidence`; for no event
/// `ln(1 - confidence)/ln(1 - rate)`.
///
/// # Examples
///
/// ```
/// use longodds_sim::trials::demonstration::shots_needed;
///
/// assert_eq!(shots_needed(0.05, 0.95, 0), 59);
/// ```
#[must_use]
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of shots")]
pub fn shots_needed(rate: f64, confidence: f64, allowed: u64) -> u64 {
    let risk = 1.0 - confidence;
    // A hair less, so that an exact whole number is not rounded up.
    let none = (ln(risk) / log1p(-rate) - 1e-9).ceil().max(1.0) as u64;
    if allowed == 0 {
        return none;
    }
    let enough = |n: u64| binomial_cdf(allowed, n, rate) <= risk;
    let (mut low, mut high) = (allowed, none.max(2));
    while !enough(high) {
        (low, high) = (high, high * 2);
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle }
    }
    high
}

/// Chance of at least one event in `shots`, when each has the chance `rate`.
#[must_use]
pub fn seen_at_least_once(rate: f64, shots: u64) -> f64 {
    -expm1(shots as f64 * log1p(-rate))
}

/// A plan: so many shots, so many events allowed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Demonstration {
    /// The rate to show it is below.
    pub rate: f64,
    /// Confidence of that.
    pub confidence: f64,
    /// Events allowed.
    pub allowed: u64,
    /// Shots needed.
    pub shots: u64,
    /// Chance that the plan passes, if each shot has the assumed chance.
    pub passes: f64,
    /// Expected bill at the assumed chance.
    pub bill: Bill,
}

impl Demonstration {
    /// A plan against `rate` at `confidence` with `allowed` events, judged at
    /// the chance `assumed` per shot.
    #[must_use]
    pub fn new(rate: f64, confidence: f64, allowed: u64, assumed: f64, cost: &Cost) -> Self {
        let shots = shots_needed(rate, confidence, allowed);
        Self {
            rate,
            confidence,
            allowed,
            shots,
            passes: binomial_cdf(allowed, shots, assumed),
            bill: cost.bill(shots as f64, shots as f64 * assumed),
        }
    }
}

/// What `events` events in `shots` shots let one say, and what not.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Statement {
    /// Events seen.
    pub events: u64,
    /// Shots.
    pub shots: u64,
    /// 95 % interval of the chance per shot (Clopper-Pearson): two-sided where
    /// there were some of both kinds, one-sided where all shots were alike.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// One-sided upper 95 % bound of the chance per shot.
    pub at_most: f64,
    /// One-sided lower 95 % bound of the chance per shot.
    pub at_least: f64,
    /// Chance that the next shot has the event (Jeffreys' prior).
    pub next_shot: f64,
    /// Chance of at least one event in as many shots again.
    pub as_many_again: f64,
}

impl Statement {
    /// What `events` in `shots` (> 0) say about the chance of an event.
    #[must_use]
    pub fn new(events: u64, shots: u64) -> Self {
        let p = Proportion::clopper_pearson(events, shots, 0.95);
        let next = |shots: u64, of: u64| {
            let (a, b) = (events as f64 + 0.5, (of - events) as f64 + 0.5);
            BetaBinomial { a, b, shots }.at_least(1)
        };
        let (at_most, at_least) = (p.at_most(), p.at_least());
        let (low, high) = match events {
            0 => (0.0, at_most),
            n if n == shots => (at_least, 1.0),
            _ => (p.low, p.high),
        };
        Self {
            events,
            shots,
            low,
            high,
            at_most,
            at_least,
            next_shot: next(1, shots),
            as_many_again: next(shots, shots),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Recomputed with a general-purpose library, all cells of the table.
    #[test]
    fn shots_without_an_event_match_the_reference() {
        let rates = [0.5, 0.3, 0.2, 0.1, 0.05, 0.02, 0.01, 0.001, 1e-4, 1e-6];
        for (confidence, expected) in [
            (0.80, [3, 5, 8, 16, 32, 80, 161, 1609, 16_094, 1_609_438]),
            (0.90, [4, 7, 11, 22, 45, 114, 230, 2302, 23_025, 2_302_584]),
            (0.95, [5, 9, 14, 29, 59, 149, 299, 2995, 29_956, 2_995_731]),
            (0.99, [7, 13, 21, 44, 90, 228, 459, 4603, 46_050, 4_605_168]),
        ] {
            for (rate, shots) in rates.into_iter().zip(expected) {
                assert_eq!(shots_needed(rate, confidence, 0), shots, "{confidence} {rate}");
            }
        }
    }

    /// Same source, up to five events allowed.
    #[test]
    fn shots_with_events_allowed_match_the_reference() {
        for (confidence, rate, expected) in [
            (0.95, 0.2, [14, 22, 30, 37, 44, 50]),
            (0.95, 0.1, [29, 46, 61, 76, 89, 103]),
            (0.95, 0.05, [59, 93, 124, 153, 181, 208]),
            (0.95, 0.01, [299, 473, 628, 773, 913, 1049]),
            (0.95, 0.001, [2995, 4742, 6294, 7752, 9151, 10_511]),
            (0.90, 0.1, [22, 38, 52, 65, 78, 91]),
            (0.90, 0.01, [230, 388, 531, 667, 798, 926]),
        ] {
            for (allowed, shots) in (0..).zip(expected) {
                assert_eq!(shots_needed(rate, confidence, allowed), shots);
            }
        }
    }

    #[test]
    fn the_chance_to_see_it_once_matches_the_reference() {
        assert!((seen_at_least_once(0.03, 20) - 0.456_205_657_073).abs() < 1e-12);
        assert!((seen_at_least_once(0.1, 10) - 0.651_321_559_900).abs() < 1e-12);
        assert!(seen_at_least_once(1e-12, 1) > 0.99e-12);
    }

    /// Source: the two sides of one exact rule, 1 - 0.05^(1/8) = 0.312344 and
    /// 0.05^(1/8) = 0.687656.
    #[test]
    fn none_and_all_are_told_by_one_rule() {
        let (none, all) = (Statement::new(0, 8), Statement::new(8, 8));
        assert!((none.high - 0.312_344).abs() < 1e-6 && (all.low - 0.687_656).abs() < 1e-6);
        assert!((none.high + all.low - 1.0).abs() < 1e-12 && none.low <= 0.0 && all.high >= 1.0);
    }

    /// 0 of 10: at most 0.258865550893; Jeffreys after 0 of 5: 0.284024677579.
    #[test]
    fn two_shots_that_bounced_are_two_shots() {
        let two = Statement::new(0, 2);
        assert!(two.at_most > 0.77, "{two:?}");
        assert!((Statement::new(0, 10).at_most - 0.258_865_550_893).abs() < 1e-12);
        assert!((Statement::new(0, 5).as_many_again - 0.284_024_677_579).abs() < 1e-11);
    }
}
