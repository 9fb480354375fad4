//! Reading rigs and shot logs, and what several commands say about them.

use crate::{diagnostics, failure::Failure, files, plain, typed::Typed};
use comfy_table::Table;
use longodds_reports::Picture;
use longodds_sim::{
    diagnostic::Diagnostic,
    quantity::{Dimension, Show, format, parse, significant},
    rig::{
        self, GRAVITY, Rig,
        calibrate::Calibration,
        log::{self, Defaults, ShotLog},
        prediction::Prediction,
        sheet::Sheet,
    },
    scenario::{self, Scenario},
    text::{Sort, leaves},
};
use std::{
    io::{self, Write},
    path::{Path, PathBuf},
};

/// What the camera's lines of a log may leave out.
#[derive(Debug, Default, clap::Args)]
pub(crate) struct Camera {
    /// Distance in the picture, for lines of the log with frames only.
    #[arg(long, value_parser = crate::typed::length)]
    distance: Option<Typed>,
    /// Frame rate, for lines of the log with frames only.
    #[arg(long, value_parser = crate::typed::frequency)]
    frame_rate: Option<Typed>,
}

impl Camera {
    /// As they are typed.
    pub(crate) fn typed(&self) -> impl Iterator<Item = String> {
        let both = [("--distance", &self.distance), ("--frame-rate", &self.frame_rate)];
        both.into_iter()
            .filter_map(|(name, typed)| Some([name.to_owned(), typed.as_ref()?.text.clone()]))
            .flatten()
    }

    fn defaults(&self, setting: Option<Dimension>) -> Defaults {
        Defaults {
            setting,
            distance: self.distance.as_ref().map(|typed| typed.value),
            frame_rate: self.frame_rate.as_ref().map(|typed| typed.value),
        }
    }
}

/// Reads and checks a rig; shows its problems.
pub(crate) fn rig(path: &Path) -> Result<Rig, Failure> {
    let text = files::read_text(path, scenario::LONGEST)?;
    rig::parse(&text).map_err(|problems| shown(path, &text, &problems))
}

/// The rig's file that a scenario names, as seen from here.
pub(crate) fn file_of(scenario: &Scenario, path: &Path) -> Option<PathBuf> {
    let language = scenario::language();
    let leaves = leaves(&scenario.text, Sort::Scenario, &language).ok()?;
    let place = leaves.into_iter().find(|leaf| leaf.path == "release.rig.file")?.place?;
    let file = scenario.text.get(place)?.trim_matches(['"', '\'']);
    Some(path.parent().unwrap_or(Path::new("")).join(file))
}

/// The shot log that was told, or else the one that the rig's file names.
pub(crate) fn log_of(told: Option<&Path>, file: &Path, rig: &Rig) -> Option<PathBuf> {
    let own = || rig.shots.as_ref().map(|log| file.parent().unwrap_or(Path::new("")).join(log));
    told.map(Path::to_owned).or_else(own)
}

/// The rig fitted to the shots that were told or that its file names; with none, as
/// it is expected to be. And their log.
pub(crate) fn fitted(
    told: Option<&Path>,
    camera: &Camera,
    file: &Path,
    rig: &Rig,
) -> Result<(Calibration, Option<PathBuf>), Failure> {
    let log = log_of(told, file, rig);
    let dimension = Some(rig.launcher.setting_dimension());
    let shots = match &log {
        Some(path) => shots(path, camera, dimension)?.calibration(),
        None => Vec::new(),
    };
    Ok((Calibration::new(rig, &shots), log))
}

/// Reads a shot log; shows its problems.
pub(crate) fn shots(
    path: &Path,
    camera: &Camera,
    setting: Option<Dimension>,
) -> Result<ShotLog, Failure> {
    let text = files::read_text(path, log::LONGEST)?;
    log::parse(&text, &camera.defaults(setting)).map_err(|problems| shown(path, &text, &problems))
}

fn shown(path: &Path, text: &str, problems: &[Diagnostic]) -> Failure {
    diagnostics::show(&files::name(path), text, problems);
    Failure::Shown
}

/// A setting typed on the command line, SI.
pub(crate) fn setting(rig: &Rig, text: &str) -> Result<f64, Failure> {
    let dimension = rig.launcher.setting_dimension();
    let name = rig.launcher.setting_name();
    match parse(text, dimension) {
        Ok(value) if value > 0.0 => Ok(value),
        Ok(_) => Err(Failure::usage(format!("the {name} `{text}` must be above zero"))),
        Err(error) => Err(Failure::usage(format!(
            "the {name} must be {}, found `{text}`",
            dimension.with_article()
        ))
        .help(error.help(dimension))),
    }
}

/// A setting in the rig's units.
pub(crate) fn show_setting(rig: &Rig, setting: f64) -> String {
    format(setting, rig.launcher.setting_dimension(), rig.show)
}

/// A speed in the rig's units.
pub(crate) fn show_speed(speed: f64, show: Show) -> String {
    format(speed, Dimension::Speed, show)
}

/// Everything to know about a setting, as a table.
pub(crate) fn loads(rig: &Rig, p: &Prediction) -> Table {
    let show = rig.show;
    let force = |value: f64| format(value, Dimension::Force, show);
    let length = |value: f64| format(value, Dimension::Length, show);
    let energy = |value: f64| format(value, Dimension::Energy, show);
    let gravities = |value: f64| format!("{} x gravity", significant(value / GRAVITY, 3));
    let mut table = plain::table(["before anyone lets go", "", "limit", ""]);
    let mut add = |what: &str, value: String, limit: Option<String>, ok: Option<bool>| {
        let verdict = match ok {
            Some(true) => "kept",
            Some(false) => "OVER THE LIMIT",
            None => "",
        };
        table.add_row([what.to_owned(), value, limit.unwrap_or_default(), verdict.to_owned()]);
    };
    if let Some(pull) = p.pull {
        let ok = p.pull_limit.map(|limit| pull <= limit);
        add("pull on winch or latch", force(pull), p.pull_limit.map(force), ok);
    }
    let ok = p.survives.map(|limit| p.acceleration <= limit);
    let limit = p.survives.map(gravities).or(Some("not told: will it survive?".into()));
    add("largest acceleration of the object", gravities(p.acceleration), limit, ok);
    let ok = p.run_up_limit.map(|limit| p.run_up <= limit);
    add("run-up needed", length(p.run_up), p.run_up_limit.map(length), ok);
    add("the object leaves after", length(p.leaves_at), None, None);
    for (share, speed) in &p.early {
        let what = format!("speed if it comes off at {}", plain::percent(*share));
        add(&what, show_speed(*speed, show), None, None);
    }
    add("energy held by the rig", energy(p.held_energy), None, None);
    add("energy of the object", energy(p.object_energy), None, None);
    add("energy to take out of carriage and cords", energy(p.carriage_energy), None, None);
    add("recoil on the anchor", force(p.recoil), None, None);
    if let Some(bending) = &p.frame {
        let stress = format(bending.stress, Dimension::Pressure, show);
        add("stress in the frame beam", stress, None, None);
        add("deflection of the frame beam", length(bending.deflection), None, None);
        let factor = significant(bending.safety_factor, 3);
        add(
            "safety factor, steady load",
            factor,
            Some("2, usual".into()),
            Some(bending.safety_factor >= 2.0),
        );
        let sudden = bending.sudden_safety_factor;
        let ok = Some(sudden >= 1.0);
        add("safety factor, sudden load", significant(sudden, 3), Some("1, yield".into()), ok);
    }
    table
}

/// Which limits are not told, said first.
pub(crate) fn limits(p: Option<&Prediction>, out: &mut dyn Write) -> io::Result<()> {
    let Some(p) = p.filter(|p| !p.limits_to_find.is_empty()) else { return Ok(()) };
    let missing = p.limits_to_find.join("; ");
    if p.limits_kept.is_none() {
        writeln!(out, "NO LIMIT IS TOLD, so none is known to be kept. Find out first: {missing}.\n")
    } else {
        writeln!(out, "Limits not told, and not known to be kept: {missing}.\n")
    }
}

/// Doubts and cautions.
pub(crate) fn cautions(p: &Prediction, out: &mut dyn Write) -> io::Result<()> {
    plain::list(out, "Doubts:", &p.doubts)?;
    plain::list(out, "CAUTION", &p.cautions)
}

/// Writes the test-day sheet, and its twin for writing into, beside it.
pub(crate) fn write_sheet(path: &Path, sheet: &Sheet, out: &mut dyn Write) -> Result<(), Failure> {
    let twin = path.with_extension("csv");
    if twin == path {
        return Err(Failure::usage(
            "the sheet is a page: name it `.html`; its CSV is written beside it",
        ));
    }
    files::write_new(&twin, sheet.csv().as_bytes())?;
    files::write(path, longodds_reports::test_day(sheet).as_bytes())?;
    writeln!(out, "\nwrote {} and {}", path.display(), twin.display())?;
    Ok(())
}

/// The same, told on `out` unless that carries JSON.
pub(crate) fn write_picture_beside(
    path: &Path,
    picture: &Picture,
    json: bool,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let mut quiet = io::sink();
    write_picture(path, picture, if json { &mut quiet } else { out })
}

/// Writes a picture as SVG or PNG, by the file's ending.
pub(crate) fn write_picture(
    path: &Path,
    picture: &Picture,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let bytes = match ending.as_deref() {
        Some("svg") => picture.svg().into_bytes(),
        Some("png") => picture.png(2.0),
        _ => return Err(Failure::usage("a picture's name ends in `.svg` or `.png`")),
    };
    files::write(path, &bytes)?;
    writeln!(out, "\nwrote {}", path.display())?;
    Ok(())
}
