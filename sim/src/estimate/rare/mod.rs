//! Chances too small to be met by flying at random.
//!
//! Plain sampling needs a hundred flights for every success it wants to see a
//! hundred times rarer. Here a search climbs down the chain's own margins
//! (subset simulation), learns where the successes lie, and samples there with
//! weights that undo the preference (importance sampling). Guards compare the
//! methods with each other and with plain sampling; where they disagree, the
//! slower and sturdier method speaks, or the answer is "not resolved".
//!
//! All work is in standard normal space: a point has one independent standard
//! normal number per uncertain input, so that correlated inputs and discrete
//! choices need nothing special.
//!
//! Sources: Au & Beck, Probabilistic Engineering Mechanics 16 (2001) (subset
//! simulation and its coefficient of variation); Papaioannou, Betz, Zwirglmaier
//! & Straub, ibid. 41 (2015) (conditional sampling). (From memory.) The chain of
//! methods, its constants and its guards are our own, measured on problems with
//! exact answers ([`mod@reference`]).

mod guard;
mod importance;
mod likeliest;
mod method;
pub mod reference;
mod space;
mod subset;
mod tail;

pub use self::{
    guard::Check,
    likeliest::{Likeliest, Way, likeliest_among},
    method::{Method, RareEvent, rare_event},
    subset::{Subset, subset_simulation},
    tail::{Far, far},
};

/// Something that may happen, as a function of standard normal numbers.
///
/// Must be a deterministic function of the point: whatever is random within a
/// flight has its own coordinate.
pub trait LimitState: Sync {
    /// Number of coordinates of a point.
    fn dimension(&self) -> usize;

    /// Scores points; a score <= 0 means that it happens.
    ///
    /// Only the order of scores matters, except for the sign; a score should
    /// tell how near a point is to making it happen, with few ties.
    ///
    /// `points`: points x dimension, row-major. `out`: one score per point.
    fn scores(&self, points: &[f64], out: &mut [f64]);
}

/// How much work the search may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Flights per level of the subset simulation, a multiple of 10.
    pub per_level: usize,
    /// Flights of the first and of the second importance sample.
    pub importance: [usize; 2],
    /// Independent subset simulations where importance sampling fails.
    pub replicates: u32,
    /// Flights per level of each of those, a multiple of 10.
    pub per_replicate_level: usize,
    /// Flights spent on finding the likeliest way.
    pub polish: usize,
}

impl Effort {
    /// Evaluations that a search cannot exceed: all levels of every subset
    /// simulation, both importance samples, the polish.
    #[must_use]
    pub fn most(&self) -> u64 {
        let levels = subset::LEVELS as usize;
        let search = levels * self.per_level + self.importance[0] + self.importance[1];
        let sturdy = levels * self.per_replicate_level * self.replicates.max(2) as usize;
        (search + sturdy + self.polish + likeliest::WAYS * 3 * likeliest::SAMPLE) as u64
    }
}

impl Default for Effort {
    /// About 20 000 flights for a chance of 1 in a million, 60 000 where the
    /// guards refuse importance sampling.
    fn default() -> Self {
        Self {
            per_level: 2000,
            importance: [4000, 6000],
            replicates: 8,
            per_replicate_level: 1000,
            polish: 400,
        }
    }
}
