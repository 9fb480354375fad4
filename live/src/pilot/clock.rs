//! How long somebody has waited. What is found never depends on it: only how many
//! flights there are before the first number is shown.

use std::{
    sync::{Mutex, PoisonError},
    time::{Duration, Instant},
};

/// A wait that has begun.
pub(super) struct Wait(Instant);

impl Wait {
    /// It begins now.
    #[expect(clippy::disallowed_methods, reason = "it decides when a number is shown, not which")]
    pub(super) fn begin() -> Self {
        Self(Instant::now())
    }

    /// Whether it has taken so long.
    pub(super) fn is_over(&self, patience: Duration) -> bool {
        self.0.elapsed() >= patience
    }
}

/// How often the same place of a page is filled anew: oftener is not seen, and the
/// browser takes a core for it.
const OFTEN: Duration = Duration::from_millis(70);

/// When a place of the page was last filled.
#[derive(Default)]
pub(super) struct Pace(Mutex<Option<Wait>>);

impl Pace {
    /// Whether it may be filled again; then it counts as filled now.
    pub(super) fn is_due(&self) -> bool {
        let mut last = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let due = last.as_ref().is_none_or(|wait| wait.is_over(OFTEN));
        if due {
            *last = Some(Wait::begin());
        }
        due
    }
}
