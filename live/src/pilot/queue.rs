//! What waits to be flown: the newest first, and a page's newest only.

use super::{Job, Sheet};
use std::sync::{
    Condvar, Mutex, MutexGuard, PoisonError,
    atomic::{AtomicU64, Ordering},
};

/// Versions that may wait; the oldest goes.
const WAITING: usize = 32;

/// What the pilot does next.
pub(super) enum Next {
    /// Flies a version.
    Fly(Job),
    /// Makes a page to print.
    Print(Sheet),
    /// Ends.
    End,
}

/// What waits.
#[derive(Default)]
pub(super) struct Queue {
    inner: Mutex<Inner>,
    more: Condvar,
    /// Raised by every new thing to do.
    newest: AtomicU64,
}

#[derive(Default)]
struct Inner {
    jobs: Vec<Job>,
    sheets: Vec<Sheet>,
    ended: bool,
}

impl Queue {
    fn inner(&self) -> MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn tell(&self) {
        self.newest.fetch_add(1, Ordering::Relaxed);
        self.more.notify_one();
    }

    /// Adds a version in front of those that wait.
    pub(super) fn add(&self, job: Job) {
        let mut inner = self.inner();
        if job.edit.page.is_some() {
            inner.jobs.retain(|old| old.edit.page != job.edit.page);
        }
        inner.jobs.push(job);
        if inner.jobs.len() > WAITING {
            inner.jobs.remove(0);
        }
        drop(inner);
        self.tell();
    }

    /// Puts a version back, behind those that wait: it was in the way of a newer one.
    pub(super) fn back(&self, job: Job) {
        let mut inner = self.inner();
        let newer = |old: &Job| old.edit.page.is_some() && old.edit.page == job.edit.page;
        if !inner.ended && !job.out.is_closed() && !inner.jobs.iter().any(newer) {
            inner.jobs.insert(0, job);
        }
    }

    /// Adds a page to print.
    pub(super) fn print(&self, sheet: Sheet) {
        let mut inner = self.inner();
        if inner.sheets.len() < WAITING {
            inner.sheets.push(sheet);
        }
        drop(inner);
        self.tell();
    }

    /// Puts a page back to be printed: something newer came between.
    pub(super) fn print_again(&self, sheet: Sheet) {
        let mut inner = self.inner();
        if !inner.ended && !sheet.back.is_closed() {
            inner.sheets.insert(0, sheet);
        }
    }

    /// Ends it: nothing that waits is flown any more.
    pub(super) fn end(&self) {
        let mut inner = self.inner();
        *inner = Inner { ended: true, ..Inner::default() };
        drop(inner);
        self.tell();
    }

    /// How many things there were to do so far: once it grows, there is a newer one.
    pub(super) fn newest(&self) -> u64 {
        self.newest.load(Ordering::Relaxed)
    }

    /// Waits for the next thing to do, and says the count as it was then.
    pub(super) fn next(&self) -> (Next, u64) {
        let mut inner = self.inner();
        loop {
            inner.jobs.retain(|job| !job.out.is_closed());
            inner.sheets.retain(|sheet| !sheet.back.is_closed());
            let now = self.newest();
            if inner.ended {
                return (Next::End, now);
            }
            if let Some(job) = inner.jobs.pop() {
                return (Next::Fly(job), now);
            }
            if !inner.sheets.is_empty() {
                return (Next::Print(inner.sheets.remove(0)), now);
            }
            inner = self.more.wait(inner).unwrap_or_else(PoisonError::into_inner);
        }
    }
}
