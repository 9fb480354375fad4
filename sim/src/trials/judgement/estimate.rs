//! A chance with its interval.

use serde::{Deserialize, Serialize};

/// A chance and its 95 % interval, which holds it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// Posterior mean, or an estimate from flights.
    pub probability: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Estimate {
    /// The mean of a lopsided distribution may lie beyond its quantiles: the
    /// interval is then widened to hold it.
    #[must_use]
    pub fn holding(probability: f64, low: f64, high: f64) -> Self {
        let probability = probability.clamp(0.0, 1.0);
        Self {
            probability,
            low: low.clamp(0.0, 1.0).min(probability),
            high: high.clamp(0.0, 1.0).max(probability),
        }
    }

    /// A part of a gate given what was thought of it before: factors that may
    /// exceed 1.
    pub(super) fn over(&self, before: f64) -> [f64; 3] {
        [self.probability, self.low, self.high].map(|p| p / before)
    }

    /// Multiplied by factors, at most `most`.
    pub(super) fn scaled(&self, [middle, low, high]: [f64; 3], most: f64) -> Self {
        let held = |p: f64| p.min(most);
        Self::holding(held(self.probability * middle), held(self.low * low), held(self.high * high))
    }
}
