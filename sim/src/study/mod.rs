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
    engine::{Order, Progress, Stop, Tally, run, run_on},
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
    /// Time that the watcher grants ([`Progress::late`]), in s, for the record; `None`:
    /// as long as it takes.
    pub time: Option<f64>,
}

impl Ask {
    /// Enough flights of a seed, with everything that belongs to an answer.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self { seed, flights: None, budget: BUDGET, rare: true, doubts: true, time: None }
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

/// A part of a study beside the plain flights.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// What was assumed, moved.
    Moved,
    /// What the unknown leaves open.
    Band,
    /// The search for how rare it is.
    Search,
}

impl Part {
    /// What it is about.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Moved => "what was assumed",
            Self::Band => "what the unknown leaves open",
            Self::Search => "how rare it is",
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
    /// What there was no time for.
    pub left_out: Vec<Part>,
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
            left_out: Vec::new(),
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

    /// Whether so few of the plain flights held that it is searched for.
    #[must_use]
    pub fn is_searched(&self) -> bool {
        self.ask.rare && search::are_few(self.held(), self.tally.flights())
    }

    /// How many plain flights held.
    #[must_use]
    pub fn held(&self) -> u64 {
        self.tally.fates[self.tally.fates.len() - 1]
    }
}

/// Answers a claim. Stopped from outside, at whatever step, it holds the plain
/// flights only; where the time is up it holds the steps that were done by then.
#[must_use]
pub fn study(claim: &Claim, ask: &Ask, progress: &impl Progress) -> Study {
    let steps = steps::Steps::new(progress, FIRST);
    let none = run(claim, &Order::new(ask.seed, 0..0), &steps);
    let (tally, stop) = flown(claim, ask, none, &steps);
    let stop = match stop {
        Stop::Interrupted if !progress.stop() => Stop::TimeUp,
        stop => stop,
    };
    further(claim, ask, tally, stop, (progress, &steps))
}

/// The plain flights of a study alone, going on from the first ones of the same claim
/// and seed: none, or as many as the rule of [`Ask`] looks at.
///
/// With [`asked_further`] it is [`study`] in two steps.
#[must_use]
pub fn counted(claim: &Claim, ask: &Ask, tally: Tally, progress: &impl Progress) -> Study {
    let (tally, stop) = flown(claim, ask, tally, progress);
    Study { ask: *ask, stop, ..Study::plain(ask.seed, 0, tally) }
}

/// The rest of a study whose plain flights are flown: what the assumed and the
/// unknown do to it, and the search for what is rare.
#[must_use]
pub fn asked_further(claim: &Claim, counted: Study, progress: &impl Progress) -> Study {
    let Study { ask, tally, stop, .. } = counted;
    further(claim, &ask, tally, stop, (progress, &steps::Steps::new(progress, FIRST)))
}

fn further<P: Progress>(
    claim: &Claim,
    ask: &Ask,
    tally: Tally,
    stop: Stop,
    (progress, steps): (&P, &steps::Steps<'_, P>),
) -> Study {
    let mut left_out = Vec::new();
    // A step that was cut short tells nothing.
    let mut whole = |part| {
        let done = !steps.stop();
        if !done {
            left_out.push(part);
        }
        done
    };
    let (mut unmoved, mut moved, mut unknown) = (moved::nothing(), Vec::new(), None);
    if ask.doubts && stop != Stop::Interrupted {
        let found = moved::moved(claim, ask, tally.flights(), steps.next(Part::Moved));
        if whole(Part::Moved) {
            (unmoved, moved) = found;
        }
        let found = unknown::unknown(claim, ask, &tally, steps.next(Part::Band));
        if whole(Part::Band) {
            unknown = found;
        }
    }
    let (mut rare, mut likeliest) = (None, None);
    if stop != Stop::Interrupted {
        let found = search::search(claim, ask, &tally, steps.next(Part::Search));
        if whole(Part::Search) {
            (rare, likeliest) = found;
        }
    }
    if progress.stop() {
        return Study { ask: *ask, stop: Stop::Interrupted, ..Study::plain(ask.seed, 0, tally) };
    }
    Study { ask: *ask, tally, stop, left_out, rare, likeliest, unknown, moved, unmoved }
}

fn flown(claim: &Claim, ask: &Ask, mut tally: Tally, progress: &impl Progress) -> (Tally, Stop) {
    let Some(flights) = ask.flights else {
        return run_on(claim, ask.seed, &[], &ask.rule(), tally, progress);
    };
    progress.expect(flights);
    while tally.flights() < flights {
        let from = tally.flights();
        let until = flights.min(from + (from / 8 / BATCH * BATCH).max(FIRST));
        tally = tally.merged(run(claim, &Order::new(ask.seed, from..until), progress));
        progress.so_far(tally.passed(claim.gates().len() - 1), tally.flights());
        progress.seen(&tally);
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

    /// Whose time is up after so many flights, whatever the share.
    struct Hasty(Impatient);

    impl Progress for Hasty {
        fn flown(&self, flights: u64) {
            self.0.flown(flights);
        }

        fn stop(&self) -> bool {
            false
        }

        fn late(&self, _share: f64) -> bool {
            self.0.stop()
        }
    }

    /// What there was time for is what it would have been with all the time there is.
    #[test]
    fn what_the_time_was_enough_for_is_whole() {
        let text = RARE
            .replace("mass: 30 g", "mass: {between: [20 g, 40 g], unknown: true}")
            .replace("at: 0.5 m", "at: 0.25 m");
        let claim = Claim::new(parse(&text, std::path::Path::new("")).unwrap());
        let ask = Ask { budget: 40_000, time: Some(1.0), ..Ask::new(1) };
        let hasty = |patience| {
            let hasty = Hasty(Impatient { flown: AtomicU64::new(0), patience });
            (study(&claim, &ask, &hasty), hasty.0.flown.into_inner())
        };
        let (whole, flown) = hasty(u64::MAX);
        assert!(whole.left_out.is_empty() && whole.stop != Stop::TimeUp);
        let mut left = 3;
        for tenth in 0..=10 {
            let (cut, _) = hasty(flown * tenth / 10 + 1);
            assert!(cut.left_out.len() <= left, "{:?} after {tenth} tenths", cut.left_out);
            left = cut.left_out.len();
            let plain =
                run(&claim, &Order::new(1, 0..cut.tally.flights()), &crate::engine::Unwatched);
            assert_eq!(cut.tally.fates, plain.fates);
            assert!(cut.tally.flights() >= FIRST);
            assert_eq!(cut.stop == Stop::TimeUp, cut.tally.flights() < whole.tally.flights());
            if !cut.left_out.contains(&Part::Moved) && cut.stop != Stop::TimeUp {
                assert_eq!(cut.moved, whole.moved);
            }
            assert!(cut.left_out.contains(&Part::Band) <= cut.unknown.is_none());
            assert!(cut.left_out.contains(&Part::Search) <= cut.rare.is_none());
        }
        assert_eq!(left, 0);
    }
}
