//! The most likely way it happens.

use super::{LikelyInput, MostLikely, StrikeFinding, paths};
use crate::{
    chain::Claim,
    contact::{Surface, Touch},
    engine::{ClaimState, Draws, Path, record},
    estimate::rare::Likeliest,
    scenario::{Demand, Face, Input},
    uncertain::normal_quantile,
};

/// An input nearer to its middle than this, in standard deviations, is not
/// worth telling.
const TELLING: f64 = 0.8;

/// Most inputs told.
const TOLD: usize = 5;

/// A face whose normal points up by more than this lies: nobody calls its far
/// edge its top, as they do a raked pane's, up to 65 deg from upright. Cosine
/// of 20 deg.
const LYING: f64 = 0.94;

/// The draw number of a flight that is no draw of the run.
const NO_DRAW: u64 = 0;

/// Flies the likeliest way again.
pub(super) fn most_likely(claim: &Claim, way: &Likeliest) -> MostLikely {
    let state = ClaimState::new(claim, &[]);
    let rows = state.row(&way.point);
    let path = record(claim, NO_DRAW, &rows.values);
    let middle = Draws::new(&claim.scenario().inputs, 0, &[]).middle();
    let eye = paths::Eye::new(claim, &middle, &rows.values);
    let touch = path.outcome.touch.filter(|_| path.outcome.struck);
    MostLikely {
        inputs: told(claim, &rows.values, &rows.ranks),
        distance: way.distance,
        ways: way.ways.iter().map(|way| way.share).collect(),
        flight: paths::flight(claim, NO_DRAW, &path, &eye),
        strike: touch.map(|touch| strike(claim, &path, &touch)),
    }
}

fn told(claim: &Claim, values: &[f64], ranks: &[f64]) -> Vec<LikelyInput> {
    let inputs = &claim.scenario().inputs;
    let one = |(id, below): (crate::scenario::InputId, &f64)| {
        let input: &Input = inputs.get(id);
        LikelyInput {
            name: input.name.clone(),
            dimension: input.dimension.name().to_owned(),
            value: values[id.0],
            middle: input.distribution.quantile(0.5),
            below: *below,
        }
    };
    let far = |input: &LikelyInput| normal_quantile(input.below).abs();
    let amounts = inputs.uncertain().zip(ranks).filter(|(id, _)| !claim.scenario().is_lot(*id));
    let mut found: Vec<_> = amounts.map(one).collect();
    found.retain(|input| far(input) > TELLING);
    found.sort_by(|a, b| far(b).total_cmp(&far(a)));
    found.truncate(TOLD);
    found
}

fn strike(claim: &Claim, path: &Path, touch: &Touch) -> StrikeFinding {
    let face = struck(claim, touch);
    let barrier = face.and_then(|face| face.barrier.as_ref());
    let outcome = &path.outcome;
    StrikeFinding {
        time: touch.time,
        face: face.map(|face| face.name.clone()).unwrap_or_default(),
        speed: touch.relative_velocity.length(),
        obliquity: touch.obliquity,
        on_face: touch.on_face,
        lying: touch.normal.z.abs() > LYING,
        touched_before: u64::from(outcome.contacts_before),
        blow: outcome.demand.zip(outcome.resistance).map(|(demand, resists)| [demand, resists]),
        demand: barrier.map_or(Demand::NormalEnergy, |barrier| barrier.demand),
        lower_bound: barrier.is_some_and(|barrier| barrier.lower_bound),
    }
}

/// The face that a touch is on.
fn struck<'a>(claim: &'a Claim, touch: &Touch) -> Option<&'a Face> {
    match touch.surface {
        Surface::Face(i) => claim.scenario().target.faces.get(i),
        Surface::Ground | Surface::Solid(_) => None,
    }
}
