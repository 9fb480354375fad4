//! What is wrong with a scenario or a shot log, as data.
//!
//! The engine says what is wrong and where; the command line decides how it
//! looks. Nothing here knows about terminals, colours or files.

use std::{fmt, ops::Range};

/// A half-open range of byte offsets into the text.
pub type Span = Range<usize>;

/// How much a [`Diagnostic`] matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Severity {
    /// The text cannot be used.
    Error,
    /// It can be used, but the answer may mislead.
    Warning,
}

/// One problem found in a text.
///
/// `message` says what is wrong in a lowercase fragment without a full stop,
/// the label says what was found at the place, `help` says what to write
/// instead. A `code` (`area::cause`) never changes its meaning once released.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// A stable identifier, for example `units::dimension`.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// Where, if it is tied to a place, and what was found there.
    pub label: Option<(Span, String)>,
    /// What to write instead.
    pub help: Option<String>,
    /// The text that the place is in, where it is not the one that was read: a
    /// file that it names.
    pub elsewhere: Option<Box<Elsewhere>>,
}

/// A text that another one names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elsewhere {
    /// Its name, as messages call it.
    pub name: String,
    /// What it holds.
    pub text: String,
}

impl Diagnostic {
    /// Makes an error without a place.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        let (label, help, elsewhere) = (None, None, None);
        Self { severity: Severity::Error, code, message: message.into(), label, help, elsewhere }
    }

    /// Makes a warning without a place.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }

    /// Points at a place in the text.
    #[must_use]
    pub fn at(mut self, span: Span, found: impl Into<String>) -> Self {
        self.label = Some((span, found.into()));
        self
    }

    /// Its place is in another text than the one that was read.
    #[must_use]
    pub fn within(mut self, name: &str, text: &str) -> Self {
        let (name, text) = (name.to_owned(), text.to_owned());
        self.elsewhere = Some(Box::new(Elsewhere { name, text }));
        self
    }

    /// Adds advice.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Diagnostic {}
