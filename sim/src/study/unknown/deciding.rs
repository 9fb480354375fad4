//! Which of the unknowns decide.

use super::strata;
use crate::{
    chain::Claim,
    estimate::{Band, Worlds},
    scenario::InputId,
};

/// How much of what is open one unknown decides.
#[derive(Clone, Debug, PartialEq)]
pub struct Deciding {
    /// The unknown.
    pub input: InputId,
    /// Share of the variance of the chance that goes with it alone, 0..1.
    pub part: f64,
    /// Where the claim always holds and where never, if it alone decides that.
    pub sides: Option<[Side; 2]>,
}

/// A side of an unknown's range.
#[derive(Clone, Debug, PartialEq)]
pub enum Side {
    /// These values of few, SI.
    Values(Vec<f64>),
    /// Up to this value, SI.
    UpTo(f64),
    /// From this value on, SI.
    From(f64),
}

/// The unknowns, the strongest first; of each the side where the claim always
/// holds, then the side where it never does.
pub(super) fn deciding(claim: &Claim, unknown: &[InputId], worlds: &Worlds) -> Vec<Deciding> {
    let inputs = &claim.scenario().inputs;
    let one = |(k, id): (usize, &InputId)| {
        let distribution = &inputs.get(*id).distribution;
        let few = strata::values(distribution).is_some();
        let sides = worlds
            .sides(k, Band::NEVER_ALWAYS)
            .filter(|_| !inputs.copula().members().contains(&id.0));
        let sides = sides.map(|sides| {
            let value = |u: f64| distribution.quantile(u);
            if few {
                let of = |test: &dyn Fn(f64) -> bool| {
                    let mut values: Vec<f64> = worlds
                        .list
                        .iter()
                        .filter(|world| test(world.chance))
                        .map(|world| value(world.at[k]))
                        .collect();
                    values.sort_by(f64::total_cmp);
                    values.dedup();
                    Side::Values(values)
                };
                return [of(&|p| p > Band::NEVER_ALWAYS[1]), of(&|p| p < Band::NEVER_ALWAYS[0])];
            }
            let (low, high) = (Side::UpTo(value(sides.below)), Side::From(value(sides.above)));
            if sides.rising { [high, low] } else { [low, high] }
        });
        Deciding { input: *id, part: worlds.part_of(k, few), sides }
    };
    let mut all: Vec<Deciding> = unknown.iter().enumerate().map(one).collect();
    all.sort_by(|a, b| b.part.total_cmp(&a.part));
    all
}
