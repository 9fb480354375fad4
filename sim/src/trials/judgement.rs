//! Shots weighed against the model.
//!
//! Each gate of the claim is a chance of its own, given the gates before. The
//! model's estimate enters as a Beta prior worth a stated number of shots (at
//! most [`MOST_SHOTS`], times the weight the user gives it; weight 0: Jeffreys'
//! prior); the shots that stand for the gate update it. Where the shots carry
//! a speed and the model a barrier, the barrier's threshold is updated instead
//! and the claim's own demands are held against it. The claim is the product,
//! by draws from the gates' posteriors, never of interval ends.
//!
//! Assumes: shots are independent given the chances, and the gates'
//! posteriors are independent of each other.

mod barrier;
mod gate;
mod outlook;

pub use self::{
    barrier::{BarrierJudgement, ModelBarrier},
    gate::{GateJudgement, ModelGate},
    outlook::Outlook,
};

use crate::{
    estimate::{one_in, word},
    rig::log::ShotLog,
    sampling::{Domain, Stream},
    scenario::Gate,
};
use serde::Serialize;

/// Most shots that the model may be worth.
pub const MOST_SHOTS: f64 = 10.0;
/// Chance below which shots and model are said to disagree.
pub const CONFLICT: f64 = 0.05;
/// Draws of the product.
const DRAWS: u32 = 20_000;

/// The model's side.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
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
    /// The barrier's threshold, if shots speak of it.
    pub barrier: Option<BarrierJudgement>,
    /// Weight of the model, 0..1.
    pub weight: f64,
    /// Shots in the log.
    pub shots: usize,
    /// Probability of the claim: posterior mean.
    pub probability: f64,
    /// 95 % credible interval.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Likelihood word for the interval.
    pub word: String,
    /// The claim's standing in one sentence.
    pub standing: String,
    /// Disagreements between model and shots, in words.
    pub conflicts: Vec<String>,
    /// What would change this.
    pub outlook: Vec<Outlook>,
}

/// Weighs shots against the model.
#[must_use]
pub fn judge(model: &Model, log: &ShotLog, weighing: &Weighing) -> Judgement {
    let barrier = model
        .barrier
        .as_ref()
        .filter(|_| weighing.stands_for.contains(&Gate::Perforates))
        .and_then(|barrier| barrier.judge(log, weighing.weight));
    let mut tables: Vec<Vec<f64>> = Vec::new();
    let mut gates: Vec<GateJudgement> = Vec::new();
    for gate in &model.gates {
        // Without the model a threshold's posterior would be its flat prior's
        // doing, so the count speaks.
        let by_threshold =
            barrier.as_ref().filter(|_| gate.gate == Gate::Perforates && weighing.weight > 0.0);
        let (judgement, table) = match by_threshold {
            Some((judged, table)) => {
                (gate.by_threshold(log, weighing, judged, table), table.clone())
            }
            None => gate.by_count(log, weighing),
        };
        gates.push(judgement);
        tables.push(table);
    }
    let product = Product::new(&tables);
    let barrier = barrier.map(|(judged, _)| judged);
    let mut conflicts: Vec<String> = gates.iter().filter_map(GateJudgement::conflict).collect();
    conflicts.extend(barrier.as_ref().and_then(BarrierJudgement::conflict));
    let word = word(product.low, product.high);
    let outlook = outlook::outlook(&gates, &tables);
    let standing = standing(&gates, log.shots.len(), weighing.weight, &product, &word);
    Judgement {
        gates,
        barrier,
        weight: weighing.weight,
        shots: log.shots.len(),
        probability: product.mean,
        low: product.low,
        high: product.high,
        word,
        standing,
        conflicts,
        outlook,
    }
}

/// One sentence that the numbers carry.
fn standing(
    gates: &[GateJudgement],
    shots: usize,
    weight: f64,
    product: &Product,
    word: &str,
) -> String {
    let used = gates.iter().map(|gate| gate.shots).max().unwrap_or(0);
    let ground = match (used, weight > 0.0) {
        (0, _) => "on the model alone (no shot speaks of its gates)".to_owned(),
        (1, true) => "on the model and one shot".to_owned(),
        (n, true) => format!("on the model and {n} shots"),
        (1, false) => {
            "on one shot, with nothing of the model at the gates it stands for".to_owned()
        }
        (n, false) => {
            format!("on {n} shots, with nothing of the model at the gates they stand for")
        }
    };
    let unused =
        if used == 0 && shots > 0 { format!(", of {shots} in the log") } else { String::new() };
    let odds = if product.mean < 0.01 {
        format!("; {}", one_in(product.mean, product.low, product.high))
    } else {
        String::new()
    };
    format!(
        "The claim stands as {word}: {} in 100 (95 % between {} and {}){odds}, {ground}{unused}.",
        hundred(product.mean),
        hundred(product.low),
        hundred(product.high)
    )
}

/// A probability as a number out of a hundred, two digits.
fn hundred(p: f64) -> String {
    if p > 0.0 && p < 1e-5 {
        return "0.001 or less".to_owned();
    }
    crate::quantity::significant(100.0 * p, 2)
}

/// The product of the gates' chances.
struct Product {
    mean: f64,
    low: f64,
    high: f64,
}

impl Product {
    /// From a table of evenly likely values per gate.
    fn new(tables: &[Vec<f64>]) -> Self {
        let stream = Stream::new(1, Domain::SHOTS);
        let mut draws: Vec<f64> = (0..DRAWS)
            .map(|draw| {
                (0_u32..)
                    .zip(tables)
                    .map(|(slot, table)| pick(table, stream.uniform(u64::from(draw), slot)))
                    .product()
            })
            .collect();
        draws.sort_by(f64::total_cmp);
        let mean = draws.iter().sum::<f64>() / f64::from(DRAWS);
        Self { mean, low: pick(&draws, 0.025), high: pick(&draws, 0.975) }
    }
}

/// The value at the share `u` (0..1) of a rising table; 1 if there is none.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an index")]
fn pick(table: &[f64], u: f64) -> f64 {
    let at = (u * table.len() as f64) as usize;
    table.get(at.min(table.len().saturating_sub(1))).copied().unwrap_or(1.0)
}

#[cfg(test)]
mod tests;
