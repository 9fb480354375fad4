//! A rig as written: YAML with units, like a scenario.
//!
//! ```yaml
//! rig: garden crossbow
//! show: imperial
//! object: {mass: 4.5 lb, survives: 100 gn}
//! launcher:
//!   cord: {count: 8, relaxed: 7 ft, diameter: 14 mm, shear_modulus: 0.4 MPa}
//! carriage: 2 lb
//! winch: {limit: 2000 lbf}
//! ```

mod frame;
mod launcher;

use super::{Doubt, Efficiency, Launcher, Projectile, Rig, Scatter, Winch};
use crate::{
    diagnostic::{Diagnostic, Severity},
    math,
    quantity::Dimension,
    text::{
        SHOW, Sort,
        reader::{Reader, Table},
        reference,
        row::{Group, Kind, Row, sub, text, value, word},
        schema,
        what::What,
        yaml,
    },
};
use std::path::Path;

/// The language of rigs: a row for each key.
#[must_use]
pub fn language() -> Group {
    let any = What::any;
    let object = vec![
        value("mass", What::positive(Dimension::Mass), "Its mass."),
        value(
            "drag_area",
            What::not_negative(Dimension::Area),
            "Drag coefficient times frontal area while it is pushed.",
        )
        .or(0.0),
        value(
            "survives",
            What::positive(Dimension::Acceleration),
            "Greatest acceleration that it stands.",
        )
        .may("not told"),
    ];
    let winch = vec![
        value("limit", What::positive(Dimension::Force), "Its working limit."),
        count("parts", "Parts of line that share the pull."),
    ];
    let rows = vec![
        text("rig", "garden crossbow", "Its name."),
        word("show", &SHOW, "The units in which results are shown.").may("`si`"),
        sub("object", Group::new("What is launched.", object)).like("{mass: 2 kg}"),
        launcher::row(),
        value(
            "carriage",
            What::not_negative(Dimension::Mass),
            "What moves with the object and stays.",
        )
        .or(0.0),
        value("friction", What::not_negative(Dimension::Force), "Constant friction along the run.")
            .or(0.0),
        value(
            "friction_coefficient",
            any(Dimension::Number).within(0.0, 2.0),
            "Friction on the run over the weight of what slides.",
        )
        .or(0.0),
        value(
            "elevation",
            any(Dimension::Angle).within(-1.4, 1.4),
            "Slope of the run, up positive.",
        )
        .or(0.0),
        value("air_density", What::positive(Dimension::Density), "Density of the air.").or(1.2),
        value("run_up", What::positive(Dimension::Length), "Length of run that there is.")
            .may("not told"),
        sub("winch", Group::new("A winch or a latch.", winch)).may("not told"),
        frame::row(),
        Row::new(
            "efficiency",
            Kind::Number(What::positive(Dimension::Ratio).within(1e-3, 1.0)),
            "Share of the energy that the object gets.",
        )
        .may("the launcher's own prior"),
        value(
            "scatter",
            What::positive(Dimension::Ratio).within(1e-4, 0.5),
            "Of the speed, from shot to shot.",
        )
        .may("2 %, within a factor of five"),
        text(
            "shots",
            "crossbow.csv",
            "Its shot log, from the rig's folder: what it has shot narrows what it will shoot.",
        )
        .may("it has not shot yet"),
    ];
    Group::new("A launcher with its object, its frame and its limits.", rows)
}

/// The JSON Schema (draft 2020-12) of a rig.
#[must_use]
pub fn schema() -> serde_json::Value {
    schema::schema("longodds rig", &language())
}

/// Every key of a rig in Markdown, with a number's bounds and what holds where it
/// is not written.
#[must_use]
pub fn reference() -> String {
    reference::reference("A rig", &language())
}

/// A whole number from 1; 1 where it is not written.
fn count(name: &'static str, doc: &'static str) -> Row {
    let what = What::any(Dimension::Number).within(1.0, 1e4);
    Row::new(name, Kind::Whole(what), doc).or(1.0)
}

/// What is read under the key of a [`count`].
fn counted(reader: &mut Reader<'_>, table: &Table<'_>, name: &str) -> Option<u32> {
    let value = reader.value_of(table, name)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 10,000")]
    let count = value as u32;
    Some(count)
}

/// Reads and checks a rig.
///
/// # Errors
///
/// Everything that is wrong with it, each with its place.
///
/// # Examples
///
/// ```
/// let rig = longodds_sim::rig::parse(
///     "rig: drop tower\nobject: {mass: 2 kg}\nlauncher: {drop: }\n",
/// ).map_err(|problems| problems[0].clone())?;
/// assert_eq!(rig.name, "drop tower");
/// # Ok::<(), longodds_sim::diagnostic::Diagnostic>(())
/// ```
pub fn parse(text: &str) -> Result<Rig, Vec<Diagnostic>> {
    let root = yaml::tree(text, Sort::Rig).map_err(|problem| vec![problem])?;
    let (language, mut reader) = (language(), Reader::new(Sort::Rig, Path::new(".")));
    let rig = reader.root(&root, &language).and_then(|table| whole(&mut reader, &table));
    let mut problems = reader.problems;
    problems.retain(|problem| problem.severity == Severity::Error);
    problems.sort_by_key(|p| p.label.as_ref().map_or(usize::MAX, |(span, _)| span.start));
    problems.dedup();
    match rig {
        Some(rig) if problems.is_empty() => Ok(rig),
        _ => Err(problems),
    }
}

fn whole(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Rig> {
    let name = reader.text_of(table, "rig", "a name").map(|(name, _)| name.to_owned());
    let show = reader.word_of(table, "show", "`si` or `imperial`", &SHOW).unwrap_or_default();
    let object = object(reader, table);
    let launcher = launcher::read(reader, table);
    let [carriage, friction, friction_coefficient, elevation, air_density, run_up] =
        ["carriage", "friction", "friction_coefficient", "elevation", "air_density", "run_up"]
            .map(|name| reader.value_of(table, name));
    let winch = winch(reader, table);
    let frame = frame::read(reader, table);
    let launcher = launcher?;
    let doubt = doubt(reader, table, &launcher);
    let shots = reader.told_text(table, "shots", "the name of a CSV file");
    Some(Rig {
        name: name?,
        launcher,
        object: object?,
        carriage: carriage?,
        friction: friction?,
        friction_coefficient: friction_coefficient?,
        elevation: elevation?,
        air_density: air_density?,
        run_up,
        winch,
        frame,
        doubt,
        shots: shots.map(|(file, _)| file.to_owned()),
        show,
    })
}

fn object(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Projectile> {
    let table = reader.open(table, "object")?;
    let [mass, drag_area, survives] =
        ["mass", "drag_area", "survives"].map(|name| reader.value_of(&table, name));
    Some(Projectile { mass: mass?, drag_area: drag_area?, survives })
}

fn winch(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Winch> {
    let table = reader.open(table, "winch")?;
    let (limit, parts) = (reader.value_of(&table, "limit"), counted(reader, &table, "parts"));
    Some(Winch { limit: limit?, parts: parts? })
}

/// Doubts as told, or the launcher's own.
fn doubt(reader: &mut Reader<'_>, table: &Table<'_>, launcher: &Launcher) -> Doubt {
    let mut doubt = launcher::doubt(launcher);
    if let Some(id) = reader.told(table, "efficiency") {
        let spread = &reader.inputs[id.0].distribution;
        let [low, middle, high] = [0.05, 0.5, 0.95].map(|u| spread.quantile(u));
        // A value without a spread still has some: a tenth.
        let sd = (math::ln(high / low) / 3.289_707).max(0.05);
        doubt.efficiency = Efficiency::LogNormal { median: middle, sd };
    }
    if let Some(told) = reader.value_of(table, "scatter") {
        // Told of launchers like it, seldom measured on this one.
        doubt.scatter = Scatter::about(told, 0.7);
    }
    doubt
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::frame::Support;

    const CROSSBOW: &str = "\
rig: garden crossbow
show: imperial
object: {mass: 4.5 lb, survives: 100 gn}
launcher:
  cord: {count: 8, relaxed: 7 ft, diameter: 14 mm, shear_modulus: 0.4 MPa, largest_stretch: 2.5}
carriage: 2 lb
friction: 5 lbf
run_up: 16 ft
winch: {limit: 2000 lbf, parts: 2}
frame: {square_tube: {width: 2 in, wall: 0.125 in}, span: 5 ft, beams: 2, yield_strength: 315 MPa}
efficiency: {between: [60 %, 90 %]}
scatter: 2 %
";

    fn problem(from: &str, to: &str) -> (String, String) {
        assert!(CROSSBOW.contains(from));
        let text = CROSSBOW.replace(from, to);
        let problems = parse(&text).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        let span = problems[0].label.clone().unwrap().0;
        (text[span].to_owned(), problems[0].to_string())
    }

    #[test]
    fn a_whole_rig_is_read() {
        let rig = parse(CROSSBOW).unwrap();
        assert_eq!(rig.name, "garden crossbow");
        assert!((rig.object.mass - 4.5 * 0.453_592_37).abs() < 1e-12);
        assert_eq!(rig.winch.unwrap().parts, 2);
        assert_eq!(rig.frame.unwrap().support, Support::BothEnds);
        let Efficiency::LogNormal { median, .. } = rig.doubt.efficiency else { panic!("as told") };
        assert!((median - 0.75).abs() < 0.01);
    }

    #[test]
    fn every_launcher_is_read() {
        for launcher in [
            "spring: {stiffness: 800 N/m, largest_stretch: 0.5 m}",
            "pressure: {volume: 2 L, bore: 50 mm, length: 1 m, expansion: adiabatic}",
            "pressure: {volume: 2 L, bore: 50 mm, length: 1 m, valve: {bore: 12 mm}, rated: 8 bar}",
            "drop:",
            "pendulum: {length: 3 m, arm: 4 kg}",
            "ramp: {slope: 30 deg, friction: 0.2}",
            "tow: {ratio: 2, run_up: 60 ft}",
            "cord: {count: 2, relaxed: 1 m, diameter: 10 mm, measured: [[0 m, 0 N], [1 m, 90 N]]}",
        ] {
            let text = format!("rig: a\nobject: {{mass: 2 kg}}\nlauncher:\n  {launcher}\n");
            let rig = parse(&text).unwrap_or_else(|problems| panic!("{launcher}: {problems:?}"));
            assert!(launcher.starts_with(rig.launcher.name()));
        }
    }

    #[test]
    fn every_problem_has_its_place() {
        assert_eq!(problem("carriage", "cariage").0, "cariage");
        assert_eq!(problem("2000 lbf", "2000 lb").0, "2000 lb");
        assert_eq!(problem("count: 8", "count: 2.5").0, "2.5");
        assert_eq!(problem("  cord:", "  chord:").0, "chord");
        assert_eq!(problem("0.125 in", "1.5 in").0, "1.5 in");
    }

    #[test]
    fn an_empty_text_is_one_error_about_a_rig() {
        let problems = parse("").unwrap_err();
        assert!(problems[0].message.contains("the rig file"), "{problems:?}");
    }
}
