//! Counts in equal bins that need no range told beforehand.

use super::bins::Bins;

/// Most bins kept; a plot joins them further.
const MOST: i64 = 1024;

/// Counts of values in equal bins whose width is a power of two and whose
/// edges are multiples of it.
///
/// When the values spread beyond 1024 bins, neighbours are joined in pairs;
/// because edges are multiples, the counts are then exactly those that the
/// wider bins would have found from the start. So the same values in any order
/// and any chunking give the same record.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Histogram {
    /// Bins are 2^exponent wide.
    exponent: i32,
    bins: Bins,
}

/// Edges (one more than counts) and counts of a [`Histogram`].
#[derive(Clone, Debug, PartialEq)]
pub struct Bars {
    /// Edges, rising, equally spaced.
    pub edges: Vec<f64>,
    /// Counts between the edges.
    pub counts: Vec<u64>,
}

impl Histogram {
    /// Of nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a value; what is not finite is left out.
    pub fn push(&mut self, x: f64) {
        if !x.is_finite() {
            return;
        }
        let finest = finest(x);
        if self.bins.is_empty() {
            self.exponent = finest;
        }
        self.widen_to(finest);
        let mut bin = bin(x, self.exponent);
        let (low, high) = self.bins.range().unwrap_or((bin, bin));
        let shift = joins(low.min(bin), high.max(bin));
        self.widen_to(self.exponent + shift);
        bin >>= shift;
        self.bins.add(bin, 1);
    }

    /// Adds everything another has seen.
    pub(crate) fn merge(&mut self, other: &Self) {
        let Some(theirs) = other.bins.range() else { return };
        if self.bins.is_empty() {
            *self = other.clone();
            return;
        }
        let mut other = other.clone();
        let common = self.exponent.max(other.exponent);
        self.widen_to(common);
        other.widen_to(common);
        let ours = self.bins.range().unwrap_or(theirs);
        let theirs = other.bins.range().unwrap_or(ours);
        let shift = joins(ours.0.min(theirs.0), ours.1.max(theirs.1));
        self.widen_to(common + shift);
        other.widen_to(common + shift);
        self.bins.merge(&other.bins);
    }

    fn widen_to(&mut self, exponent: i32) {
        if exponent > self.exponent {
            self.bins.coarsen(exponent.abs_diff(self.exponent));
            self.exponent = exponent;
        }
    }

    /// How many values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.bins.iter().map(|b| b.1).sum()
    }

    /// At most `most` (>= 2) bars over all values; none of nothing.
    #[must_use]
    pub fn bars(&self, most: usize) -> Bars {
        let mut wide = self.clone();
        let most = i64::try_from(most.max(2)).unwrap_or(MOST);
        while wide.bins.range().is_some_and(|(low, high)| high - low >= most) {
            wide.widen_to(wide.exponent + 1);
        }
        let width = power_of_two(wide.exponent);
        let mut bars = Bars { edges: Vec::new(), counts: Vec::new() };
        for (bin, count) in wide.bins.iter() {
            bars.edges.push(bin as f64 * width);
            bars.counts.push(count);
        }
        if let Some((_, last)) = wide.bins.range() {
            bars.edges.push((last + 1) as f64 * width);
        }
        bars
    }
}

/// How often pairs must be joined for the bins to be few enough.
fn joins(low: i64, high: i64) -> i32 {
    let mut shift = 0;
    while (high >> shift) - (low >> shift) >= MOST {
        shift += 1;
    }
    shift
}

/// The finest exponent at which a value's bin number is still exact.
fn finest(x: f64) -> i32 {
    let biased = (x.abs().to_bits() >> 52) & 0x7FF;
    let exponent = i32::try_from(biased).unwrap_or(0) - 1023;
    (exponent - 40).max(-1000)
}

#[expect(clippy::cast_possible_truncation, reason = "below 2^42 by the choice of exponent")]
fn bin(x: f64, exponent: i32) -> i64 {
    (x * power_of_two(-exponent)).floor() as i64
}

/// 2^exponent, for exponents within +-1020.
fn power_of_two(exponent: i32) -> f64 {
    f64::from_bits(u64::from((exponent + 1023).unsigned_abs()) << 52)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(values: &[f64]) -> Histogram {
        let mut histogram = Histogram::new();
        for x in values {
            histogram.push(*x);
        }
        histogram
    }

    proptest! {
        #[test]
        fn order_and_chunking_do_not_matter(
            mut values in prop::collection::vec(prop_oneof![
                -1e-3..1e-3_f64, 900.0..1000.0_f64, -1e9..1e9_f64, Just(0.0),
            ], 1..60),
            split in 0_usize..60,
        ) {
            let whole = of(&values);
            values.reverse();
            let split = split.min(values.len());
            let mut parts = of(&values[..split]);
            parts.merge(&of(&values[split..]));
            prop_assert_eq!(&whole, &parts);
            prop_assert_eq!(whole.count(), values.len() as u64);
        }

        #[test]
        fn every_value_lies_in_its_bar(values in prop::collection::vec(-50.0..80.0_f64, 1..200)) {
            let bars = of(&values).bars(20);
            prop_assert!(bars.counts.len() <= 20 && bars.edges.len() == bars.counts.len() + 1);
            for (edges, count) in bars.edges.windows(2).zip(&bars.counts) {
                let inside = values.iter().filter(|x| edges[0] <= **x && **x < edges[1]).count();
                prop_assert_eq!(inside as u64, *count);
            }
        }
    }

    #[test]
    fn a_narrow_spread_far_from_zero_is_resolved() {
        let values: Vec<f64> = (0..1000).map(|i| 1000.0 + 0.001 * f64::from(i)).collect();
        let bars = of(&values).bars(50);
        assert!(bars.counts.len() > 25, "{}", bars.counts.len());
    }

    #[test]
    fn one_value_makes_one_bar() {
        let bars = of(&[3.0, 3.0]).bars(30);
        assert_eq!(bars.counts, [2]);
        assert!(bars.edges[0] <= 3.0 && 3.0 < bars.edges[1]);
        assert_eq!(Histogram::new().bars(30).counts, [0_u64; 0]);
    }
}
