//! From draw numbers to rows of values.

use super::Change;
use crate::{
    sampling::{Domain, Stream},
    scenario::{Input, Inputs},
};
use std::ops::Range;

/// The draws of one seed for one scenario's inputs.
#[derive(Clone, Debug)]
pub struct Draws<'a> {
    inputs: &'a Inputs,
    seed: u64,
    stream: Stream,
    /// The uncertain inputs: places in the row, and slots in the stream.
    places: Vec<usize>,
    slots: Vec<u32>,
    /// A row with every input at its median: right for the fixed ones.
    fixed: Vec<f64>,
    changes: Vec<Change>,
}

/// Rows of a batch of draws.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    /// Draws x inputs, row-major, SI values.
    pub values: Vec<f64>,
    /// Draws x uncertain inputs, row-major: where in its own distribution each
    /// value lies, 0..1 (correlation already in).
    pub ranks: Vec<f64>,
}

impl<'a> Draws<'a> {
    /// The draws of `seed`, with some inputs changed.
    #[must_use]
    pub fn new(inputs: &'a Inputs, seed: u64, changes: &[Change]) -> Self {
        let places: Vec<usize> = inputs.uncertain().map(|id| id.0).collect();
        let slots = places.iter().map(|&place| inputs.list()[place].slot).collect();
        let median = |input: &Input| input.distribution.quantile(0.5);
        let mut draws = Self {
            inputs,
            seed,
            stream: Stream::new(seed, Domain::DRAWS),
            places,
            slots,
            fixed: inputs.list().iter().map(median).collect(),
            changes: changes.to_vec(),
        };
        let mut fixed = std::mem::take(&mut draws.fixed);
        draws.change(&mut fixed);
        draws.fixed = fixed;
        draws
    }

    /// The seed.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// Places in a row of the uncertain inputs, in the order of [`Rows::ranks`].
    #[must_use]
    pub fn uncertain(&self) -> &[usize] {
        &self.places
    }

    /// The row with every input at its median.
    #[must_use]
    pub fn middle(&self) -> Vec<f64> {
        self.fixed.clone()
    }

    /// Fills `rows` with the draws of a range.
    pub fn fill(&self, draws: Range<u64>, rows: &mut Rows) {
        self.start(draws.end - draws.start, rows);
        let (width, uncertain) = (self.fixed.len(), self.places.len());
        for (k, draw) in draws.enumerate() {
            let ranks = &mut rows.ranks[k * uncertain..(k + 1) * uncertain];
            let values = &mut rows.values[k * width..(k + 1) * width];
            self.stream.fill(draw, &self.slots, ranks);
            self.transform(ranks, values);
        }
    }

    /// Fills `rows` from points of the unit cube of the uncertain inputs,
    /// independent before correlation. `points`: draws x uncertain, row-major.
    pub fn fill_from(&self, points: &[f64], rows: &mut Rows) {
        let (width, uncertain) = (self.fixed.len(), self.places.len());
        let count = points.len().checked_div(uncertain).unwrap_or(0);
        self.start(count as u64, rows);
        rows.ranks.copy_from_slice(points);
        let ranks = rows.ranks.chunks_exact_mut(uncertain.max(1));
        for (ranks, values) in ranks.zip(rows.values.chunks_exact_mut(width)) {
            self.transform(ranks, values);
        }
    }

    /// The points of the unit cube behind a range of draws, independent before
    /// correlation: [`Draws::fill_from`] makes the same rows of them.
    #[must_use]
    pub fn points(&self, draws: Range<u64>) -> Vec<f64> {
        let mut points = Vec::new();
        let mut point = vec![0.0; self.places.len()];
        for draw in draws {
            self.stream.fill(draw, &self.slots, &mut point);
            points.extend_from_slice(&point);
        }
        points
    }

    #[expect(clippy::expect_used, reason = "a batch is a few thousand draws")]
    fn start(&self, count: u64, rows: &mut Rows) {
        let count = usize::try_from(count).expect("a batch fits in memory");
        rows.values.clear();
        rows.values.reserve(count * self.fixed.len());
        for _ in 0..count {
            rows.values.extend_from_slice(&self.fixed);
        }
        rows.ranks.clear();
        rows.ranks.resize(count * self.places.len(), 0.5);
    }

    fn transform(&self, ranks: &mut [f64], values: &mut [f64]) {
        for (&place, &rank) in self.places.iter().zip(ranks.iter()) {
            values[place] = rank;
        }
        self.inputs.copula().apply(values);
        for (&place, rank) in self.places.iter().zip(ranks) {
            *rank = values[place];
            values[place] = self.inputs.list()[place].distribution.quantile(*rank);
        }
        for change in &self.changes {
            match *change {
                Change::Set(id, value) => values[id.0] = value,
                // A fixed input was changed once and for all.
                Change::Times(id, factor) if self.places.contains(&id.0) => values[id.0] *= factor,
                Change::Times(..) => {}
            }
        }
    }

    fn change(&self, row: &mut [f64]) {
        for change in &self.changes {
            match *change {
                Change::Set(id, value) => row[id.0] = value,
                Change::Times(id, factor) => row[id.0] *= factor,
            }
        }
    }
}
