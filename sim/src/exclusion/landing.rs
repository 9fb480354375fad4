//! The claim with its target taken away, and where each draw lands.

use super::measure::Measure;
use crate::{
    chain::{Breach, Claim, Outcome},
    engine::{Change, ClaimState, Draws, Order, Progress, run_picking},
    estimate::rare::LimitState,
    scenario::Scenario,
};
use std::f64::consts::PI;

/// Where the target is taken to, in m downrange: farther than anything flies.
const AWAY: f64 = 1e5;

/// Score of a draw that never comes loose, before its shortfall: behind every
/// draw that does.
const HELD: f64 = 1e6;

/// Where one flight came down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Where its centre was, x and y in m, from the middle of the release.
    pub at: [f64; 2],
    /// Speed over the ground, in m/s.
    pub speed: f64,
    /// Kinetic energy, in J.
    pub energy: f64,
    /// It was still in the air when the clock ran out.
    pub in_air: bool,
    /// It could not be integrated to its end.
    pub failed: bool,
}

/// A claim without its target.
pub(super) struct Open<'a> {
    claim: &'a Claim,
    changes: Vec<Change>,
    pub(super) centre: [f64; 2],
    pub(super) edge: f64,
}

impl<'a> Open<'a> {
    pub(super) fn new(claim: &'a Claim) -> Self {
        let scenario = claim.scenario();
        let changes = taken_away(scenario);
        let middle = Draws::new(&scenario.inputs, 0, &changes).middle();
        let [x, y, _] = scenario.release.place().map(|id| middle[id.0]);
        Self { claim, changes, centre: [x, y], edge: claim.body(&middle).bounding_radius() }
    }

    /// Flies the draws from 0; `None` in the place of those that never come
    /// loose.
    pub(super) fn fly(
        &self,
        seed: u64,
        flights: u64,
        progress: &impl Progress,
    ) -> Vec<Option<Landing>> {
        let order = Order { changes: self.changes.clone(), ..Order::new(seed, 0..flights) };
        run_picking(self.claim, &order, progress, |outcome| Some(self.landing(outcome))).1
    }

    fn landing(&self, outcome: &Outcome) -> Option<Landing> {
        outcome.released.then(|| Landing {
            at: self.at_the_end(outcome),
            speed: outcome.end_speed,
            energy: outcome.end_energy,
            in_air: outcome.breaches.has(Breach::Deadline),
            failed: [Breach::Failed, Breach::Spent].into_iter().any(|it| outcome.breaches.has(it)),
        })
    }

    fn at_the_end(&self, outcome: &Outcome) -> [f64; 2] {
        let end = outcome.rest.unwrap_or(outcome.end);
        [end.x - self.centre[0], end.y - self.centre[1]]
    }

    /// The claim as a function of standard normal numbers whose smallest values
    /// lie farthest by a measure.
    pub(super) fn by(&self, measure: Measure) -> By<'_> {
        By { open: self, state: ClaimState::new(self.claim, &self.changes), measure }
    }
}

/// Everything of the target far downrange, upright, and looking back: no flight
/// meets it, and none goes through its plane.
fn taken_away(scenario: &Scenario) -> Vec<Change> {
    let motion = &scenario.target.motion;
    let mut changes = vec![Change::Set(motion.at, AWAY), Change::Set(motion.speed, 0.0)];
    for face in &scenario.target.faces {
        changes.extend([Change::Set(face.facing, PI), Change::Set(face.rake, 0.0)]);
    }
    changes
}

/// See [`Open::by`].
pub(super) struct By<'a> {
    open: &'a Open<'a>,
    state: ClaimState<'a>,
    measure: Measure,
}

impl LimitState for By<'_> {
    fn dimension(&self) -> usize {
        self.state.dimension()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        self.state.measured(points, out, |outcome| {
            if outcome.released {
                -self.measure.of(self.open.at_the_end(outcome))
            } else {
                HELD + outcome.shortfall
            }
        });
    }
}
