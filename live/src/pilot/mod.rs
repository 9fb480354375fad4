//! Who flies: one thread with its own pool, one version at a time.

mod flight;
mod queue;

use crate::{
    asked::{Edit, Printed},
    lines::Out,
    version::Problem,
};
use queue::Queue;
use std::{
    io,
    num::NonZero,
    path::PathBuf,
    sync::Arc,
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
    /// Where the lines go.
    pub(crate) out: Out,
}

/// A page to be printed.
pub(crate) struct Sheet {
    pub(crate) base: String,
    pub(crate) asked: Printed,
    pub(crate) folder: PathBuf,
    pub(crate) name: String,
    pub(crate) back: oneshot::Sender<Result<String, Vec<Problem>>>,
}

/// The thread that flies, from outside.
pub(crate) struct Pilot {
    queue: Arc<Queue>,
}

impl Pilot {
    /// Starts it.
    pub(crate) fn new(seed: u64, threads: Option<usize>) -> io::Result<Self> {
        // One core is left to the browser.
        let spare = || available_parallelism().map_or(1, NonZero::get).saturating_sub(1).max(1);
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads.unwrap_or_else(spare))
            .build()
            .map_err(io::Error::other)?;
        let queue = Arc::new(Queue::default());
        let own = Arc::clone(&queue);
        thread::Builder::new().name("pilot".to_owned()).spawn(move || {
            flight::fly(seed, &pool, &own);
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
