//! What kind of record a file holds, and the share that all kinds tell.

use crate::estimate::Proportion;
use serde::{Deserialize, Serialize};

/// What a record is about. The findings of a run carry none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// [`super::SweepFindings`].
    Sweep,
    /// [`super::MapFindings`].
    Map,
    /// [`super::CompareFindings`].
    Compare,
    /// A launcher fitted to its shots.
    Calibration,
    /// Shots weighed against a claim.
    Judgement,
    /// A plan of shots.
    Plan,
    /// [`crate::exclusion::Exclusion`].
    Exclusion,
}

/// A chance counted over independent draws.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Best estimate.
    pub probability: f64,
    /// Lower end of its 95 % interval.
    pub low: f64,
    /// Upper end of its 95 % interval.
    pub high: f64,
    /// Flights that held.
    pub held: u64,
    /// Flights flown.
    pub flights: u64,
    /// Flights among them that were cut off before their fate was known: the interval
    /// has room for all of them having held.
    #[serde(default)]
    pub open: u64,
}

impl From<&Proportion> for Share {
    fn from(p: &Proportion) -> Self {
        Self {
            probability: p.estimate,
            low: p.low,
            high: p.high,
            held: p.k,
            flights: p.n,
            open: p.open,
        }
    }
}
