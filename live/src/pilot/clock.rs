//! How long somebody has waited. What is found never depends on it: only how many
//! flights there are before the first number is shown.

use std::time::{Duration, Instant};

/// A wait that has begun.
pub(super) struct Wait(Instant);

impl Wait {
    #[expect(clippy::disallowed_methods, reason = "it decides when a number is shown, not which")]
    pub(super) fn begin() -> Self {
        Self(Instant::now())
    }

    pub(super) fn is_over(&self, patience: Duration) -> bool {
        self.0.elapsed() >= patience
    }
}
