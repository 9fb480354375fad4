//! What must hold before a rare-event estimate is believed.

use super::{aim::Aimed, subset::Subset};
use crate::estimate::{WeightedCount, incomplete_beta, incomplete_gamma};

/// One test of an estimate, and how it went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// Whether the estimate passed.
    pub passed: bool,
    /// What was compared, in words with the figures.
    pub words: String,
}

/// Successes that aimed flights must be worth.
const LEAST_EFFECTIVE: f64 = 100.0;
/// Largest share that one weight may have.
const LARGEST_SHARE: f64 = 0.1;
/// An estimate that allows what plain flights met less often than this does
/// not stand.
const HARDLY: f64 = 0.05;
/// z of a two-sided 95 % interval.
const Z95: f64 = 1.959_963_984_540_054;

/// Tests aimed flights by themselves and against the search that led to them.
/// `count`: what is known of the ways that they were aimed at.
/// `met`: plain flights that held.
pub(super) fn aimed(
    aimed: &Aimed,
    plain: f64,
    met: usize,
    count: &WeightedCount,
    search: &Subset,
) -> Vec<Check> {
    let own = aimed.count(plain);
    let worth = own.worth();
    let largest = aimed.largest(plain) / own.sum.max(f64::MIN_POSITIVE);
    let mut checks = vec![
        Check {
            passed: worth >= LEAST_EFFECTIVE,
            words: format!(
                "the weighted successes are worth {worth:.0} equal ones of {LEAST_EFFECTIVE:.0} \
                 needed"
            ),
        },
        Check {
            passed: largest <= LARGEST_SHARE,
            words: format!(
                "the heaviest success carries {:.1} % (at most {:.0} %)",
                100.0 * largest,
                100.0 * LARGEST_SHARE
            ),
        },
    ];
    let [groups, lost] = aimed.groups;
    checks.push(Check {
        passed: lost == 0,
        words: format!("{lost} of {groups} groups of successes are not reached by aimed flights"),
    });
    if !search.stuck {
        // More than the search found is no contradiction: it may have lost a
        // way that others found.
        let (low, _) = search.interval(search.variation_high, Z95);
        // Plain flights may know better than the search.
        let denied = 1.0 - incomplete_gamma(met as f64 + 1.0, low * plain) < 0.2 * HARDLY;
        checks.push(Check {
            passed: low <= count.sum || denied,
            words: format!("{:.2e} against {low:.2e} or more by the search", count.sum),
        });
    }
    checks
}

/// Whether an estimate allows the successes that plain flights met which took
/// no part in finding where to aim. `plain`: number of those flights.
///
/// The estimate is as doubtful as a Gamma variable worth its number of equal
/// successes, so that the count is negative binomial.
pub(super) fn against_plain(count: &WeightedCount, met: usize, plain: f64) -> Check {
    let [more, fewer] = chances(count, met, plain);
    let what = match met {
        0 => "none".to_owned(),
        n => n.to_string(),
    };
    Check {
        passed: more >= HARDLY && fewer >= 0.2 * HARDLY,
        words: format!(
            "{what} of {plain:.0} plain flights held where the estimate lets {:.2} be expected",
            count.sum * plain
        ),
    }
}

/// P(so many successes or more) and P(so many or fewer) among plain flights.
fn chances(count: &WeightedCount, met: usize, plain: f64) -> [f64; 2] {
    let expected = count.sum * plain;
    if expected <= 0.0 {
        return [if met == 0 { 1.0 } else { 0.0 }, 1.0];
    }
    let worth = count.worth();
    let share = worth / (worth + expected);
    let upto = |k: f64| incomplete_beta(worth, k + 1.0, share);
    let met = met as f64;
    [if met > 0.0 { 1.0 - upto(met - 1.0) } else { 1.0 }, upto(met)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: `scipy.stats.nbinom` 1.17: successes, flights, chance, relative
    /// error, P(so many or more), P(so many or fewer).
    #[test]
    fn counts_beside_an_estimate_are_negative_binomial() {
        for (met, plain, sum, relative, more, fewer) in [
            (0, 1e5, 1e-6, 0.1, 1.0, 0.904_882_63),
            (1, 1e5, 1e-6, 0.1, 0.095_117_369, 0.995_280_5),
            (2, 1e5, 1e-6, 0.1, 0.004_719_503_9, 0.999_841_03),
            (1, 1e5, 1e-7, 0.1, 0.009_949_671_3, 0.999_949_84),
            (19, 1e6, 1e-5, 0.1, 0.010_215_917, 0.994_680_04),
            (25, 1e6, 1e-5, 0.3, 0.003_670_529_4, 0.997_624_77),
        ] {
            let squares = (relative * sum) * (relative * sum);
            let found = chances(&WeightedCount { sum, squares }, met, plain);
            assert!((found[0] - more).abs() < 1e-7, "{met}: {found:?}");
            assert!((found[1] - fewer).abs() < 1e-7, "{met}: {found:?}");
        }
    }
}
