//! Philox4x32 with ten rounds: a counter-based random generator.
//!
//! Source: Salmon, Moraes, Dror & Shaw, "Parallel random numbers: as easy as
//! 1, 2, 3", SC11 (2011).

use rand::{
    TryRng,
    rand_core::block::{BlockRng, Generator},
};
use std::convert::Infallible;

const ROUNDS: usize = 10;
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
const WEYL: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];

/// Turns a counter into its random words.
///
/// Words are kept in 64 bits, of which the upper 32 are zero. Counters of
/// neighbouring slots do not depend on each other, so a processor works on
/// several at once by itself; a form with explicit lanes measured slower.
#[inline]
pub(super) fn philox(counter: [u32; 4], mut key: [u32; 2]) -> [u64; 4] {
    let [mut c0, mut c1, mut c2, mut c3] = counter.map(u64::from);
    for _ in 0..ROUNDS {
        let product0 = MULTIPLIERS[0] * c0;
        let product1 = MULTIPLIERS[1] * c2;
        c0 = (product1 >> 32) ^ c1 ^ u64::from(key[0]);
        c1 = product1 & 0xFFFF_FFFF;
        c2 = (product0 >> 32) ^ c3 ^ u64::from(key[1]);
        c3 = product0 & 0xFFFF_FFFF;
        key = [key[0].wrapping_add(WEYL[0]), key[1].wrapping_add(WEYL[1])];
    }
    [c0, c1, c2, c3]
}

/// Random numbers one after another from an address on, as a generator of the
/// `rand` crate: for everything that draws from a distribution.
///
/// Block follows block along the slots of one draw.
#[derive(Clone, Debug)]
pub struct Philox(BlockRng<Blocks>);

impl Philox {
    pub(super) fn new(counter: [u32; 4], key: [u32; 2]) -> Self {
        Self(BlockRng::new(Blocks { counter, key }))
    }
}

#[derive(Clone, Debug)]
struct Blocks {
    counter: [u32; 4],
    key: [u32; 2],
}

impl Generator for Blocks {
    type Output = [u32; 4];

    #[expect(clippy::cast_possible_truncation, reason = "the upper halves are zero")]
    fn generate(&mut self, output: &mut [u32; 4]) {
        *output = philox(self.counter, self.key).map(|word| word as u32);
        self.counter[2] = self.counter[2].wrapping_add(1);
    }
}

impl TryRng for Philox {
    type Error = Infallible;

    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        Ok(self.0.next_word())
    }

    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        Ok(self.0.next_u64_from_u32())
    }

    fn try_fill_bytes(&mut self, bytes: &mut [u8]) -> Result<(), Infallible> {
        self.0.fill_bytes(bytes);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::Rng;

    /// Source: Random123, `tests/kat_vectors`, `philox 4x32 10`.
    #[test]
    fn known_answers_come_out() {
        let table: [([u32; 4], [u32; 2], [u64; 4]); 3] = [
            ([0; 4], [0; 2], [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8]),
            ([u32::MAX; 4], [u32::MAX; 2], [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd]),
            (
                [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344],
                [0xa409_3822, 0x299f_31d0],
                [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1],
            ),
        ];
        for (counter, key, words) in table {
            assert_eq!(philox(counter, key), words);
            let mut generator = Philox::new(counter, key);
            assert_eq!([(); 4].map(|()| u64::from(generator.next_u32())), words);
        }
    }

    #[test]
    fn block_follows_block_along_the_slots() {
        let mut generator = Philox::new([7, 8, 9, 10], [1, 2]);
        for slot in 9..12 {
            let [a, b, c, d] = philox([7, 8, slot, 10], [1, 2]);
            assert_eq!([generator.next_u64(), generator.next_u64()], [b << 32 | a, d << 32 | c]);
        }
    }
}
