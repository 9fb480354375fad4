//! The page and the findings of a run: one set, written whole, that never takes the
//! place of a better one.

use crate::{failure::Failure, files};
use longodds_sim::findings::Findings;
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// Where the answer goes; prepared before the flights, so that an unwritable
/// folder costs nobody an hour.
pub(crate) struct Outputs {
    folder: PathBuf,
    stem: String,
}

/// The files of a set.
pub(crate) struct Set {
    /// The page.
    pub(crate) page: PathBuf,
    /// The findings behind it.
    pub(crate) findings: PathBuf,
}

impl Outputs {
    /// For this scenario, as it is or changed; makes the folder.
    pub(crate) fn prepare(folder: &Path, scenario: &Path, changed: bool) -> Result<Self, Failure> {
        files::make_folder(folder)?;
        let stem = match scenario.file_stem() {
            Some(stem) if !files::is_stream(scenario) => stem.to_string_lossy(),
            _ => "claim".into(),
        };
        let set = if changed { ".set" } else { "" };
        Ok(Self { folder: folder.to_owned(), stem: format!("{stem}{set}") })
    }

    /// The set of this name.
    pub(crate) fn set(&self) -> Set {
        self.named(&self.stem)
    }

    fn named(&self, stem: &str) -> Set {
        let path = |end: &str| self.folder.join(format!("{stem}.{end}"));
        Set { page: path("report.html"), findings: path("findings.json") }
    }

    /// Writes it. Where a better answer stands, that one is kept under another name,
    /// which is handed back.
    pub(crate) fn write(&self, findings: &Findings, record: &str) -> Result<Option<Set>, Failure> {
        let set = self.set();
        let kept = match better(&set, findings) {
            true => Some(self.keep(&set)?),
            false => None,
        };
        let page = longodds_reports::page(findings, &[]);
        files::write_all(&[(&set.findings, record.as_bytes()), (&set.page, page.as_bytes())])?;
        Ok(kept)
    }

    /// Gives a set the next name that is free.
    fn keep(&self, set: &Set) -> Result<Set, Failure> {
        let free = |kept: &Set| !kept.page.exists() && !kept.findings.exists();
        let mut names = (1_u32..).map(|n| self.named(&format!("{}.{n}", self.stem)));
        let kept = names.find(free).unwrap_or_else(|| self.named(&self.stem));
        for (from, to) in [(&set.findings, &kept.findings), (&set.page, &kept.page)] {
            match fs::rename(from, to) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => {
                    return Err(Failure::file("write", to, &error));
                }
                _ => {}
            }
        }
        Ok(kept)
    }
}

/// Does a better answer stand there: one that was not stopped, or rests on more
/// flights than were asked for now? A claim flown until it is known well enough is
/// never the worse one.
fn better(set: &Set, now: &Findings) -> bool {
    let read = fs::read(&set.findings).ok();
    let then: Option<Findings> = read.and_then(|bytes| serde_json::from_slice(&bytes).ok());
    then.is_some_and(|then| {
        let fewer = now.claim.flights < then.claim.flights;
        let cut = now.enough.as_ref().is_some_and(|enough| enough.time_up.is_some());
        let hurried = now.partial || now.flights_asked.is_some() || cut;
        if then.partial { now.partial && fewer } else { now.partial || hurried && fewer }
    })
}
