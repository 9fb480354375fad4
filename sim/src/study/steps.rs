//! The steps of a study, watched as one piece of work.

use super::Part;
use crate::engine::{Progress, Tally};
use std::sync::atomic::{AtomicU8, AtomicU64, Ordering};

/// Hundredths of the time for the plain flights; what the other steps have stands
/// with them. Judgement: the chance comes first.
const PLAIN: u8 = 50;

/// Hands on what is flown, and counts it, so that what a step expects comes on
/// top of what the steps before it have flown. A step that goes on beyond what
/// it expected, as a search does that plain flights contradict, expects more. Each
/// step ends when its share of the time is up.
pub(super) struct Steps<'a, P> {
    inner: &'a P,
    flown: AtomicU64,
    before: AtomicU64,
    expected: AtomicU64,
    /// The hundredths of the time that are up when the step's time is.
    until: AtomicU8,
    /// Flights that are flown however long they take.
    first: u64,
}

impl<'a, P: Progress> Steps<'a, P> {
    pub(super) fn new(inner: &'a P, first: u64) -> Self {
        Self {
            inner,
            first,
            until: AtomicU8::new(PLAIN),
            flown: AtomicU64::new(0),
            before: AtomicU64::new(0),
            expected: AtomicU64::new(0),
        }
    }

    /// A new step begins.
    pub(super) fn next(&self, part: Part) -> &Self {
        let (what, until) = match part {
            Part::Moved => ("moving what was assumed", 65),
            Part::Band => ("varying what is not known", 80),
            Part::Search => ("searching for how rare it is", 100),
        };
        self.inner.doing(what);
        self.until.store(until, Ordering::Relaxed);
        self.before.store(self.flown.load(Ordering::Relaxed), Ordering::Relaxed);
        self
    }
}

impl<P: Progress> Progress for Steps<'_, P> {
    fn flown(&self, flights: u64) {
        let flown = self.flown.fetch_add(flights, Ordering::Relaxed) + flights;
        if flown > self.expected.load(Ordering::Relaxed) {
            let before = self.before.load(Ordering::Relaxed);
            self.expect(flown - before + (flown - before) / 4);
        }
        self.inner.flown(flights);
    }

    fn stop(&self) -> bool {
        self.inner.stop() || self.late(1.0)
    }

    fn late(&self, share: f64) -> bool {
        let until = f64::from(self.until.load(Ordering::Relaxed)) / 100.0;
        self.flown.load(Ordering::Relaxed) >= self.first && self.inner.late(share * until)
    }

    fn hurried(&self) -> bool {
        self.inner.hurried()
    }

    fn seen(&self, tally: &Tally) {
        self.inner.seen(tally);
    }

    fn so_far(&self, held: u64, flown: u64) {
        self.inner.so_far(held, flown);
    }

    fn expect(&self, flights: u64) {
        let all = self.before.load(Ordering::Relaxed) + flights;
        self.expected.store(all, Ordering::Relaxed);
        self.inner.expect(all);
    }
}
