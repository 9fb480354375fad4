//! Shots weighed against a strength: a grid over the unknown median, for each
//! spread.
//!
//! Below ten shots, or without some of both kinds, shots do not teach the
//! spread: each of its values keeps the probability that it had (`cut`). Then a
//! stopped shot never raises the chance of any blow, and a harder one lowers it
//! more. Learning the spread from one surprising shot would break both.
//!
//! Source for the laws: both probabilities fall in the median (Chebyshev's
//! association inequality), and the normal distribution function is log-concave.

use super::{
    Estimate,
    blow::Group,
    strength::{Cell, Strength, wide},
};
use crate::{
    math::{exp, ln},
    uncertain::{ln_normal_cdf, normal_cdf},
};

/// Shots from which on the spread is learnt too, if there are some of both
/// kinds (judgement).
const TEACH_SPREAD: u32 = 10;

/// A node of the grid.
#[derive(Clone, Copy, Debug)]
struct Node {
    cell: Cell,
    spread: f64,
    /// Which of the spreads.
    row: usize,
    /// Is it of the scenario's own prior, not of the wide one?
    own: bool,
    /// ln of the probability of the shots.
    ln_likelihood: f64,
    /// Chance that the claim's blows go through.
    chance: f64,
}

/// The grid with the shots on it.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    nodes: Vec<Node>,
    spreads: Vec<[f64; 2]>,
    learns_spread: bool,
    /// Nodes by rising chance.
    order: Vec<usize>,
}

/// Do these shots teach the spread?
pub(super) fn teach_spread(groups: &[Group]) -> bool {
    let through: u32 = groups.iter().map(|group| group.through).sum();
    let stopped: u32 = groups.iter().map(|group| group.stopped).sum();
    through > 0 && stopped > 0 && through + stopped >= TEACH_SPREAD
}

/// ln P(through) and ln P(stopped) of a blow whose logarithm is `x`, known to
/// `doubt`.
pub(super) fn ln_chances(x: f64, doubt: f64, cell: &Cell, spread: f64) -> [f64; 2] {
    let z = (x - cell.ln) / deviation(doubt, cell, spread);
    [ln_normal_cdf(z), ln_normal_cdf(-z)]
}

/// Spread from blow to blow, doubt about the blow, and where in its cell the
/// median lies.
fn deviation(doubt: f64, cell: &Cell, spread: f64) -> f64 {
    (spread * spread + doubt * doubt + cell.width * cell.width / 12.0).sqrt()
}

impl Grid {
    /// `demanded`: the claim's blows (size, share), sizes above 0.
    pub(super) fn new(strength: &Strength, demanded: &[(f64, f64)], groups: &[Group]) -> Self {
        let learns_spread = teach_spread(groups);
        let claimed: Vec<(f64, f64)> =
            demanded.iter().map(|(size, share)| (ln(*size), *share)).collect();
        let vague = wide(strength.middle());
        let both = strength.cells.iter().map(|cell| (*cell, true));
        let cells: Vec<(Cell, bool)> =
            both.chain(vague.iter().map(|cell| (*cell, false))).collect();
        let mut nodes = Vec::with_capacity(cells.len() * strength.spreads.len());
        for (row, &[spread, _]) in strength.spreads.iter().enumerate() {
            for &(cell, own) in &cells {
                let ln_likelihood = groups
                    .iter()
                    .map(|group| {
                        let z = (group.ln - cell.ln) / deviation(group.doubt, &cell, spread);
                        let part = |n: u32, z: f64| match n {
                            0 => 0.0,
                            n => f64::from(n) * ln_normal_cdf(z),
                        };
                        part(group.through, z) + part(group.stopped, -z)
                    })
                    .sum();
                let sd = deviation(0.0, &cell, spread);
                let chance = claimed
                    .iter()
                    .map(|(x, share)| share * normal_cdf((x - cell.ln) / sd))
                    .sum::<f64>()
                    .clamp(0.0, 1.0);
                nodes.push(Node { cell, spread, row, own, ln_likelihood, chance });
            }
        }
        let mut order: Vec<usize> = (0..nodes.len()).collect();
        order.sort_by(|a, b| nodes[*a].chance.total_cmp(&nodes[*b].chance));
        Self { nodes, spreads: strength.spreads.clone(), learns_spread, order }
    }

    /// Weights of the nodes, summing to 1; `own`: how much of the prior is the
    /// scenario's, the rest being wide.
    pub(super) fn weights(&self, own: f64) -> Vec<f64> {
        let prior = |node: &Node| node.cell.mass * if node.own { own } else { 1.0 - own };
        let counted = |node: &&Node| prior(node) > 0.0;
        let tops: Vec<f64> = (0..self.spreads.len())
            .map(|row| {
                let of_row = self.nodes.iter().filter(|node| node.row == row).filter(counted);
                of_row.map(|node| node.ln_likelihood).fold(f64::NEG_INFINITY, f64::max)
            })
            .collect();
        let top = tops.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let against = |row: usize| if self.learns_spread { top } else { tops[row] };
        let mut weights: Vec<f64> = self
            .nodes
            .iter()
            .map(|node| match prior(node) {
                mass if mass > 0.0 => mass * exp(node.ln_likelihood - against(node.row)),
                _ => 0.0,
            })
            .collect();
        let mut sums = vec![0.0; self.spreads.len()];
        for (node, weight) in self.nodes.iter().zip(&weights) {
            sums[node.row] += weight;
        }
        let all: f64 = sums.iter().zip(&self.spreads).map(|(sum, [_, p])| sum * p).sum();
        for (node, weight) in self.nodes.iter().zip(&mut weights) {
            let p = self.spreads[node.row][1];
            *weight *= if self.learns_spread { p / all } else { p / sums[node.row] };
        }
        weights
    }

    /// ln of the probability of the shots under the scenario's prior and under
    /// the wide one.
    pub(super) fn ln_evidences(&self) -> [f64; 2] {
        [true, false].map(|own| {
            let part = || self.nodes.iter().filter(move |node| node.own == own);
            let top = part().map(|node| node.ln_likelihood).fold(f64::NEG_INFINITY, f64::max);
            let sum: f64 = part()
                .map(|node| {
                    self.spreads[node.row][1] * node.cell.mass * exp(node.ln_likelihood - top)
                })
                .sum();
            top + ln(sum)
        })
    }

    /// Share of the weights that lies on the wide prior.
    pub(super) fn wide_share(&self, weights: &[f64]) -> f64 {
        let pairs = self.nodes.iter().zip(weights);
        pairs.filter(|(node, _)| !node.own).map(|(_, weight)| weight).sum()
    }

    /// Chance of the claim's blows: mean, 2.5 and 97.5 %.
    pub(super) fn estimate(&self, weights: &[f64]) -> Estimate {
        let pairs = || {
            let node = |&i: &usize| (self.nodes[i].chance, weights[i], self.nodes[i].cell.width);
            self.order.iter().map(node)
        };
        let mean: f64 = pairs().map(|(chance, weight, _)| chance * weight).sum();
        let [low, high] = [0.025, 0.975].map(|p| reached(pairs(), p));
        Estimate::holding(mean, low, high)
    }

    /// Mean chance that a blow goes through, `x` its logarithm.
    pub(super) fn chance(&self, weights: &[f64], x: f64) -> f64 {
        let pairs = self.nodes.iter().zip(weights).filter(|(_, weight)| **weight > 1e-12);
        pairs
            .map(|(node, weight)| {
                let sd = deviation(0.0, &node.cell, node.spread);
                weight * normal_cdf((x - node.cell.ln) / sd)
            })
            .sum()
    }

    /// Quantile of the median strength.
    pub(super) fn median(&self, weights: &[f64], p: f64) -> f64 {
        let pair = |(node, weight): (&Node, &f64)| (node.cell.ln, *weight, node.cell.width);
        let mut pairs: Vec<(f64, f64, f64)> = self.nodes.iter().zip(weights).map(pair).collect();
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        exp(reached(pairs.into_iter(), p))
    }

    /// Mean spread from blow to blow.
    pub(super) fn spread(&self, weights: &[f64]) -> f64 {
        self.nodes.iter().zip(weights).map(|(node, weight)| node.spread * weight).sum()
    }

    /// The probability of the median strength between edges (ln), for drawing.
    pub(super) fn medians(&self, weights: &[f64], edges: &[f64]) -> Vec<f64> {
        let mut shares = vec![0.0; edges.len().saturating_sub(1)];
        for (node, weight) in self.nodes.iter().zip(weights) {
            let half = 0.5 * node.cell.width;
            let (from, to) = (node.cell.ln - half, node.cell.ln + half);
            for (share, edge) in shares.iter_mut().zip(edges.windows(2)) {
                let inside = if half > 0.0 {
                    (to.min(edge[1]) - from.max(edge[0])).max(0.0) / (to - from)
                } else {
                    f64::from(u8::from(edge[0] <= from && from < edge[1]))
                };
                *share += weight * inside;
            }
        }
        shares
    }
}

/// The value up to which a probability of `p` lies: straight between the
/// middles of cells, at once for a value that is itself likely (width 0).
///
/// `pairs`: (value, weight, width), values rising.
fn reached(pairs: impl Iterator<Item = (f64, f64, f64)>, p: f64) -> f64 {
    let (mut sum, mut before) = (0.0, None);
    for (value, weight, width) in pairs.filter(|pair| pair.1 > 0.0) {
        let middle = sum + 0.5 * weight;
        sum += weight;
        if width > 0.0 {
            if middle >= p {
                let Some((last, at)) = before else { return value };
                return last + (value - last) * (p - at) / (middle - at);
            }
            before = Some((value, middle));
        } else if sum >= p {
            return value;
        } else {
            before = Some((value, sum));
        }
    }
    before.map_or(0.0, |(last, _)| last)
}
