//! What a text is.

/// The sorts of text that are read here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A claim: what `longodds run` flies.
    Scenario,
    /// A launcher: what `longodds rig` answers about.
    Rig,
}

impl Sort {
    /// What to call it in a message.
    #[must_use]
    pub fn noun(self) -> &'static str {
        match self {
            Self::Scenario => "scenario",
            Self::Rig => "rig file",
        }
    }

    /// How one starts.
    pub(crate) fn start(self) -> &'static str {
        match self {
            Self::Scenario => "`longodds new FILE` writes one to start from",
            Self::Rig => {
                "write `rig:`, `object:` and `launcher:`; `longodds rig --help` shows an example"
            }
        }
    }
}
