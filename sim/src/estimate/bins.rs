//! Counts of integer bins that grow as needed.

/// Counts of consecutive integers, from the smallest to the largest seen.
///
/// The same additions in any order give the same record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Bins {
    first: i64,
    counts: Vec<u64>,
}

impl Bins {
    pub(super) fn is_empty(&self) -> bool {
        self.counts.is_empty()
    }

    /// The smallest and the largest bin seen.
    pub(super) fn range(&self) -> Option<(i64, i64)> {
        let length = i64::try_from(self.counts.len()).ok()?;
        if length == 0 { None } else { Some((self.first, self.first + length - 1)) }
    }

    /// Bins and their counts, rising.
    pub(super) fn iter(&self) -> impl DoubleEndedIterator<Item = (i64, u64)> {
        let first = self.first;
        self.counts.iter().enumerate().map(move |(i, n)| (first + index(i), *n))
    }

    pub(super) fn add(&mut self, bin: i64, count: u64) {
        if self.counts.is_empty() {
            self.first = bin;
        }
        if bin < self.first {
            let missing = place(self.first - bin);
            self.counts.splice(0..0, std::iter::repeat_n(0, missing));
            self.first = bin;
        }
        let at = place(bin - self.first);
        if at >= self.counts.len() {
            self.counts.resize(at + 1, 0);
        }
        self.counts[at] += count;
    }

    pub(super) fn merge(&mut self, other: &Self) {
        // Both ends first, so that nothing is moved twice.
        if let Some((low, high)) = other.range() {
            self.add(low, 0);
            self.add(high, 0);
        }
        for (bin, count) in other.iter() {
            self.add(bin, count);
        }
    }

    /// Joins runs of 2^`shift` bins that begin at multiples of their length.
    pub(super) fn coarsen(&mut self, shift: u32) {
        let mut coarse = Self::default();
        for (bin, count) in self.iter() {
            coarse.add(bin >> shift.min(63), count);
        }
        *self = coarse;
    }
}

#[expect(clippy::cast_possible_wrap, reason = "far fewer bins than 2^63")]
fn index(i: usize) -> i64 {
    i as i64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small difference of bins, never negative"
)]
fn place(i: i64) -> usize {
    i as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_does_not_matter() {
        let (mut a, mut b) = (Bins::default(), Bins::default());
        for i in [5, -3, 7, 5] {
            a.add(i, 1);
        }
        for i in [7, 5, 5, -3] {
            b.add(i, 1);
        }
        assert_eq!(a, b);
        assert_eq!(a.range(), Some((-3, 7)));
        let mut merged = Bins::default();
        merged.merge(&a);
        merged.merge(&b);
        assert_eq!(merged.iter().map(|b| b.1).sum::<u64>(), 8);
    }

    #[test]
    fn coarse_bins_begin_at_multiples() {
        let mut bins = Bins::default();
        for i in -3..4 {
            bins.add(i, 1);
        }
        bins.coarsen(1);
        assert_eq!(bins.iter().collect::<Vec<_>>(), [(-2, 1), (-1, 2), (0, 2), (1, 2)]);
    }
}
