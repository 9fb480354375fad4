//! Do shots and scenario sit together?
//!
//! Two looks. How much more likely the shots were under the scenario's strength
//! than under next to no knowledge (a Bayes factor: the strength). And how often
//! the scenario, spread and all, would give results at least as surprising as
//! these (a prior-predictive p: the spread too).
//!
//! Source: G. E. P. Box, J. R. Statist. Soc. A 143 (1980) 383 (from memory).

use super::{
    blow::{Blow, Group, gathered},
    strength::{Cell, Strength},
    weigh::ln_chances,
};
use crate::{
    math::{exp, lgamma, ln},
    sampling::{Domain, Stream},
};
use serde::Serialize;

/// Patterns of results that are looked at one by one.
const ENUMERATED: usize = 2048;
/// Patterns drawn where there are more.
const DRAWN: u32 = 1000;
/// The scenario's cells and spreads that stand for all where patterns are many.
const COARSE: usize = 150;
/// See [`COARSE`].
const SPREADS: usize = 5;

/// How far shots and scenario agree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Agreement {
    /// Nothing speaks against it.
    Agree,
    /// The shots sit badly with the scenario.
    Doubt,
    /// The scenario's strength and the shots disagree.
    Strength,
    /// Results are more mixed than the scenario's spread allows.
    Spread,
    /// The number hangs on whether the scenario's strength is to be believed.
    Hangs,
}

impl Agreement {
    /// From the two looks: Bayes factor and p.
    #[must_use]
    pub fn of(factor: f64, p: f64) -> Self {
        if factor < 0.1 || (p < 0.01 && factor < 1.0 / 3.0) {
            Self::Strength
        } else if p < 0.01 {
            Self::Spread
        } else if factor < 1.0 / 3.0 || p < 0.05 {
            Self::Doubt
        } else {
            Self::Agree
        }
    }

    /// Whether a single number for both would mislead.
    #[must_use]
    pub(crate) fn is_conflict(self) -> bool {
        matches!(self, Self::Strength | Self::Spread | Self::Hangs)
    }
}

/// ln of the probabilities of one pattern's parts, cell by cell.
struct Table {
    /// (cell's mass times the spread's, by group: through, then stopped).
    rows: Vec<(f64, Vec<[f64; 2]>)>,
}

impl Table {
    fn new(strength: &Strength, groups: &[Group], coarse: bool) -> Self {
        let (most_cells, most_spreads) =
            if coarse { (COARSE, SPREADS) } else { (strength.cells.len(), SPREADS) };
        let cells = thinned(&strength.cells, most_cells);
        let spreads = strength.spreads.chunks(strength.spreads.len().div_ceil(most_spreads));
        let mut rows = Vec::new();
        for chunk in spreads {
            let weight: f64 = chunk.iter().map(|node| node[1]).sum();
            let spread = chunk[chunk.len() / 2][0];
            for cell in &cells {
                let chances = groups.iter().map(|g| ln_chances(g.ln, g.doubt, cell, spread));
                rows.push((cell.mass * weight, chances.collect()));
            }
        }
        Self { rows }
    }

    /// ln of the probability of so many through in each group, in one order.
    fn ln_probability(&self, groups: &[Group], through: &[u32]) -> f64 {
        let ln_of = |chances: &[[f64; 2]]| {
            let each = chances.iter().zip(groups).zip(through);
            each.map(|((chance, group), k)| {
                let part = |n: u32, l: f64| if n > 0 { f64::from(n) * l } else { 0.0 };
                part(*k, chance[0]) + part(group.shots() - k, chance[1])
            })
            .sum::<f64>()
        };
        let logs: Vec<f64> = self.rows.iter().map(|(_, chances)| ln_of(chances)).collect();
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let sum: f64 = logs.iter().zip(&self.rows).map(|(l, (mass, _))| mass * exp(l - top)).sum();
        top + ln(sum)
    }
}

/// At most so many cells, neighbours joined.
fn thinned(cells: &[Cell], most: usize) -> Vec<Cell> {
    let size = cells.len().div_ceil(most.max(1)).max(1);
    let joined = |chunk: &[Cell]| {
        let mass: f64 = chunk.iter().map(|cell| cell.mass).sum();
        let mean = chunk.iter().map(|cell| cell.mass * cell.ln).sum::<f64>() / mass;
        Cell { ln: mean, width: chunk.iter().map(|cell| cell.width).sum(), mass }
    };
    cells.chunks(size).map(joined).collect()
}

/// How often the scenario's prior would give results no likelier than these.
pub(super) fn surprise(strength: &Strength, blows: &[Blow]) -> f64 {
    let groups = gathered(blows, 0.0);
    let patterns = groups.iter().try_fold(1_usize, |product, group| {
        product.checked_mul(group.shots() as usize + 1).filter(|n| *n <= ENUMERATED)
    });
    match patterns {
        Some(count) => enumerated(strength, &groups, count),
        None => drawn(strength, &gathered(blows, 0.05)),
    }
}

fn enumerated(strength: &Strength, groups: &[Group], count: usize) -> f64 {
    let table = Table::new(strength, groups, false);
    let seen: Vec<u32> = groups.iter().map(|group| group.through).collect();
    let limit = table.ln_probability(groups, &seen) + 1e-9;
    let mut through = vec![0_u32; groups.len()];
    let mut p = 0.0;
    for _ in 0..count {
        let one = table.ln_probability(groups, &through);
        if one <= limit {
            let ways: f64 = groups.iter().zip(&through).map(|(g, k)| ln_ways(g.shots(), *k)).sum();
            p += exp(one + ways);
        }
        for (k, group) in through.iter_mut().zip(groups) {
            if *k < group.shots() {
                *k += 1;
                break;
            }
            *k = 0;
        }
    }
    p.clamp(0.0, 1.0)
}

fn drawn(strength: &Strength, groups: &[Group]) -> f64 {
    let table = Table::new(strength, groups, true);
    let seen: Vec<u32> = groups.iter().map(|group| group.through).collect();
    let limit = table.ln_probability(groups, &seen) + 1e-9;
    let stream = Stream::new(1, Domain::SHOTS);
    let total: f64 = table.rows.iter().map(|row| row.0).sum();
    let rarer = (0..DRAWN).filter(|draw| {
        let draw = u64::from(*draw);
        let mut left = stream.uniform(draw, 0) * total;
        let row = table.rows.iter().find(|row| {
            left -= row.0;
            left <= 0.0
        });
        let Some((_, chances)) = row.or(table.rows.last()) else { return false };
        let mut slot = 0;
        let through: Vec<u32> = groups
            .iter()
            .zip(chances)
            .map(|(group, chance)| {
                let p = exp(chance[0]);
                let mut hit = || {
                    slot += 1;
                    u32::from(stream.uniform(draw, slot) < p)
                };
                (0..group.shots()).map(|_| hit()).sum()
            })
            .collect();
        table.ln_probability(groups, &through) <= limit
    });
    rarer.count() as f64 / f64::from(DRAWN)
}

/// ln of the number of ways to have k of n.
fn ln_ways(n: u32, k: u32) -> f64 {
    let f = |n: u32| lgamma(f64::from(n) + 1.0);
    f(n) - f(k) - f(n - k)
}
