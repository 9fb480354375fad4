//! Shots weighed against the model.
//!
//! At the barrier the model enters with its own split: what its scenario does
//! not know of the strength is the prior, what varies is the scatter, and one
//! part in ten of the prior is wide, so that shots can win ([`ModelBarrier`]).
//! Gates that shots only count at, the model enters as a Beta prior worth at
//! most `MOST_SHOTS` shots. The claim's chance is the run's own (from its
//! search, where it searched), moved by as much as the shots move those gates.
//! Where model and shots conflict, both stand beside each other and no number
//! for both is given.
//!
//! Assumes: shots are independent given the strength, and what the shots say of
//! one gate says nothing of the others.

mod barrier;
mod blow;
mod conflict;
mod estimate;
mod gate;
mod rigged;
mod strength;
mod weigh;

pub use self::{
    barrier::{BarrierJudgement, Drawn, ModelBarrier, Settling, TRUST},
    blow::Blow,
    conflict::Agreement,
    estimate::Estimate,
    gate::{GateJudgement, Method, ModelGate},
    rigged::{Bare, Blows, Pose, Rigged, Unstruck},
    strength::{Cell, Strength, WIDE},
};

use crate::{rig::log::ShotLog, scenario::Gate};
use serde::Serialize;

/// Most shots that the model may be worth where shots are only counted.
pub(crate) const MOST_SHOTS: f64 = 10.0;

/// The model's side.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// The run's chance of the claim.
    pub claim: Estimate,
    /// The gates of the claim in order.
    pub gates: Vec<ModelGate>,
    /// The barrier, if the chain has one.
    pub barrier: Option<ModelBarrier>,
}

/// How the two sides are weighed.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// Weight of the model, 0 (shots alone) to 1.
    pub weight: f64,
    /// The gates that the shots stand for.
    pub stands_for: Vec<Gate>,
}

/// The claim after model and shots.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judgement {
    /// The gates in order.
    pub gates: Vec<GateJudgement>,
    /// The barrier, if shots speak of it.
    pub barrier: Option<BarrierJudgement>,
    /// Weight of the model, 0..1.
    pub weight: f64,
    /// Shots in the log.
    pub shots: usize,
    /// The claim by the model alone: the run's chance.
    pub model: Estimate,
    /// By the scenario's strength and the shots, where they disagree with it,
    /// too.
    pub by_scenario: Estimate,
    /// The claim by both; absent where they disagree.
    pub both: Option<Estimate>,
    /// The claim with the shots taken by themselves at the gates they stand
    /// for; absent where no shot speaks.
    pub by_shots: Option<Estimate>,
}

/// Weighs shots against the model; `blows`: those of the log that speak of the
/// barrier.
#[must_use]
pub fn judge(model: &Model, log: &ShotLog, blows: &[Blow], weighing: &Weighing) -> Judgement {
    // With one kind of shot and no model, only the prior would speak.
    let mixed = blows.iter().any(|b| b.through) && blows.iter().any(|b| !b.through);
    let barrier = model
        .barrier
        .as_ref()
        .filter(|_| weighing.stands_for.contains(&Gate::Perforates))
        .filter(|_| weighing.weight > 0.0 || mixed)
        .and_then(|barrier| barrier.judge(blows, weighing.weight));
    let gates: Vec<GateJudgement> = model
        .gates
        .iter()
        .map(|gate| match &barrier {
            Some(judged) if gate.gate == Gate::Perforates => gate.by_threshold(weighing, judged),
            _ => gate.by_count(log, weighing),
        })
        .collect();
    let both = moved(model, &gates, |gate| gate.both);
    let spoken = gates.iter().any(|gate| gate.method != Method::Model);
    let by_shots =
        if spoken { moved(model, &gates, |gate| gate.by_shots.or(gate.both)) } else { None };
    Judgement {
        by_scenario: said_by_scenario(model, &gates, barrier.as_ref()),
        gates,
        barrier,
        weight: weighing.weight,
        shots: log.shots.len(),
        model: model.claim,
        both,
        by_shots,
    }
}

/// The run's chance, moved by the gates that shots speak of. `None` if one has
/// nothing to move it to.
fn moved(
    model: &Model,
    gates: &[GateJudgement],
    to: impl Fn(&GateJudgement) -> Option<Estimate>,
) -> Option<Estimate> {
    let mut claim = model.claim;
    for (gate, told) in gates.iter().zip(&model.gates) {
        let to = to(gate);
        if gate.method == Method::Model {
            continue;
        }
        let Some(factors) = gate.moves(&to?) else { continue };
        claim = claim.scaled(factors, told.reached);
    }
    Some(claim)
}

/// The claim by the scenario's strength and the shots, where they disagree with
/// it.
fn said_by_scenario(
    model: &Model,
    gates: &[GateJudgement],
    barrier: Option<&BarrierJudgement>,
) -> Estimate {
    let by_scenario = |gate: &GateJudgement| match (gate.method, barrier) {
        (Method::Threshold, Some(barrier)) => Some(barrier.by_scenario),
        _ => gate.both.or(gate.model),
    };
    moved(model, gates, by_scenario).unwrap_or(model.claim)
}

#[cfg(test)]
mod coverage;
#[cfg(test)]
mod laws;
#[cfg(test)]
mod tests;
