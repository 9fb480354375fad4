//! The chain for each of several aimed faces: which one was struck, and what
//! became of it there.

use super::{
    FaceChain, FaceGate,
    build::{chance, spread},
    words,
};
use crate::{
    chain::Claim,
    engine::{OnFace, Tally},
    scenario::{Face, Gate},
};

/// A chain for each aimed face; none where one alone is aimed at.
pub(super) fn chains(claim: &Claim, tally: &Tally) -> Vec<FaceChain> {
    let faces = &claim.scenario().target.faces;
    let on = tally.faces.iter().filter_map(|on| Some((faces.get(on.face)?, on)));
    on.map(|(face, on)| chain(claim, face, on)).collect()
}

fn chain(claim: &Claim, face: &Face, on: &OnFace) -> FaceChain {
    let came = |place: usize| on.fates[place..].iter().sum::<u64>();
    let behind = claim.gates().iter().enumerate().filter(|(_, gate)| **gate > Gate::Strikes);
    // Weighed alike, the gate's own margin holds all of them.
    let unlike = |gate| gate == Gate::Perforates && !words::one_measure(claim.scenario());
    let gates: Vec<FaceGate> = behind
        .map(|(place, gate)| FaceGate {
            gate: *gate,
            meaning: meaning(claim, face, *gate),
            given_before: chance(came(place + 1), came(place)),
            margin: if unlike(*gate) { spread(&on.margin) } else { None },
            margin_dimension: match (&face.barrier, gate) {
                (Some(barrier), gate) if unlike(*gate) => {
                    barrier.demand.dimension().name().to_owned()
                }
                _ => String::new(),
            },
        })
        .collect();
    FaceChain { face: face.name.clone(), strikes: on.strikes(), gates }
}

fn meaning(claim: &Claim, face: &Face, gate: Gate) -> String {
    match gate {
        Gate::Perforates => format!("it goes through the {}", words::face_name(face)),
        _ => words::meaning(claim.scenario(), gate),
    }
}
