//! How much of what was flown lies on the models' ground, and what has to be
//! said before the number where most of it does not.

use super::{BreachFinding, Chance, Findings};
use crate::{
    chain::Breach,
    engine::Tally,
    estimate::Proportion,
    scenario::Gate,
    words::{Spoken, count},
};

/// A breach that befalls more than this share of those whom it can befall is
/// said before the number.
const MOST: f64 = 0.5;

/// Flights that were cut off are said before the number where they move the
/// upper end by more than this share.
const MOVED: f64 = 0.01;

/// Every validity range that was left, as a share of those whom it can befall.
pub(super) fn breaches(tally: &Tally) -> Vec<BreachFinding> {
    let counted = Breach::ALL.into_iter().zip(tally.breaches.into_iter().zip(tally.concerned));
    counted
        .filter(|(_, (left, _))| *left > 0)
        .map(|(breach, (flights, of))| {
            let share = flights as f64 / of.max(flights) as f64;
            BreachFinding {
                sentence: breach.sentence().to_owned(),
                flights,
                share,
                of,
                among: breach.among().words().to_owned(),
                first: (share > MOST).then(|| breach.first().to_owned()),
                gate: breach.gate(),
            }
        })
        .collect()
}

/// A chance with room for what was cut off before its fate was known: none of
/// it held, all of it might have.
pub(super) fn left_open(chance: Chance, open: u64) -> Chance {
    if open == 0 || chance.flights == 0 {
        return chance;
    }
    let most =
        Proportion::printed((chance.held + open).min(chance.flights), chance.flights, chance.level);
    let high = chance.high.max(most.high);
    Chance { high, open, ..chance }
}

/// What has to be said before the number: each a sentence.
pub(super) fn first(findings: &Findings) -> Vec<String> {
    let outside = findings.breaches.iter().filter_map(|breach| {
        let said = breach.first.as_ref()?;
        let share = Spoken::near(breach.share);
        let all = if share == Spoken::Always { "all".to_owned() } else { share.to_string() };
        let bound = breach.gate.and_then(|gate| bound(findings, gate));
        let bound = bound.map_or(String::new(), |bound| format!(" {bound}"));
        let mut sentence = format!("{said} ({all} of {}).{bound}", breach.among);
        sentence[..1].make_ascii_uppercase();
        Some(sentence)
    });
    cut_off(&findings.claim).into_iter().chain(outside).collect()
}

/// The bound that holds all the same: it cannot pass a gate more often than it
/// comes to it.
fn bound(findings: &Findings, doubted: Gate) -> Option<String> {
    let before = findings.gates.iter().take_while(|gate| gate.gate != doubted).last()?;
    let most = before.so_far.high;
    Some(if most < MOST_SAYING {
        format!(
            "What holds all the same: at most {}, since {} no oftener.",
            Spoken::at_most(most),
            before.meaning
        )
    } else {
        "No bound is known that says more than that it may be so every time.".to_owned()
    })
}

/// A bound above this says nothing.
const MOST_SAYING: f64 = 0.995;

/// That flights were cut off, where it matters.
fn cut_off(claim: &Chance) -> Option<String> {
    if claim.open == 0 {
        return None;
    }
    let without = Proportion::printed(claim.held, claim.flights, claim.level).high;
    let (open, all) = (count(claim.open), count(claim.flights));
    (claim.high > without * (1.0 + MOVED)).then(|| {
        format!(
            "{open} of {all} flights were cut off before their fate was known: all of them may \
             have held, or none; the interval leaves room for both.",
        )
    })
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
        assert!(cut_off(&found).unwrap().starts_with("50 of 50 flights were cut off"));
        assert_eq!(cut_off(&left_open(chance(500, 1000), 0)), None);
    }
}
