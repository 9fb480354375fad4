//! Cosines in the step loop, without a library call.

use super::{Lane, Processor};

/// Adding and taking away 1.5 · 2^52 rounds to a whole number.
const ROUNDER: f64 = 6_755_399_441_055_744.0;

/// cos 2πr as a polynomial in r² for -1/2 <= r <= 1/2, constant first: it meets
/// the cosine at the seven Chebyshev points in r². Largest error 1.2e-8.
const POLYNOMIAL: [f64; 7] = [
    0.999_999_988_944_574_6,
    -19.739_204_466_576_14,
    64.939_115_928_346_54,
    -85.450_113_427_506_12,
    60.167_429_791_960_77,
    -25.966_884_612_677_383,
    6.527_705_963_151_927,
];

impl<S: Processor> Lane<S> {
    /// The cosine of this many turns, to 1.2e-8; less than 2^51 turns.
    #[inline(always)]
    #[must_use]
    pub(crate) fn cosine_of_turns(self) -> Self {
        let part = self - ((self + ROUNDER) - self.of(ROUNDER));
        let square = part * part;
        let mut sum = self.of(POLYNOMIAL[6]);
        for place in [5, 4, 3, 2, 1, 0] {
            sum = sum.mul_add(square, self.of(POLYNOMIAL[place]));
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::TAU;
    use pulp::Scalar;

    /// Source: the library's cosine.
    #[test]
    fn a_cosine_comes_back_within_twelve_parts_in_a_thousand_million() {
        let mut worst = 0.0_f64;
        for i in -40_000..40_000 {
            let turns = f64::from(i) * 1.234_567e-3;
            let got = Lane::splat(Scalar, turns).cosine_of_turns().get(0);
            worst = worst.max((got - libm::cos(TAU * turns)).abs());
        }
        assert!(worst < 1.2e-8, "{worst}");
        assert!(worst > 1e-9, "it tests the polynomial and no better one: {worst}");
    }

    #[test]
    fn whole_turns_far_away_change_nothing() {
        for turns in [0.25, 0.125, -0.375] {
            let at = |turns: f64| Lane::splat(Scalar, turns).cosine_of_turns().get(0);
            assert_eq!(at(turns).to_bits(), at(turns + 1024.0).to_bits());
        }
    }
}
