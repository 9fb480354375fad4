//! The difference of two chances that were counted over the same draws.

use super::LEVEL;
use crate::uncertain::normal_quantile;
use serde::{Deserialize, Serialize};

/// What a change did to each of `n` draws.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Paired {
    /// Draws.
    pub n: u64,
    /// Draws that hold before and after.
    pub both: u64,
    /// Draws that hold after the change only.
    pub gained: u64,
    /// Draws that held before it only.
    pub lost: u64,
    /// Chance after less chance before.
    pub difference: f64,
    /// Lower end of its interval.
    pub low: f64,
    /// Upper end of its interval.
    pub high: f64,
}

impl Paired {
    /// From the counts of `n` draws, with the 95 % interval that joins the score
    /// intervals of both chances by the correlation of the draws.
    ///
    /// Source: Newcombe, Statistics in Medicine 17 (1998) 2635, method 10 (from
    /// memory); how often it holds is counted in the tests.
    ///
    /// ```
    /// use longodds_sim::estimate::Paired;
    /// let none = Paired::new(1000, 310, 0, 0);
    /// assert!(none.difference == 0.0 && !none.is_more_than_chance());
    /// assert!(Paired::new(1000, 310, 60, 5).is_more_than_chance());
    /// ```
    #[must_use]
    pub fn new(n: u64, both: u64, gained: u64, lost: u64) -> Self {
        debug_assert!(both + gained + lost <= n, "more draws than there were");
        let part = |count: u64| if n == 0 { 0.0 } else { count as f64 / n as f64 };
        let (after, before) = (score(both + gained, n), score(both + lost, n));
        let [p, q] = [part(both + gained), part(both + lost)];
        let phi = correlation([both, gained, lost, n - both - gained - lost].map(|k| k as f64));
        let reach = |a: f64, b: f64| (a * a - 2.0 * phi * a * b + b * b).max(0.0).sqrt();
        let difference = part(gained) - part(lost);
        let (low, high) = if n == 0 {
            (-1.0, 1.0)
        } else {
            (
                (difference - reach(p - after[0], before[1] - q)).max(-1.0),
                (difference + reach(after[1] - p, q - before[0])).min(1.0),
            )
        };
        Self { n, both, gained, lost, difference, low, high }
    }

    /// With room for draws whose end nobody saw, after and before.
    #[must_use]
    pub fn left_open(self, after: u64, before: u64) -> Self {
        let part = |count: u64| if self.n == 0 { 0.0 } else { count as f64 / self.n as f64 };
        let low = (self.low - part(before)).max(-1.0);
        Self { low, high: (self.high + part(after)).min(1.0), ..self }
    }

    /// Whether the interval leaves out that nothing changed.
    #[must_use]
    pub fn is_more_than_chance(&self) -> bool {
        self.gained != self.lost && (self.low > 0.0 || self.high < 0.0)
    }
}

/// The score interval of a chance (Wilson 1927).
fn score(k: u64, n: u64) -> [f64; 2] {
    let (k, n) = (k as f64, n.max(1) as f64);
    let z = normal_quantile(0.5 + 0.5 * LEVEL);
    let (p, square) = (k / n, z * z);
    let middle = (p + square / (2.0 * n)) / (1.0 + square / n);
    let half = z / (1.0 + square / n) * (p * (1.0 - p) / n + square / (4.0 * n * n)).sqrt();
    [(middle - half).min(p).max(0.0), (middle + half).max(p).min(1.0)]
}

/// Of the draws' ends before and after, corrected for their being counts.
fn correlation([both, gained, lost, neither]: [f64; 4]) -> f64 {
    let sides = [both + gained, both + lost, gained + neither, lost + neither];
    let scale: f64 = sides.iter().product();
    if scale <= 0.0 {
        return 0.0;
    }
    let raw = both * neither - gained * lost;
    let half = 0.5 * (both + gained + lost + neither);
    (if raw > 0.0 { (raw - half).max(0.0) } else { raw }) / scale.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{Domain, Stream};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Taken the other way round, it is the same change backwards; the
        /// interval holds its estimate; what no draw tells apart is chance.
        #[test]
        fn a_change_taken_back_is_its_mirror(both in 0..500_u64, gained in 0..200_u64, lost in 0..200_u64, neither in 1..900_u64) {
            let n = both + gained + lost + neither;
            let (there, back) = (Paired::new(n, both, gained, lost), Paired::new(n, both, lost, gained));
            prop_assert!((there.low + back.high).abs() < 1e-12 && (there.high + back.low).abs() < 1e-12);
            prop_assert!(there.low <= there.difference && there.difference <= there.high);
            prop_assert_eq!(there.is_more_than_chance(), back.is_more_than_chance());
            prop_assert!(!Paired::new(n, both + gained, 0, 0).is_more_than_chance());
            let open = there.left_open(1, 2);
            prop_assert!(open.low <= there.low && open.high >= there.high);
        }
    }

    /// 2000 imagined pairs of runs each: of a 95 % interval fewer than 1860 hold
    /// once in ten thousand (binomial); the lowest seen is written beside it.
    #[test]
    fn the_interval_holds_as_often_as_it_says() {
        let stream = Stream::new(11, Domain::DRAWS);
        let mut number = 0_u64;
        for [both, gained, lost] in
            [[0.3, 0.05, 0.02], [0.01, 0.004, 0.004], [0.0, 0.02, 0.0], [0.6, 0.2, 0.1]]
        {
            let held = (0..2000)
                .filter(|_| {
                    let mut counts = [0_u64; 3];
                    for _ in 0..400 {
                        number += 1;
                        let u = stream.uniform(number, 0);
                        let place = [both, both + gained, both + gained + lost]
                            .iter()
                            .position(|edge| u < *edge);
                        if let Some(place) = place {
                            counts[place] += 1;
                        }
                    }
                    let [b, g, l] = counts;
                    let found = Paired::new(400, b, g, l);
                    (found.low..=found.high).contains(&(gained - lost))
                })
                .count();
            assert!(held >= 1860, "{both} {gained} {lost}: {held}");
        }
    }
}
