//! The flights that came nearest to what is claimed.

use std::cmp::Ordering;

/// The few draws of smallest score, the nearest first. Merging keeps the same
/// draws in any order.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    most: usize,
    found: Vec<(f64, u64)>,
}

impl Nearest {
    /// Keeps at most so many.
    #[must_use]
    pub fn new(most: usize) -> Self {
        Self { most, found: Vec::new() }
    }

    /// Offers a draw with its score (not NaN).
    pub(crate) fn offer(&mut self, score: f64, draw: u64) {
        let one = (score, draw);
        let full = self.found.len() == self.most;
        if full && self.found.last().is_some_and(|last| order(&one, last).is_ge()) {
            return;
        }
        let place = self.found.partition_point(|other| order(other, &one).is_lt());
        self.found.insert(place, one);
        self.found.truncate(self.most);
    }

    /// Offers everything another has kept.
    pub(crate) fn merge(&mut self, other: &Self) {
        for (score, draw) in &other.found {
            self.offer(*score, *draw);
        }
    }

    /// The draws, the nearest first.
    pub fn draws(&self) -> impl Iterator<Item = u64> {
        self.found.iter().map(|(_, draw)| *draw)
    }
}

fn order(a: &(f64, u64), b: &(f64, u64)) -> Ordering {
    a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_draws_are_kept_in_any_order() {
        let score = |draw: u64| f64::from(u32::try_from(draw * 37 % 50).unwrap());
        let (mut whole, mut front, mut back) = (Nearest::new(6), Nearest::new(6), Nearest::new(6));
        (0..200).for_each(|draw| whole.offer(score(draw), draw));
        (0..90).rev().for_each(|draw| front.offer(score(draw), draw));
        (90..200).for_each(|draw| back.offer(score(draw), draw));
        back.merge(&front);
        assert_eq!(whole, back);
        // Scores of 0 at 0, 50, 100, 150; then 1 at 23 and 73 (37 * 23 = 851).
        assert_eq!(whole.draws().collect::<Vec<_>>(), [0, 50, 100, 150, 23, 73]);
    }
}
