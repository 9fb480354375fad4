//! `longodds calibrate`: from shots to the next setting.

use crate::{
    failure::Failure,
    files, paste,
    plain::{self, percent},
    rigging,
    typed::{self, Typed},
};
use longodds_reports::{Frame, Picture, chart};
use longodds_sim::{
    findings::{Kind, VERSION},
    quantity::{Dimension, format},
    rig::{
        Rig,
        calibrate::{
            Advice, Alternative, Calibration, NextShot, ShotFit, Wanted, advise, alternatives,
            shot_fits,
        },
        prediction::Prediction,
        sheet::Sheet,
    },
    words::Spoken,
};
use serde_json::json;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Fit a launcher to its shots and say what to set next.
///
/// From the first shot on. Shots that do not fit are named, never dropped.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds calibrate scenarios/rigs/crossbow.yaml scenarios/rigs/crossbow.csv \\
      --speed '55 mph' --within '3 mph'

A shot log is CSV:
  shot,setting,speed,frames,distance,frame_rate,result,remarks
  1,4 ft,30 mph,,,,stopped,
  2,6 ft,,41,2 ft,1200 frames/s,through,a little high")]
pub(crate) struct Arguments {
    /// The rig file.
    rig: PathBuf,
    /// The shot log; `-` reads standard input. Else the one that the rig's file
    /// names under `shots`.
    shots: Option<PathBuf>,
    /// The wanted speed.
    #[arg(long, value_parser = typed::speed)]
    speed: Option<Typed>,
    /// Tolerance to either side of it; else 5 %.
    #[arg(long, value_parser = typed::speed)]
    within: Option<Typed>,
    #[command(flatten)]
    camera: rigging::Camera,
    /// Write a printable sheet for the next shots, and a CSV to fill in.
    #[arg(long, requires = "speed")]
    sheet: Option<PathBuf>,
    /// Draw the curve with its band and the shots on it (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON, in SI units: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let rig = rigging::rig(&arguments.rig)?;
    let dimension = Some(rig.launcher.setting_dimension());
    let path = rigging::log_of(arguments.shots.as_deref(), &arguments.rig, &rig).ok_or_else(|| {
        Failure::usage("which shots?").help("name the log: `longodds calibrate RIG SHOTS`, or `shots: NAME.csv` in the rig's file")
    })?;
    let log = rigging::shots(&path, &arguments.camera, dimension)?;
    let shots = log.calibration();
    if shots.is_empty() {
        return Err(Failure::wrong("no line of the shot log has both a setting and a speed")
            .help("fill in `setting` and `speed` (or `frames`), then try again"));
    }
    let calibration = Calibration::new(&rig, &shots);
    let fits = shot_fits(&rig, &shots);
    let ideas = alternatives(&rig, &shots);
    let advice = match &arguments.speed {
        Some(speed) => {
            let within = arguments.within.as_ref().map_or(0.05 * speed.value, |typed| typed.value);
            let advice = advise(&calibration, Wanted { speed: speed.value, within })
                .map_err(|error| super::rig::unreachable(&rig, speed, error))?;
            Some((speed, within, advice))
        }
        None => None,
    };
    if arguments.json {
        let (low, high) = calibration.tried().unwrap_or((0.0, 1.0));
        let target = advice.as_ref().map(|(_, _, advice)| advice.target.setting);
        let end = 1.1 * high.max(target.unwrap_or(0.0));
        let answer = json!({
            "kind": Kind::Calibration,
            "version": VERSION,
            "show": rig.show,
            "next": advice.as_ref().map(|(_, _, advice)| advice.target),
            "rig": rig.name,
            "setting": rig.launcher.setting_name(),
            "dimension": rig.launcher.setting_dimension().name(),
            "shots": fits,
            "curve": calibration.curve(0.5 * low, end),
            "alternatives": ideas,
            "asked": log.repeated(),
            "scatter_is_guessed": calibration.scatter_is_guessed(),
            "not_as_modelled": calibration.not_as_modelled(),
            "advice": advice.as_ref().map(|(_, _, advice)| advice),
            "loads": target.map(|setting| Prediction::new(&rig, &calibration, setting)),
        });
        writeln!(out, "{answer:#}")?;
    } else {
        plain::list(out, "ASKED", &log.repeated())?;
        the_shots(&rig, &fits, out)?;
        the_fit(&rig, &calibration, &ideas, out)?;
        if let Some((speed, within, advice)) = &advice {
            the_next(&rig, &calibration, speed, *within, advice, out)?;
        }
    }
    let mut quiet = std::io::sink();
    let out = if arguments.json { &mut quiet as &mut dyn Write } else { out };
    if let Some(picture_at) = &arguments.picture {
        let next = advice.as_ref().map(|(_, _, advice)| &advice.target);
        rigging::write_picture(picture_at, &picture(&rig, &calibration, &fits, next), out)?;
    }
    if let (Some(sheet_at), Some((_, _, advice))) = (&arguments.sheet, &advice) {
        let settings: Vec<f64> =
            advice.first.iter().map(|step| step.setting).chain([advice.target.setting]).collect();
        let sheet = Sheet::new(&rig, &calibration, &settings, 1);
        rigging::write_sheet(sheet_at, &sheet, out)?;
    }
    if let Some(line) = go_on(arguments, &rig, &path, &fits, advice.as_ref().map(|(_, _, it)| it)) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// The next command: the sheet of the next shot, or, where no speed was asked for, the
/// way to the fastest one shot so far. Nothing leads on to what the rig does not stand.
fn go_on(
    arguments: &Arguments,
    rig: &Rig,
    log: &Path,
    fits: &[ShotFit],
    advice: Option<&Advice>,
) -> Option<String> {
    if files::is_stream(&arguments.rig) || files::is_stream(log) {
        return None;
    }
    let (file, shots) = (files::typed(&arguments.rig), files::typed(log));
    let Some(advice) = advice else {
        let fastest = fits.iter().map(|fit| fit.speed).fold(0.0, f64::max);
        let speed = rigging::show_speed(fastest, rig.show);
        return Some(paste::next(["calibrate", &file, &shots, "--speed", &speed]));
    };
    let next = advice.first.as_ref().unwrap_or(&advice.target);
    if next.limits_kept == Some(false) || arguments.sheet.is_some() {
        return None;
    }
    let setting = rigging::show_setting(rig, next.setting);
    let words = ["rig", &file, "--shots", &shots, "--setting", &setting, "--sheet", "next.html"];
    Some(paste::next(words))
}

fn picture(
    rig: &Rig,
    calibration: &Calibration,
    fits: &[ShotFit],
    next: Option<&NextShot>,
) -> Picture {
    let (low, high) = calibration.tried().unwrap_or((0.0, 1.0));
    let end = 1.15 * high.max(next.map_or(0.0, |next| next.setting));
    chart::calibration(
        &chart::CalibrationChart {
            rig: rig.name.clone(),
            setting_name: rig.launcher.setting_name().to_owned(),
            dimension: rig.launcher.setting_dimension().name().to_owned(),
            show: rig.show,
            curve: calibration.curve(0.4 * low, end),
            shots: fits.to_vec(),
            next: next.copied(),
        },
        Frame::page(),
    )
}

fn the_shots(rig: &Rig, fits: &[ShotFit], out: &mut dyn Write) -> Result<(), Failure> {
    let count = fits.len();
    writeln!(
        out,
        "{}: {count} {} with setting and speed.\n",
        rig.name,
        if count == 1 { "shot" } else { "shots" }
    )?;
    let mut table = plain::table([
        "shot",
        rig.launcher.setting_name(),
        "speed",
        "expected from the others",
        "",
    ]);
    for fit in fits {
        let speed = |v: f64| rigging::show_speed(v, rig.show);
        table.add_row([
            fit.name.clone(),
            rigging::show_setting(rig, fit.setting),
            speed(fit.speed),
            format!(
                "{} ({} to {})",
                speed(fit.expected[1]),
                speed(fit.expected[0]),
                speed(fit.expected[2])
            ),
            (if fit.fits { "" } else { "does not fit" }).to_owned(),
        ]);
    }
    writeln!(out, "{table}")?;
    let strangers: Vec<String> = fits
        .iter()
        .filter(|fit| !fit.fits)
        .map(|fit| {
            format!(
                "{}: a speed so far off has a chance of {}; it stays in the fit: look for what was \
                 different",
                fit.name,
                Spoken::near(fit.chance)
            )
        })
        .collect();
    plain::list(out, "Shots that do not fit:", &strangers)?;
    Ok(())
}

fn the_fit(
    rig: &Rig,
    calibration: &Calibration,
    ideas: &[Alternative],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    if let Some(factor) = calibration.not_as_modelled() {
        writeln!(
            out,
            "\nTHE LAUNCHER IS NOT AS MODELLED: its shots are {} times as fast as expected, more \
             than its doubt allows. Find out why; the fit believes the shots.",
            longodds_sim::quantity::significant(factor, 2)
        )?;
    }
    if calibration.scatter_is_guessed() {
        let (count, tell) = match calibration.shots().len() {
            1 => ("One shot tells".to_owned(), "nothing"),
            n => (format!("{n} shots tell"), "little"),
        };
        writeln!(
            out,
            "\n{count} {tell} of how far shots scatter: the bands are as wide as for launchers at \
             large, and a launcher that scatters more than most may still leave them."
        )?;
    }
    let posterior = calibration.posterior();
    let scatter = longodds_sim::math::exp(posterior.ln_scatter().mean);
    writeln!(
        out,
        "\nOf the push's energy {} arrives (give or take {}); shots scatter by about {} about the \
         curve.",
        percent(posterior.efficiency().mean),
        percent(posterior.efficiency().sd),
        percent(scatter)
    )?;
    if posterior.confounding().abs() > 0.8 {
        writeln!(
            out,
            "Efficiency and moving mass can hardly be told apart (correlation {:.2}): trust the \
             speeds, not these two.",
            posterior.confounding()
        )?;
    }
    if let [own, spring] = ideas {
        let (better, worse) =
            if own.probability >= spring.probability { (own, spring) } else { (spring, own) };
        writeln!(
            out,
            "Against each other, {} fits better than {} ({} to {}; scatter {} against {}).",
            better.name,
            worse.name,
            Spoken::near(better.probability),
            Spoken::near(worse.probability),
            percent(better.scatter),
            percent(worse.scatter)
        )?;
    }
    let (low, high) = calibration.tried().unwrap_or((0.0, 1.0));
    writeln!(out)?;
    let mut table = plain::table([rig.launcher.setting_name(), "speed", "95 % from", "to", ""]);
    for i in 0..=7 {
        let setting = 0.6 * low + (1.3 * high - 0.6 * low) * f64::from(i) / 7.0;
        let [a, b, c] = calibration.speed_quantiles(setting, [0.025, 0.5, 0.975]);
        let beyond = setting > high || setting < low;
        table.add_row([
            rigging::show_setting(rig, setting),
            rigging::show_speed(b, rig.show),
            rigging::show_speed(a, rig.show),
            rigging::show_speed(c, rig.show),
            (if beyond { "beyond what was tried" } else { "" }).to_owned(),
        ]);
    }
    writeln!(out, "{table}")?;
    Ok(())
}

fn the_next(
    rig: &Rig,
    calibration: &Calibration,
    speed: &Typed,
    within: f64,
    advice: &Advice,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let target = &advice.target;
    let prediction = Prediction::new(rig, calibration, target.setting);
    writeln!(out)?;
    rigging::limits(Some(&prediction), out)?;
    writeln!(
        out,
        "For {}: a {} of {}. {} of shots there come within {} of it (95 % between {} and {}).",
        speed.text,
        rig.launcher.setting_name(),
        rigging::show_setting(rig, target.setting),
        Spoken::near(target.chance_within),
        format(within, Dimension::Speed, rig.show),
        rigging::show_speed(target.speed[0], rig.show),
        rigging::show_speed(target.speed[2], rig.show)
    )?;
    warnings(rig, target, out)?;
    if let Some(step) = &advice.first {
        writeln!(
            out,
            "Do not go there in one step: shoot {} first (expect {} to {}), then calibrate again.",
            rigging::show_setting(rig, step.setting),
            rigging::show_speed(step.speed[0], rig.show),
            rigging::show_speed(step.speed[2], rig.show)
        )?;
    }
    writeln!(
        out,
        "The shot that would teach the most about it: {}. After it about {} within tolerance; with \
         the rig known perfectly {}. {}",
        rigging::show_setting(rig, advice.teaches_most),
        Spoken::near(advice.chance_after),
        Spoken::near(advice.chance_at_best),
        if advice.worth_another {
            "Another calibration shot is worth it."
        } else {
            "Another calibration shot would gain little."
        }
    )?;
    writeln!(out, "\n{}", rigging::loads(rig, &prediction))?;
    rigging::cautions(&prediction, out)?;
    Ok(())
}

fn warnings(rig: &Rig, target: &NextShot, out: &mut dyn Write) -> Result<(), Failure> {
    if let Some(tried) = target.tried_to.filter(|_| target.beyond_tried) {
        writeln!(
            out,
            "WARNING: that is beyond anything shot so far ({}): the band is an extrapolation.",
            rigging::show_setting(rig, tried)
        )?;
    }
    if target.limits_kept == Some(false) {
        writeln!(out, "DO NOT SHOOT THIS: a limit of the rig is exceeded (see below).")?;
    }
    Ok(())
}
