//! What a run is asked to do.

use crate::scenario::InputId;
use std::ops::Range;

/// Draws that one task flies in a row: few enough that a thousand keep several
/// cores busy, and that whoever is in a hurry waits some milliseconds. A constant:
/// it fixes how a run is cut into pieces, whatever the number of threads.
pub(super) const CHUNK: u64 = 256;

/// Chunks between two looks at the stop flag; a run that is stopped keeps the
/// whole waves before, so that its flights are the first ones of the full run.
pub(super) const WAVE: u64 = 64;

/// A run to be done.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The seed; the same seed gives the same draws.
    pub seed: u64,
    /// Which draws. A shard is a part of the whole range.
    pub draws: Range<u64>,
    /// What is otherwise than the scenario says.
    pub changes: Vec<Change>,
}

/// An input made otherwise than the scenario says, in every draw: the draws of
/// a sweep share all their other numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Has this value, in SI.
    Set(InputId, f64),
    /// Is this many times what it was.
    Times(InputId, f64),
}

impl Order {
    /// As the scenario says.
    #[must_use]
    pub fn new(seed: u64, draws: Range<u64>) -> Self {
        Self { seed, draws, changes: Vec::new() }
    }

    /// The draws of every wave, in order.
    pub(super) fn waves(&self) -> impl Iterator<Item = Range<u64>> + use<> {
        pieces(self.draws.clone(), CHUNK * WAVE)
    }

    /// The draws of every chunk of a wave, in order.
    pub(super) fn chunks(wave: Range<u64>) -> Vec<Range<u64>> {
        pieces(wave, CHUNK).collect()
    }
}

fn pieces(whole: Range<u64>, size: u64) -> impl Iterator<Item = Range<u64>> {
    let Range { start, end } = whole;
    (0..(end - start).div_ceil(size)).map(move |i| {
        let from = start + i * size;
        from..end.min(from + size)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waves_and_chunks_cover_every_draw_once() {
        let order = Order::new(1, 5..40_000);
        let mut next = 5;
        for wave in order.waves() {
            for chunk in Order::chunks(wave) {
                assert_eq!(chunk.start, next);
                assert!(chunk.end > chunk.start);
                next = chunk.end;
            }
        }
        assert_eq!(next, 40_000);
    }

    #[test]
    fn an_empty_range_has_no_waves() {
        assert_eq!(Order::new(1, 3..3).waves().count(), 0);
    }
}
