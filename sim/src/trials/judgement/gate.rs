//! One gate: the model's chance, the shots, and both together.

use super::{BarrierJudgement, CONFLICT, MOST_SHOTS, Weighing};
use crate::{
    estimate::{BetaBinomial, beta_quantile, word},
    rig::log::ShotLog,
    scenario::Gate,
};
use serde::Serialize;

/// Evenly likely values that stand for a posterior.
pub(super) const NODES: u32 = 512;

/// A gate as the model has it.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelGate {
    /// Which gate.
    pub gate: Gate,
    /// What it means in this claim, in words.
    pub meaning: String,
    /// Flights that came to it.
    pub came: u64,
    /// Flights that passed.
    pub passed: u64,
}

/// A gate after model and shots.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GateJudgement {
    /// Which gate.
    pub gate: Gate,
    /// What it means, in words.
    pub meaning: String,
    /// The model's chance.
    pub model: f64,
    /// Shots that the model counts for here.
    pub model_worth: f64,
    /// Whether the shots stand for this gate.
    pub stands_for: bool,
    /// Shots that came to it.
    pub shots: u64,
    /// Shots that passed.
    pub passed: u64,
    /// Chance after both: mean.
    pub probability: f64,
    /// 95 % credible interval.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Likelihood word.
    pub word: String,
    /// Chance, under the model, of a count as far out as the one seen, if
    /// shots stand for the gate.
    pub agreement: Option<f64>,
    /// `count`, or `threshold` where speeds and the barrier were used.
    pub method: &'static str,
}

impl ModelGate {
    /// The model's chance, never quite 0 or 1.
    pub(super) fn chance(&self) -> f64 {
        (self.passed as f64 + 0.5) / (self.came as f64 + 1.0)
    }

    /// The prior's weights of passing and failing.
    fn prior(&self, weight: f64) -> [f64; 2] {
        let worth = weight * MOST_SHOTS;
        if worth > 0.0 {
            [worth * self.chance(), worth * (1.0 - self.chance())]
        } else {
            [0.5, 0.5]
        }
    }

    /// Shots that came to this gate and how many passed, where they stand for
    /// it.
    fn counts(&self, log: &ShotLog, weighing: &Weighing) -> (u64, u64) {
        if !weighing.stands_for.contains(&self.gate) {
            return (0, 0);
        }
        let results = log.shots.iter().filter_map(|shot| shot.result?.passed(self.gate));
        results.fold((0, 0), |(came, passed), pass| (came + 1, passed + u64::from(pass)))
    }

    /// The gate by its counts, and its posterior as a table.
    pub(super) fn by_count(&self, log: &ShotLog, weighing: &Weighing) -> (GateJudgement, Vec<f64>) {
        let (came, passed) = self.counts(log, weighing);
        let used = weighing.stands_for.contains(&self.gate) && came > 0;
        // What no shot speaks of stays as sure as the simulation made it.
        let prior = if used {
            self.prior(weighing.weight)
        } else {
            [self.passed as f64 + 0.5, (self.came - self.passed) as f64 + 0.5]
        };
        let (a, b) = (prior[0] + passed as f64, prior[1] + (came - passed) as f64);
        let agreement = (used && weighing.weight > 0.0).then(|| {
            let before = BetaBinomial { a: prior[0], b: prior[1], shots: came };
            let at_least = before.at_least(passed);
            let at_most = 1.0 - before.at_least(passed + 1);
            at_least.min(at_most).max(0.0)
        });
        let worth = if used { weighing.weight * MOST_SHOTS } else { self.came as f64 };
        let [low, high] = [0.025, 0.975].map(|p| beta_quantile(a, b, p));
        let judgement = GateJudgement {
            gate: self.gate,
            meaning: self.meaning.clone(),
            model: self.chance(),
            model_worth: worth,
            stands_for: weighing.stands_for.contains(&self.gate),
            shots: came,
            passed,
            probability: a / (a + b),
            low,
            high,
            word: word(low, high),
            agreement,
            method: "count",
        };
        let table = (0..NODES)
            .map(|i| beta_quantile(a, b, (f64::from(i) + 0.5) / f64::from(NODES)))
            .collect();
        (judgement, table)
    }

    /// The gate by the barrier's threshold; `table`: its chance, evenly likely.
    pub(super) fn by_threshold(
        &self,
        log: &ShotLog,
        weighing: &Weighing,
        barrier: &BarrierJudgement,
        table: &[f64],
    ) -> GateJudgement {
        let (came, passed) = self.counts(log, weighing);
        let [low, high] = [0.025, 0.975].map(|u| super::pick(table, u));
        GateJudgement {
            gate: self.gate,
            meaning: self.meaning.clone(),
            model: self.chance(),
            model_worth: weighing.weight * MOST_SHOTS,
            stands_for: true,
            shots: came,
            passed,
            probability: table.iter().sum::<f64>() / table.len() as f64,
            low,
            high,
            word: word(low, high),
            agreement: Some(barrier.agreement),
            method: "threshold",
        }
    }
}

impl GateJudgement {
    /// The disagreement of model and shots, if there is one.
    pub(super) fn conflict(&self) -> Option<String> {
        let agreement = self.agreement.filter(|a| *a < CONFLICT && self.method == "count")?;
        Some(format!(
            "`{}`: {} of {} shots passed where the model expects {:.0} in 100; it would see a count \
             so far out {:.1} times in 100: find out which is wrong before trusting the mean of both",
            self.gate.name(),
            self.passed,
            self.shots,
            100.0 * self.model,
            100.0 * agreement
        ))
    }
}
