//! A claim as a function of standard normal numbers, for the rare-event search.

use super::{Change, Draws, Flock, Rows, fly_rows};
use crate::{
    chain::{Claim, Outcome},
    estimate::rare::{Few, LimitState},
    uncertain::{normal_cdf, normal_quantile, open_unit},
};
use rayon::prelude::*;

/// Points flown by one task; a constant, though no score depends on it.
const PIECE: usize = 16;

/// Values from which on an input does not have few.
const MANY: usize = 16;

/// A claim with one standard normal number for each uncertain input.
///
/// The numbers are independent; correlation comes in on the way to the values.
#[derive(Clone, Debug)]
pub struct ClaimState<'a> {
    claim: &'a Claim,
    draws: Draws<'a>,
}

impl<'a> ClaimState<'a> {
    /// The claim with some inputs changed.
    #[must_use]
    pub fn new(claim: &'a Claim, changes: &[Change]) -> Self {
        Self { claim, draws: Draws::new(&claim.scenario().inputs, 0, changes) }
    }

    /// The values, and where in their distributions they lie, of one point.
    #[must_use]
    pub fn row(&self, point: &[f64]) -> Rows {
        let mut rows = Rows::default();
        self.draws.fill_from(&cube(point), &mut rows);
        rows
    }

    /// Flies points of standard normal space (points x inputs, row-major) and
    /// says something of each outcome.
    pub fn measured(&self, points: &[f64], out: &mut [f64], say: impl Fn(&Outcome) -> f64 + Sync) {
        self.fly(&cube(points), out, say);
    }

    /// Flies points of the unit cube (points x inputs, row-major) and says
    /// something of each outcome.
    pub fn fly<T: Send>(&self, cube: &[f64], out: &mut [T], say: impl Fn(&Outcome) -> T + Sync) {
        let width = self.dimension().max(1);
        let pieces = cube.par_chunks(PIECE * width).zip(out.par_chunks_mut(PIECE));
        pieces.for_each_init(
            || (Rows::default(), Flock::default()),
            |(rows, flock), (points, out)| {
                self.draws.fill_from(points, rows);
                let (outcomes, _) =
                    fly_rows(self.claim, &rows.values, 0, self.claim.settings(), flock);
                for (said, outcome) in out.iter_mut().zip(outcomes) {
                    *said = say(outcome);
                }
            },
        );
    }

    /// The points of draws of a run with this seed, points x inputs.
    #[must_use]
    pub fn points_of(&self, seed: u64, draws: impl Iterator<Item = u64>) -> Vec<f64> {
        let own = Draws::new(&self.claim.scenario().inputs, seed, &[]);
        let points = draws.flat_map(|draw| own.points(draw..draw + 1));
        points.map(normal_quantile).collect()
    }
}

fn cube(points: &[f64]) -> Vec<f64> {
    points.iter().map(|z| open_unit(normal_cdf(*z))).collect()
}

impl LimitState for ClaimState<'_> {
    fn dimension(&self) -> usize {
        self.draws.uncertain().len()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        let gates = self.claim.gates().len();
        self.fly(&cube(points), out, |outcome| outcome.score(gates));
    }

    fn choices(&self) -> Vec<Few> {
        let inputs = &self.claim.scenario().inputs;
        // Of inputs that are tied to others only the first has its number alone.
        let tied = |place: &usize| inputs.copula().members().iter().skip(1).any(|m| m == place);
        let free = self.draws.uncertain().iter().enumerate().filter(|(_, place)| !tied(place));
        free.filter_map(|(coordinate, place)| {
            let chances = inputs.list()[*place].distribution.chances()?;
            (chances.len() < MANY).then_some(Few { coordinate, chances })
        })
        .collect()
    }
}
