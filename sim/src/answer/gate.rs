//! What a gate and its margin mean, and what became of the strikes on a face.

use super::in_words;
use crate::{
    chain::Claim,
    findings::{FaceChain, meaning},
    quantity::Dimension,
    scenario::Gate,
    words::{Voice, count},
};

/// What passing a gate of a claim means, by its place in the chain: "it strikes
/// the shop window".
#[must_use]
pub fn gate_in_words(claim: &Claim, place: usize) -> String {
    meaning(claim.scenario(), claim.gates()[place])
}

/// What the margin of those who failed a gate measures.
#[must_use]
pub fn margin(gate: Gate) -> &'static str {
    match gate {
        Gate::Released => "short of the pull that takes it",
        Gate::Reaches => "short of the face's plane when it came down",
        Gate::Strikes => "beside the outline as it passed",
        Gate::Attitude => "beyond the attitude that the claim asks for",
        Gate::Perforates => "short of going through",
        Gate::Harms => "short of the harm criterion",
    }
}

/// The chain of one of several aimed faces; each gate's share is of those that
/// come to it there.
#[must_use]
pub fn face(chain: &FaceChain, voice: Voice) -> String {
    let mut text = format!("{}: {} strikes", chain.face.replace('_', " "), count(chain.strikes));
    for gate in chain.gates.iter().filter(|gate| gate.given_before.flights > 0) {
        text += &format!("; {}: {}", gate.meaning, in_words(&gate.given_before, voice));
        if let Some(margin) = &gate.margin {
            let measure = Dimension::from_name(&gate.margin_dimension).unwrap_or(Dimension::Number);
            let half = voice.quantity(margin.quantiles[3], measure);
            text += &format!("; where it holds, half of the blows are {half} or more short");
        }
    }
    text
}
