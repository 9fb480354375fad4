//! Which assumptions carry the answer: single inputs moved as far as reason
//! allows, over the same draws.

use super::Ask;
use crate::{
    chain::Claim,
    engine::{Change, Order, Progress, run},
    estimate::{LEVEL, Proportion},
    quantity::Dimension,
    scenario::{Input, InputId},
};

/// Flights for each move.
const FLIGHTS: u64 = 3000;

/// The claim with one input held at another value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// The input.
    pub input: InputId,
    /// Where it was held, SI.
    pub to: f64,
    /// How often the claim then holds, over the first draws of the run.
    pub chance: Proportion,
}

pub(super) fn nothing() -> Proportion {
    Proportion::clopper_pearson(0, 0, LEVEL)
}

/// The claim over the first draws as it is, and with every unknown or assumed
/// input moved to either end.
pub(super) fn moved(
    claim: &Claim,
    ask: &Ask,
    flown: u64,
    progress: &impl Progress,
) -> (Proportion, Vec<Moved>) {
    let flights = flown.min(FLIGHTS);
    let moves: Vec<(InputId, f64)> = moves(claim).collect();
    progress.expect((1 + moves.len() as u64) * flights);
    let chance = |changes| {
        let order = Order { changes, ..Order::new(ask.seed, 0..flights) };
        let tally = run(claim, &order, progress);
        Proportion::clopper_pearson(tally.passed(claim.gates().len() - 1), tally.flights(), LEVEL)
    };
    let unmoved = chance(Vec::new());
    let moved = moves.into_iter().map(|(input, to)| Moved {
        input,
        to,
        chance: chance(vec![Change::Set(input, to)]),
    });
    (unmoved, moved.collect())
}

fn moves(claim: &Claim) -> impl Iterator<Item = (InputId, f64)> {
    let scenario = claim.scenario();
    let inputs = scenario.inputs.list().iter().enumerate();
    let asked = inputs.filter(|(_, input)| scenario.asks(input));
    asked.flat_map(|(place, input)| ends(input).into_iter().map(move |to| (InputId(place), to)))
}

/// How far reason allows an input to be from what was taken for it: nine times
/// in ten where it is spread, a common margin where it was not even told.
fn ends(input: &Input) -> Vec<f64> {
    if !input.distribution.is_fixed() {
        let ends = [0.05, 0.95].map(|u| input.distribution.quantile(u));
        return if input.unknown { ends.to_vec() } else { Vec::new() };
    }
    if !input.assumed {
        return Vec::new();
    }
    let taken = input.distribution.quantile(0.5);
    if input.name == "object.spin_lift_factor" {
        // Near the drag crisis balls curve the other way: -0.137 was measured
        // where 0.15 is published (Li, Tsubokura & Tsunoda 2017, second-hand).
        return vec![-0.9 * taken, 1.2 * taken];
    }
    let by = match input.dimension {
        // Every day's weather.
        Dimension::Temperature => 15.0,
        Dimension::Pressure => 0.03 * taken,
        Dimension::Angle => 10_f64.to_radians(),
        _ => 0.2 * taken.abs(),
    };
    if by > 0.0 { vec![taken - by, taken + by] } else { Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::uncertain::Distribution;

    fn input(distribution: Distribution, unknown: bool, assumed: bool) -> Input {
        Input {
            name: "x".to_owned(),
            dimension: Dimension::Ratio,
            distribution,
            slot: 1,
            unknown,
            assumed,
            written: String::new(),
        }
    }

    #[test]
    fn only_what_is_not_known_is_moved() {
        let spread = Distribution::uniform(0.0, 1.0).unwrap();
        let ends = |d: &Distribution, unknown, assumed| ends(&input(d.clone(), unknown, assumed));
        assert_eq!(ends(&spread, false, false), Vec::<f64>::new());
        let moved = ends(&spread, true, false);
        assert!((moved[0] - 0.05).abs() < 1e-12 && (moved[1] - 0.95).abs() < 1e-12);
        let fixed = Distribution::fixed(0.5);
        assert_eq!(ends(&fixed, false, true), vec![0.4, 0.6]);
        assert_eq!(ends(&fixed, false, false), Vec::<f64>::new());
        assert_eq!(ends(&Distribution::fixed(0.0), false, true), Vec::<f64>::new());
    }
}
