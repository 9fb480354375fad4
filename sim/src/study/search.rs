//! What plain flights meet too seldom, and the likeliest way it happens.

use super::Ask;
use crate::{
    chain::Claim,
    engine::{ClaimState, Progress, Tally, Watched},
    estimate::{
        BottomK, LEVEL, Proportion,
        rare::{Effort, Few, Flown, Likeliest, LimitState, RareEvent, likeliest_among, rare_event},
    },
};
use std::sync::atomic::{AtomicBool, Ordering};

/// Fewer held flights than this are too few to lean on.
const FEW: u64 = 20;

/// Above this chance the likeliest way is the everyday one.
const COMMON: f64 = 0.5;

/// A claim to be searched, which counts what was cut off before its fate was known
/// as not held, or as held.
struct Fates<'a> {
    state: ClaimState<'a>,
    gates: usize,
    open_holds: bool,
    /// Was any flight cut off?
    met_open: AtomicBool,
}

impl LimitState for Fates<'_> {
    fn dimension(&self) -> usize {
        self.state.dimension()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        self.state.measured(points, out, |outcome| {
            if outcome.is_open() {
                self.met_open.store(true, Ordering::Relaxed);
                if self.open_holds {
                    return 0.0;
                }
            }
            outcome.score(self.gates)
        });
    }

    fn choices(&self) -> Vec<Few> {
        self.state.choices()
    }
}

/// Whether so few flights held that they say little: a handful that were asked for are
/// no sign of something rare.
pub(super) fn are_few(held: u64, flown: u64) -> bool {
    held < FEW && held * FEW <= flown
}

/// The search, if it is needed, and the most likely way, if it is unusual.
pub(super) fn search(
    claim: &Claim,
    ask: &Ask,
    tally: &Tally,
    progress: &impl Progress,
) -> (Option<RareEvent>, Option<Likeliest>) {
    let gates = claim.gates().len();
    let fates = |open_holds| Watched {
        state: Fates {
            state: ClaimState::new(claim, &[]),
            gates,
            open_holds,
            met_open: AtomicBool::new(false),
        },
        progress,
    };
    let state = fates(false);
    let (flown, held) = (tally.flights(), tally.passed(gates - 1));
    if state.dimension() == 0 || flown == 0 {
        return (None, None);
    }
    let effort = Effort::default();
    let points = |kept: &BottomK<()>| {
        let draws = kept.clone().into_sorted().into_iter().map(|(draw, ())| draw);
        state.state.state.points_of(ask.seed, draws)
    };
    let kept = points(&tally.kept[gates]);
    if ask.rare && are_few(held, flown) {
        progress.expect(effort.usual());
        // So few held that all of them are kept.
        let mut plain = Flown { flights: flown, met: kept };
        let mut event = rare_event(&state, ask.seed, &plain, &effort);
        let open: u64 = tally.open.iter().sum();
        if held + open >= FEW {
            // All that were cut off may have held: so many that counting them is enough.
            let counted = Proportion::printed(held, flown, LEVEL).left_open(open);
            leave_room(&mut event, counted.high, counted.high);
        } else if open > 0 {
            // What chance it would have, had all of them held.
            plain.met.extend(points(&tally.cut_off));
            let most = rare_event(&fates(true), ask.seed, &plain, &effort);
            leave_room(&mut event, most.by_ways.map_or(most.high, |[_, high]| high), most.high);
        } else if state.state.met_open.load(Ordering::Relaxed) {
            // No plain flight was: what flights alone leave open has room for them.
            event.why.push_str(
                "; of the search's own flights some were cut off before their fate was known, as \
                 none of the others was: they are taken as not held",
            );
        }
        let likeliest = event.likeliest.take();
        return (Some(event), likeliest);
    }
    if held == 0 || held as f64 > COMMON * flown as f64 {
        return (None, None);
    }
    (None, likeliest_among(&state, ask.seed, &kept, effort.polish))
}

/// Leaves room in both intervals for what was cut off before its fate was known.
fn leave_room(event: &mut RareEvent, by_ways: f64, most: f64) {
    event.high = event.high.max(most);
    if let Some([_, high]) = &mut event.by_ways {
        *high = high.max(by_ways);
    }
    event.why.push_str(
        "; with room for flights that were cut off before their fate was known, all of which may \
         have held",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        engine::{Order, Unwatched, run},
        estimate::rare::Method,
        scenario::parse,
    };
    use std::path::Path;

    /// A balloon that is thrown towards a window far away: the lightest float and never
    /// come down.
    const FLOATS: &str = "\
claim: A balloon comes to a window.
object: {shape: {sphere: {diameter: 0.3 m}}, mass: {normal: {mean: MEAN, sd: 2 g}}}
release: {launched: {height: 2 m, speed: 8 m/s, elevation: 60 deg}}
target:
  stands: {at: 30 m}
  faces: {window: {centre: [0 m, 0 m, 40 m], width: 3 m, height: 1 m, aim: true}}
chain: [released, reaches, strikes]
";

    fn searched(mean: &str) -> (Tally, RareEvent) {
        let claim = Claim::new(parse(&FLOATS.replace("MEAN", mean), Path::new("")).unwrap());
        let tally = run(&claim, &Order::new(1, 0..600), &Unwatched);
        let found = search(&claim, &Ask::new(1), &tally, &Unwatched).0.unwrap();
        (tally, found)
    }

    /// Whoever floats has not come to the window, and may yet.
    #[test]
    fn the_search_leaves_room_for_what_was_cut_off() {
        for (mean, often) in [("17 g", 0.2), ("22 g", 1e-3)] {
            let (tally, found) = searched(mean);
            let open = tally.open.iter().sum::<u64>() as f64 / 600.0;
            assert!(open > often && tally.passed(2) == 0, "{mean}: {open}");
            assert!(found.high >= open, "{mean}: {found:?}");
            assert!(found.why.contains("cut off"), "{}", found.why);
            assert!(found.by_ways.is_none_or(|[_, high]| high >= open), "{found:?}");
        }
        // None of these is cut off.
        let (tally, found) = searched("60 g");
        assert_eq!(tally.open.iter().sum::<u64>(), 0);
        assert!(found.method == Method::Unresolved && !found.why.contains("cut off"), "{found:?}");
    }
}
