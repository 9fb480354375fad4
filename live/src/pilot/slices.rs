//! Flights in slices: the first by time, the rest by count.

use super::clock::Wait;
use longodds_sim::{
    chain::Claim,
    engine::{Order, Progress, Tally, Unwatched, run},
    sweep::Held,
};
use std::time::Duration;

/// Flights of a slice after the first one, and the most of that.
pub(super) const SLICE: u64 = 2048;

/// Ends of the parts of the first slice.
const PARTS: [u64; 6] = [16, 64, 192, 448, 960, SLICE];

/// A part of the first slice is not begun after this: it takes about as long as those
/// before it together.
const PATIENCE: Duration = Duration::from_millis(18);

/// The first flights of a claim.
pub(super) struct Flown {
    /// What became of them.
    pub(super) tally: Tally,
    /// Which of them held.
    pub(super) held: Held,
}

impl Flown {
    /// None yet.
    pub(super) fn none(claim: &Claim, seed: u64) -> Self {
        let tally = run(claim, &Order::new(seed, 0..0), &Unwatched);
        Self { tally, held: Held::default() }
    }

    /// The first slice: as many as fit the time that a hand waits for. Nothing ends it,
    /// so that a steady drag shows a number at every move that is flown.
    pub(super) fn first(&mut self, claim: &Claim, seed: u64) {
        let wait = Wait::begin();
        for end in PARTS {
            if self.tally.flights() > 0 && wait.is_over(PATIENCE) {
                break;
            }
            self.until(claim, seed, end, &Unwatched);
        }
    }

    /// On until so many flights in all.
    pub(super) fn until(&mut self, claim: &Claim, seed: u64, end: u64, watch: &impl Progress) {
        let more = self.held.fly_until(claim, seed, end, watch);
        self.tally = more.merged(self.tally.clone());
    }
}
