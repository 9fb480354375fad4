//! `longodds safety`: the safety officer's page.

use crate::{
    evidence,
    failure::Failure,
    files, paste, rigging,
    typed::{self, Typed},
};
use longodds_reports::{Evidence, Loaded, SafetySheet, safety};
use longodds_sim::{
    findings::{Findings, SweepFindings},
    rig::{Rig, prediction::Prediction},
};
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Write the safety officer's page: the zone, the launcher, who does what.
///
/// One sheet to print, from a run, the answer of `exclusion`, a rig at its
/// setting and a sweep over the wind. What is not told is asked for on the page.
/// It helps to keep people away, and is no clearance.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds run claim.yaml
  longodds exclusion claim.yaml --json > zone.json
  longodds safety claim.findings.json --zone zone.json --rig bow.yaml --setting '6 ft'")]
pub(crate) struct Arguments {
    /// Findings of a run of the claim, or of the rig's shot.
    #[arg(required_unless_present = "rig")]
    findings: Option<PathBuf>,
    /// What `longodds exclusion --json` told.
    #[arg(long, value_name = "FILE")]
    zone: Option<PathBuf>,
    /// The rig that launches it; needs --setting or --speed.
    #[arg(long, value_name = "FILE")]
    rig: Option<PathBuf>,
    /// The rig's setting, with its unit.
    #[arg(long, requires = "rig", conflicts_with = "speed")]
    setting: Option<String>,
    /// The speed that the rig is set for.
    #[arg(long, requires = "rig", value_parser = typed::speed)]
    speed: Option<Typed>,
    /// The rig's shot log; else the one that its file names.
    #[arg(long, requires = "rig", value_name = "FILE")]
    shots: Option<PathBuf>,
    #[command(flatten)]
    camera: rigging::Camera,
    /// What `longodds sweep --json` told of the wind.
    #[arg(long, value_name = "FILE")]
    wind: Option<PathBuf>,
    /// The page to write, replacing what is there; `-` writes standard output.
    #[arg(long, default_value = "safety.html")]
    out: PathBuf,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = arguments.findings.as_deref().map(super::report::read).transpose()?;
    let zone = arguments.zone.as_deref().map(evidence::zone).transpose()?;
    let wind = arguments.wind.as_deref().map(wind).transpose()?;
    let loaded = arguments.rig.as_deref().map(|path| loaded(arguments, path)).transpose()?;
    let rig = loaded.as_ref().map(|(rig, setting, prediction)| Loaded {
        name: &rig.name,
        setting,
        prediction,
        show: rig.show,
    });
    let sheet =
        SafetySheet { findings: findings.as_ref(), zone: zone.as_ref(), rig, wind: wind.as_ref() };
    let page = safety(&sheet);
    if files::is_stream(&arguments.out) {
        return Ok(out.write_all(page.as_bytes())?);
    }
    files::write(&arguments.out, page.as_bytes())?;
    writeln!(out, "wrote {}", arguments.out.display())?;
    if let Some(line) = go_on(arguments, findings.as_ref()) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn wind(path: &Path) -> Result<SweepFindings, Failure> {
    match evidence::read(path)? {
        Evidence::Sweep(swept) => Ok(swept),
        _ => Err(Failure::wrong(format!("`{}` is no sweep", files::name(path)))
            .help("give what `longodds sweep CLAIM wind.speed ... --json` wrote")),
    }
}

/// The rig at its setting, with what its shots say.
fn loaded(arguments: &Arguments, path: &Path) -> Result<(Rig, String, Prediction), Failure> {
    let rig = rigging::rig(path)?;
    let told = arguments.shots.as_deref();
    let (calibration, _) = rigging::fitted(told, &arguments.camera, path, &rig)?;
    let setting = match (&arguments.setting, &arguments.speed) {
        (Some(text), _) => rigging::setting(&rig, text)?,
        (None, Some(speed)) => calibration
            .setting_for(speed.value)
            .map_err(|error| super::rig::unreachable(&rig, speed, error))?,
        (None, None) => {
            return Err(Failure::usage("at which setting is the rig?")
                .help("give --setting, or the --speed that it is set for"));
        }
    };
    let prediction = Prediction::new(&rig, &calibration, setting);
    let said = rigging::show_setting(&rig, setting);
    Ok((rig, said, prediction))
}

/// The next command: what the page still asks for first.
fn go_on(arguments: &Arguments, findings: Option<&Findings>) -> Option<String> {
    let path = arguments.findings.as_deref().filter(|path| !files::is_stream(path))?;
    let scenario = &findings?.scenario_name;
    if arguments.zone.is_some() || !Path::new(scenario).exists() {
        return None;
    }
    let kept = files::beside(path, "zone.json");
    let own = arguments.typed();
    let words = ["safety"].into_iter().chain(own.iter().map(String::as_str));
    Some(paste::kept(["exclusion", scenario], &kept, words.chain(["--zone", &kept])))
}

impl Arguments {
    /// What was told, as it is typed.
    fn typed(&self) -> Vec<String> {
        let path = |path: &Option<PathBuf>| path.as_deref().map(files::typed);
        let mut words: Vec<String> = path(&self.findings).into_iter().collect();
        let speed = self.speed.as_ref().map(|speed| speed.text.clone());
        for (name, value) in [
            ("--rig", path(&self.rig)),
            ("--setting", self.setting.clone()),
            ("--speed", speed),
            ("--shots", path(&self.shots)),
            ("--wind", path(&self.wind)),
            ("--out", Some(files::typed(&self.out)).filter(|out| out != "safety.html")),
        ] {
            words.extend(value.into_iter().flat_map(|value| [name.to_owned(), value]));
        }
        words.into_iter().chain(self.camera.typed()).collect()
    }
}
