//! What would change the judgement.

use super::gate::GateJudgement;
use crate::{math::ln, scenario::Gate};
use serde::Serialize;

/// Shots looked ahead.
const AHEAD: u64 = 5;

/// A way in which more shots would change a gate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outlook {
    /// Which gate.
    pub gate: Gate,
    /// Its share of the claim's doubt (variance of the logarithm), 0..1.
    pub share: f64,
    /// Its chance now.
    pub now: f64,
    /// Its chance after five more shots that all pass.
    pub all_pass: f64,
    /// Its chance after five more shots that none pass.
    pub none_pass: f64,
    /// In words.
    pub sentence: String,
}

/// The gates that carry the most doubt, at most two.
pub(super) fn outlook(gates: &[GateJudgement], tables: &[Vec<f64>]) -> Vec<Outlook> {
    let doubts: Vec<f64> = tables.iter().map(|table| ln_variance(table)).collect();
    let total: f64 = doubts.iter().sum();
    let mut all: Vec<Outlook> = gates
        .iter()
        .zip(&doubts)
        .filter(|(_, doubt)| total > 0.0 && **doubt > 0.05 * total)
        .map(|(gate, doubt)| one(gate, doubt / total))
        .collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all.truncate(2);
    all
}

fn one(gate: &GateJudgement, share: f64) -> Outlook {
    // As a Beta of the same mean, worth what model and shots are worth here,
    // but at most ten shots of model: real shots must be able to move it.
    let worth = gate.model_worth.min(super::MOST_SHOTS) + gate.shots as f64 + 1.0;
    let after = |passed: u64| (gate.probability * worth + passed as f64) / (worth + AHEAD as f64);
    let (all_pass, none_pass) = (after(AHEAD), after(0));
    let name = gate.gate.name();
    let sentence = format!(
        "{:.0} % of the doubt is at `{name}`: five more shots there that all pass would bring it \
         from {:.0} to about {:.0} in 100, five that do not to about {:.0}",
        100.0 * share,
        100.0 * gate.probability,
        100.0 * all_pass,
        100.0 * none_pass
    );
    Outlook { gate: gate.gate, share, now: gate.probability, all_pass, none_pass, sentence }
}

fn ln_variance(table: &[f64]) -> f64 {
    let n = table.len() as f64;
    let logs = || table.iter().map(|p| ln(p.max(1e-12)));
    let mean = logs().sum::<f64>() / n;
    logs().map(|l| (l - mean) * (l - mean)).sum::<f64>() / n
}
