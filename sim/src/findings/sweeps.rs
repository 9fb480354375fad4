//! What a sweep found, as records of their own: drawn from and put on a page
//! without flying again.

use super::{Kind, Share, VERSION};
use crate::{
    estimate::{Answer, Proportion, Roots, Verdict},
    quantity::{Dimension, Show},
    sweep::{Line, Map},
};
use serde::{Deserialize, Serialize};

/// What a sweep was about.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Swept {
    /// The scenario's file name, as typed.
    pub scenario_name: String,
    /// Units of display.
    pub show: Show,
    /// The seed.
    pub seed: u64,
    /// Flights at each setting.
    pub flights: u64,
}

/// The chance of a claim as one input is moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SweepFindings {
    /// [`Kind::Sweep`].
    pub kind: Kind,
    /// Layout version, [`VERSION`].
    pub version: u32,
    /// What it was about.
    pub swept: Swept,
    /// What was moved.
    pub input: String,
    /// What it measures.
    pub dimension: String,
    /// 5, 50 and 95 % of the input as the scenario has it, SI; absent where
    /// several inputs were moved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub told: Option<[f64; 3]>,
    /// The settings flown, rising.
    pub points: Vec<SweepPoint>,
    /// Settings that were asked for and not flown, since it was stopped early.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub not_flown: usize,
    /// Settings at which the claim has the chances asked for, if any were.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub answers: Vec<SweepAnswer>,
}

/// One setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SweepPoint {
    /// The setting, SI (or a factor).
    pub value: f64,
    /// Chance of the claim.
    pub chance: Share,
    /// P(this gate and all before), gate by gate.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gates: Vec<Share>,
}

/// What was found for one chance asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SweepAnswer {
    /// The chance.
    pub target: f64,
    /// Settings that give it, rising.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub crossings: Vec<SweepCrossing>,
    /// Nothing in the range reaches it; the most is this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub never_reached: Option<SweepPoint>,
    /// Everything in the range exceeds it; the least is this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub always_exceeded: Option<SweepPoint>,
}

/// A setting that gives the chance asked for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SweepCrossing {
    /// The setting, SI.
    pub value: f64,
    /// Lower end of its 95 % interval; absent if below the range.
    pub low: Option<f64>,
    /// Upper end; absent if above the range.
    pub high: Option<f64>,
    /// Does the chance rise with the setting here?
    pub rising: bool,
}

/// The chance of a claim over two inputs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MapFindings {
    /// [`Kind::Map`].
    pub kind: Kind,
    /// Layout version, [`VERSION`].
    pub version: u32,
    /// What it was about.
    pub swept: Swept,
    /// The input along the map.
    pub across: MapSide,
    /// The input up the map.
    pub up: MapSide,
    /// Chances of the claim, a row for each value of `up`.
    pub chances: Vec<Vec<Share>>,
}

/// One side of a map.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MapSide {
    /// The input.
    pub input: String,
    /// What it measures.
    pub dimension: String,
    /// 5, 50 and 95 % of the input as the scenario has it, SI.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub told: Option<[f64; 3]>,
    /// Its values, SI, rising.
    pub values: Vec<f64>,
}

/// What was moved, for a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// As people say it.
    pub input: String,
    /// What it measures.
    pub dimension: Dimension,
    /// 5, 50 and 95 % of it as the scenario has it, SI.
    pub told: Option<[f64; 3]>,
}

impl SweepFindings {
    /// The record of a sweep over a range of so many settings.
    #[must_use]
    pub fn along(line: &Line, asked: usize, moved: &Moved, swept: Swept) -> Self {
        let points = line.points.iter().map(|point| SweepPoint {
            value: point.value,
            chance: Share::from(&point.chances.claim()),
            gates: point.chances.gates.iter().map(Share::from).collect(),
        });
        let not_flown = asked.saturating_sub(line.points.len());
        Self { not_flown, ..Self::new(points.collect(), Vec::new(), moved, swept) }
    }

    /// The record of a search for settings.
    #[must_use]
    pub fn backwards(roots: &Roots, moved: &Moved, swept: Swept) -> Self {
        let points = roots.curve.iter().map(|(value, chance)| SweepPoint::new(*value, chance));
        let answers = roots.answers.iter().map(SweepAnswer::from).collect();
        Self::new(points.collect(), answers, moved, swept)
    }

    fn new(
        points: Vec<SweepPoint>,
        answers: Vec<SweepAnswer>,
        moved: &Moved,
        swept: Swept,
    ) -> Self {
        Self {
            kind: Kind::Sweep,
            version: VERSION,
            swept,
            input: moved.input.clone(),
            dimension: moved.dimension.name().to_owned(),
            told: moved.told,
            points,
            not_flown: 0,
            answers,
        }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for it")]
fn is_zero(count: &usize) -> bool {
    *count == 0
}

impl SweepPoint {
    fn new(value: f64, chance: &Proportion) -> Self {
        Self { value, chance: Share::from(chance), gates: Vec::new() }
    }
}

impl From<&Answer> for SweepAnswer {
    fn from(answer: &Answer) -> Self {
        let mut record = Self {
            target: answer.target,
            crossings: Vec::new(),
            never_reached: None,
            always_exceeded: None,
        };
        match &answer.verdict {
            Verdict::Crossed(crossings) => {
                record.crossings = crossings
                    .iter()
                    .map(|c| SweepCrossing {
                        value: c.setting,
                        low: c.low,
                        high: c.high,
                        rising: c.rising,
                    })
                    .collect();
            }
            Verdict::NeverReached { setting, chance } => {
                record.never_reached = Some(SweepPoint::new(*setting, chance));
            }
            Verdict::AlwaysExceeded { setting, chance } => {
                record.always_exceeded = Some(SweepPoint::new(*setting, chance));
            }
        }
        record
    }
}

impl MapFindings {
    /// The record of a map.
    #[must_use]
    pub fn new(map: &Map, [across, up]: [&Moved; 2], swept: Swept) -> Self {
        let side = |moved: &Moved, values: &[f64]| MapSide {
            input: moved.input.clone(),
            dimension: moved.dimension.name().to_owned(),
            told: moved.told,
            values: values.to_vec(),
        };
        let rows = map.chances.chunks(map.across.len().max(1));
        Self {
            kind: Kind::Map,
            version: VERSION,
            swept,
            across: side(across, &map.across),
            up: side(up, &map.up),
            chances: rows.map(|row| row.iter().map(Share::from).collect()).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::estimate::{Crossing, LEVEL};

    #[test]
    fn a_record_reads_back_as_it_was_written() {
        let chance = Proportion::clopper_pearson(3, 100, LEVEL);
        let crossing = Crossing { setting: 9.5, low: Some(9.0), high: None, rising: true };
        let answer = |target, verdict| Answer { target, verdict };
        let roots = Roots {
            answers: vec![
                answer(0.01, Verdict::Crossed(vec![crossing])),
                answer(0.5, Verdict::NeverReached { setting: 12.0, chance }),
            ],
            curve: vec![(8.0, chance), (12.0, chance)],
        };
        let moved = Moved {
            input: "air.wind.speed".to_owned(),
            dimension: Dimension::Speed,
            told: Some([8.0, 9.0, 10.0]),
        };
        let swept = Swept {
            scenario_name: "made_up.yaml".to_owned(),
            show: Show::Imperial,
            seed: 3,
            flights: 100,
        };
        let record = SweepFindings::backwards(&roots, &moved, swept);
        let text = serde_json::to_string(&record).unwrap();
        assert_eq!(serde_json::from_str::<SweepFindings>(&text).unwrap(), record);
        assert!(text.starts_with(r#"{"kind":"sweep","#), "{text}");
        assert_eq!(record.answers[0].crossings[0].low, Some(9.0));
        assert!(record.answers[1].never_reached.is_some());
    }
}
