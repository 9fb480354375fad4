//! A claim against a rig, as a record of its own.

use super::{Kind, VERSION};
use crate::{
    compare::{Comparison, Cover, Covers, Interval, Needed, Row},
    quantity::Show,
};
use serde::{Deserialize, Serialize};

/// What a comparison found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CompareFindings {
    /// [`Kind::Compare`].
    pub kind: Kind,
    /// Layout version, [`VERSION`].
    pub version: u32,
    /// File name of the claim's scenario, as typed.
    pub claim_name: String,
    /// File name of the rig's scenario.
    pub rig_name: String,
    /// Units of display.
    pub show: Show,
    /// Flights of each.
    pub flights: u64,
    /// How many of them struck.
    pub strikes: Strikes,
    /// Chance that a shot of the rig strikes at least as hard as the claim.
    pub as_hard: Known,
    /// The strikes, measure by measure.
    pub measures: Vec<MeasureRow>,
    /// Launch speeds that cover the claim; absent where the rig launches
    /// nothing.
    #[serde(default)]
    pub covers: Option<CoverSpeeds>,
}

/// Strikes of either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Strikes {
    /// The claim's.
    pub claim: u64,
    /// The rig's.
    pub rig: u64,
}

/// A number with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Known {
    /// Best estimate.
    pub estimate: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// One measure of the strikes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MeasureRow {
    /// What is measured, in words.
    pub measure: String,
    /// Its dimension.
    pub dimension: String,
    /// 5, 50 and 95 % of the claim's strikes, SI.
    pub claim: [f64; 3],
    /// The same of the rig's.
    pub rig: [f64; 3],
    /// Median of the rig less median of the claim.
    pub difference: Known,
}

/// Launch speeds that cover shares of the claim.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CoverSpeeds {
    /// The input that was turned.
    pub input: String,
    /// Share by share.
    pub speeds: Vec<CoverSpeed>,
}

/// A launch speed that covers a share of the claim.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CoverSpeed {
    /// The share of the claim's strikes.
    pub share: f64,
    /// Energy along the normal that it asks for, in J.
    pub energy: f64,
    /// The speed, in m/s; absent where none of those tried has it.
    pub speed: Option<f64>,
    /// Lower end of its 95 % interval, in m/s.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// The slowest speed tried, in m/s, where that strikes harder already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below: Option<f64>,
    /// The fastest speed tried, in m/s, where that does not strike as hard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above: Option<f64>,
}

impl CoverSpeed {
    fn new(cover: &Cover) -> Self {
        let at = |found: Needed| match found {
            Needed::At(speed) => Some(speed),
            Needed::Below(_) | Needed::Above(_) => None,
        };
        let [low, high] = cover.ends.map(|end| end.and_then(at));
        let [below, above] = match cover.speed {
            Needed::At(_) => [None, None],
            Needed::Below(speed) => [Some(speed), None],
            Needed::Above(speed) => [None, Some(speed)],
        };
        let (share, energy, speed) = (cover.share, cover.energy, at(cover.speed));
        Self { share, energy, speed, low, high, below, above }
    }
}

/// What a comparison was about.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// File name of the claim's scenario.
    pub claim_name: String,
    /// File name of the rig's scenario.
    pub rig_name: String,
    /// Units of display.
    pub show: Show,
    /// Flights of each.
    pub flights: u64,
    /// How many struck.
    pub strikes: Strikes,
    /// The input that was turned for the covering speeds.
    pub speed_input: String,
}

impl CompareFindings {
    /// The record of a comparison.
    #[must_use]
    pub fn new(comparison: &Comparison, covers: Option<&Covers>, about: Compared) -> Self {
        let speeds = |found: &Covers| CoverSpeeds {
            input: about.speed_input.clone(),
            speeds: found.covers.iter().map(CoverSpeed::new).collect(),
        };
        Self {
            kind: Kind::Compare,
            version: VERSION,
            covers: covers.map(speeds),
            claim_name: about.claim_name,
            rig_name: about.rig_name,
            show: about.show,
            flights: about.flights,
            strikes: about.strikes,
            as_hard: Known::from(&comparison.as_hard),
            measures: comparison.rows.iter().map(MeasureRow::from).collect(),
        }
    }
}

impl From<&Interval> for Known {
    fn from(interval: &Interval) -> Self {
        Self { estimate: interval.estimate, low: interval.low, high: interval.high }
    }
}

impl From<&Row> for MeasureRow {
    fn from(row: &Row) -> Self {
        Self {
            measure: row.measure.name().to_owned(),
            dimension: row.measure.dimension().name().to_owned(),
            claim: row.claim,
            rig: row.rig,
            difference: Known::from(&row.difference),
        }
    }
}
