//! One gate: the model's chance, the shots, and both together.

use super::{Agreement, BarrierJudgement, Estimate, MOST_SHOTS, Weighing};
use crate::{
    estimate::{BetaBinomial, LEVEL, Proportion, beta_quantile},
    rig::log::ShotLog,
    scenario::Gate,
};
use serde::Serialize;

/// A gate as the run found it.
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
    /// Upper end of the chance of coming to it, 0..1.
    pub reached: f64,
    /// Its chance given that it is come to, where the run found it by its search.
    pub searched: Option<Estimate>,
}

/// How a gate was weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// No shot speaks of it: the model's own chance.
    Model,
    /// By how many shots passed.
    Count,
    /// By the size of the blows and the barrier's strength.
    Threshold,
}

/// A gate after model and shots.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GateJudgement {
    /// Which gate.
    pub gate: Gate,
    /// What it means, in words.
    pub meaning: String,
    /// The model's own chance; absent if no flight came to it.
    pub model: Option<Estimate>,
    /// Whether the shots stand for this gate.
    pub stands_for: bool,
    /// Shots that came to it.
    pub shots: u64,
    /// Shots that passed.
    pub passed: u64,
    /// Both together; absent where they disagree.
    pub both: Option<Estimate>,
    /// The shots with next to nothing of the model, if any came to it.
    pub by_shots: Option<Estimate>,
    /// How it was weighed.
    pub method: Method,
    /// Do they sit together?
    pub agreement: Agreement,
    /// How often the model would give results no likelier than these.
    pub surprise: Option<f64>,
}

impl ModelGate {
    /// The model's chance.
    fn model(&self) -> Option<Estimate> {
        let p = Proportion::printed(self.passed, self.came, LEVEL);
        let counted = (self.came > 0).then(|| Estimate::holding(p.estimate, p.low, p.high));
        self.searched.or(counted)
    }

    /// The model's chance, never quite 0 or 1.
    fn chance(&self) -> f64 {
        let counted = (self.passed as f64 + 0.5) / (self.came as f64 + 1.0);
        let searched = self.searched.map(|found| found.probability.clamp(1e-12, 1.0 - 1e-12));
        searched.unwrap_or(counted)
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

    /// The gate by its counts: the model counts for [`MOST_SHOTS`] shots times
    /// its weight.
    pub(super) fn by_count(&self, log: &ShotLog, weighing: &Weighing) -> GateJudgement {
        let (came, passed) = self.counts(log, weighing);
        let model = self.model();
        let mut judgement = GateJudgement {
            gate: self.gate,
            meaning: self.meaning.clone(),
            model,
            stands_for: weighing.stands_for.contains(&self.gate),
            shots: came,
            passed,
            both: model,
            by_shots: None,
            method: Method::Model,
            agreement: Agreement::Agree,
            surprise: None,
        };
        if came == 0 {
            return judgement;
        }
        judgement.method = Method::Count;
        judgement.by_shots = Some(updated([0.5, 0.5], came, passed));
        let worth = weighing.weight * MOST_SHOTS;
        if worth <= 0.0 || model.is_none() {
            judgement.both = judgement.by_shots;
            return judgement;
        }
        let prior = [worth * self.chance(), worth * (1.0 - self.chance())];
        let before = BetaBinomial { a: prior[0], b: prior[1], shots: came };
        let at_least = before.at_least(passed);
        let at_most = 1.0 - before.at_least(passed + 1);
        let surprise = (2.0 * at_least.min(at_most)).clamp(0.0, 1.0);
        judgement.surprise = Some(surprise);
        judgement.agreement = match surprise {
            p if p < 0.01 => Agreement::Strength,
            p if p < 0.05 => Agreement::Doubt,
            _ => Agreement::Agree,
        };
        let both = updated(prior, came, passed);
        judgement.both = (!judgement.agreement.is_conflict()).then_some(both);
        judgement
    }

    /// The gate by the barrier's threshold.
    pub(super) fn by_threshold(
        &self,
        weighing: &Weighing,
        barrier: &BarrierJudgement,
    ) -> GateJudgement {
        GateJudgement {
            gate: self.gate,
            meaning: self.meaning.clone(),
            model: Some(barrier.before),
            stands_for: true,
            shots: barrier.shots,
            passed: barrier.perforations,
            both: if weighing.weight > 0.0 { barrier.both } else { Some(barrier.by_shots) },
            by_shots: Some(barrier.by_shots),
            method: Method::Threshold,
            agreement: barrier.agreement,
            surprise: Some(barrier.surprise),
        }
    }
}

/// A Beta prior with counts added.
fn updated([a, b]: [f64; 2], came: u64, passed: u64) -> Estimate {
    let (a, b) = (a + passed as f64, b + (came - passed) as f64);
    let [low, high] = [0.025, 0.975].map(|p| beta_quantile(a, b, p));
    Estimate::holding(a / (a + b), low, high)
}

impl GateJudgement {
    /// By how much the shots move the model's chance: estimate and ends, for
    /// what is given of it. `None` where the model has no chance to move.
    pub(super) fn moves(&self, to: &Estimate) -> Option<[f64; 3]> {
        let before = self.model?.probability;
        (before > 0.0).then(|| to.over(before))
    }
}
