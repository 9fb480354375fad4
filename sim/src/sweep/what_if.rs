//! A claim and the same claim changed, over the same draws.

use crate::{
    chain::Claim,
    engine::{Order, Progress, run_held},
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
        let order = Order::new(seed, 0..flights);
        let (tally, held) = run_held(claim, &order, progress);
        let open: u64 = tally.open.iter().sum();
        let chance = Proportion::printed(held.len() as u64, tally.flights(), LEVEL);
        (chance.left_open(open), held, open)
    };
    let (first, held, open) = fly(before);
    let (second, holds, still_open) = fly(after);
    if first.n < flights || second.n < flights {
        return None;
    }
    let both = holds.iter().filter(|draw| held.binary_search(draw).is_ok()).count() as u64;
    let (gained, lost) = (second.k - both, first.k - both);
    let change = Paired::new(flights, both, gained, lost).left_open(still_open, open);
    Some(WhatIf { before: first, after: second, change })
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
}
