//! Progress on stderr, and Ctrl-C.

use indicatif::{ProgressBar, ProgressStyle};
use longodds_sim::{
    engine::Progress,
    estimate::{LEVEL, anytime},
    words::interval,
};
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
    },
    time::{Duration, Instant},
};

/// A bar on stderr (nothing where stderr is no terminal) that also carries the
/// wish to stop.
pub(crate) struct Bar {
    bar: ProgressBar,
    stop: Arc<AtomicBool>,
    begun: Instant,
    /// How long it may take; as long as it takes where none is told.
    time: Option<Duration>,
}

impl Bar {
    /// Starts a bar over `total` things; Ctrl-C from now on asks the work to
    /// stop, and a second one ends the program.
    pub(crate) fn new(total: u64, things: &'static str) -> Self {
        let bar = ProgressBar::new(total);
        let template = "{bar:12} {human_pos} of {human_len} {msg}, {eta} to go{prefix}";
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style.progress_chars("##."));
        }
        bar.set_message(things);
        let stop = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&stop);
        // A second handler in one process is refused; the first one stays.
        let _ = ctrlc::set_handler(move || {
            if flag.swap(true, Ordering::Relaxed) {
                ended();
            }
        });
        Self { bar, stop, begun: now(), time: None }
    }

    /// Grants it so many seconds from now on.
    pub(crate) fn within(mut self, seconds: Option<f64>) -> Self {
        self.time = seconds.and_then(|s| Duration::try_from_secs_f64(s).ok());
        self.begun = now();
        self
    }
}

#[expect(clippy::disallowed_methods, reason = "how long it may take is the user's clock")]
fn now() -> Instant {
    Instant::now()
}

/// The second Ctrl-C.
#[expect(clippy::exit, reason = "the user does not want to wait")]
fn ended() -> ! {
    std::process::exit(130)
}

impl Progress for Bar {
    fn flown(&self, flights: u64) {
        self.bar.inc(flights);
    }

    fn stop(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn late(&self, share: f64) -> bool {
        self.time.is_some_and(|time| self.begun.elapsed() >= time.mul_f64(share))
    }

    fn expect(&self, flights: u64) {
        self.bar.set_length(flights);
    }

    fn so_far(&self, held: u64, flown: u64) {
        let [low, high] = anytime(held, flown, LEVEL);
        self.bar.set_prefix(format!("; so far {}", interval(low, high)));
    }

    fn doing(&self, what: &'static str) {
        self.bar.set_message(format!("flights, {what}"));
    }
}

impl Drop for Bar {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
