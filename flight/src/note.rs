//! What a model says of itself: where it is from, how well that is known, and
//! where it stops.
//!
//! A note stands beside the physics that it is about. Whoever shows a model
//! reads it from there: the findings of a run, the page, the tests that hold
//! published values against it (`tests/TRUST.md`).

/// How well founded something is, weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Recalled; nobody has looked it up.
    Memory,
    /// What the trade does; no source.
    Practice,
    /// Read where somebody else repeats it, or in an abstract alone.
    SecondHand,
    /// Follows from a textbook law by calculation.
    Derived,
    /// Computed by a general-purpose library.
    Library,
    /// Read in the source itself.
    Read,
}

impl Kind {
    /// Every kind, weakest first.
    pub const ALL: [Self; 6] =
        [Self::Memory, Self::Practice, Self::SecondHand, Self::Derived, Self::Library, Self::Read];

    /// As words beside a source.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Memory => "from memory",
            Self::Practice => "common practice, no source",
            Self::SecondHand => "second-hand",
            Self::Derived => "derived",
            Self::Library => "reference library",
            Self::Read => "read",
        }
    }
}

/// What the page of trust has a section about: one model, or a few of one kind.
#[derive(Debug, PartialEq, Eq)]
pub struct Subject {
    /// Its section of `tests/TRUST.md`.
    pub key: &'static str,
    /// What it claims, in a clause.
    pub claims: &'static str,
}

impl Subject {
    /// Its place in `tests/TRUST.md`, as a link ends.
    #[must_use]
    pub fn anchor(&self) -> String {
        self.key.replace(' ', "-")
    }
}

/// What a model says of itself.
#[derive(Clone, Copy, Debug)]
pub struct Note {
    /// What it is about.
    pub subject: &'static Subject,
    /// What it is for ("drag and turning of the block").
    pub what: &'static str,
    /// The model in words.
    pub how: &'static str,
    /// Its sources.
    pub source: &'static str,
    /// The weakest of them.
    pub kind: Kind,
    /// Where it is confirmed.
    pub range: &'static str,
    /// What it leaves out and what it leaves open; may be empty.
    pub leaves_out: &'static str,
}
