//! Uniform numbers by seed, domain, draw and slot.

use super::philox::{Philox, philox};

/// What random numbers are for. Domains never share a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Domain(u32);

impl Domain {
    /// The inputs of a run's draws.
    pub const DRAWS: Self = Self(0);
    /// Resampling of results.
    pub const BOOTSTRAP: Self = Self(1);
    /// Markov chains of the rare-event search.
    pub(crate) const CHAINS: Self = Self(2);
    /// Importance sampling.
    pub(crate) const IMPORTANCE: Self = Self(3);
    /// Designed samples of the sensitivity analysis.
    pub(crate) const DESIGN: Self = Self(4);
    /// Gusts within a flight.
    pub(crate) const GUST: Self = Self(5);
    /// Imagined shots of a planned trial.
    pub const SHOTS: Self = Self(6);
    /// Choosing a sample of draws to keep.
    pub(crate) const KEEP: Self = Self(7);
    /// Unknown inputs, where they are drawn apart from the varying ones.
    pub const UNKNOWN: Self = Self(8);

    /// One of 2^24 - 1 parts of a domain, `part` counted from 0.
    #[must_use]
    pub fn part(self, part: u32) -> Self {
        debug_assert!(part < 0x00FF_FFFF, "a domain has 2^24 - 1 parts");
        Self(self.0 | (part + 1) << 8)
    }
}

/// The random numbers of one seed and domain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stream {
    key: [u32; 2],
    domain: u32,
}

impl Stream {
    /// Of a seed and a domain.
    #[must_use]
    pub fn new(seed: u64, domain: Domain) -> Self {
        let [low, high] = halves(seed);
        Self { key: [low, high], domain: domain.0 }
    }

    /// The uniform number of a draw and a slot: one of 2^52 equally likely,
    /// evenly spaced values in (0, 1), ends excluded.
    #[must_use]
    pub fn uniform(&self, draw: u64, slot: u32) -> f64 {
        let [low, high] = halves(draw);
        unit(philox([low, high, slot, self.domain], self.key))
    }

    /// A generator that begins at a draw, for distributions to draw from.
    ///
    /// ```
    /// use longodds_sim::sampling::{Domain, Stream};
    /// use rand_distr::{Beta, Distribution};
    /// let stream = Stream::new(7, Domain::BOOTSTRAP);
    /// let beta = Beta::new(2.5, 40.5)?;
    /// let draw = |i| beta.sample(&mut stream.at(i));
    /// assert_ne!(draw(0), draw(1));
    /// assert_eq!(draw(0), draw(0));
    /// # Ok::<(), rand_distr::BetaError>(())
    /// ```
    #[must_use]
    pub fn at(&self, draw: u64) -> Philox {
        let [low, high] = halves(draw);
        Philox::new([low, high, 0, self.domain], self.key)
    }

    /// The uniform numbers of one draw and many slots.
    ///
    /// `row`: as many numbers as there are `slots`.
    pub fn fill(&self, draw: u64, slots: &[u32], row: &mut [f64]) {
        debug_assert_eq!(slots.len(), row.len());
        for (value, slot) in row.iter_mut().zip(slots) {
            *value = self.uniform(draw, *slot);
        }
    }
}

/// The slot of a name: its FNV-1a hash in 32 bits.
///
/// Source: Fowler, Noll & Vo, FNV-1a; constants and test values as its
/// published vectors have them (read).
#[must_use]
pub fn slot_of(name: &str) -> u32 {
    name.bytes()
        .fold(0x811C_9DC5, |hash: u32, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

#[expect(clippy::cast_possible_truncation, reason = "the low half is meant")]
pub(super) fn halves(word: u64) -> [u32; 2] {
    [word as u32, (word >> 32) as u32]
}

/// The upper 52 bits as the middle of one of 2^52 equal parts of (0, 1).
fn unit([low, high, ..]: [u64; 4]) -> f64 {
    const PART: f64 = 1.0 / (1_u64 << 52) as f64;
    let bits = high << 32 | low;
    ((bits >> 12) as f64 + 0.5) * PART
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rand::Rng;

    /// Pinned: a change of these changes every result of every seed.
    #[test]
    fn the_first_numbers_of_a_seed_never_change() {
        let table = [
            (0, 0, 0, 0.880_520_197_888_614_2),
            (42, 0, 0, 0.468_586_518_339_105),
            (42, 0, 1, 0.126_249_854_222_419_4),
            (42, 1, 0, 0.327_063_381_203_384_85),
            (42, 99_999_999, 7, 0.593_486_628_486_322_4),
        ];
        for (seed, draw, slot, u) in table {
            let found = Stream::new(seed, Domain::DRAWS).uniform(draw, slot);
            assert!((found - u).abs() < 1e-16, "{seed} {draw} {slot}: {found}");
        }
    }

    proptest! {
        #[test]
        fn a_filled_row_is_the_single_numbers(seed: u64, draw: u64, slots in prop::collection::vec(any::<u32>(), 0..40)) {
            let stream = Stream::new(seed, Domain::CHAINS.part(3));
            let mut row = vec![0.0; slots.len()];
            stream.fill(draw, &slots, &mut row);
            for (u, slot) in row.iter().zip(slots) {
                prop_assert_eq!(u.to_bits(), stream.uniform(draw, slot).to_bits());
            }
        }
    }

    #[test]
    fn a_generator_begins_with_the_number_at_its_address() {
        let stream = Stream::new(3, Domain::SHOTS);
        let word = stream.at(u64::MAX - 5).next_u64();
        let u = unit([word & 0xFFFF_FFFF, word >> 32, 0, 0]);
        assert_eq!(u.to_bits(), stream.uniform(u64::MAX - 5, 0).to_bits());
    }

    #[test]
    fn the_ends_are_never_reached() {
        assert!(unit([0; 4]) > 0.0);
        assert!(unit([0xFFFF_FFFF; 4]) < 1.0);
    }

    /// Kolmogorov-Smirnov distance below 1.95 / sqrt(n): false alarm 0.001.
    #[test]
    fn numbers_fill_the_interval_evenly() {
        let n = 100_000_u32;
        let stream = Stream::new(1, Domain::DRAWS);
        let mut values: Vec<f64> = (0..n).map(|i| stream.uniform(u64::from(i), 9)).collect();
        values.sort_by(f64::total_cmp);
        let gap = values
            .iter()
            .zip(1..)
            .map(|(u, rank)| (u - f64::from(rank) / f64::from(n)).abs())
            .fold(0.0, f64::max);
        assert!(gap < 1.95 / f64::from(n).sqrt(), "{gap}");
    }

    /// Source: published FNV-1a test vectors, `test_fnv.c` (read in a copy).
    #[test]
    fn slots_are_fnv_hashes() {
        assert_eq!(slot_of(""), 0x811c_9dc5);
        assert_eq!(slot_of("a"), 0xe40c_292c);
        assert_eq!(slot_of("foobar"), 0xbf9c_f968);
    }

    #[test]
    fn domains_and_their_parts_are_apart() {
        let u = |domain| Stream::new(5, domain).uniform(1, 2).to_bits();
        let all = [
            u(Domain::DRAWS),
            u(Domain::CHAINS),
            u(Domain::CHAINS.part(0)),
            u(Domain::CHAINS.part(1)),
        ];
        for (i, a) in all.iter().enumerate() {
            assert!(all[..i].iter().all(|b| a != b));
        }
    }
}
