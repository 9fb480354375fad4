//! How many trials a mean and an interval need: the adaptive procedure of
//! JCGM 101.

use super::{Moments, quantile};
use crate::math::{log10, pow};

/// What is asked of [`propagate`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adaptive {
    /// Coverage probability of the interval, in (0, 1).
    pub level: f64,
    /// Significant digits of the standard uncertainty that must be settled: 1
    /// or 2.
    pub digits: i32,
    /// Most batches, at least 2.
    pub batches: u64,
}

impl Default for Adaptive {
    fn default() -> Self {
        Self { level: 0.95, digits: 2, batches: 200 }
    }
}

/// What [`propagate`] found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Propagated {
    /// Estimate: mean of all values.
    pub mean: f64,
    /// Standard uncertainty: standard deviation of all values.
    pub uncertainty: f64,
    /// Ends of the probabilistically symmetric interval.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Trials used.
    pub trials: u64,
    /// Numerical tolerance that belongs to the digits asked for.
    pub tolerance: f64,
    /// Whether all four results were settled to the tolerance within the
    /// batches allowed.
    pub settled: bool,
}

impl Adaptive {
    /// Trials in a batch: max(10^4, 100 / (1 - level)).
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "positive; a level so near 1 that it overflows saturates"
    )]
    pub fn batch(&self) -> usize {
        (100.0 / (1.0 - self.level)).ceil().max(1e4) as usize
    }
}

/// Runs batches until mean, uncertainty and interval are settled.
///
/// `model` fills a batch with values; it is given the index of the batch's
/// first trial.
///
/// Source: JCGM 101:2008, 7.9 (steps from memory).
pub fn propagate(asked: &Adaptive, mut model: impl FnMut(u64, &mut [f64])) -> Propagated {
    let size = asked.batch();
    let mut all: Vec<f64> = Vec::new();
    let mut spreads = [Moments::new(); 4];
    let mut batch = vec![0.0; size];
    let mut whole = Moments::new();
    let (mut tolerance, mut settled) = (0.0, false);
    let mut h = 0;
    while !settled && h < asked.batches.max(2) {
        model(h * size as u64, &mut batch);
        all.extend_from_slice(&batch);
        for value in &batch {
            whole.push(*value);
        }
        for (spread, value) in spreads.iter_mut().zip(summary(&mut batch, asked.level)) {
            spread.push(value);
        }
        h += 1;
        tolerance = numerical_tolerance(whole.sd(), asked.digits);
        settled = h >= 2 && spreads.iter().all(|s| 2.0 * s.standard_error() <= tolerance);
    }
    let trials = all.len() as u64;
    let [mean, uncertainty, low, high] = summary(&mut all, asked.level);
    Propagated { mean, uncertainty, low, high, trials, tolerance, settled }
}

/// Half a unit of the last of `digits` significant digits of a standard
/// uncertainty.
///
/// Source: JCGM 101:2008, 7.9.2.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "a decimal exponent")]
pub fn numerical_tolerance(uncertainty: f64, digits: i32) -> f64 {
    if uncertainty <= 0.0 {
        return 0.0;
    }
    let place = |u: f64| log10(u).floor() as i32 - (digits - 1);
    // Rounding may carry into a new leading digit: 0.0996 is 10e-2, not 99e-3.
    let unit = pow(10.0, f64::from(place(uncertainty)));
    let rounded = (uncertainty / unit).round() * unit;
    let slack = 1.0 + 1e-12;
    0.5 * pow(10.0, f64::from(place(rounded * slack)))
}

/// Mean, standard deviation and interval; sorts the values.
fn summary(values: &mut [f64], level: f64) -> [f64; 4] {
    let mut moments = Moments::new();
    for x in values.iter() {
        moments.push(*x);
    }
    values.sort_by(f64::total_cmp);
    let tail = 0.5 * (1.0 - level);
    let end = |q: f64| quantile(values, q).unwrap_or(f64::NAN);
    [moments.mean(), moments.sd(), end(tail), end(1.0 - tail)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        sampling::{Domain, Stream},
        uncertain::{Copula, Distribution},
    };

    /// Sums four inputs.
    fn sum_of(inputs: [&Distribution; 4], batches: u64) -> Propagated {
        let stream = Stream::new(8, Domain::DRAWS);
        propagate(&Adaptive { batches, ..Adaptive::default() }, |first, out| {
            for (draw, value) in (first..).zip(out) {
                let mut u = [0.0; 4];
                stream.fill(draw, &[0, 1, 2, 3], &mut u);
                *value = inputs.iter().zip(u).map(|(d, u)| d.quantile(u)).sum();
            }
        })
    }

    /// Source: JCGM 101:2008, 9.2, additive model: 3.92, 3.88 and 10.1 with
    /// 17.0; more digits from the closed forms.
    #[test]
    fn the_additive_models_of_the_guide_come_out() {
        let normal = Distribution::normal(0.0, 1.0).unwrap();
        let root3 = 3.0_f64.sqrt();
        let flat = Distribution::uniform(-root3, root3).unwrap();
        let wide = Distribution::uniform(-10.0 * root3, 10.0 * root3).unwrap();
        // Up to 10^6 trials; tolerances are five standard errors of 10^5, the
        // fewest that settle two digits: false alarm below 1e-6.
        for (inputs, u, end, slack) in [
            ([&normal; 4], 2.0, 3.919_927_969_080, 0.06),
            ([&flat; 4], 2.0, 3.879_406_741_348, 0.06),
            ([&flat, &flat, &flat, &wide], 10.148_891_565_092, 17.015_814_099_9, 0.2),
        ] {
            let found = sum_of(inputs, 40);
            assert!(found.trials >= 20_000);
            assert!((found.uncertainty - u).abs() < 0.5 * slack, "{found:?}");
            assert!((found.low + end).abs() < slack, "{found:?}");
            assert!((found.high - end).abs() < slack, "{found:?}");
        }
    }

    /// Source: JCGM 101:2008, 9.3, mass calibration: estimate 1.234 mg,
    /// uncertainty 0.0754 mg, 95 % from 1.0834 to 1.3825 mg; 8 million draws
    /// give 0.07544 and 1.0840 to 1.3830.
    #[test]
    fn the_mass_calibration_of_the_guide_comes_out() {
        let normal = |mean, sd| Distribution::normal(mean, sd).unwrap();
        let flat = |low, high| Distribution::uniform(low, high).unwrap();
        let inputs = [
            normal(100_000.0, 0.05),
            normal(1.234, 0.02),
            flat(1.1, 1.3),
            flat(7000.0, 9000.0),
            flat(7950.0, 8050.0),
        ];
        let stream = Stream::new(9, Domain::DRAWS);
        let asked = Adaptive { batches: 20, ..Adaptive::default() };
        let found = propagate(&asked, |first, out| {
            for (draw, value) in (first..).zip(out) {
                let mut x = [0.0; 5];
                stream.fill(draw, &[0, 1, 2, 3, 4], &mut x);
                for (x, input) in x.iter_mut().zip(&inputs) {
                    *x = input.quantile(*x);
                }
                let buoyancy = (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4]);
                *value = (x[0] + x[1]) * (1.0 + buoyancy) - 100_000.0;
            }
        });
        // Five standard errors of 200 000 trials or fewer (at least 20 000).
        assert!((found.mean - 1.234).abs() < 0.003, "{found:?}");
        assert!((found.uncertainty - 0.07544).abs() < 0.002, "{found:?}");
        assert!((found.low - 1.0840).abs() < 0.006 && (found.high - 1.3830).abs() < 0.006);
    }

    /// Source: JCGM 101:2008, 9.4, comparison loss x1^2 + x2^2 with u = 0.005
    /// each and correlation r; exact mean x1^2 + 2 u^2 and standard deviation
    /// sqrt(4 x1^2 u^2 + 4 u^4 (1 + r^2)), in 1e-6.
    #[test]
    fn the_correlated_comparison_loss_of_the_guide_comes_out() {
        for (r, x1, mean, u) in [
            (0.0, 0.0, 50.0, 50.0),
            (0.0, 0.01, 150.0, 111.803),
            (0.9, 0.0, 50.0, 67.268),
            (0.9, 0.05, 2550.0, 504.505),
        ] {
            // The rank correlation that belongs to r.
            let rho = 6.0 / std::f64::consts::PI * crate::math::asin(0.5 * r);
            let copula = Copula::new(2, &[(0, 1, rho)]).unwrap();
            let inputs = [x1, 0.0].map(|m| Distribution::normal(m, 0.005).unwrap());
            let stream = Stream::new(10, Domain::DRAWS);
            let asked = Adaptive { batches: 12, ..Adaptive::default() };
            let found = propagate(&asked, |first, out| {
                for (draw, value) in (first..).zip(out) {
                    let mut row = [0.0; 2];
                    stream.fill(draw, &[0, 1], &mut row);
                    copula.apply(&mut row);
                    let [a, b] = [0, 1].map(|i| inputs[i].quantile(row[i]));
                    *value = 1e6 * (a * a + b * b);
                }
            });
            // Five standard errors of 20 000 trials or more; the squares have a
            // kurtosis of up to 15.
            assert!((found.mean - mean).abs() < 0.04 * u, "{r} {x1}: {found:?}");
            assert!((found.uncertainty / u - 1.0).abs() < 0.07, "{r} {x1}: {found:?}");
        }
    }

    #[test]
    fn what_cannot_be_settled_in_time_says_so() {
        let normal = Distribution::normal(0.0, 1.0).unwrap();
        let found = sum_of([&normal; 4], 2);
        assert!(!found.settled && found.trials == 20_000);
    }

    /// Source: JCGM 101:2008, 7.9.2: u = 0.0353 has the tolerance 0.0005 at two
    /// digits; 2.04 has 0.05, and 0.5 at one.
    #[test]
    fn the_tolerance_is_half_of_the_last_digit() {
        for (u, digits, tolerance) in
            [(0.0353, 2, 0.0005), (2.04, 2, 0.05), (2.04, 1, 0.5), (0.0996, 2, 0.005)]
        {
            let found = numerical_tolerance(u, digits);
            assert!((found / tolerance - 1.0).abs() < 1e-12, "{u}: {found}");
        }
    }
}
