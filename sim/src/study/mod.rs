//! A claim answered: enough flights and no more, the search for what is rare,
//! what the unknown leaves open, and which assumptions carry the answer.
//!
//! Everything depends on the scenario and the question alone, not on the
//! machine's threads.

mod moved;
mod search;
mod steps;
mod unknown;

pub use self::{
    moved::Moved,
    unknown::{Deciding, Side, Unknown},
};

use crate::{
    chain::Claim,
    engine::{Order, Progress, Stop, Tally, run, run_until},
    estimate::{
        Stopping, THIRD,
        rare::{Likeliest, RareEvent},
    },
};

/// Most flights of a run that was not told how many.
pub const BUDGET: u64 = 2_000_000;

/// Flights before the first look at the count: a chance of a few in a hundred is
/// then known to a third.
const FIRST: u64 = 8192;

/// Flights are added in multiples of this.
const BATCH: u64 = 4096;

/// A chance shown to be below this is left to the search ...
const FLOOR: f64 = 5e-5;

/// ... after so many flights.
const LOOK: u64 = 100_000;

/// What is asked of a study.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// The seed.
    pub seed: u64,
    /// Exactly so many flights; `None`: enough, within the budget.
    pub flights: Option<u64>,
    /// Most plain flights where they are not told.
    pub budget: u64,
    /// Search for what plain flights meet too seldom?
    pub rare: bool,
    /// Ask what the unknown and the assumed inputs do to the answer?
    pub doubts: bool,
}

impl Ask {
    /// Enough flights of a seed, with everything that belongs to an answer.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self { seed, flights: None, budget: BUDGET, rare: true, doubts: true }
    }

    /// When enough has been flown.
    #[must_use]
    pub fn rule(&self) -> Stopping {
        Stopping {
            successes: THIRD,
            floor: FLOOR,
            first: FIRST,
            look: LOOK,
            budget: self.budget,
            batch: BATCH,
        }
    }
}

/// What a study found.
#[derive(Clone, Debug)]
pub struct Study {
    /// What was asked.
    pub ask: Ask,
    /// The plain flights.
    pub tally: Tally,
    /// Why they ended.
    pub stop: Stop,
    /// The search, if the plain flights were too few to lean on.
    pub rare: Option<RareEvent>,
    /// The most likely way it happens, unless it never did or mostly does.
    pub likeliest: Option<Likeliest>,
    /// What the unknown inputs leave open, if there are any.
    pub unknown: Option<Unknown>,
    /// The claim with single inputs moved, and how often it then holds.
    pub moved: Vec<Moved>,
    /// How often it holds over the same draws with nothing moved.
    pub unmoved: crate::estimate::Proportion,
}

impl Study {
    /// Plain flights alone, of draws 0 to `flights`.
    #[must_use]
    pub fn plain(seed: u64, flights: u64, tally: Tally) -> Self {
        let whole = tally.flights() >= flights;
        Self {
            ask: Ask { flights: Some(flights), rare: false, doubts: false, ..Ask::new(seed) },
            tally,
            stop: if whole { Stop::AsAsked } else { Stop::Interrupted },
            rare: None,
            likeliest: None,
            unknown: None,
            moved: Vec::new(),
            unmoved: moved::nothing(),
        }
    }

    /// The plain flights as an order, to draw them again.
    #[must_use]
    pub fn order(&self) -> Order {
        let asked = self.ask.flights.unwrap_or_else(|| self.tally.flights());
        Order::new(self.ask.seed, 0..asked)
    }

    /// How many plain flights held.
    #[must_use]
    pub fn held(&self) -> u64 {
        self.tally.fates[self.tally.fates.len() - 1]
    }
}

/// Answers a claim. Stopped from outside, at whatever step, it holds the plain
/// flights only.
#[must_use]
pub fn study(claim: &Claim, ask: &Ask, progress: &impl Progress) -> Study {
    let steps = steps::Steps::new(progress);
    let (tally, stop) = flown(claim, ask, &steps);
    let whole = stop != Stop::Interrupted;
    let doubts = ask.doubts && whole;
    let (unmoved, moved) = if doubts {
        moved::moved(claim, ask, tally.flights(), steps.next("moving what was assumed"))
    } else {
        (moved::nothing(), Vec::new())
    };
    let unknown = if doubts {
        unknown::unknown(claim, ask, &tally, steps.next("varying what is not known"))
    } else {
        None
    };
    let (rare, likeliest) = if whole {
        search::search(claim, ask, &tally, steps.next("searching for how rare it is"))
    } else {
        (None, None)
    };
    if progress.stop() {
        return Study { ask: *ask, stop: Stop::Interrupted, ..Study::plain(ask.seed, 0, tally) };
    }
    Study { ask: *ask, tally, stop, rare, likeliest, unknown, moved, unmoved }
}

fn flown(claim: &Claim, ask: &Ask, progress: &impl Progress) -> (Tally, Stop) {
    let Some(flights) = ask.flights else {
        return run_until(claim, ask.seed, &[], &ask.rule(), progress);
    };
    progress.expect(flights);
    let mut tally = run(claim, &Order::new(ask.seed, 0..0), progress);
    while tally.flights() < flights {
        let from = tally.flights();
        let until = flights.min(from + (from / 8 / BATCH * BATCH).max(FIRST));
        tally = tally.merged(run(claim, &Order::new(ask.seed, from..until), progress));
        progress.so_far(tally.passed(claim.gates().len() - 1), tally.flights());
        if tally.flights() < until {
            return (tally, Stop::Interrupted);
        }
    }
    (tally, Stop::AsAsked)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::parse;
    use std::sync::atomic::{AtomicU64, Ordering};

    /// Falls 20 m beside a pane half a metre off, and hits it in one of a
    /// hundred thousand; ours.
    const RARE: &str = "\
claim: A speck lands on a pane.
object: {shape: {sphere: {diameter: 20 mm}}, mass: 30 g}
release: {dropped: {height: 20 m, at: {normal: {mean: 0 m, sd: 0.1 m}}, nose_up: 0 deg}}
target:
  stands: {at: 0.5 m}
  faces: {pane: {centre: [0 m, 0 m, 0.5 m], rake: 90 deg, width: 0.1 m, height: 0.4 m, aim: true}}
chain: [released, reaches, strikes]
";

    /// Somebody who has enough after so many flights.
    struct Impatient {
        flown: AtomicU64,
        patience: u64,
    }

    impl Progress for Impatient {
        fn flown(&self, flights: u64) {
            self.flown.fetch_add(flights, Ordering::Relaxed);
        }

        fn stop(&self) -> bool {
            self.flown.load(Ordering::Relaxed) >= self.patience
        }
    }

    /// Somebody who compares what is flown with what was expected.
    #[derive(Default)]
    struct Strict {
        flown: AtomicU64,
        expected: AtomicU64,
        broken: AtomicU64,
    }

    impl Progress for Strict {
        fn flown(&self, flights: u64) {
            let flown = self.flown.fetch_add(flights, Ordering::Relaxed) + flights;
            let over = flown.saturating_sub(self.expected.load(Ordering::Relaxed));
            self.broken.fetch_max(over, Ordering::Relaxed);
        }

        fn stop(&self) -> bool {
            false
        }

        fn expect(&self, flights: u64) {
            self.expected.store(flights, Ordering::Relaxed);
        }
    }

    #[test]
    fn no_more_is_flown_than_was_expected() {
        let unknown = RARE.replace("mass: 30 g", "mass: {between: [20 g, 40 g], unknown: true}");
        for text in [RARE.replace("at: 0.5 m", "at: 0.2 m"), unknown] {
            let claim = Claim::new(parse(&text, std::path::Path::new("")).unwrap());
            let strict = Strict::default();
            let _ = study(&claim, &Ask { flights: Some(3000), ..Ask::new(1) }, &strict);
            assert_eq!(strict.broken.load(Ordering::Relaxed), 0);
        }
    }

    #[test]
    fn a_search_that_is_stopped_leaves_the_plain_flights() {
        let claim = Claim::new(parse(RARE, std::path::Path::new("")).unwrap());
        let ask = Ask { flights: Some(2000), doubts: false, ..Ask::new(1) };
        let patient = Impatient { flown: AtomicU64::new(0), patience: u64::MAX };
        let whole = study(&claim, &ask, &patient);
        let flown = patient.flown.load(Ordering::Relaxed);
        assert!(whole.rare.is_some() && flown > 4000, "{flown}");
        let hurried = Impatient { flown: AtomicU64::new(0), patience: 3000 };
        let cut = study(&claim, &ask, &hurried);
        assert!(cut.stop == Stop::Interrupted && cut.rare.is_none() && cut.likeliest.is_none());
        assert_eq!(cut.tally.flights(), 2000);
        assert!(hurried.flown.load(Ordering::Relaxed) < flown);
    }
}
