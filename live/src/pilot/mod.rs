//! Who flies: one thread with its own pool, one version at a time.

mod clock;
mod crew;
mod flight;
mod print;
mod queue;
mod scene;
mod screen;
mod slices;
mod watch;

use crate::{
    asked::{Edit, Printed},
    lines::Out,
    version::Problem,
};
use longodds_sim::scenario::Scenario;
use queue::Queue;
use std::{
    io,
    num::NonZero,
    path::PathBuf,
    sync::{Arc, atomic::AtomicU64},
    thread::{self, available_parallelism},
};
use tokio::sync::oneshot;

/// A version to be flown for a page.
pub(crate) struct Job {
    /// The text of the file.
    pub(crate) base: String,
    /// What the page wants of it.
    pub(crate) edit: Edit,
    /// Where names in it start from.
    pub(crate) folder: PathBuf,
    /// What the file is called.
    pub(crate) name: String,
    /// Where the lines go.
    pub(crate) out: Out,
    /// How many flights the page has been shown.
    pub(crate) shown: AtomicU64,
}

/// A page to be printed.
pub(crate) struct Sheet {
    pub(crate) base: String,
    pub(crate) asked: Printed,
    pub(crate) folder: PathBuf,
    pub(crate) name: String,
    pub(crate) back: oneshot::Sender<Result<String, Vec<Problem>>>,
}

/// Threads that fly: one core is left to the browser, but for a machine of two.
fn spare(cores: usize) -> usize {
    cores.saturating_sub(1).max(cores.min(2))
}

/// The thread that flies, from outside.
pub(crate) struct Pilot {
    queue: Arc<Queue>,
}

impl Pilot {
    /// Starts it. `first`: the claim as it is in the file, if it can be flown.
    pub(crate) fn new(
        seed: u64,
        threads: Option<usize>,
        first: Option<Scenario>,
    ) -> io::Result<Self> {
        let cores = available_parallelism().map_or(1, NonZero::get);
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads.unwrap_or_else(|| spare(cores)))
            .build()
            .map_err(io::Error::other)?;
        let queue = Arc::new(Queue::default());
        let own = Arc::clone(&queue);
        thread::Builder::new().name("pilot".to_owned()).spawn(move || {
            flight::fly(seed, first.as_ref(), &pool, &own);
        })?;
        Ok(Self { queue })
    }

    /// Flies a version, before all that wait.
    pub(crate) fn fly(&self, job: Job) {
        self.queue.add(job);
    }

    /// Makes the page to print; `None` if the server ends before.
    pub(crate) async fn print(
        &self,
        base: String,
        asked: Printed,
        folder: PathBuf,
        name: String,
    ) -> Option<Result<String, Vec<Problem>>> {
        let (back, page) = oneshot::channel();
        self.queue.print(Sheet { base, asked, folder, name, back });
        page.await.ok()
    }

    /// Stops everything.
    pub(crate) fn end(&self) {
        self.queue.end();
    }
}
