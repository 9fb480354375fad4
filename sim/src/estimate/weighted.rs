//! A count whose events have weights, with its interval.

use super::gamma::gamma_quantile;

/// Events that each stand for a chance of their own: a sum of weights.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WeightedCount {
    /// Sum of the weights: the estimate.
    pub sum: f64,
    /// Sum of their squares: its variance, if events come like Poisson's.
    pub squares: f64,
}

impl WeightedCount {
    /// Counts an event.
    pub fn add(&mut self, weight: f64) {
        self.sum += weight;
        self.squares += weight * weight;
    }

    /// Both counts together, the other's events weighing `factor` times as much.
    pub fn join(&mut self, other: &Self, factor: f64) {
        self.sum += factor * other.sum;
        self.squares += factor * factor * other.squares;
    }

    /// Number of events of equal weight that would be worth as much.
    #[must_use]
    pub fn worth(&self) -> f64 {
        if self.squares > 0.0 { self.sum * self.sum / self.squares } else { 0.0 }
    }

    /// The sum of the weights over this number of events.
    #[must_use]
    pub(crate) fn typical(&self) -> f64 {
        if self.sum > 0.0 { self.squares / self.sum } else { 0.0 }
    }

    /// The interval at a level. `next`: the weight that the next event, of
    /// which nothing was seen, might have.
    ///
    /// With equal weights it is Garwood's exact interval of a Poisson count.
    ///
    /// Source: Fay & Feuer, Statistics in Medicine 16 (1997). (From memory;
    /// held by the tests.)
    #[must_use]
    pub fn interval(&self, next: f64, level: f64) -> [f64; 2] {
        let tail = 0.5 * (1.0 - level);
        let end = |sum: f64, squares: f64, p: f64| {
            if sum > 0.0 { squares / sum * gamma_quantile(sum * sum / squares, p) } else { 0.0 }
        };
        [
            end(self.sum, self.squares, tail),
            end(self.sum + next, self.squares + next * next, 1.0 - tail),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Source: recomputed with scipy 1.17 (`chi2.ppf`, `chi2.isf`): sum,
    /// squares, next, low, high at 95 %.
    const TABLE: [[f64; 5]; 8] = [
        [0.0, 0.0, 1e-5, 0.0, 3.688_879_454e-5],
        [1e-6, 1e-14, 1e-5, 8.136_399_125e-7, 3.743_083_49e-5],
        [1e-6, 1e-14, 5e-7, 8.136_399_125e-7, 2.652_255_236e-6],
        [1e-5, 1e-10, 1e-5, 2.531_780_798e-7, 5.571_643_391e-5],
        [1.1e-5, 1.0002e-10, 1e-5, 4.802_580_146e-7, 5.641_293_975e-5],
        [3e-4, 3e-9, 1e-5, 2.024_087_402e-4, 4.282_686_539e-4],
        [2e-4, 4e-10, 1e-5, 1.627_279_825e-4, 2.560_359_106e-4],
        [0.02, 2e-6, 0.001, 0.017_324_088_27, 0.024_527_975_02],
    ];

    #[test]
    fn intervals_agree_with_a_reference_library() {
        for [sum, squares, next, low, high] in TABLE {
            let found = WeightedCount { sum, squares }.interval(next, 0.95);
            assert!((found[0] - low).abs() <= 2e-9 * low, "{found:?} {low}");
            assert!((found[1] - high).abs() <= 2e-9 * high, "{found:?} {high}");
        }
    }

    proptest! {
        #[test]
        fn an_interval_holds_its_estimate_and_widens_with_what_may_come(
            weights in prop::collection::vec(1e-9..1e-3_f64, 0..40),
            next in 1e-9..1e-3_f64,
            more in 1.0..50.0_f64,
        ) {
            let mut count = WeightedCount::default();
            for w in &weights {
                count.add(*w);
            }
            let [low, high] = count.interval(next, 0.95);
            prop_assert!(low <= count.sum && count.sum <= high);
            prop_assert!(high >= 3.688 * next);
            let wider = count.interval(more * next, 0.95);
            prop_assert!(wider[1] >= high * (1.0 - 1e-9));
        }
    }
}
