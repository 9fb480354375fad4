//! How much of what was flown lies on the models' ground.

use super::{BreachFinding, Chance};
use crate::{chain::Breach, engine::Tally, estimate::Proportion};

/// Flights that were cut off are said before the number where they move the
/// upper end by more than this share.
pub const MOVED: f64 = 0.01;

/// Every validity range that was left, as a share of those whom it can befall.
pub(super) fn breaches(tally: &Tally) -> Vec<BreachFinding> {
    let counted = Breach::ALL.into_iter().zip(tally.breaches.into_iter().zip(tally.concerned));
    counted
        .filter(|(_, (left, _))| *left > 0)
        .map(|(breach, (flights, of))| {
            let share = flights as f64 / of.max(flights) as f64;
            BreachFinding { breach, flights, share, of }
        })
        .collect()
}

/// A chance with room for what was cut off before its fate was known: none of
/// it held, all of it might have.
pub(super) fn left_open(chance: Chance, open: u64) -> Chance {
    if open == 0 || chance.flights == 0 {
        return chance;
    }
    let counted = Proportion::printed(chance.held, chance.flights, chance.level);
    let high = chance.high.max(counted.left_open(open).high);
    Chance { high, open, ..chance }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{findings::build::chance, words::Likelihood};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// Whatever became of what was cut off, the interval holds what would
        /// have been printed had it been followed on.
        #[test]
        fn the_interval_leaves_room_for_every_fate_of_what_was_cut_off(
            flights in 1_u64..5000, held in 0_u64..=100, open in 0_u64..=100, would in 0_u64..=100,
        ) {
            let part = |percent: u64, of: u64| of * percent / 100;
            let held = part(held, flights);
            let open = part(open, flights - held);
            let found = left_open(chance(held, flights), open);
            let then = chance(held + part(would, open), flights);
            prop_assert!(found.low <= then.low + 1e-12 && then.high <= found.high + 1e-12);
            prop_assert!(found.low <= found.probability && found.probability <= found.high);
            prop_assert!(found.high >= chance(held, flights).high);
        }
    }

    #[test]
    fn where_everything_was_cut_off_nothing_is_called_unlikely() {
        let found = left_open(chance(0, 50), 50);
        assert_eq!((found.low, found.high), (0.0, 1.0));
        assert_eq!(found.likelihood(), Likelihood::Unknown);
    }
}
