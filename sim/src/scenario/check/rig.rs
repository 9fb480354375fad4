//! `release: {rig: …}`: the speed of a launcher at a setting.

use crate::{
    diagnostic::{Diagnostic, Span},
    math::ln,
    quantity::{Dimension, Show, format},
    rig::{self, Fired, Refused},
    sampling::slot_of,
    text::{
        file::text,
        reader::{Reader, Table},
    },
    uncertain::{Distribution, Input, InputId, LogNormal},
};

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

/// Reads `file` and `setting` and fires; `mass`: the object's.
pub(super) fn read(reader: &mut Reader<'_>, table: &Table<'_>, mass: Option<InputId>) -> Shot {
    let told = fired(reader, table);
    let mass = mass.map(|id| reader.middle(id));
    if let (Some((fired, _, place)), Some(mass)) = (&told, mass) {
        same_mass(reader, fired, mass, place.clone());
    }
    let (fired, written, place) = told.unwrap_or((nothing(), String::new(), table.at.clone()));
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

fn nothing() -> Fired {
    Fired { name: String::new(), mass: 1.0, speed: f64::NAN, varying: 0.0, unknown: 0.0 }
}

/// Lognormal about a median; fixed where nothing spreads or nothing is known.
fn spread(median: f64, sigma: f64) -> Distribution {
    let spread = sigma.is_finite() && sigma > 0.0 && median.is_finite();
    let lognormal = spread.then(|| LogNormal::new(ln(median), sigma));
    lognormal
        .and_then(Result::ok)
        .map_or_else(|| Distribution::fixed(median), Distribution::LogNormal)
}

fn fired(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<(Fired, String, Span)> {
    let file = reader.text_of(table, "file", "a name");
    let setting = reader.text_of(table, "setting", "a name");
    let ((file, file_at), (setting, setting_at)) = (file?, setting?);
    let wrong = |at: Span, message: String, why: String| {
        Diagnostic::error("scenario::rig", message).at(at, why)
    };
    let text = match text(&reader.folder.join(file), LONGEST) {
        Ok(text) => text,
        Err(why) => {
            reader.report(
                wrong(file_at, format!("cannot use the rig of `{file}`"), why)
                    .help("its name is relative to the scenario's folder"),
            );
            return None;
        }
    };
    match rig::fire(&text, setting) {
        Ok(fired) => {
            let written = format!("{} at {setting}", fired.name);
            Some((fired, written, setting_at))
        }
        Err(Refused::File(why)) => {
            let message = format!("the rig of `{file}` has problems");
            let help = format!("longodds rig {file} --setting '{setting}' shows them all");
            reader.report(wrong(file_at, message, why).help(help));
            None
        }
        Err(Refused::Setting(why)) => {
            let message = "the rig cannot fire at this setting".to_owned();
            reader.report(wrong(setting_at, message, why));
            None
        }
    }
}

fn same_mass(reader: &mut Reader<'_>, fired: &Fired, mass: f64, place: Span) {
    if (fired.mass - mass).abs() > SAME_MASS * mass {
        let shown = |mass| format(mass, Dimension::Mass, Show::Si);
        reader.report(
            Diagnostic::warning("scenario::rig_mass", "the rig throws another mass")
                .at(
                    place,
                    format!(
                        "the rig's object has {}, the scenario's {}",
                        shown(fired.mass),
                        shown(mass)
                    ),
                )
                .help("the speed is the rig's own; make the two masses agree"),
        );
    }
}
