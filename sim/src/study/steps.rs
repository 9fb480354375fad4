//! The steps of a study, watched as one piece of work.

use crate::engine::Progress;
use std::sync::atomic::{AtomicU64, Ordering};

/// Hands on what is flown, and counts it, so that what a step expects comes on
/// top of what the steps before it have flown. A step that goes on beyond what
/// it expected, as a search does that plain flights contradict, expects more.
pub(super) struct Steps<'a, P> {
    inner: &'a P,
    flown: AtomicU64,
    before: AtomicU64,
    expected: AtomicU64,
}

impl<'a, P: Progress> Steps<'a, P> {
    pub(super) fn new(inner: &'a P) -> Self {
        Self {
            inner,
            flown: AtomicU64::new(0),
            before: AtomicU64::new(0),
            expected: AtomicU64::new(0),
        }
    }

    /// A new step begins, which does this.
    pub(super) fn next(&self, what: &'static str) -> &Self {
        self.inner.doing(what);
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
        self.inner.stop()
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
