//! Why a command stopped, and the exit status that says so.

use longodds_sim::text::file;
use std::{fmt, io, path::Path};

/// Why a command stopped. The statuses are part of the interface: do not
/// renumber. Status 2, a wrong command line, is clap's.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The answer could not be written to standard output.
    Output(io::Error),
    /// A file could not be read or written.
    File {
        /// What was to be done with it: `read`, `write`.
        action: &'static str,
        /// The file's name as typed.
        name: String,
        /// Why not.
        why: String,
    },
    /// The command line is wrong in a way that only its files tell.
    Usage {
        /// What is wrong.
        message: String,
        /// What to write instead.
        help: Option<String>,
    },
    /// The scenario or the shots are wrong, and the problems have been shown.
    Shown,
    /// Ctrl-C ended it; what was done so far, if anything, has been told.
    Stopped {
        /// Is that an answer?
        told: bool,
    },
    /// The scenario or the shots are wrong as a whole.
    Wrong {
        /// What is wrong.
        message: String,
        /// What to do instead.
        help: Option<String>,
    },
}

impl Failure {
    /// A file that could not be read or written.
    pub(crate) fn file(action: &'static str, path: &Path, error: &io::Error) -> Self {
        Self::File { action, name: path.display().to_string(), why: file::why(error) }
    }

    /// An input that is wrong as a whole.
    pub(crate) fn wrong(message: impl Into<String>) -> Self {
        Self::Wrong { message: message.into(), help: None }
    }

    /// A command line that is wrong.
    pub(crate) fn usage(message: impl Into<String>) -> Self {
        Self::Usage { message: message.into(), help: None }
    }

    /// A page that cannot be served.
    #[cfg(feature = "live")]
    pub(crate) fn serve(port: u16, error: &io::Error) -> Self {
        Self::File { action: "listen on", name: format!("127.0.0.1:{port}"), why: file::why(error) }
    }

    /// Adds advice to an input that is wrong as a whole.
    pub(crate) fn help(self, advice: impl Into<String>) -> Self {
        match self {
            Self::Wrong { message, .. } => Self::Wrong { message, help: Some(advice.into()) },
            Self::Usage { message, .. } => Self::Usage { message, help: Some(advice.into()) },
            other => other,
        }
    }

    /// Ctrl-C, before anything could be told.
    pub(crate) const STOPPED: Self = Self::Stopped { told: false };

    /// All is well, unless Ctrl-C ended it before its end.
    pub(crate) fn if_stopped(stopped: bool) -> Result<(), Self> {
        if stopped { Err(Self::Stopped { told: true }) } else { Ok(()) }
    }

    /// The exit status.
    pub(crate) fn status(&self) -> u8 {
        match self {
            Self::Shown | Self::Wrong { .. } => 1,
            Self::Usage { .. } => 2,
            Self::Output(_) | Self::File { .. } => 3,
            // As a shell says it: 128 and the number of the signal.
            Self::Stopped { .. } => 130,
        }
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Output(error) => write!(f, "cannot write the answer: {}", file::why(error)),
            Self::File { action, name, why } => write!(f, "cannot {action} `{name}`: {why}"),
            Self::Shown => f.write_str("the input has problems"),
            Self::Stopped { told: true } => f.write_str("stopped before its end"),
            Self::Stopped { told: false } => f.write_str("stopped before there was an answer"),
            Self::Wrong { message, .. } | Self::Usage { message, .. } => f.write_str(message),
        }
    }
}

impl std::error::Error for Failure {}
