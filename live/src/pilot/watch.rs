//! Whether flights are still wanted.

use super::queue::Queue;
use crate::lines::Out;
use longodds_sim::engine::{Progress, Tally};

/// Flights for a page: unwanted once there is something newer to do, or the page is gone.
pub(super) struct Watch<'a, S> {
    pub(super) queue: &'a Queue,
    /// How many things there were to do when this one was begun.
    pub(super) mark: u64,
    pub(super) out: Option<&'a Out>,
    /// Shown the flights so far.
    pub(super) seen: S,
}

impl<S: Fn(&Tally) + Sync> Progress for Watch<'_, S> {
    fn flown(&self, _flights: u64) {}

    fn stop(&self) -> bool {
        self.queue.newest() != self.mark || self.out.is_some_and(Out::is_closed)
    }

    fn hurried(&self) -> bool {
        self.stop()
    }

    fn seen(&self, tally: &Tally) {
        (self.seen)(tally);
    }
}
