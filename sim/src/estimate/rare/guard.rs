//! What must hold before a rare-event estimate is believed.

use super::{importance::Importance, subset::Subset};
use crate::estimate::Proportion;

/// One test of an estimate, and how it went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Check {
    /// Whether the estimate passed.
    pub passed: bool,
    /// What was compared, in words with the figures.
    pub words: String,
}

/// Successes that an importance sample must be worth.
const LEAST_EFFECTIVE: f64 = 100.0;
/// Successes that a second sample must be fitted to.
pub(super) const LEAST_TO_FIT: f64 = 30.0;
/// Largest share that one weight may have.
const LARGEST_SHARE: f64 = 0.1;
/// z of a two-sided 95 % interval.
const Z95: f64 = 1.959_963_984_540_054;

/// Tests an importance sample by itself, against the search that led to it,
/// and against plain sampling.
pub(super) fn importance(found: &Importance, search: &Subset, plain: &Proportion) -> Vec<Check> {
    let (low, high) = search.interval(search.variation_high, Z95);
    vec![
        Check {
            passed: found.effective >= LEAST_EFFECTIVE,
            words: format!(
                "the weighted successes are worth {:.0} equal ones of {LEAST_EFFECTIVE:.0} needed",
                found.effective
            ),
        },
        Check {
            passed: found.largest <= LARGEST_SHARE,
            words: format!(
                "the heaviest success carries {:.1} % (at most {:.0} %)",
                100.0 * found.largest,
                100.0 * LARGEST_SHARE
            ),
        },
        Check {
            passed: low <= found.probability && found.probability <= high,
            words: format!(
                "{:.2e} against {low:.2e} to {high:.2e} by the search",
                found.probability
            ),
        },
        against_plain(found.probability, found.probability, plain),
    ]
}

/// The check that fails where there was too little to fit a second sample to.
pub(super) fn too_little(effective: f64) -> Check {
    Check {
        passed: false,
        words: format!(
            "the weighted successes of the first sample are worth {effective:.0} equal ones of \
             {LEAST_TO_FIT:.0} needed"
        ),
    }
}

/// Tests an interval against plain sampling at 99.9 %.
pub(super) fn against_plain(low: f64, high: f64, plain: &Proportion) -> Check {
    let wide = Proportion::clopper_pearson(plain.k, plain.n, 0.999);
    Check {
        passed: high >= wide.low && low <= wide.high,
        words: format!(
            "{} of {} plain flights: {:.2e} to {:.2e} at 99.9 %",
            plain.k, plain.n, wide.low, wide.high
        ),
    }
}
