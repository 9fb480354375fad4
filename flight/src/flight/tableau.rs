//! The method: explicit Runge-Kutta 5(4) with a fourth-order interpolant.
//!
//! Source: Tsitouras 2011, Runge-Kutta pairs of order 5(4) satisfying only the
//! first column simplifying assumption, Computers & Mathematics with
//! Applications 62:770; the tests hold its digits to every order condition they
//! have to meet.

use super::motion::SIZE;

/// Stages, the last of which is the first of the next step.
pub(super) const STAGES: usize = 7;

/// Times of the stages, as shares of the step.
pub(super) const TIMES: [f64; STAGES] = [0.0, 0.161, 0.327, 0.9, 0.980_025_540_904_509_7, 1.0, 1.0];

/// Weights of the earlier stages in each stage. The last row gives the result.
pub(super) const WEIGHTS: [[f64; STAGES - 1]; STAGES] = [
    [0.0; 6],
    [0.161, 0.0, 0.0, 0.0, 0.0, 0.0],
    [-0.008_480_655_492_356_989, 0.335_480_655_492_357, 0.0, 0.0, 0.0, 0.0],
    [2.897_153_057_105_493_5, -6.359_448_489_975_075, 4.362_295_432_869_581_5, 0.0, 0.0, 0.0],
    [
        5.325_864_828_439_257,
        -11.748_883_564_062_828,
        7.495_539_342_889_836_5,
        -0.092_495_066_361_755_25,
        0.0,
        0.0,
    ],
    [
        5.861_455_442_946_42,
        -12.920_969_317_847_11,
        8.159_367_898_576_159,
        -0.071_584_973_281_401,
        -0.028_269_050_394_068_383,
        0.0,
    ],
    [
        0.096_460_766_818_065_23,
        0.01,
        0.479_889_650_414_499_6,
        1.379_008_574_103_742,
        -3.290_069_515_436_081,
        2.324_710_524_099_774,
    ],
];

/// Weights of the stages in the estimate of the error.
pub(super) const ERROR: [f64; STAGES] = [
    -0.001_780_011_052_225_777,
    -0.000_816_434_459_656_746_9,
    0.007_880_878_010_261_995,
    -0.144_711_007_173_262_9,
    0.582_357_165_452_555_2,
    -0.458_082_105_929_186_97,
    1.0 / 66.0,
];

/// Coefficients of each stage's weight at a share θ of the step: powers 1 to 4.
const INTERPOLANT: [[f64; 4]; STAGES] = [
    [1.0, -2.763_706_197_274_826, 2.913_255_461_821_912_6, -1.053_088_497_729_021_6],
    [0.0, 0.131_7, -0.223_4, 0.101_7],
    [0.0, 3.930_296_236_894_751_6, -5.941_033_872_131_505, 2.490_627_285_651_253],
    [0.0, -12.411_077_166_933_676, 30.338_188_630_282_32, -16.548_102_889_244_902],
    [0.0, 37.509_313_416_511_04, -88.178_904_894_766_4, 47.379_521_962_819_28],
    [0.0, -27.896_526_289_197_286, 65.091_894_674_793_66, -34.870_657_861_496_61],
    [0.0, 1.5, -4.0, 2.5],
];

/// Weights of the stages in the middle one of the five control points.
pub(super) const MIDDLE: [f64; STAGES] = {
    let mut middle = [0.0; STAGES];
    let mut stage = 0;
    while stage < STAGES {
        middle[stage] = INTERPOLANT[stage][0] / 2.0 + INTERPOLANT[stage][1] / 6.0;
        stage += 1;
    }
    middle
};

/// A step's polynomials: the row it starts from, its stages, its length in s.
pub(super) fn powers_of(
    start: &[f64; SIZE],
    stages: &[[f64; SIZE]; STAGES],
    step: f64,
) -> [[f64; SIZE]; 5] {
    let mut powers = [*start, [0.0; SIZE], [0.0; SIZE], [0.0; SIZE], [0.0; SIZE]];
    for (weights, stage) in INTERPOLANT.iter().zip(stages) {
        for (weight, power) in weights.iter().zip(&mut powers[1..]) {
            for (number, slope) in power.iter_mut().zip(stage) {
                *number += step * weight * slope;
            }
        }
    }
    powers
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sum(f: impl Fn(usize) -> f64) -> f64 {
        (0..STAGES).map(f).sum()
    }

    /// Stage weights in the elementary weight of a tree grafted on a root.
    fn graft(inner: &dyn Fn(usize) -> f64) -> [f64; STAGES] {
        core::array::from_fn(|i| (0..6).map(|j| WEIGHTS[i][j] * inner(j)).sum())
    }

    fn c(i: usize) -> f64 {
        TIMES[i]
    }

    /// Elementary weights and 1/density of all rooted trees up to order 5.
    ///
    /// Source: Hairer, Nørsett & Wanner, Solving Ordinary Differential
    /// Equations I, table II.2.2 (from memory).
    fn trees() -> Vec<(i32, [f64; STAGES], f64)> {
        let one = |power: i32| core::array::from_fn(|i| c(i).powi(power));
        let times = |a: [f64; STAGES], b: [f64; STAGES]| core::array::from_fn(|i| a[i] * b[i]);
        let (c1, c2, c3, c4) = (one(1), one(2), one(3), one(4));
        let ac = graft(&|j| c1[j]);
        let ac2 = graft(&|j| c2[j]);
        let ac3 = graft(&|j| c3[j]);
        let aac = graft(&|j| ac[j]);
        let aac2 = graft(&|j| ac2[j]);
        let acac = graft(&|j| c1[j] * ac[j]);
        let aaac = graft(&|j| aac[j]);
        vec![
            (1, one(0), 1.0),
            (2, c1, 1.0 / 2.0),
            (3, c2, 1.0 / 3.0),
            (3, ac, 1.0 / 6.0),
            (4, c3, 1.0 / 4.0),
            (4, times(c1, ac), 1.0 / 8.0),
            (4, ac2, 1.0 / 12.0),
            (4, aac, 1.0 / 24.0),
            (5, c4, 1.0 / 5.0),
            (5, times(c2, ac), 1.0 / 10.0),
            (5, times(ac, ac), 1.0 / 20.0),
            (5, times(c1, ac2), 1.0 / 15.0),
            (5, ac3, 1.0 / 20.0),
            (5, times(c1, aac), 1.0 / 30.0),
            (5, acac, 1.0 / 40.0),
            (5, aac2, 1.0 / 60.0),
            (5, aaac, 1.0 / 120.0),
        ]
    }

    #[test]
    fn every_stage_stands_at_its_time() {
        for (row, time) in WEIGHTS.iter().zip(TIMES) {
            assert!((row.iter().sum::<f64>() - time).abs() < 1e-14);
        }
    }

    #[test]
    fn the_result_has_order_five() {
        let weight = |i: usize| if i < 6 { WEIGHTS[6][i] } else { 0.0 };
        for (order, tree, wanted) in trees() {
            assert!((sum(|i| weight(i) * tree[i]) - wanted).abs() < 1e-14, "order {order}");
        }
    }

    #[test]
    fn the_error_estimate_has_order_four_and_not_five() {
        for (order, tree, _) in trees() {
            let share = sum(|i| ERROR[i] * tree[i]);
            assert!((order == 5) == (share.abs() > 1e-6) || order == 5, "order {order}: {share}");
        }
        assert!(trees().iter().any(|(_, tree, _)| sum(|i| ERROR[i] * tree[i]).abs() > 1e-5));
    }

    /// Weights of the stages at the share `theta` of the step.
    fn weights_at(theta: f64) -> [f64; STAGES] {
        INTERPOLANT.map(|[a, b, c, d]| theta * (a + theta * (b + theta * (c + theta * d))))
    }

    #[test]
    fn the_interpolant_has_order_four_everywhere_and_ends_in_the_result() {
        for theta in [0.1, 0.37, 0.5, 0.9, 1.0] {
            let weights = weights_at(theta);
            for (order, tree, wanted) in trees().into_iter().filter(|(order, ..)| *order < 5) {
                let got = sum(|i| weights[i] * tree[i]);
                assert!((got - wanted * theta.powi(order)).abs() < 1e-12, "{theta} {order}");
            }
        }
        for (got, wanted) in weights_at(1.0).iter().zip(WEIGHTS[6]) {
            assert!((got - wanted).abs() < 1e-13);
        }
    }
}
