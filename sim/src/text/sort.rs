//! What a text is, and what is told of one of the wrong sort.

use super::yaml::{Node, Value};
use crate::diagnostic::Diagnostic;

/// The sorts of text that are read here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A claim: what `longodds run` flies.
    Scenario,
    /// A launcher: what `longodds rig` answers about.
    Rig,
    /// A log of real shots, CSV.
    ShotLog,
    /// The findings of a run, JSON.
    Findings,
    /// A part that a claim takes from a shelf.
    Part,
}

/// Columns of a shot log.
const LOG: [&str; 6] = ["shot", "setting", "speed", "frames", "mass", "result"];

impl Sort {
    /// What to call it in a message.
    #[must_use]
    pub fn noun(self) -> &'static str {
        match self {
            Self::Scenario => "scenario",
            Self::Rig => "rig file",
            Self::ShotLog => "shot log",
            Self::Findings => "record of a run",
            Self::Part => "part",
        }
    }

    /// How one starts.
    pub(crate) fn start(self) -> &'static str {
        match self {
            Self::Scenario => "`longodds new FILE` writes one to start from",
            Self::Rig => {
                "write `rig:`, `object:` and `launcher:`; `longodds rig --help` shows an example"
            }
            Self::ShotLog => "the first line names its columns, such as `shot,speed,result`",
            Self::Findings => "`longodds run FILE --out FOLDER` writes one",
            Self::Part => "`longodds parts NAME` prints one to start from",
        }
    }

    /// What to do with one that stands in the wrong place.
    fn use_of(self) -> &'static str {
        match self {
            Self::Scenario => "fly it with `longodds run`",
            Self::Rig => {
                "fly it from a scenario with `release: {rig: {file: ..., setting: ...}}`, or see \
                 `longodds rig`"
            }
            Self::ShotLog => {
                "give it to `longodds calibrate` or `longodds judge`, or to a face as `barrier: \
                 {shots: ...}`"
            }
            Self::Findings => "give it to `longodds report` or `longodds judge`",
            Self::Part => {
                "take it into a claim with `like`, from a folder `parts` beside the claim"
            }
        }
    }

    /// What a text is by its keys where it is YAML, or by its first line; what it
    /// should be, where it may be that.
    fn of(self, text: &str, root: Option<&Node>) -> Option<Self> {
        let own = if self == Self::Part { Self::Scenario } else { self };
        let mut sorts = [Self::Findings, own, Self::Scenario, Self::Rig, Self::Part].into_iter();
        if let Some(Value::Map(entries)) = root.map(|root| &root.value) {
            let has = |keys: &[&str]| entries.iter().any(|(key, _)| keys.contains(&&*key.name));
            // A part of a target has a key that a claim has, too.
            let part = self == Self::Part || has(Self::Part.keys());
            if part && !has(&["claim", "chain", "release", "rig", "launcher", "scenario_text"]) {
                return Some(Self::Part);
            }
            return sorts.find(|sort| has(sort.keys()));
        }
        if self == Self::Part {
            return None;
        }
        let first = first_line(text)?;
        let mut columns = first.split(',').map(str::trim);
        let is_log = first.contains(',') && columns.any(|column| LOG.contains(&column));
        if is_log {
            return Some(Self::ShotLog);
        }
        let (key, _) = first.split_once(':')?;
        sorts.find(|sort| sort.keys().contains(&key))
    }

    /// Keys that it begins with, and none of another sort has.
    fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Scenario => &["claim", "release", "target", "chain"],
            Self::Rig => &["rig", "launcher"],
            Self::Findings => &["scenario_text"],
            Self::ShotLog => &[],
            Self::Part => &["about"],
        }
    }

    /// One error at the first line of a text that is of another sort.
    pub(crate) fn mistaken(self, text: &str, root: Option<&Node>) -> Option<Diagnostic> {
        let found = self.of(text, root).filter(|found| *found != self)?;
        let first = first_line(text)?;
        let start = first.as_ptr() as usize - text.as_ptr() as usize;
        let message = format!("this is a {}, not a {}", found.noun(), self.noun());
        let problem = Diagnostic::error("text::sort", message);
        Some(problem.at(start..start + first.len(), found.label()).help(found.use_of()))
    }

    fn label(self) -> &'static str {
        match self {
            Self::Scenario => "a claim begins here",
            Self::Rig => "a rig begins here",
            Self::ShotLog => "the columns of a shot log",
            Self::Findings => "findings begin here",
            Self::Part => "a part begins here",
        }
    }
}

/// The first line that is no talk.
fn first_line(text: &str) -> Option<&str> {
    let mut lines = text.trim_start_matches('\u{feff}').lines().map(str::trim);
    lines.find(|line| !line.is_empty() && !line.starts_with('#'))
}
