//! Points that fill the unit cube more evenly than chance would.

use super::{Domain, Stream, stream::halves};

/// Size of one step of the points behind them: their last bits are filled at
/// random.
const GRAIN: f64 = 1.0 / (1_u64 << 24) as f64;

/// Sobol' points, scrambled; a pure function of (seed, domain, scrambling,
/// point, dimension), as [`Stream`] is.
///
/// Means of smooth outcomes over them are known far better than over as many
/// independent points. Points of one scrambling are not independent: an error
/// comes from several scramblings, which are, and never from a formula for
/// counts.
///
/// Source: Owen scrambling by hashing, Burley, Journal of Computer Graphics
/// Techniques 9 (2020). (From memory.)
#[derive(Clone, Copy, Debug)]
pub struct Scrambled {
    stream: Stream,
}

impl Scrambled {
    /// Most points of one scrambling.
    pub const POINTS: u32 = 1 << 16;

    /// Most dimensions.
    pub const DIMENSIONS: usize = sobol_burley::NUM_DIMENSIONS as usize;

    /// Of a seed and a domain.
    #[must_use]
    pub fn new(seed: u64, domain: Domain) -> Self {
        Self { stream: Stream::new(seed, domain) }
    }

    /// One coordinate, in (0, 1); `None` beyond [`Scrambled::POINTS`] or
    /// [`Scrambled::DIMENSIONS`].
    #[must_use]
    pub fn coordinate(&self, scrambling: u32, point: u32, dimension: u32) -> Option<f64> {
        let within = point < Self::POINTS && dimension < sobol_burley::NUM_DIMENSIONS;
        let draw = u64::from(scrambling) << 32 | u64::from(point);
        within.then(|| {
            let coarse = f64::from(sobol_burley::sample(point, dimension, self.key(scrambling)));
            coarse + GRAIN * self.stream.uniform(draw, dimension)
        })
    }

    /// What tells a scrambling from any other.
    fn key(&self, scrambling: u32) -> u32 {
        // A slot that no dimension has.
        let [low, high] = halves(self.stream.uniform(u64::from(scrambling), u32::MAX).to_bits());
        low ^ high.rotate_left(16)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(scrambling: u32, count: u32, dimension: u32) -> Vec<f64> {
        let points = Scrambled::new(3, Domain::DESIGN);
        (0..count).map(|i| points.coordinate(scrambling, i, dimension).unwrap()).collect()
    }

    /// Source: definition of a (0, m, 1)-net in base 2, which Owen's scrambling
    /// keeps: of the first 2^m points one lies in each of 2^m equal parts.
    #[test]
    fn every_part_of_every_axis_has_its_point() {
        for dimension in [0, 1, 7, 100] {
            for scrambling in 0..3 {
                let mut found = points(scrambling, 1024, dimension);
                found.sort_by(f64::total_cmp);
                for (i, x) in (0_u32..).zip(found) {
                    let part = f64::from(i) / 1024.0;
                    assert!(part < x && x < part + 1.0 / 1024.0, "{dimension}: {i} has {x}");
                }
            }
        }
    }

    #[test]
    fn scramblings_are_different_and_repeat() {
        assert_eq!(points(1, 16, 2), points(1, 16, 2));
        assert_ne!(points(1, 16, 2), points(2, 16, 2));
    }

    #[test]
    fn beyond_the_table_there_is_nothing() {
        let points = Scrambled::new(3, Domain::DESIGN);
        assert_eq!(points.coordinate(0, Scrambled::POINTS, 0), None);
        assert_eq!(points.coordinate(0, 0, 256), None);
        assert!(points.coordinate(0, Scrambled::POINTS - 1, 255).is_some());
    }
}
