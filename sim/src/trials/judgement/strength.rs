//! What a scenario thinks of a barrier's strength, before any shot.
//!
//! `P(through | x) = Phi((x - mu)/sigma)`, `x` the logarithm of a blow, `mu`
//! that of the blow which half go through at. What the scenario marks as
//! unknown is doubt about `mu` and `sigma`; what it lets vary from blow to blow
//! is part of `sigma`.

use crate::{
    math::{exp, ln},
    scenario::{Barrier, Demand, Inputs},
    uncertain::{Distribution, normal_cdf},
};
use serde::{Deserialize, Serialize};

/// Cells that a continuous prior is cut into; each is weighed by its own
/// probability, so that an edge costs nothing.
const CELLS: u32 = 600;
/// Nodes that stand for a spread that is not known, evenly likely.
const SPREADS: u32 = 15;
/// Smallest spread: no barrier is the same twice.
const LEAST: f64 = 1e-3;
/// Standard deviation of what is thought of a strength of which next to nothing
/// is known: a factor of six either way, nine times in ten (judgement).
pub const WIDE: f64 = 1.1;
/// Spread of an energy from blow to blow that nobody told (judgement).
const USUAL: f64 = 0.4;

/// A stretch of `mu` with its probability.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// Middle, ln of J or m/s (of a factor, where a formula says the rest).
    pub ln: f64,
    /// Width; 0 for a value that is itself likely.
    pub width: f64,
    /// Probability.
    pub mass: f64,
}

/// What is unknown of a strength, and how it varies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Strength {
    /// The unknown median.
    pub cells: Vec<Cell>,
    /// Spreads from blow to blow with their probabilities.
    pub spreads: Vec<[f64; 2]>,
    /// Whether blows are counted in units of what a formula says of them.
    pub by_formula: bool,
    /// Whether the scenario only knows what it withstands.
    pub lower_bound: bool,
}

impl Strength {
    /// A strength whose median is not known, spread out like this; the spreads
    /// from blow to blow with their probabilities, summing to 1.
    #[must_use]
    pub fn new(median: &Distribution, spreads: Vec<[f64; 2]>) -> Self {
        Self { cells: cells(median), spreads, by_formula: false, lower_bound: false }
    }

    /// A barrier's strength as its scenario has it.
    #[must_use]
    pub fn of(barrier: &Barrier, inputs: &Inputs) -> Self {
        let (median, spread) = (inputs.get(barrier.median), inputs.get(barrier.beta));
        let by_formula = barrier.formula.is_some();
        if barrier.lower_bound {
            let usual = if barrier.demand == Demand::NormalSpeed { USUAL / 2.0 } else { USUAL };
            let least = ln(median.distribution.quantile(0.5));
            let mut cells = wide(least);
            cells.retain(|cell| cell.ln >= least);
            return Self {
                cells: whole(cells),
                spreads: vec![[usual, 1.0]],
                by_formula,
                lower_bound: true,
            };
        }
        // What differs from one barrier to the next adds to the spread.
        let (cells, varies) = if median.unknown {
            (cells(&median.distribution), 0.0)
        } else {
            let (mean, variance) = moments(&median.distribution);
            (vec![Cell { ln: mean, width: 0.0, mass: 1.0 }], variance)
        };
        let spreads = if spread.unknown { nodes(&spread.distribution) } else { mean(spread) };
        let widened = |[s, weight]: [f64; 2]| [(s * s + varies).sqrt().max(LEAST), weight];
        Self {
            cells,
            spreads: spreads.into_iter().map(widened).collect(),
            by_formula,
            lower_bound: false,
        }
    }

    /// The scenario's median strength: half of the probability on either side.
    #[must_use]
    pub fn middle(&self) -> f64 {
        let mut below = 0.0;
        for cell in &self.cells {
            if below + cell.mass >= 0.5 {
                let inside = (0.5 - below) / cell.mass - 0.5;
                return cell.ln + cell.width * inside;
            }
            below += cell.mass;
        }
        self.cells.last().map_or(0.0, |cell| cell.ln)
    }

    /// The same with each spread so many times as large.
    #[must_use]
    pub(crate) fn scattered(&self, times: f64) -> Self {
        let spreads = self.spreads.iter().map(|[s, weight]| [times * s, *weight]).collect();
        Self { spreads, ..self.clone() }
    }

    /// The same with a doubt about the spread, where the scenario has none: a
    /// standard deviation of its logarithm of one half (judgement).
    #[must_use]
    pub(crate) fn doubted(&self) -> Self {
        let [[spread, _]] = self.spreads[..] else { return self.clone() };
        let step = |i: u32| 3.5 * (f64::from(i) - 14.0) / 14.0;
        let spreads: Vec<[f64; 2]> = (0..=28)
            .map(|i| [spread * exp(0.5 * step(i)), exp(-0.5 * step(i) * step(i))])
            .collect();
        let sum: f64 = spreads.iter().map(|node| node[1]).sum();
        let spreads = spreads.into_iter().map(|[s, weight]| [s.max(LEAST), weight / sum]).collect();
        Self { spreads, ..self.clone() }
    }
}

/// Next to nothing known: normal about `middle` with [`WIDE`].
#[must_use]
pub(super) fn wide(middle: f64) -> Vec<Cell> {
    const HALF: f64 = 5.0;
    const CELLS: u32 = 500;
    let width = 2.0 * HALF / f64::from(CELLS);
    let edge = |i: u32| -HALF + width * f64::from(i);
    let cell = |i| Cell {
        ln: middle + WIDE * (edge(i) + 0.5 * width),
        width: WIDE * width,
        mass: normal_cdf(edge(i + 1)) - normal_cdf(edge(i)),
    };
    whole((0..CELLS).map(cell).collect())
}

/// A distribution as cells of its logarithm.
fn cells(distribution: &Distribution) -> Vec<Cell> {
    let atom = |value: f64, mass| Cell { ln: ln(value), width: 0.0, mass };
    if let Distribution::Choice(choice) = distribution {
        let pairs = choice.values().iter().zip(choice.chances());
        return pairs.map(|(value, chance)| atom(*value, chance)).collect();
    }
    let [low, high] = [1e-12, 1.0 - 1e-12].map(|u| distribution.quantile(u));
    let middle = distribution.quantile(0.5);
    let low = low.max(1e-6 * middle);
    if high <= low * (1.0 + 1e-9) {
        return vec![atom(middle, 1.0)];
    }
    let (start, width) = (ln(low), ln(high / low) / f64::from(CELLS));
    let below = |i: u32| match i {
        0 => 0.0,
        CELLS => 1.0,
        i => distribution.cdf(exp(start + width * f64::from(i))),
    };
    let cell =
        |i| Cell { ln: start + width * (f64::from(i) + 0.5), width, mass: below(i + 1) - below(i) };
    whole((0..CELLS).map(cell).collect())
}

/// With a probability of 1 in all, and nothing that carries none.
fn whole(mut cells: Vec<Cell>) -> Vec<Cell> {
    cells.retain(|cell| cell.mass > 0.0);
    let sum: f64 = cells.iter().map(|cell| cell.mass).sum();
    for cell in &mut cells {
        cell.mass /= sum;
    }
    cells
}

fn quantiles(distribution: &Distribution, count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |i| distribution.quantile((f64::from(i) + 0.5) / f64::from(count)))
}

/// Mean and variance of the logarithm.
fn moments(distribution: &Distribution) -> (f64, f64) {
    const MANY: u32 = 1000;
    let logs: Vec<f64> = quantiles(distribution, MANY).map(|v| ln(v.max(1e-9))).collect();
    let mean = logs.iter().sum::<f64>() / f64::from(MANY);
    let variance = logs.iter().map(|l| (l - mean) * (l - mean)).sum::<f64>() / f64::from(MANY);
    (mean, variance)
}

/// A spread that is not known, by evenly likely nodes.
fn nodes(distribution: &Distribution) -> Vec<[f64; 2]> {
    if distribution.is_fixed() {
        return vec![[distribution.quantile(0.5), 1.0]];
    }
    if let Distribution::Choice(choice) = distribution {
        let pairs = choice.values().iter().zip(choice.chances());
        return pairs.map(|(value, chance)| [*value, chance]).collect();
    }
    quantiles(distribution, SPREADS).map(|s| [s, 1.0 / f64::from(SPREADS)]).collect()
}

/// A spread that differs from blow to blow counts by its root mean square.
fn mean(spread: &crate::scenario::Input) -> Vec<[f64; 2]> {
    let squares: f64 = quantiles(&spread.distribution, 200).map(|s| s * s).sum();
    vec![[(squares / 200.0).sqrt(), 1.0]]
}
