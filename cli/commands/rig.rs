//! `longodds rig`: what a launcher does at a setting, and which setting a
//! speed takes.

use crate::{
    failure::Failure,
    files, paste, plain, rigging,
    typed::{self, Typed},
};
use longodds_sim::{
    quantity::{Dimension, format},
    rig::{
        Rig,
        calibrate::Calibration,
        inverse::{Unreachable, largest_safe_setting},
        prediction::Prediction,
        sheet::Sheet,
    },
};
use serde_json::json;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Say what a launcher does at a setting, or which setting a speed takes.
///
/// The rig is a small YAML file. Without `--setting` or `--speed`: a table up
/// to the largest setting that keeps every limit told. Shots, if there are
/// any, narrow the band.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds rig scenarios/rigs/crossbow.yaml --setting '6 ft'
  longodds rig scenarios/rigs/crossbow.yaml --speed '45 mph' --sheet day.html

A rig file:
  rig: drop tower
  show: imperial                  # or si
  object: {mass: 4 lb}
  launcher: {drop: }              # or cord, spring, pressure, pendulum, ramp, tow")]
pub(crate) struct Arguments {
    /// The rig file; `-` reads standard input.
    rig: PathBuf,
    /// A setting, with its unit (may be given several times).
    #[arg(long)]
    setting: Vec<String>,
    /// A wanted speed (may be given several times).
    #[arg(long, value_parser = typed::speed)]
    speed: Vec<Typed>,
    /// Its shot log; else the one that its file names under `shots`.
    #[arg(long)]
    shots: Option<PathBuf>,
    #[command(flatten)]
    camera: rigging::Camera,
    /// Write a printable sheet for these settings, and a CSV to fill in.
    #[arg(long)]
    sheet: Option<PathBuf>,
    /// Shots of each setting on the sheet.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=50))]
    repeat: u32,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let rig = rigging::rig(&arguments.rig)?;
    let told = arguments.shots.as_deref();
    let (calibration, log) = rigging::fitted(told, &arguments.camera, &arguments.rig, &rig)?;
    let shots = calibration.shots().len();
    let asked = settings(arguments, &rig, &calibration)?;
    let settings = if asked.is_empty() { ladder(&rig) } else { asked.clone() };
    let predictions: Vec<Prediction> =
        settings.iter().map(|s| Prediction::new(&rig, &calibration, *s)).collect();
    if arguments.json {
        let answer = json!({
            "rig": rig.name,
            "launcher": rig.launcher.name(),
            "setting": rig.launcher.setting_name(),
            "dimension": rig.launcher.setting_dimension().name(),
            "shots": shots,
            "predictions": predictions,
        });
        writeln!(out, "{answer:#}")?;
    } else if asked.is_empty() {
        table(&rig, &predictions, out)?;
    } else {
        for p in &predictions {
            one(&rig, p, shots, out)?;
        }
    }
    if let Some(path) = &arguments.sheet {
        let sheet = Sheet::new(&rig, &calibration, &settings, arguments.repeat);
        let mut quiet = std::io::sink();
        rigging::write_sheet(path, &sheet, if arguments.json { &mut quiet } else { out })?;
    }
    if arguments.json {
        return Ok(());
    }
    match go_on(arguments, &rig, &predictions, log.as_deref()) {
        Some(line) => Ok(writeln!(out, "{line}")?),
        None => Ok(()),
    }
}

/// The next command: the sheet of these settings, or, where it was written, the fit to
/// what will stand in it. Nothing leads on from what the rig does not stand.
fn go_on(
    arguments: &Arguments,
    rig: &Rig,
    predictions: &[Prediction],
    log: Option<&Path>,
) -> Option<String> {
    if files::is_stream(&arguments.rig) {
        return None;
    }
    let file = files::typed(&arguments.rig);
    let speeds = || arguments.speed.iter().flat_map(|speed| ["--speed", &speed.text]);
    if let Some(sheet) = &arguments.sheet {
        let twin = files::typed(&sheet.with_extension("csv"));
        return Some(paste::next(["calibrate", &file, &twin].into_iter().chain(speeds().take(2))));
    }
    let kept = |p: &Prediction| p.limits_kept != Some(false);
    let mut settings: Vec<String> = predictions
        .iter()
        .filter(|p| kept(p))
        .map(|p| rigging::show_setting(rig, p.setting))
        .collect();
    if arguments.setting.is_empty() && arguments.speed.is_empty() {
        // The first shots are weak ones: common practice, no source.
        settings.truncate(2);
    }
    let log = log.map(files::typed).filter(|_| arguments.shots.is_some());
    let words = settings.iter().flat_map(|setting| ["--setting", setting.as_str()]);
    let shots = log.iter().flat_map(|log| ["--shots", log.as_str()]);
    let words = ["rig", &file].into_iter().chain(words).chain(shots);
    (!settings.is_empty()).then(|| paste::next(words.chain(["--sheet", "day.html"])))
}

/// Settings asked for, and those for the speeds asked for.
fn settings(
    arguments: &Arguments,
    rig: &Rig,
    calibration: &Calibration,
) -> Result<Vec<f64>, Failure> {
    let mut settings = Vec::new();
    for text in &arguments.setting {
        settings.push(rigging::setting(rig, text)?);
    }
    for speed in &arguments.speed {
        let setting =
            calibration.setting_for(speed.value).map_err(|error| unreachable(rig, speed, error))?;
        settings.push(setting);
    }
    Ok(settings)
}

/// No setting gives the speed.
pub(super) fn unreachable(rig: &Rig, speed: &Typed, error: Unreachable) -> Failure {
    match error {
        Unreachable::TooFast { fastest } => Failure::wrong(format!(
            "{} is out of this rig's reach: at most {}",
            speed.text,
            rigging::show_speed(fastest, rig.show)
        ))
        .help("more push, less mass, or another launcher"),
        _ => Failure::wrong(format!("`{}` is not a speed", speed.text)),
    }
}

/// Six even settings up to the largest safe one.
fn ladder(rig: &Rig) -> Vec<f64> {
    let largest = largest_safe_setting(rig);
    let told = largest < 0.999 * rig.launcher.largest_setting();
    // Without a limit the largest meaningful setting is far off the sense of a rig.
    let top = if told { largest } else { largest.min(sensible(rig)) };
    (1..=6).map(|i| top * f64::from(i) / 6.0).collect()
}

/// A setting of the usual size, where no limit is told.
fn sensible(rig: &Rig) -> f64 {
    match rig.launcher.setting_dimension() {
        Dimension::Length => 6.0,
        Dimension::Pressure => 6e5,
        Dimension::Angle => std::f64::consts::FRAC_PI_2,
        _ => 20.0,
    }
}

fn table(rig: &Rig, predictions: &[Prediction], out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(
        out,
        "{} ({}), by its {}:\n",
        rig.name,
        rig.launcher.name(),
        rig.launcher.setting_name()
    )?;
    rigging::limits(predictions.first(), out)?;
    let headings = ["setting", "speed", "95 % from", "to", "pull", "energy held", "limits"];
    let mut table = plain::table(headings);
    for p in predictions {
        let [low, middle, high] = p.speed.map(|v| rigging::show_speed(v, rig.show));
        let pull = p.pull.map_or_else(String::new, |pull| format(pull, Dimension::Force, rig.show));
        table.add_row([
            rigging::show_setting(rig, p.setting),
            middle,
            low,
            high,
            pull,
            format(p.held_energy, Dimension::Energy, rig.show),
            match p.limits_kept {
                Some(true) => "kept",
                Some(false) => "OVER",
                None => "none told",
            }
            .to_owned(),
        ]);
    }
    writeln!(out, "{table}")?;
    if let Some(last) = predictions.last() {
        rigging::cautions(last, out)?;
    }
    Ok(())
}

fn one(rig: &Rig, p: &Prediction, shots: usize, out: &mut dyn Write) -> Result<(), Failure> {
    let [low, middle, high] = p.speed.map(|v| rigging::show_speed(v, rig.show));
    rigging::limits(Some(p), out)?;
    let ground = match shots {
        0 => "it has not shot yet".to_owned(),
        1 => "one shot behind it".to_owned(),
        n => format!("{n} shots behind it"),
    };
    writeln!(
        out,
        "{}: a {} of {} gives {middle}; 95 times in 100 between {low} and {high} ({ground}).",
        rig.name,
        rig.launcher.setting_name(),
        rigging::show_setting(rig, p.setting)
    )?;
    if p.limits_kept == Some(false) {
        writeln!(out, "DO NOT SHOOT THIS: a limit of the rig is exceeded.")?;
    }
    writeln!(out, "\n{}", rigging::loads(rig, p))?;
    rigging::cautions(p, out)?;
    writeln!(out)?;
    Ok(())
}
