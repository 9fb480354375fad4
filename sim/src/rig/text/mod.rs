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
    quantity::{Dimension, Show},
    text::{
        Sort,
        reader::{Reader, Table},
        what::What,
        yaml,
    },
};
use std::path::Path;

const KEYS: [&str; 14] = [
    "rig",
    "show",
    "object",
    "launcher",
    "carriage",
    "friction",
    "friction_coefficient",
    "elevation",
    "air_density",
    "run_up",
    "winch",
    "frame",
    "efficiency",
    "scatter",
];

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
    let mut reader = Reader::new(Sort::Rig, Path::new("."));
    let rig = reader.table(&root, &(0..0), "", &KEYS).and_then(|table| whole(&mut reader, &table));
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
    let name = reader
        .required(table, "rig", "garden crossbow")
        .and_then(|(key, node)| reader.text(node, &key.span, "a name").map(str::to_owned));
    let words = [("si", Show::Si), ("imperial", Show::Imperial)];
    let show = table
        .get("show")
        .and_then(|(key, node)| reader.word(node, &key.span, "`si` or `imperial`", &words))
        .unwrap_or_default();
    let object = object(reader, table);
    let launcher = reader
        .required(table, "launcher", "{drop: }")
        .and_then(|(key, node)| launcher::read(reader, node, &key.span));
    let carriage = optional(reader, table, "carriage", What::not_negative(Dimension::Mass));
    let friction = optional(reader, table, "friction", What::not_negative(Dimension::Force));
    let coefficient = What::any(Dimension::Number).within(0.0, 2.0);
    let friction_coefficient = optional(reader, table, "friction_coefficient", coefficient);
    let level = What::any(Dimension::Angle).within(-1.4, 1.4);
    let elevation = optional(reader, table, "elevation", level);
    let air_density = optional(reader, table, "air_density", What::positive(Dimension::Density));
    let run_up = optional(reader, table, "run_up", What::positive(Dimension::Length));
    let winch = winch(reader, table);
    let frame = table.get("frame").and_then(|(key, node)| frame::read(reader, node, &key.span));
    let launcher = launcher?;
    let doubt = doubt(reader, table, &launcher);
    Some(Rig {
        name: name?,
        launcher,
        object: object?,
        carriage: carriage.unwrap_or(0.0),
        friction: friction.unwrap_or(0.0),
        friction_coefficient: friction_coefficient.unwrap_or(0.0),
        elevation: elevation.unwrap_or(0.0),
        air_density: air_density.unwrap_or(1.2),
        run_up,
        winch,
        frame,
        doubt,
        show,
    })
}

/// The value under a key that may be missing.
fn optional(reader: &mut Reader<'_>, table: &Table<'_>, name: &str, what: What) -> Option<f64> {
    let (key, node) = table.get(name)?;
    reader.value(node, &key.span, what)
}

/// A whole number from 1 under a key that may be missing.
fn count(reader: &mut Reader<'_>, table: &Table<'_>, name: &str) -> Option<u32> {
    let (key, node) = table.get(name)?;
    let value = reader.value(node, &key.span, What::any(Dimension::Number).within(1.0, 1e4))?;
    if value.fract() > 0.0 {
        reader.report(
            Diagnostic::error("rig::count", format!("`{name}` is a whole number"))
                .at(node.span.clone(), "not whole"),
        );
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 10,000")]
    let count = value as u32;
    Some(count)
}

fn object(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Projectile> {
    let (key, node) = reader.required(table, "object", "{mass: 2 kg}")?;
    let table = reader.table(node, &key.span, "object", &["mass", "drag_area", "survives"])?;
    let mass = reader.value_of(&table, "mass", What::positive(Dimension::Mass));
    let drag_area = optional(reader, &table, "drag_area", What::not_negative(Dimension::Area));
    let survives = optional(reader, &table, "survives", What::positive(Dimension::Acceleration));
    Some(Projectile { mass: mass?, drag_area: drag_area.unwrap_or(0.0), survives })
}

fn winch(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Winch> {
    let (key, node) = table.get("winch")?;
    let table = reader.table(node, &key.span, "winch", &["limit", "parts"])?;
    let limit = reader.value_of(&table, "limit", What::positive(Dimension::Force));
    let parts = count(reader, &table, "parts");
    Some(Winch { limit: limit?, parts: parts.unwrap_or(1) })
}

/// Doubts as told, or the launcher's own.
fn doubt(reader: &mut Reader<'_>, table: &Table<'_>, launcher: &Launcher) -> Doubt {
    let mut doubt = launcher::doubt(launcher);
    if table.get("efficiency").is_some() {
        let what = What::positive(Dimension::Ratio).within(1e-3, 1.0);
        let id = reader.number(table, "efficiency", what);
        let spread = &reader.inputs[id.0].distribution;
        let [low, middle, high] = [0.05, 0.5, 0.95].map(|u| spread.quantile(u));
        // A value without a spread still has some: a tenth.
        let sd = (math::ln(high / low) / 3.289_707).max(0.05);
        doubt.efficiency = Efficiency::LogNormal { median: middle, sd };
    }
    let share = What::positive(Dimension::Ratio).within(1e-4, 0.5);
    if let Some(told) = optional(reader, table, "scatter", share) {
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
