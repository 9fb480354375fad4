//! What would have to be true: the chance of a claim as inputs are moved.
//!
//! Every point of a sweep flies the same draws with one or two inputs changed
//! (common random numbers), so that differences between points are far better
//! known than the points themselves.

mod backwards;
mod line;
mod map;
mod what_if;

pub use self::{
    backwards::backwards,
    line::{Line, LinePoint, line, steps},
    map::{Map, map},
    what_if::{FLIGHTS, Held, WhatIf, what_if},
};

use crate::{
    chain::Claim,
    engine::{Change, Order, Progress, run},
    estimate::{LEVEL, Proportion},
    scenario::InputId,
};

/// What is moved.
#[derive(Clone, Debug, PartialEq)]
pub enum Knob {
    /// One input takes the value.
    Value(InputId),
    /// Several inputs are multiplied by it.
    Times(Vec<InputId>),
}

impl Knob {
    /// The changes that turn the knob to `value`.
    #[must_use]
    pub(crate) fn turned_to(&self, value: f64) -> Vec<Change> {
        match self {
            Self::Value(id) => vec![Change::Set(*id, value)],
            Self::Times(ids) => ids.iter().map(|id| Change::Times(*id, value)).collect(),
        }
    }
}

/// The chances of a claim at one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Chances {
    /// P(this gate and all before), gate by gate, with room for flights that were cut
    /// off before their fate was known.
    pub gates: Vec<Proportion>,
}

impl Chances {
    /// The chance of the whole claim.
    #[must_use]
    pub fn claim(&self) -> Proportion {
        self.gates[self.gates.len() - 1]
    }
}

/// Flies `flights` draws of a seed with `changes`.
pub(crate) fn chances(
    claim: &Claim,
    seed: u64,
    flights: u64,
    changes: Vec<Change>,
    progress: &impl Progress,
) -> Chances {
    let order = Order { changes, ..Order::new(seed, 0..flights) };
    let tally = run(claim, &order, progress);
    let flown = tally.flights();
    let gates = 0..claim.gates().len();
    let chance = |place: usize| {
        let open = tally.open[..=place].iter().sum();
        Proportion::printed(tally.passed(place), flown, LEVEL).left_open(open)
    };
    Chances { gates: gates.map(chance).collect() }
}
