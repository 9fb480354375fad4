//! Where the inputs stood in the flights that got as far as each gate.

/// Bins of an input's own uniform number: eight to each halving towards either
/// end, so that tails are told apart as finely as the middle.
pub const BINS: usize = 128;

const HALF: usize = BINS / 2;
/// Mantissa bits that tell bins of a halving apart.
const SUB_BITS: u32 = 3;

/// Counts of flights by input, by the input's own uniform number, and by how
/// many gates were passed. Merging adds integers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputTally {
    inputs: usize,
    gates: usize,
    /// input x (gates + 1) x bin, row-major.
    counts: Vec<u64>,
}

impl InputTally {
    /// For `inputs` uncertain inputs and `gates` gates.
    #[must_use]
    pub fn new(inputs: usize, gates: usize) -> Self {
        Self { inputs, gates, counts: vec![0; inputs * (gates + 1) * BINS] }
    }

    /// Records a flight.
    ///
    /// `u`: each uncertain input's own uniform number, after correlation: the
    /// share of its distribution below its value. `passed`: gates passed, from
    /// 0 to all.
    pub fn record(&mut self, u: impl IntoIterator<Item = f64>, passed: usize) {
        debug_assert!(passed <= self.gates, "more gates passed than there are");
        let stride = (self.gates + 1) * BINS;
        for (i, u) in u.into_iter().enumerate() {
            self.counts[i * stride + passed * BINS + bin_of(u)] += 1;
        }
    }

    /// Adds everything another of the same shape has seen.
    pub(crate) fn merge(&mut self, other: &Self) {
        debug_assert_eq!((self.inputs, self.gates), (other.inputs, other.gates));
        for (own, theirs) in self.counts.iter_mut().zip(&other.counts) {
            *own += theirs;
        }
    }

    /// Number of inputs.
    #[must_use]
    pub fn inputs(&self) -> usize {
        self.inputs
    }

    /// Number of gates.
    #[must_use]
    pub fn gates(&self) -> usize {
        self.gates
    }

    /// Counts by bin of an input, of all flights that passed at least `least`
    /// gates: with 0, all flights; those who came to gate g (from 0) with g,
    /// those who passed it with g + 1.
    #[must_use]
    pub fn passed_at_least(&self, input: usize, least: usize) -> [u64; BINS] {
        let stride = (self.gates + 1) * BINS;
        let mut sum = [0; BINS];
        for passed in least..=self.gates {
            let start = input * stride + passed * BINS;
            for (total, n) in sum.iter_mut().zip(&self.counts[start..start + BINS]) {
                *total += n;
            }
        }
        sum
    }
}

/// The bin of a uniform number, rising with it.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "clamped to 0..64 first")]
pub fn bin_of(u: f64) -> usize {
    // Exponent and leading mantissa bits of the distance from the nearer end:
    // 64 consecutive numbers up to just below one half.
    const TOP: u64 = 1022 << SUB_BITS;
    let within = |v: f64| -> usize {
        let key = v.max(0.0).to_bits() >> (52 - SUB_BITS);
        (key + HALF as u64).saturating_sub(TOP).min(HALF as u64 - 1) as usize
    };
    if u < 0.5 { within(u) } else { BINS - 1 - within(1.0 - u) }
}

/// The lower edge of a bin; of `BINS`, 1.
#[must_use]
pub fn bin_edge(bin: usize) -> f64 {
    if bin == 0 {
        0.0
    } else if bin >= BINS {
        1.0
    } else if bin <= HALF {
        let octave = (HALF - bin).div_ceil(1 << SUB_BITS);
        let sub = bin + (octave << SUB_BITS) - HALF;
        let size = 0.5_f64.powi(i32::try_from(octave).unwrap_or(0));
        0.5 * size * (1.0 + sub as f64 / f64::from(1 << SUB_BITS))
    } else {
        1.0 - bin_edge(BINS - bin)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_number_lies_between_the_edges_of_its_bin(u in prop_oneof![0.0..1.0_f64, 0.0..0.01_f64, 0.99..1.0_f64]) {
            let bin = bin_of(u);
            prop_assert!(bin_edge(bin) <= u && u <= bin_edge(bin + 1), "{} {}", u, bin);
        }
    }

    #[test]
    fn edges_rise_from_end_to_end() {
        assert!((0..BINS).all(|b| bin_edge(b) < bin_edge(b + 1)));
        assert!((bin_edge(HALF) - 0.5).abs() < 1e-15);
        assert_eq!(bin_of(0.0), 0);
        assert_eq!(bin_of(1.0), BINS - 1);
        assert_eq!(bin_of(0.5), HALF);
    }

    #[test]
    fn who_came_is_who_passed_the_gates_before() {
        let mut tally = InputTally::new(2, 3);
        for passed in [0, 1, 1, 3] {
            tally.record([0.1, 0.9], passed);
        }
        let count = |least| tally.passed_at_least(1, least).iter().sum::<u64>();
        assert_eq!([count(0), count(1), count(2), count(3)], [4, 3, 1, 1]);
        let mut twice = tally.clone();
        twice.merge(&tally);
        assert_eq!(twice.passed_at_least(0, 1)[bin_of(0.1)], 6);
    }
}
