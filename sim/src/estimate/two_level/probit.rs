//! A probit on how far out the unknowns lie.

use crate::{
    math::ln,
    uncertain::{normal_cdf, normal_density, normal_quantile},
};
use rand::{Rng, RngExt};
use rand_distr::StandardNormal;

/// Prior precision of every coefficient but the constant.
const RIDGE: f64 = 0.01;

/// Unknowns that enter with all their products.
const PAIRED: usize = 6;

/// Most rounds of scoring.
const ROUNDS: usize = 60;

/// How far out an unknown lies, as a fit sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Score {
    /// Its normal score: right where what is not known is spread like a bell.
    Normal,
    /// Its place in its distribution, with a variance of 1: right where it is
    /// spread evenly between two ends.
    Even,
}

impl Score {
    pub(super) const BOTH: [Self; 2] = [Self::Normal, Self::Even];

    fn of(self, u: f64) -> f64 {
        match self {
            Self::Normal => normal_quantile(u),
            Self::Even => 12.0_f64.sqrt() * (u - 0.5),
        }
    }
}

/// Which terms of the scores enter: the constant, each score, its square and
/// cube (as Hermite polynomials), and products of those that matter most.
pub(super) struct Basis {
    score: Score,
    cubes: bool,
    pairs: Vec<(usize, usize)>,
}

impl Basis {
    fn of(score: Score, cubes: bool, paired: &[usize]) -> Self {
        let mut pairs = Vec::new();
        for (place, &i) in paired.iter().enumerate() {
            pairs.extend(paired[..place].iter().map(|&j| (j, i)));
        }
        Self { score, cubes, pairs }
    }

    /// For groups at these places (0..1) with (held, flights); `None` if there
    /// are too few groups to check a fit.
    pub(super) fn choose(score: Score, places: &[Vec<f64>], counts: &[(u64, u64)]) -> Option<Self> {
        let width = places.first()?.len();
        let mut order: Vec<usize> = (0..width).collect();
        if width > PAIRED {
            let plain = Self::of(score, false, &[]);
            let rows: Vec<Vec<f64>> = places.iter().map(|at| plain.row(at)).collect();
            let fit = Probit::fit(&rows, counts)?;
            let effect = |k: &usize| fit.coefficients[1 + k].abs();
            order.sort_by(|a, b| effect(b).total_cmp(&effect(a)));
            order.truncate(PAIRED);
        }
        let enough = |basis: &Self| {
            let terms = basis.row(&places[0]).len();
            places.len() >= terms + terms / 2 + 4
        };
        [true, false].map(|cubes| Self::of(score, cubes, &order)).into_iter().find(enough)
    }

    /// The terms at these places.
    pub(super) fn row(&self, at: &[f64]) -> Vec<f64> {
        let z: Vec<f64> = at.iter().map(|u| self.score.of(*u)).collect();
        let mut row = vec![1.0];
        row.extend_from_slice(&z);
        row.extend(z.iter().map(|z| z * z - 1.0));
        if self.cubes {
            row.extend(z.iter().map(|z| z * (z * z - 3.0)));
        }
        row.extend(self.pairs.iter().map(|(i, j)| z[*i] * z[*j]));
        row
    }
}

/// A fitted probit.
pub(super) struct Probit {
    coefficients: Vec<f64>,
    /// Cholesky factor of the information, lower triangle, row by row.
    factor: Vec<f64>,
    /// Twice what the groups' own shares would gain in ln likelihood.
    pub(super) deviance: f64,
    groups: usize,
}

impl Probit {
    /// By Fisher scoring with step halving; `None` where the information is
    /// not that of any fit.
    ///
    /// `rows`: groups x terms; `counts`: (held, flights) of each.
    pub(super) fn fit(rows: &[Vec<f64>], counts: &[(u64, u64)]) -> Option<Self> {
        let terms = rows.first()?.len();
        let (held, flights) = counts.iter().fold((0, 0), |sum, c| (sum.0 + c.0, sum.1 + c.1));
        let share = held as f64 / flights as f64;
        let mut b = vec![0.0; terms];
        b[0] = normal_quantile(share.clamp(1e-6, 1.0 - 1e-6));
        let mut current = likelihood(rows, counts, &b);
        for _ in 0..ROUNDS {
            let (slope, factor) = scoring(rows, counts, &b)?;
            let step = solve(&factor, &slope);
            let (mut part, mut next) = (1.0, b.clone());
            let gain = loop {
                for (next, (b, step)) in next.iter_mut().zip(b.iter().zip(&step)) {
                    *next = b + part * step;
                }
                let gain = likelihood(rows, counts, &next) - current;
                if gain >= 0.0 || part < 1e-6 {
                    break gain;
                }
                part *= 0.5;
            };
            if gain <= 0.0 {
                break;
            }
            b = next;
            current += gain;
            if gain < 1e-9 {
                break;
            }
        }
        let (_, factor) = scoring(rows, counts, &b)?;
        let deviance =
            2.0 * rows.iter().zip(counts).map(|(row, c)| gap(dot(row, &b), *c)).sum::<f64>();
        Some(Self { coefficients: b, factor, deviance, groups: rows.len() })
    }

    /// Groups less terms.
    pub(super) fn freedom(&self) -> f64 {
        self.groups as f64 - self.coefficients.len() as f64
    }

    /// The chance at a row of terms.
    pub(super) fn chance(&self, row: &[f64]) -> f64 {
        normal_cdf(dot(row, &self.coefficients))
    }

    /// The fit as it might have come out as well.
    pub(super) fn redrawn(&self, dice: &mut impl Rng) -> Self {
        let wide = (self.deviance / self.freedom().max(1.0)).max(1.0).sqrt();
        let normals = dice.sample_iter(StandardNormal).take(self.coefficients.len());
        let z: Vec<f64> = normals.map(|z: f64| wide * z).collect();
        let step = back(&self.factor, z);
        let coefficients = self.coefficients.iter().zip(step).map(|(b, s)| b + s).collect();
        Self { coefficients, factor: Vec::new(), ..*self }
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// ln of the normal distribution function, far out too.
fn ln_cdf(x: f64) -> f64 {
    if x > -10.0 {
        return ln(normal_cdf(x));
    }
    let square = x * x;
    -0.5 * square - ln(-x) - 0.918_938_533_204_672_7 - 1.0 / square
}

/// Density over distribution function, far out too.
fn mills(x: f64) -> f64 {
    if x > -10.0 { normal_density(x) / normal_cdf(x) } else { -x - 1.0 / x }
}

/// ln likelihood with the ridge's part.
fn likelihood(rows: &[Vec<f64>], counts: &[(u64, u64)], b: &[f64]) -> f64 {
    let counted: f64 = rows
        .iter()
        .zip(counts)
        .map(|(row, (k, n))| {
            let eta = dot(row, b);
            let part =
                |count: u64, eta: f64| if count == 0 { 0.0 } else { count as f64 * ln_cdf(eta) };
            part(*k, eta) + part(n - k, -eta)
        })
        .sum();
    counted - 0.5 * RIDGE * b[1..].iter().map(|b| b * b).sum::<f64>()
}

/// ln likelihood that a group's own share gains over its fitted chance.
fn gap(eta: f64, (k, n): (u64, u64)) -> f64 {
    let part = |count: u64, eta: f64| {
        if count == 0 { 0.0 } else { count as f64 * (ln(count as f64 / n as f64) - ln_cdf(eta)) }
    };
    part(k, eta) + part(n - k, -eta)
}

/// Slope of the ln likelihood, and the Cholesky factor of the information.
fn scoring(rows: &[Vec<f64>], counts: &[(u64, u64)], b: &[f64]) -> Option<(Vec<f64>, Vec<f64>)> {
    let terms = b.len();
    let mut slope: Vec<f64> =
        b.iter().enumerate().map(|(i, b)| if i == 0 { 0.0 } else { -RIDGE * b }).collect();
    let mut information = vec![0.0; terms * (terms + 1) / 2];
    for (i, place) in (0..terms).map(|i| (i, i * (i + 1) / 2 + i)) {
        information[place] = if i == 0 { 1e-12 } else { RIDGE };
    }
    for (row, (k, n)) in rows.iter().zip(counts) {
        let eta = dot(row, b);
        let (for_it, against) = (mills(eta), mills(-eta));
        let pull = *k as f64 * for_it - (n - k) as f64 * against;
        let weight = *n as f64 * for_it * against;
        for (i, x) in row.iter().enumerate() {
            slope[i] += pull * x;
            for (j, y) in row[..=i].iter().enumerate() {
                information[i * (i + 1) / 2 + j] += weight * x * y;
            }
        }
    }
    Some((slope, cholesky(information, terms)?))
}

fn cholesky(mut a: Vec<f64>, size: usize) -> Option<Vec<f64>> {
    let at = |i: usize, j: usize| i * (i + 1) / 2 + j;
    for i in 0..size {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| a[at(i, k)] * a[at(j, k)]).sum();
            let rest = a[at(i, j)] - sum;
            if i == j {
                let proper = rest > 0.0;
                if !proper {
                    return None;
                }
                a[at(i, i)] = rest.sqrt();
            } else {
                a[at(i, j)] = rest / a[at(j, j)];
            }
        }
    }
    Some(a)
}

/// Solves `L L' x = y`.
fn solve(factor: &[f64], y: &[f64]) -> Vec<f64> {
    let at = |i: usize, j: usize| i * (i + 1) / 2 + j;
    let mut x = y.to_vec();
    for i in 0..x.len() {
        let sum: f64 = (0..i).map(|k| factor[at(i, k)] * x[k]).sum();
        x[i] = (x[i] - sum) / factor[at(i, i)];
    }
    back(factor, x)
}

/// Solves `L' x = y`.
fn back(factor: &[f64], y: Vec<f64>) -> Vec<f64> {
    let at = |i: usize, j: usize| i * (i + 1) / 2 + j;
    let mut x = y;
    for i in (0..x.len()).rev() {
        let sum: f64 = (i + 1..x.len()).map(|k| factor[at(k, i)] * x[k]).sum();
        x[i] = (x[i] - sum) / factor[at(i, i)];
    }
    x
}
