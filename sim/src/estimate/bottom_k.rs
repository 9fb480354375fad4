//! A random sample of draws that is the same for any chunking.

use crate::sampling::{Domain, Stream};
use std::{cmp::Ordering, collections::BinaryHeap};

/// Keeps what belongs to the `k` draws with the smallest random marks: a simple
/// random sample without replacement, whatever order the draws come in.
///
/// A draw's mark depends on the seed and its index alone, so merged parts keep
/// what the whole would have kept.
#[derive(Clone, Debug)]
pub struct BottomK<T> {
    k: usize,
    marks: Stream,
    kept: BinaryHeap<Kept<T>>,
}

#[derive(Clone, Debug)]
struct Kept<T> {
    mark: u64,
    draw: u64,
    item: T,
}

impl<T> Kept<T> {
    fn rank(&self) -> (u64, u64) {
        (self.mark, self.draw)
    }
}

impl<T> PartialEq for Kept<T> {
    fn eq(&self, other: &Self) -> bool {
        self.rank() == other.rank()
    }
}

impl<T> Eq for Kept<T> {}

impl<T> PartialOrd for Kept<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Kept<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.rank().cmp(&other.rank())
    }
}

impl<T> BottomK<T> {
    /// Keeps at most `k`. `part` tells samples of one seed apart: the same part
    /// keeps the same draws.
    #[must_use]
    pub fn new(k: usize, seed: u64, part: u32) -> Self {
        let marks = Stream::new(seed, Domain::KEEP.part(part));
        Self { k, marks, kept: BinaryHeap::new() }
    }

    /// Offers a draw; `item` is made only if it is kept (for now).
    pub(crate) fn offer(&mut self, draw: u64, item: impl FnOnce() -> T) {
        let mark = self.marks.uniform(draw, 0).to_bits();
        if self.wants(mark, draw) {
            self.keep(Kept { mark, draw, item: item() });
        }
    }

    /// Takes over what another (of the same seed and part) has kept.
    pub(crate) fn merge(&mut self, other: Self) {
        for kept in other.kept {
            if self.wants(kept.mark, kept.draw) {
                self.keep(kept);
            }
        }
    }

    fn wants(&self, mark: u64, draw: u64) -> bool {
        self.kept.len() < self.k || self.kept.peek().is_some_and(|top| (mark, draw) < top.rank())
    }

    fn keep(&mut self, kept: Kept<T>) {
        self.kept.push(kept);
        if self.kept.len() > self.k {
            self.kept.pop();
        }
    }

    /// How many are kept.
    #[must_use]
    pub fn len(&self) -> usize {
        self.kept.len()
    }

    /// Whether nothing is kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// Draws and their items, by rising draw.
    #[must_use]
    pub fn into_sorted(self) -> Vec<(u64, T)> {
        let mut all: Vec<_> = self.kept.into_iter().map(|k| (k.draw, k.item)).collect();
        all.sort_by_key(|pair| pair.0);
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chunks_in_any_order_keep_the_same_draws() {
        let mut whole = BottomK::new(50, 9, 0);
        for draw in 0..5000 {
            whole.offer(draw, || draw * 2);
        }
        let mut merged = BottomK::new(50, 9, 0);
        for chunk in (0..5).rev() {
            let mut part = BottomK::new(50, 9, 0);
            for draw in (chunk * 1000..(chunk + 1) * 1000).rev() {
                part.offer(draw, || draw * 2);
            }
            merged.merge(part);
        }
        let whole = whole.into_sorted();
        assert_eq!(whole, merged.into_sorted());
        assert_eq!(whole.len(), 50);
        assert!(whole.iter().all(|(draw, item)| *item == draw * 2));
    }

    /// The mean of 400 of 0..100000 has a standard error of 1443; five of them:
    /// false alarm 6e-7.
    #[test]
    fn the_sample_is_fair() {
        let mut sample = BottomK::new(400, 1, 3);
        for draw in 0..100_000_u64 {
            sample.offer(draw, || ());
        }
        let mean = sample.into_sorted().iter().map(|p| p.0 as f64).sum::<f64>() / 400.0;
        assert!((mean - 49_999.5).abs() < 5.0 * 1443.0, "{mean}");
    }

    #[test]
    fn few_draws_are_all_kept() {
        let mut sample = BottomK::new(10, 1, 0);
        for draw in [7, 3] {
            sample.offer(draw, || ());
        }
        assert_eq!(sample.into_sorted(), [(3, ()), (7, ())]);
    }
}
