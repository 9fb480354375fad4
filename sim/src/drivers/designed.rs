//! First-order and total indices by flights made for the purpose.

use crate::{
    estimate::quantile,
    sampling::{Domain, Stream},
};

/// Resamples behind each interval.
const RESAMPLES: u64 = 200;

/// An index with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Index {
    /// Estimate.
    pub estimate: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// What a pick-freeze design found.
#[derive(Clone, Debug, PartialEq)]
pub struct PickFreeze {
    /// Mean of the outcome.
    pub mean: f64,
    /// Its variance.
    pub variance: f64,
    /// Per group, the share of variance that it explains alone.
    pub first: Vec<Index>,
    /// Per group, the share of variance that would be left if all others were
    /// held: with its interactions.
    pub total: Vec<Index>,
    /// Evaluations: rows x (groups + 2).
    pub calls: u64,
}

/// Flies a pick-freeze design.
///
/// `inputs`: number of inputs. `groups`: the inputs whose indices are wanted;
/// inputs that are correlated with each other belong into one group, whose
/// members are exchanged together. `rows`: rows of the base sample, at least 2.
/// `outcome` fills one value for each row of uniform numbers in (0, 1) (rows x
/// inputs, row-major).
///
/// Intervals are percentiles over resampled rows. NaN where the outcome does not
/// vary.
///
/// Source: Saltelli et al., Computer Physics Communications 181 (2010), Table 2
/// (first order), Jansen (1999) (total). (From memory.)
pub fn pick_freeze(
    inputs: usize,
    groups: &[Vec<usize>],
    rows: usize,
    seed: u64,
    mut outcome: impl FnMut(&[f64], &mut [f64]),
) -> PickFreeze {
    let (a, b) = (base(seed, 0, inputs, rows), base(seed, 1, inputs, rows));
    let mut run = |points: &[f64]| {
        let mut out = vec![0.0; rows];
        outcome(points, &mut out);
        out
    };
    let (at_a, at_b) = (run(&a), run(&b));
    let at_exchanged: Vec<Vec<f64>> = groups
        .iter()
        .map(|group| {
            let mut points = a.clone();
            for (to, from) in points.chunks_mut(inputs).zip(b.chunks(inputs)) {
                for i in group {
                    to[*i] = from[*i];
                }
            }
            run(&points)
        })
        .collect();
    let design = Design { at_a, at_b, at_exchanged };
    let whole: Vec<usize> = (0..rows).collect();
    let (mean, variance) = design.moments(&whole);
    let estimates = design.indices(&whole);
    let resamples: Vec<Vec<[f64; 2]>> =
        (0..RESAMPLES).map(|r| design.indices(&resample(seed, r, rows))).collect();
    let index = |group: usize, kind: usize| {
        let mut spread: Vec<f64> = resamples.iter().map(|r| r[group][kind]).collect();
        spread.sort_by(f64::total_cmp);
        let end = |q| quantile(&spread, q).unwrap_or(f64::NAN);
        Index { estimate: estimates[group][kind], low: end(0.025), high: end(0.975) }
    };
    PickFreeze {
        mean,
        variance,
        first: (0..groups.len()).map(|g| index(g, 0)).collect(),
        total: (0..groups.len()).map(|g| index(g, 1)).collect(),
        calls: (rows * (groups.len() + 2)) as u64,
    }
}

/// Outcomes at the two base samples and at the exchanged ones.
struct Design {
    at_a: Vec<f64>,
    at_b: Vec<f64>,
    at_exchanged: Vec<Vec<f64>>,
}

impl Design {
    /// Mean and variance over both base samples.
    fn moments(&self, rows: &[usize]) -> (f64, f64) {
        let n = 2.0 * rows.len() as f64;
        let sum: f64 = rows.iter().map(|r| self.at_a[*r] + self.at_b[*r]).sum();
        let mean = sum / n;
        let square = |x: f64| (x - mean) * (x - mean);
        let squares: f64 = rows.iter().map(|r| square(self.at_a[*r]) + square(self.at_b[*r])).sum();
        (mean, squares / (n - 1.0))
    }

    /// First-order and total index of each group.
    fn indices(&self, rows: &[usize]) -> Vec<[f64; 2]> {
        let (mean, variance) = self.moments(rows);
        let n = rows.len() as f64;
        self.at_exchanged
            .iter()
            .map(|exchanged| {
                let (mut first, mut total) = (0.0, 0.0);
                for r in rows {
                    let (a, b, c) = (self.at_a[*r], self.at_b[*r], exchanged[*r]);
                    // Centred: the mean drops out, and its noise with it.
                    first += (b - mean) * (c - a);
                    total += 0.5 * (a - c) * (a - c);
                }
                [first / (n * variance), total / (n * variance)]
            })
            .collect()
    }
}

fn base(seed: u64, which: u32, inputs: usize, rows: usize) -> Vec<f64> {
    let stream = Stream::new(seed, Domain::DESIGN.part(which));
    let slots: Vec<u32> = (0..).take(inputs).collect();
    let mut points = vec![0.0; rows * inputs];
    for (draw, row) in (0..).zip(points.chunks_mut(inputs.max(1))) {
        stream.fill(draw, &slots, row);
    }
    points
}

/// Rows drawn with replacement.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place below the number of rows"
)]
fn resample(seed: u64, which: u64, rows: usize) -> Vec<usize> {
    let stream = Stream::new(seed, Domain::BOOTSTRAP.part(0));
    (0..).take(rows).map(|slot| (stream.uniform(which, slot) * rows as f64) as usize).collect()
}

/// The Ishigami function of three uniform numbers, a = 7, b = 0.1.
#[cfg(test)]
pub(super) fn ishigami(u: &[f64]) -> f64 {
    use crate::math::sin;
    let x = |i: usize| std::f64::consts::PI * (2.0 * u[i] - 1.0);
    let (s1, s2) = (sin(x(0)), sin(x(1)));
    s1 + 7.0 * s2 * s2 + 0.1 * x(2) * x(2) * x(2) * x(2) * s1
}

#[cfg(test)]
mod tests {
    use super::*;

    fn alone(inputs: usize) -> Vec<Vec<usize>> {
        (0..inputs).map(|i| vec![i]).collect()
    }

    fn each(function: impl Fn(&[f64]) -> f64, inputs: usize) -> impl FnMut(&[f64], &mut [f64]) {
        move |points, out| {
            for (row, y) in points.chunks(inputs).zip(out) {
                *y = function(row);
            }
        }
    }

    /// Source: Ishigami & Homma (1990), closed forms.
    #[test]
    fn the_ishigami_function_has_its_known_indices() {
        let found = pick_freeze(3, &alone(3), 8192, 1, each(ishigami, 3));
        assert!((found.mean - 3.5).abs() < 0.15 && (found.variance - 13.8446).abs() < 0.5);
        let exact = [(0.313_905, 0.557_589), (0.442_411, 0.442_411), (0.0, 0.243_684)];
        for (i, (first, total)) in exact.into_iter().enumerate() {
            // A reference library states 95 % half widths of 0.030, 0.015,
            // 0.009 for this size; twice that.
            assert!((found.first[i].estimate - first).abs() < 0.06, "{found:?}");
            assert!((found.total[i].estimate - total).abs() < 0.04, "{found:?}");
        }
        assert_eq!(found.calls, 5 * 8192);
    }

    /// 120 intervals at 95 %: 114 cover on average, with a standard deviation of
    /// 2.4; those of one run are alike, hence five of them.
    #[test]
    fn intervals_cover_as_often_as_they_say() {
        let exact = [(0.313_905, 0.557_589), (0.442_411, 0.442_411), (0.0, 0.243_684)];
        let mut covered = 0;
        for seed in 0..20 {
            let found = pick_freeze(3, &alone(3), 1000, seed, each(ishigami, 3));
            for (i, (first, total)) in exact.into_iter().enumerate() {
                let holds = |index: &Index, x: f64| u32::from(index.low <= x && x <= index.high);
                covered += holds(&found.first[i], first) + holds(&found.total[i], total);
            }
        }
        assert!(covered >= 102, "{covered}");
    }

    /// Source: g-function of Sobol', a = (0, 1, 9), closed forms.
    #[test]
    fn the_g_function_has_its_known_indices() {
        let a = [0.0, 1.0, 9.0];
        let g = move |u: &[f64]| -> f64 {
            u.iter().zip(a).map(|(u, a)| ((4.0 * u - 2.0).abs() + a) / (1.0 + a)).product()
        };
        let found = pick_freeze(3, &alone(3), 8192, 2, each(g, 3));
        let exact = [(0.741_962, 0.806_472), (0.185_491, 0.248_145), (0.007_420, 0.010_717)];
        for (i, (first, total)) in exact.into_iter().enumerate() {
            assert!((found.first[i].estimate - first).abs() < 0.05, "{found:?}");
            assert!((found.total[i].estimate - total).abs() < 0.04, "{found:?}");
        }
    }

    /// Source: independent windows with chances p whose product is P: first
    /// order (1/p - 1) / (1/P - 1), total (1 - p) / (1 - P).
    #[test]
    fn windows_that_must_all_be_met_have_large_totals_only() {
        let p = [0.5, 0.2, 0.9, 0.05];
        let hit = move |u: &[f64]| f64::from(u8::from(u.iter().zip(p).all(|(u, p)| *u < p)));
        let found = pick_freeze(4, &alone(4), 60_000, 3, each(hit, 4));
        let exact = [0.502_260_170_8, 0.803_616_273_2, 0.100_452_034_2, 0.954_294_325_4];
        for (index, total) in found.total.iter().zip(exact) {
            // Some 270 hits in each sample: 5 % each; four of them.
            assert!((index.estimate - total).abs() < 0.2, "{found:?}");
        }
        assert!(found.first.iter().all(|s| s.estimate < 0.2), "{found:?}");
    }

    #[test]
    fn a_group_of_all_inputs_explains_everything() {
        let found = pick_freeze(3, &[vec![0, 1, 2]], 2000, 4, each(ishigami, 3));
        assert!((found.total[0].estimate - 1.0).abs() < 0.1, "{found:?}");
        assert!((found.first[0].estimate - 1.0).abs() < 0.1, "{found:?}");
    }
}
