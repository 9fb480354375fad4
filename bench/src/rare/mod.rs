//! Problems with known chances for the rare-event search, and how its answers
//! are held against them.
//!
//! The search is told the score of a problem and nothing else.

mod chains;
mod exact;
mod hidden;
mod measure;
mod several;
mod shapes;

pub use self::measure::{Measured, measure};

use longodds_sim::estimate::rare::{Few, LimitState};

/// A score that says how near a point comes; at or below 0 it happens.
type Score = Box<dyn Fn(&[f64]) -> f64 + Send + Sync>;

/// A problem whose chance is known.
pub struct Problem {
    /// What it is, in a few words.
    pub name: &'static str,
    /// Number of inputs.
    pub inputs: usize,
    /// The chance.
    pub chance: f64,
    choices: Vec<Few>,
    score: Score,
}

impl std::fmt::Debug for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Problem").field("name", &self.name).finish_non_exhaustive()
    }
}

impl Problem {
    fn new(
        name: &'static str,
        inputs: usize,
        chance: f64,
        score: impl Fn(&[f64]) -> f64 + Send + Sync + 'static,
    ) -> Self {
        Self { name, inputs, chance, choices: Vec::new(), score: Box::new(score) }
    }

    /// The first inputs choose among values of these chances.
    fn choosing(mut self, chances: &[&[f64]]) -> Self {
        let few =
            |(coordinate, chances): (usize, &&[f64])| Few { coordinate, chances: chances.to_vec() };
        self.choices = chances.iter().enumerate().map(few).collect();
        self
    }
}

impl LimitState for Problem {
    fn dimension(&self) -> usize {
        self.inputs
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        for (point, score) in points.chunks(self.inputs).zip(out) {
            *score = (self.score)(point);
        }
    }

    fn choices(&self) -> Vec<Few> {
        self.choices.clone()
    }
}

/// All problems, by kind.
#[must_use]
pub fn problems() -> Vec<Problem> {
    let mut all = shapes::problems();
    all.extend(several::problems());
    all.extend(hidden::problems());
    all.extend(chains::problems());
    all
}
