//! Chances too small to be met by flying at random.
//!
//! Plain sampling needs a hundred flights for every success it wants to see a
//! hundred times rarer. Here several searches climb down the chain's own
//! margins (subset simulation) and learn in which ways it happens; flights are
//! then aimed at every way and weighed together with the plain ones (balance
//! heuristic). What no search met is left to the plain flights, which are
//! weighed in everywhere: the upper end of the interval is never below what
//! they leave open. Plain flights that an estimate would hardly allow stop it
//! from standing, and send the search on. Inputs with few values are strata.
//!
//! All work is in standard normal space: a point has one independent standard
//! normal number per uncertain input, so that correlated inputs and discrete
//! choices need nothing special.
//!
//! Sources: Au & Beck, Probabilistic Engineering Mechanics 16 (2001) (subset
//! simulation and its coefficient of variation); Papaioannou, Betz, Zwirglmaier
//! & Straub, ibid. 41 (2015) (conditional sampling); Veach & Guibas 1995
//! (balance heuristic); Hesterberg 1995, Owen & Zhou, JASA 95 (2000) (mixtures
//! with a defensive part); Fay & Feuer, Statistics in Medicine 16 (1997)
//! (interval of a weighted count). (From memory.) The chain of methods, its
//! constants and its guards are our own, measured on problems with exact
//! answers ([`mod@reference`], and `bench/rare`).

mod aim;
mod cluster;
mod density;
mod guard;
mod hunt;
mod likeliest;
mod method;
mod part;
pub mod reference;
mod space;
mod strata;
mod subset;
mod tail;

pub use self::{
    guard::Check,
    likeliest::{Likeliest, Way, likeliest_among},
    method::{Flown, Method, OPEN, RareEvent, rare_event},
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

    /// The coordinates that do nothing but choose one of a few values.
    fn choices(&self) -> Vec<Few> {
        Vec::new()
    }
}

/// A coordinate that chooses one of a few values.
#[derive(Clone, Debug, PartialEq)]
pub struct Few {
    /// Which coordinate.
    pub coordinate: usize,
    /// The chances of the values, from the lowest numbers of the coordinate to
    /// the highest; they add up to 1.
    pub chances: Vec<f64>,
}

/// How much work the search may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Flights per level of the subset simulation, a multiple of 10.
    pub per_level: usize,
    /// Aimed flights of each round of fitting, and of the last one (up to four
    /// times as many where they are needed).
    pub importance: [usize; 2],
    /// Independent subset simulations where importance sampling fails.
    pub replicates: u32,
    /// Flights per level of each of those, a multiple of 10.
    pub per_replicate_level: usize,
    /// Flights spent on finding the likeliest way.
    pub polish: usize,
}

impl Effort {
    /// Evaluations that a search usually keeps to: two subset simulations, small
    /// climbs, aimed flights. One that plain flights contradict goes on.
    #[must_use]
    pub fn usual(&self) -> u64 {
        let levels = subset::LEVELS as usize;
        let aimed = 6 * self.importance[0] + 4 * self.importance[1];
        let ways = likeliest::WAYS * 3 * likeliest::SAMPLE;
        (2 * levels * self.per_level + aimed + self.polish + ways) as u64
    }

    /// The effort for each of so many strata: less where they are many.
    fn shared(&self, strata: usize) -> Self {
        let share = |n: usize, least: usize| (4 * n / strata.max(4)).max(least.min(n));
        Self {
            per_level: share(self.per_level, 1000),
            importance: self.importance.map(|n| share(n, 2000)),
            per_replicate_level: share(self.per_replicate_level, 500),
            ..*self
        }
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
