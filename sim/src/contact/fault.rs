//! Faults that tests put into the laws of contact, to see that the audit sees them.

/// A part of a law that a test can make wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Law {
    /// The impulse of a blow.
    Strikes,
    /// Its part across the push.
    Rubs,
    /// What an impulse does to the velocity.
    Pushes,
    /// What an impulse does to the spin.
    Turns,
    /// The moment that stops a turning.
    Stops,
    /// How fast what slides slows down.
    Slides,
    /// The spin of what slips until it rolls.
    Rolls,
    /// The force on a foot that grips or slips.
    Leans,
    /// What that force does to the spin.
    Tilts,
    /// The moment that brakes rolling.
    Brakes,
}

/// How much of a part there is: all of it, but in tests.
#[cfg(not(test))]
#[inline]
pub(crate) const fn share(_: Law) -> f64 {
    1.0
}

#[cfg(test)]
pub(crate) use self::put::{share, with};

#[cfg(test)]
mod put {
    use super::Law;
    use std::cell::Cell;

    thread_local! {
        static FAULT: Cell<Option<(Law, f64)>> = const { Cell::new(None) };
    }

    /// See the one outside tests.
    pub(crate) fn share(law: Law) -> f64 {
        FAULT.get().filter(|(wrong, _)| *wrong == law).map_or(1.0, |(_, share)| share)
    }

    /// Does something on this thread while there is only a `share` of a part: -1 for a
    /// wrong sign, 2 for twice of it, 0 for none.
    pub(crate) fn with<T>(law: Law, share: f64, does: impl FnOnce() -> T) -> T {
        FAULT.set(Some((law, share)));
        let done = does();
        FAULT.set(None);
        done
    }
}
