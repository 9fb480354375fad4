//! How thickly debris falls on the ground.

use crate::{
    estimate::quantile,
    math::{log10, pow},
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Cells across the middle 99 % of the landings, about.
const ACROSS: f64 = 24.0;

/// A square of the ground.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// Its corner of smallest x and y, in m, from the centre.
    pub corner: [f64; 2],
    /// Flights that land in it.
    pub flights: u64,
}

/// Landings by square of the ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Density {
    /// Side of a square, in m.
    pub side: f64,
    /// All landings.
    pub flights: u64,
    /// Squares with at least one landing, in order of x, then y.
    pub cells: Vec<Cell>,
}

impl Density {
    /// Counts landings (x, y from the centre, in m) in squares of a round size.
    pub(super) fn of(landings: impl Iterator<Item = [f64; 2]> + Clone) -> Self {
        let span = |axis: usize| {
            let mut values: Vec<f64> = landings.clone().map(|at| at[axis]).collect();
            values.sort_unstable_by(f64::total_cmp);
            let at = |q| quantile(&values, q).unwrap_or(0.0);
            at(0.995) - at(0.005)
        };
        let side = round(span(0).max(span(1)) / ACROSS);
        #[expect(clippy::cast_possible_truncation, reason = "at most 1e6 m over at least 1 mm")]
        let place = |value: f64| (value / side).floor() as i64;
        let (mut counts, mut flights) = (BTreeMap::<[i64; 2], u64>::new(), 0);
        for at in landings {
            *counts.entry(at.map(place)).or_default() += 1;
            flights += 1;
        }
        let cells = counts
            .into_iter()
            .map(|(place, flights)| Cell { corner: place.map(|n| n as f64 * side), flights })
            .collect();
        Self { side, flights, cells }
    }

    /// Landings on each square metre of a cell, for one that comes loose.
    #[must_use]
    pub fn per_square_metre(&self, cell: &Cell) -> f64 {
        cell.flights as f64 / self.flights.max(1) as f64 / (self.side * self.side)
    }

    /// The cell with most landings.
    #[must_use]
    pub fn densest(&self) -> Option<&Cell> {
        self.cells.iter().max_by_key(|cell| cell.flights)
    }
}

/// The next of 1, 2, 5 times a power of ten, at least a millimetre.
fn round(length: f64) -> f64 {
    let length = length.max(1e-3);
    let power = pow(10.0, log10(length).floor());
    let lead = [1.0, 2.0, 5.0, 10.0].into_iter().find(|lead| lead * power >= length * 0.999);
    lead.unwrap_or(10.0) * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_landing_is_counted_once_in_squares_of_a_round_side() {
        let landings = || (0..1000).map(|i| [f64::from(i % 50) - 25.0, f64::from(i / 50)]);
        let density = Density::of(landings());
        assert!((density.side - 5.0).abs() < 1e-12, "{}", density.side);
        assert_eq!(density.cells.iter().map(|cell| cell.flights).sum::<u64>(), 1000);
        // One landing on each square metre of 50 by 20.
        let full = density.cells.iter().filter(|cell| cell.flights == 25).count();
        assert_eq!(full, 40);
        let densest = density.densest().unwrap();
        assert!((density.per_square_metre(densest) - 1e-3).abs() < 1e-15);
    }

    #[test]
    fn landings_on_one_spot_have_a_cell_all_the_same() {
        let density = Density::of([[1.0, 2.0]; 3].into_iter());
        assert_eq!(density.cells.len(), 1);
        assert!(density.side > 0.0);
    }
}
