//! The unknowns that have few values: every combination of them is a stratum
//! of its own, so that a rare value is never left to luck.

use crate::{
    sampling::{Domain, Scrambled},
    scenario::{InputId, Inputs},
    uncertain::Distribution,
};

/// Most strata; beyond it the unknowns with most values are drawn like others.
const MOST: usize = 24;

/// One combination of the values of those unknowns.
pub(super) struct Cell {
    /// Its share of what is thought possible.
    pub(super) weight: f64,
    /// The part (0..1) of each unknown's distribution that it takes up: all of
    /// it for an unknown with many values.
    parts: Vec<[f64; 2]>,
}

/// The cells, and which unknowns differ within them.
pub(super) struct Strata {
    pub(super) cells: Vec<Cell>,
    pub(super) open: Vec<usize>,
}

impl Strata {
    pub(super) fn of(inputs: &Inputs, unknown: &[InputId]) -> Self {
        let parts: Vec<Option<Vec<[f64; 2]>>> =
            unknown.iter().map(|id| values(&inputs.get(*id).distribution)).collect();
        let mut order: Vec<usize> = (0..parts.len()).filter(|k| parts[*k].is_some()).collect();
        let count = |k: &usize| parts[*k].as_ref().map_or(1, Vec::len);
        order.sort_by_key(count);
        let mut cells = vec![Cell { weight: 1.0, parts: vec![[0.0, 1.0]; unknown.len()] }];
        let mut open: Vec<usize> = (0..parts.len()).filter(|k| parts[*k].is_none()).collect();
        for k in order {
            let Some(values) = parts[k].as_ref().filter(|v| v.len() * cells.len() <= MOST) else {
                open.push(k);
                continue;
            };
            let split = |cell: &Cell| {
                let cells = values.iter().map(|part| {
                    let mut parts = cell.parts.clone();
                    parts[k] = *part;
                    Cell { weight: cell.weight * (part[1] - part[0]), parts }
                });
                cells.collect::<Vec<_>>()
            };
            cells = cells.iter().flat_map(split).collect();
        }
        open.sort_unstable();
        Self { cells, open }
    }
}

impl Cell {
    /// `count` worlds of the cell, spread evenly over what is open in it: where
    /// each unknown lies in its distribution, 0..1. An unknown that has one
    /// value here lies in the middle of it.
    pub(super) fn worlds(&self, open: &[usize], count: u32, seed: u64) -> Vec<Vec<f64>> {
        let points = Scrambled::new(seed, Domain::UNKNOWN);
        let middle = || self.parts.iter().map(|[from, to]| f64::midpoint(*from, *to)).collect();
        (0..count)
            .map(|point| {
                let mut at: Vec<f64> = middle();
                for (dimension, k) in (0..).zip(open) {
                    at[*k] = points.coordinate(0, point, dimension).unwrap_or(0.5);
                }
                at
            })
            .collect()
    }
}

/// The parts of a distribution of few values; `None` of many.
pub(super) fn values(distribution: &Distribution) -> Option<Vec<[f64; 2]>> {
    let choice = match distribution {
        Distribution::Choice(choice) => choice,
        Distribution::Truncated(cut) => match cut.inner() {
            Distribution::Choice(choice) => choice,
            _ => return None,
        },
        _ => return None,
    };
    let parts = choice
        .values()
        .iter()
        .map(|value| [distribution.cdf_below(*value).max(0.0), distribution.cdf(*value).min(1.0)]);
    Some(parts.filter(|[from, to]| to > from).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rare_value_is_a_stratum_with_its_exact_weight() {
        let choice = Distribution::choice(&[50.0, 500.0], &[1.0, 99_999.0]).unwrap();
        let parts = values(&choice).unwrap();
        assert_eq!(parts.len(), 2);
        assert!((parts[0][1] - 1e-5).abs() < 1e-15 && parts[1][0] <= parts[0][1]);
        let weak = choice.quantile(f64::midpoint(parts[0][0], parts[0][1]));
        assert!((weak - 50.0).abs() < 1e-12);
        let cut = Distribution::choice(&[1.0, 2.0, 3.0], &[1.0, 1.0, 2.0]).unwrap();
        let cut = cut.truncated(1.5, f64::INFINITY).unwrap();
        let parts = values(&cut).unwrap();
        assert!(parts.len() == 2 && (parts[0][1] - 1.0 / 3.0).abs() < 1e-12, "{parts:?}");
        assert!(values(&Distribution::uniform(0.0, 1.0).unwrap()).is_none());
    }
}
