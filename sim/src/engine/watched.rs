//! A search that somebody may stop.

use super::Progress;
use crate::estimate::rare::{Few, LimitState};

/// A function to search that tells how many of its points are flown, and is
/// hurried through once somebody wants to stop: whoever searched it then throws
/// away what was found.
#[derive(Debug)]
pub struct Watched<'a, S, P> {
    /// What is searched.
    pub state: S,
    /// Who watches.
    pub progress: &'a P,
}

impl<S: LimitState, P: Progress> LimitState for Watched<'_, S, P> {
    fn dimension(&self) -> usize {
        self.state.dimension()
    }

    fn scores(&self, points: &[f64], out: &mut [f64]) {
        if self.progress.stop() {
            // Without a slope to follow, every search ends here.
            out.fill(1.0);
            return;
        }
        self.state.scores(points, out);
        self.progress.flown(out.len() as u64);
    }

    fn choices(&self) -> Vec<Few> {
        self.state.choices()
    }
}
