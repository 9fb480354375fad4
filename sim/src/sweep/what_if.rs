//! A claim and the same claim changed, over the same draws.

use crate::{
    chain::{Claim, Outcome},
    engine::{Order, Progress, Tally, run_picking},
    estimate::{LEVEL, Paired, Proportion},
};
use serde::{Deserialize, Serialize};

/// What a change does to the chance of a claim.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WhatIf {
    /// The chance before it.
    pub before: Proportion,
    /// The chance after it.
    pub after: Proportion,
    /// Draw by draw.
    pub change: Paired,
}

/// Flights that show what a change does, where no other number is asked for.
pub const FLIGHTS: u64 = 20_000;

/// Which of the first draws of a claim hold: what two claims are compared by, draw by
/// draw.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// How many draws were flown, from the first one on.
    flights: u64,
    /// Those that held, in their order.
    draws: Vec<u64>,
    /// Those that were cut off before their fate was known, in their order.
    open: Vec<u64>,
}

impl Held {
    /// How many draws were flown.
    #[must_use]
    pub fn flights(&self) -> u64 {
        self.flights
    }

    /// Flies on until so many draws are flown in all; hands back the tally of the new
    /// ones. Stopped, it holds fewer, the first ones, whole.
    pub fn fly_until(
        &mut self,
        claim: &Claim,
        seed: u64,
        flights: u64,
        progress: &impl Progress,
    ) -> Tally {
        let order = Order::new(seed, self.flights..flights.max(self.flights));
        let fate = |outcome: &Outcome| match outcome.stopped_at {
            None => Some((outcome.draw, true)),
            Some(_) => outcome.is_open().then_some((outcome.draw, false)),
        };
        let (tally, picked) = run_picking(claim, &order, progress, fate);
        self.flights += tally.flights();
        for (draw, held) in picked {
            if held { self.draws.push(draw) } else { self.open.push(draw) }
        }
        tally
    }

    /// The first so many of them, or all.
    #[must_use]
    pub fn first(&self, flights: u64) -> Self {
        let first = |draws: &[u64]| draws.iter().copied().filter(|draw| *draw < flights).collect();
        Self {
            flights: self.flights.min(flights),
            draws: first(&self.draws),
            open: first(&self.open),
        }
    }

    /// The chance that it says.
    #[must_use]
    pub fn chance(&self) -> Proportion {
        let (held, open) = (self.draws.len() as u64, self.open.len() as u64);
        Proportion::printed(held, self.flights, LEVEL).left_open(open)
    }

    /// What became of the same draws after a change; `None` where other numbers of
    /// them were flown.
    #[must_use]
    pub fn against(&self, after: &Self) -> Option<WhatIf> {
        if self.flights != after.flights {
            return None;
        }
        let both = after.draws.iter().filter(|draw| self.draws.binary_search(draw).is_ok()).count();
        let (gained, lost) = (after.draws.len() - both, self.draws.len() - both);
        let [both, gained, lost] = [both, gained, lost].map(|draws| draws as u64);
        let change = Paired::new(self.flights, both, gained, lost)
            .left_open(after.open.len() as u64, self.open.len() as u64);
        Some(WhatIf { before: self.chance(), after: after.chance(), change })
    }
}

/// Flies the same draws through both claims. `None` if it was stopped.
#[must_use]
pub fn what_if(
    before: &Claim,
    after: &Claim,
    seed: u64,
    flights: u64,
    progress: &impl Progress,
) -> Option<WhatIf> {
    let fly = |claim: &Claim| {
        let mut held = Held::default();
        let _flown = held.fly_until(claim, seed, flights, progress);
        (held.flights == flights).then_some(held)
    };
    fly(before)?.against(&fly(after)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        engine::Unwatched,
        scenario::{parse, patched, template},
    };
    use std::path::Path;

    fn claim(options: &[&str]) -> Claim {
        let options: Vec<String> = options.iter().map(|o| (*o).to_owned()).collect();
        let text = patched(template(), Path::new(""), &options).unwrap().text;
        Claim::ready(parse(&text, Path::new("")).unwrap(), 5)
    }

    #[test]
    fn a_change_is_told_draw_by_draw() {
        let (before, same) = (claim(&[]), claim(&["target.stands.at=0.5 m"]));
        let none = what_if(&before, &same, 5, 500, &Unwatched).unwrap();
        assert_eq!((none.change.gained, none.change.lost, none.before), (0, 0, none.after));
        let farther = claim(&["target.stands.at=4 m"]);
        let change = what_if(&before, &farther, 5, 500, &Unwatched).unwrap();
        assert!(change.after.k == 0 && change.change.high < 0.0 && change.before == none.before);
    }

    /// The first draws of a longer comparison are the shorter one.
    #[test]
    fn a_comparison_in_slices_is_the_comparison() {
        let (before, after) = (claim(&[]), claim(&["target.stands.at=0.6 m"]));
        let flown = |claim: &Claim, slices: &[u64]| {
            let mut held = Held::default();
            let flights = slices.iter().map(|end| {
                let _tally = held.fly_until(claim, 5, *end, &Unwatched);
                held.flights()
            });
            assert_eq!(flights.collect::<Vec<_>>(), slices);
            held
        };
        let long = [&before, &after].map(|claim| flown(claim, &[64, 192, 700, 900]));
        for flights in [0, 1, 64, 500, 900] {
            let [first, second] = long.each_ref().map(|held| held.first(flights));
            let whole = what_if(&before, &after, 5, flights, &Unwatched);
            assert_eq!(first.against(&second), whole);
        }
        assert_eq!(long[0].against(&long[1].first(800)), None);
    }
}
