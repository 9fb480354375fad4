//! `release: {rig: …}`: the speed of a launcher at a setting, with what its shots so
//! far say of it.

use crate::{
    diagnostic::{Diagnostic, Span},
    math::ln,
    quantity::{Dimension, Show, format},
    rig::{
        self, Fired, Rig,
        calibrate::Shot as Shots,
        log::{self, Defaults},
    },
    sampling::slot_of,
    text::{
        file::text,
        reader::{Reader, Table},
    },
    uncertain::{Distribution, Input, InputId, LogNormal},
};
use std::path::{Path, PathBuf};

/// Longest rig file, in bytes.
const LONGEST: u64 = 1 << 20;
/// The scenario's object may differ from the rig's by this share of its mass
/// before it is doubted.
const SAME_MASS: f64 = 0.05;

/// Speed (from shot to shot) and the factor on it that nobody knows.
pub(super) struct Shot {
    pub(super) speed: InputId,
    pub(super) doubt: InputId,
}

/// A rig that was fired.
struct Told {
    rig: Rig,
    fired: Fired,
    /// In words.
    written: String,
    /// Where the setting stands.
    place: Span,
}

/// Reads `file`, `setting` and `shots`, and fires; `mass`: the object's.
pub(super) fn read(reader: &mut Reader<'_>, table: &Table<'_>, mass: Option<InputId>) -> Shot {
    let told = fired(reader, table);
    let mass = mass.map(|id| reader.middle(id));
    if let (Some(told), Some(mass)) = (&told, mass) {
        same_mass(reader, &told.rig, mass, told.place.clone());
    }
    if let Some(told) = &told {
        beyond_what_was_tried(reader, told);
    }
    let (fired, written, place) = told.map_or_else(
        || (NOTHING, String::new(), table.at.clone()),
        |told| (told.fired, told.written, told.place),
    );
    let mut add = |key: &str, median: f64, sigma: f64, unknown: bool, dimension: Dimension| {
        let name = table.path_of(key);
        let distribution = spread(median, sigma);
        let written = written.clone();
        let slot = slot_of(&name);
        let input = Input { name, dimension, distribution, slot, unknown, assumed: false, written };
        reader.add(input, place.clone())
    };
    let speed = add("speed", fired.speed, fired.varying, false, Dimension::Speed);
    let doubt = add("doubt", 1.0, fired.unknown, true, Dimension::Number);
    Shot { speed, doubt }
}

const NOTHING: Fired = Fired { speed: f64::NAN, varying: 0.0, unknown: 0.0, beyond: None };

/// Lognormal about a median; fixed where nothing spreads or nothing is known.
fn spread(median: f64, sigma: f64) -> Distribution {
    let spread = sigma.is_finite() && sigma > 0.0 && median.is_finite();
    let lognormal = spread.then(|| LogNormal::new(ln(median), sigma));
    lognormal
        .and_then(Result::ok)
        .map_or_else(|| Distribution::fixed(median), Distribution::LogNormal)
}

fn fired(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Told> {
    let file = reader.text_of(table, "file", "a name");
    let setting = reader.text_of(table, "setting", "a name");
    let log = reader.told_text(table, "shots", "the name of a CSV file");
    let ((file, file_at), (setting, place)) = (file?, setting?);
    let path = reader.folder.join(file);
    let rig = rig_of(reader, file, setting, &path, file_at.clone())?;
    let log = match log {
        Some((log, at)) => Some((reader.folder.join(log), log.to_owned(), at)),
        None => rig.shots.clone().map(|log| (beside(&path, &log), log, file_at)),
    };
    let shots = match &log {
        Some((path, name, at)) => shots(reader, &rig, path, name, at.clone())?,
        None => Vec::new(),
    };
    match rig::fire(&rig, &shots, setting) {
        Ok(fired) => {
            let behind = match shots.len() {
                0 => String::new(),
                1 => ", one shot behind it".to_owned(),
                n => format!(", {n} shots behind it"),
            };
            let written = format!("{} at {setting}{behind}", rig.name);
            Some(Told { rig, fired, written, place })
        }
        Err(why) => {
            let message = "the rig cannot fire at this setting";
            reader.report(Diagnostic::error("scenario::rig", message).at(place, why));
            None
        }
    }
}

/// A file that another names from its own folder.
fn beside(path: &Path, name: &str) -> PathBuf {
    path.parent().unwrap_or(Path::new("")).join(name)
}

fn rig_of(
    reader: &mut Reader<'_>,
    file: &str,
    setting: &str,
    path: &Path,
    at: Span,
) -> Option<Rig> {
    let wrong = |message: String, why: String, help: String| {
        Diagnostic::error("scenario::rig", message).at(at, why).help(help)
    };
    let text = match text(path, LONGEST) {
        Ok(text) => text,
        Err(why) => {
            let help = "its name is relative to the scenario's folder".to_owned();
            reader.report(wrong(format!("cannot use the rig of `{file}`"), why, help));
            return None;
        }
    };
    match rig::parse(&text) {
        Ok(rig) => Some(rig),
        Err(problems) => {
            let why = problems.first().map_or_else(String::new, ToString::to_string);
            let help = format!("longodds rig {file} --setting '{setting}' shows them all");
            reader.report(wrong(format!("the rig of `{file}` has problems"), why, help));
            None
        }
    }
}

/// The shots of a rig's log that tell of its speed.
fn shots(
    reader: &mut Reader<'_>,
    rig: &Rig,
    path: &Path,
    name: &str,
    at: Span,
) -> Option<Vec<Shots>> {
    let defaults =
        Defaults { setting: Some(rig.launcher.setting_dimension()), ..Defaults::default() };
    let read = text(path, log::LONGEST as u64).and_then(|text| {
        log::parse(&text, &defaults)
            .map_err(|problems| problems.first().map_or_else(String::new, ToString::to_string))
    });
    match read {
        Ok(log) => Some(log.calibration()),
        Err(why) => {
            reader.report(
                Diagnostic::error("scenario::rig", format!("cannot use the shots of `{name}`"))
                    .at(at, why)
                    .help(
                        "a shot log, as `longodds rig --sheet` writes one: `shots` in the scenario                          is named from its folder, `shots` in the rig's file from the rig's",
                    ),
            );
            None
        }
    }
}

fn beyond_what_was_tried(reader: &mut Reader<'_>, told: &Told) {
    let Some(tried) = told.fired.beyond else { return };
    let tried = format(tried, told.rig.launcher.setting_dimension(), told.rig.show);
    reader.report(
        Diagnostic::warning("scenario::rig_beyond", "beyond anything the rig has shot")
            .at(told.place.clone(), format!("its shots went up to {tried}"))
            .help("the speed is an extrapolation: shoot nearer to it first"),
    );
}

fn same_mass(reader: &mut Reader<'_>, rig: &Rig, mass: f64, place: Span) {
    if (rig.object.mass - mass).abs() > SAME_MASS * mass {
        let shown = |mass| format(mass, Dimension::Mass, Show::Si);
        reader.report(
            Diagnostic::warning("scenario::rig_mass", "the rig throws another mass")
                .at(
                    place,
                    format!(
                        "the rig's object has {}, the scenario's {}",
                        shown(rig.object.mass),
                        shown(mass)
                    ),
                )
                .help("the speed is the rig's own; make the two masses agree"),
        );
    }
}
