//! `longodds next`: where the job on a claim stands, and what comes next.

use crate::{
    failure::Failure,
    files, input, paste,
    rigging::{self, Camera},
};
use longodds_sim::{
    findings::Findings,
    rig::{Rig, log::ShotLog},
    scenario::Scenario,
};
use std::{
    io::Write,
    path::{Path, PathBuf},
    time::SystemTime,
};

/// Say where the job on a claim stands, and what to do next.
///
/// Looks at what lies beside the claim: its findings, the zone, the rig that it
/// fires with that rig's shots, and what was judged. Nothing is flown.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  longodds next claim.yaml")]
pub(crate) struct Arguments {
    /// The scenario of the claim.
    scenario: PathBuf,
    /// The log of shots at the target; else the one that the claim's rig names.
    #[arg(long, value_name = "FILE")]
    shots: Option<PathBuf>,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    if files::is_stream(&arguments.scenario) {
        return Err(Failure::usage("the claim must be a file: what lies beside it is looked at"));
    }
    let scenario = input::scenario(&arguments.scenario)?;
    let job = Job::of(arguments, &scenario)?;
    writeln!(out, "Claim: {}", scenario.claim.trim())?;
    for (said, state) in job.stands() {
        writeln!(out, "  {} {said}", state.mark())?;
    }
    writeln!(out, "{}", job.next())?;
    Ok(())
}

/// How far a step is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Done,
    /// Done, but what it rests on has changed since.
    Stale,
    Open,
}

impl State {
    fn mark(self) -> &'static str {
        match self {
            Self::Done => "done ",
            Self::Stale => "again",
            Self::Open => "open ",
        }
    }
}

/// What lies beside a claim.
struct Job {
    claim: String,
    findings: (String, State),
    zone: (String, State),
    /// The rig that the claim fires.
    rig: Option<(String, Rig)>,
    shots: Option<(String, ShotLog)>,
    judged: (String, State),
    page: (String, State),
}

impl Job {
    fn of(arguments: &Arguments, scenario: &Scenario) -> Result<Self, Failure> {
        let claim = &arguments.scenario;
        let beside = |end: &str| {
            let stem = claim.file_stem().unwrap_or_default().to_string_lossy();
            claim.with_file_name(format!("{stem}.{end}"))
        };
        let rig = rigging::file_of(scenario, claim);
        let rig = rig.map(|file| Ok::<_, Failure>((rigging::rig(&file)?, file))).transpose()?;
        let own = rig.as_ref().and_then(|(rig, file)| rigging::log_of(None, file, rig));
        let log = arguments.shots.clone().or(own).filter(|log| log.exists());
        let setting = rig.as_ref().map(|(rig, _)| rig.launcher.setting_dimension());
        let shots = log.as_ref().map(|log| rigging::shots(log, &Camera::default(), setting));
        let shots = log.iter().map(|log| files::typed(log)).zip(shots.transpose()?).next();
        let findings = beside("findings.json");
        let flown = flown(&findings, scenario);
        let since = |path: &Path, what: &[&Path]| newer(path, what);
        let on = log.as_deref().into_iter().chain([findings.as_path()]).collect::<Vec<_>>();
        let [zone, judged, page] = ["zone.json", "judge.json", "report.html"].map(beside);
        Ok(Self {
            claim: files::typed(claim),
            zone: (files::typed(&zone), since(&zone, &[claim])),
            judged: (files::typed(&judged), since(&judged, &on)),
            page: (files::typed(&page), since(&page, &[&judged])),
            findings: (files::typed(&findings), flown),
            rig: rig.map(|(rig, file)| (files::typed(&file), rig)),
            shots,
        })
    }

    /// Shots that tell how they ended.
    fn told(&self) -> usize {
        let shots = self.shots.iter().flat_map(|(_, log)| &log.shots);
        shots.filter(|shot| shot.result.is_some()).count()
    }

    /// The steps, in order.
    fn stands(&self) -> Vec<(String, State)> {
        let mut steps = vec![
            (format!("flown: {}", self.findings.0), self.findings.1),
            (format!("where debris goes: {}", self.zone.0), self.zone.1),
        ];
        if let Some((file, _)) = &self.rig {
            let (said, state) = match self.told() {
                0 => ("no shot yet".to_owned(), State::Open),
                1 => ("one shot".to_owned(), State::Done),
                n => (format!("{n} shots"), State::Done),
            };
            steps.push((format!("shot with {file}: {said}"), state));
        }
        if self.shots.is_some() {
            steps.push((
                format!("shots weighed against the model: {}", self.judged.0),
                self.judged.1,
            ));
        }
        steps
    }

    fn next(&self) -> String {
        let (claim, findings) = (self.claim.as_str(), self.findings.0.as_str());
        if self.findings.1 != State::Done {
            return paste::next(["run", claim]);
        }
        if self.zone.1 != State::Done {
            let safety = ["safety", findings, "--zone", &self.zone.0];
            return paste::kept(["exclusion", claim], &self.zone.0, safety);
        }
        match (&self.rig, &self.shots) {
            (Some((file, _)), None) => paste::next(["rig", file, "--sheet", "day.html"]),
            (_, Some((log, _))) if self.told() > 0 && self.judged.1 != State::Done => {
                paste::on_the_page(["judge", findings, log], &self.judged.0, findings)
            }
            (_, Some(_)) if self.told() > 0 && self.page.1 != State::Done => {
                let with = ["report", findings, "--with", &self.judged.0, "--out", &self.page.0];
                paste::next(with)
            }
            _ => paste::next(["drivers", claim]),
        }
    }
}

/// Whether these findings are of the claim as it is now.
fn flown(path: &Path, scenario: &Scenario) -> State {
    let kept = std::fs::read(path).ok();
    let kept: Option<Findings> = kept.and_then(|bytes| serde_json::from_slice(&bytes).ok());
    match kept {
        None => State::Open,
        Some(kept) if kept.partial || kept.scenario_text != scenario.text => State::Stale,
        Some(_) => State::Done,
    }
}

/// Whether a file is there, and not older than what it is made from.
fn newer(path: &Path, than: &[&Path]) -> State {
    let changed = |path: &Path| -> Option<SystemTime> { path.metadata().ok()?.modified().ok() };
    let Some(own) = changed(path) else { return State::Open };
    let old = than.iter().filter_map(|other| changed(other)).any(|other| other > own);
    if old { State::Stale } else { State::Done }
}
