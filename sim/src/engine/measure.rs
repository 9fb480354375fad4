//! One measured quantity over all flights of a run.

use crate::estimate::{Bars, Histogram, Settled, Sketch, settled};

/// Units of the exact sum: 2^-32 of the SI unit.
const PARTS: f64 = 4_294_967_296.0;

/// Quantiles, a histogram and the mean of a quantity, in memory that does not
/// grow; whole numbers only, so that merging is exact in any order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measure {
    sketch: Sketch,
    histogram: Histogram,
    /// Sum in 2^-32 of the unit.
    sum: i128,
}

impl Measure {
    /// Adds a value; what is not finite is left out.
    pub fn push(&mut self, value: f64) {
        if !value.is_finite() {
            return;
        }
        self.sketch.push(value);
        self.histogram.push(value);
        #[expect(clippy::cast_possible_truncation, reason = "128 bits hold any physical sum")]
        let parts = (value * PARTS) as i128;
        self.sum += parts;
    }

    /// Adds everything another has seen.
    pub(crate) fn merge(&mut self, other: &Self) {
        self.sketch.merge(&other.sketch);
        self.histogram.merge(&other.histogram);
        self.sum += other.sum;
    }

    /// How many values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.sketch.count()
    }

    /// Arithmetic mean; `None` of nothing.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        (self.count() > 0).then(|| self.sum as f64 / PARTS / self.count() as f64)
    }

    /// Smallest and largest value; `None` of nothing.
    #[must_use]
    pub fn ends(&self) -> Option<(f64, f64)> {
        self.sketch.ends()
    }

    /// The value that a share `q` of the values do not exceed, within half a
    /// percent; `None` of nothing.
    #[must_use]
    pub fn quantile(&self, q: f64) -> Option<f64> {
        self.sketch.quantile(q)
    }

    /// The printed quantile that is known least; `None` of too few values.
    #[must_use]
    pub(crate) fn settled(&self) -> Option<Settled> {
        settled(self.count(), |q| self.quantile(q))
    }

    /// At most `most` equal bars.
    #[must_use]
    pub fn bars(&self, most: usize) -> Bars {
        self.histogram.bars(most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_does_not_depend_on_the_order() {
        let values: Vec<f64> = (0..1000).map(|i| 1e3 / (1.0 + f64::from(i))).collect();
        let (mut whole, mut front, mut back) =
            (Measure::default(), Measure::default(), Measure::default());
        values.iter().for_each(|&x| whole.push(x));
        values[..377].iter().for_each(|&x| front.push(x));
        values[377..].iter().rev().for_each(|&x| back.push(x));
        back.merge(&front);
        assert_eq!(whole, back);
        let mean = values.iter().sum::<f64>() / 1e3;
        assert!((whole.mean().unwrap() - mean).abs() < 1e-6);
    }
}
