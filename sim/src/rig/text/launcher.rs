//! The launcher's own keys, and the doubts that go with each.

use super::{count, optional};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    rig::{
        Doubt, Efficiency, Launcher, Scatter,
        cord::{Cord, Elastic},
        pendulum::Pendulum,
        pressure::{Expansion, Pressure},
        ramp::Ramp,
        rubber::Law,
        spring::Spring,
        tow::Tow,
    },
    text::{
        reader::{Reader, Table},
        what::What,
        yaml::{Node, Value},
    },
};

const KINDS: [&str; 7] = ["cord", "spring", "pressure", "drop", "pendulum", "ramp", "tow"];

/// Highest pressure or modulus that is not a slip, in Pa.
const MOST: f64 = 1e12;

pub(super) fn read(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Launcher> {
    let table = reader.table(node, at, "launcher", &KINDS)?;
    let (key, node) = reader.one_of(&table, &KINDS)?;
    let at = &key.span;
    match key.name.as_str() {
        "cord" => cord(reader, node, at).map(Launcher::Cord),
        "spring" => spring(reader, node, at).map(Launcher::Spring),
        "pressure" => pressure(reader, node, at).map(Launcher::Pressure),
        "pendulum" => pendulum(reader, node, at).map(Launcher::Pendulum),
        "ramp" => ramp(reader, node, at).map(Launcher::Ramp),
        "tow" => tow(reader, node, at).map(Launcher::Tow),
        _ => {
            if !matches!(node.value, Value::Empty) {
                reader.table(node, at, "launcher.drop", &[])?;
            }
            Some(Launcher::Drop)
        }
    }
}

fn cord(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Cord> {
    const KEYS: [&str; 9] = [
        "count",
        "relaxed",
        "diameter",
        "density",
        "shear_modulus",
        "law",
        "measured",
        "resting_stretch",
        "largest_stretch",
    ];
    let table = reader.table(node, at, "launcher.cord", &KEYS)?;
    let relaxed = reader.value_of(&table, "relaxed", What::positive(Dimension::Length));
    let diameter = reader.value_of(&table, "diameter", What::positive(Dimension::Length));
    let stretch = What::any(Dimension::Number).within(1.0, 7.0);
    let resting = optional(reader, &table, "resting_stretch", stretch);
    let largest = optional(reader, &table, "largest_stretch", stretch);
    let density = optional(reader, &table, "density", What::positive(Dimension::Density));
    let elastic = elastic(reader, &table);
    Some(Cord {
        count: count(reader, &table, "count").unwrap_or(1),
        relaxed: relaxed?,
        section: Cord::round(diameter?),
        density: density.unwrap_or(930.0),
        elastic: elastic?,
        resting_stretch: resting.unwrap_or(1.0),
        largest_stretch: largest,
    })
}

fn elastic(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Elastic> {
    let (key, node) = reader.one_of_two(table, "shear_modulus", "measured")?;
    if key.name == "measured" {
        return measured(reader, node, &key.span).map(Elastic::Measured);
    }
    let modulus = What::any(Dimension::Pressure).within(1e3, 1e9);
    let shear_modulus = reader.value(node, &key.span, modulus);
    let laws = [("rubber", Law::Rubber), ("neo_hookean", Law::NeoHookean)];
    let law = table
        .get("law")
        .and_then(|(key, node)| reader.word(node, &key.span, "a stress law", &laws))
        .unwrap_or(Law::Rubber);
    Some(Elastic::Material { shear_modulus: shear_modulus?, law })
}

/// `[[extension, pull], …]`, rising from `[0 m, 0 N]`.
fn measured(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Vec<(f64, f64)>> {
    let Value::List(items) = &node.value else {
        reader.report(
            Diagnostic::error("rig::measured", "`measured` is a list of pairs")
                .at(at.clone(), format!("found {}", node.kind()))
                .help("write `[[0 m, 0 N], [0.5 m, 60 N]]`: extension of a cord, pull of all"),
        );
        return None;
    };
    let mut points = Vec::new();
    for item in items {
        let pair = reader.list(item, at, 2, "[0.5 m, 60 N]")?;
        let extension = reader.value(&pair[0], at, What::not_negative(Dimension::Length))?;
        let pull = reader.value(&pair[1], at, What::not_negative(Dimension::Force))?;
        let rising = points.last().is_none_or(|last: &(f64, f64)| extension > last.0);
        if !rising {
            reader.report(
                Diagnostic::error("rig::measured", "the extensions must rise")
                    .at(pair[0].span.clone(), "not above the one before"),
            );
            return None;
        }
        points.push((extension, pull));
    }
    let starts_at_rest = points.first().is_some_and(|first| first.0 <= 0.0);
    if points.len() < 2 || !starts_at_rest {
        reader.report(
            Diagnostic::error("rig::measured", "at least two points, the first at no extension")
                .at(at.clone(), "these points")
                .help("write `[[0 m, 0 N], [0.5 m, 60 N]]`"),
        );
        return None;
    }
    Some(points)
}

fn spring(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Spring> {
    let keys = ["stiffness", "preload", "mass", "largest_stretch"];
    let table = reader.table(node, at, "launcher.spring", &keys)?;
    let stiffness = reader.value_of(&table, "stiffness", What::positive(Dimension::Stiffness));
    let preload = optional(reader, &table, "preload", What::not_negative(Dimension::Force));
    let mass = optional(reader, &table, "mass", What::not_negative(Dimension::Mass));
    let largest = optional(reader, &table, "largest_stretch", What::positive(Dimension::Length));
    Some(Spring {
        stiffness: stiffness?,
        preload: preload.unwrap_or(0.0),
        mass: mass.unwrap_or(0.0),
        largest,
    })
}

fn pressure(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Pressure> {
    let keys = ["volume", "bore", "length", "expansion", "valve", "rated", "atmosphere"];
    let table = reader.table(node, at, "launcher.pressure", &keys)?;
    let volume = reader.value_of(&table, "volume", What::positive(Dimension::Volume));
    let bore = reader.value_of(&table, "bore", What::positive(Dimension::Length));
    let length = reader.value_of(&table, "length", What::positive(Dimension::Length));
    let air = What::any(Dimension::Pressure).within(5e4, 1.2e5);
    let atmosphere = optional(reader, &table, "atmosphere", air);
    let vessel = What::any(Dimension::Pressure).within(1e3, MOST);
    let rated = optional(reader, &table, "rated", vessel);
    let (key, node) = reader.one_of_two(&table, "expansion", "valve")?;
    let expansion = if key.name == "valve" {
        valve(reader, node, &key.span)
    } else {
        let words = [("adiabatic", Expansion::Adiabatic), ("isothermal", Expansion::Isothermal)];
        let index = [("adiabatic", 0), ("isothermal", 1)];
        reader
            .word(node, &key.span, "`adiabatic` or `isothermal`", &index)
            .map(|i: usize| words[i].1.clone())
    };
    Some(Pressure {
        volume: volume?,
        bore: Cord::round(bore?),
        length: length?,
        atmosphere: atmosphere.unwrap_or(101_325.0),
        expansion: expansion?,
        rated,
    })
}

fn valve(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Expansion> {
    let keys = ["bore", "discharge", "dead_volume"];
    let table = reader.table(node, at, "launcher.pressure.valve", &keys)?;
    let bore = reader.value_of(&table, "bore", What::positive(Dimension::Length));
    let share = What::positive(Dimension::Ratio).within(0.05, 1.0);
    let discharge = optional(reader, &table, "discharge", share);
    let dead = optional(reader, &table, "dead_volume", What::positive(Dimension::Volume));
    Some(Expansion::Valve {
        discharge: discharge.unwrap_or(0.8),
        area: Cord::round(bore?),
        dead_volume: dead.unwrap_or(1e-5),
    })
}

fn pendulum(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Pendulum> {
    let table = reader.table(node, at, "launcher.pendulum", &["length", "arm"])?;
    let length = reader.value_of(&table, "length", What::positive(Dimension::Length));
    let arm = optional(reader, &table, "arm", What::not_negative(Dimension::Mass));
    Some(Pendulum { length: length?, arm: arm.unwrap_or(0.0) })
}

fn ramp(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Ramp> {
    let table = reader.table(node, at, "launcher.ramp", &["slope", "friction", "rotation"])?;
    let slope = What::any(Dimension::Angle).within(0.01, std::f64::consts::FRAC_PI_2);
    let slope = reader.value_of(&table, "slope", slope);
    let number = What::any(Dimension::Number).within(0.0, 2.0);
    let friction = optional(reader, &table, "friction", number);
    let rotation = optional(reader, &table, "rotation", number);
    Some(Ramp {
        slope: slope?,
        friction: friction.unwrap_or(0.0),
        rotation: rotation.unwrap_or(0.0),
    })
}

fn tow(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<Tow> {
    let table = reader.table(node, at, "launcher.tow", &["ratio", "run_up", "line_stiffness"])?;
    let ratio = optional(reader, &table, "ratio", What::any(Dimension::Number).within(0.05, 20.0));
    let run_up = reader.value_of(&table, "run_up", What::positive(Dimension::Length));
    let stiff = What::positive(Dimension::Stiffness);
    let line_stiffness = optional(reader, &table, "line_stiffness", stiff);
    Some(Tow { ratio: ratio.unwrap_or(1.0), run_up: run_up?, line_stiffness })
}

/// What is not known of a launcher that has not shot. Engineering judgement:
/// hysteresis of rubber 10 to 30 % and the spread of its modulus from memory;
/// the rest common practice, no source. How shots scatter is a guess for
/// launchers at large, not of this one, and as wide (see [`Scatter`]).
pub(super) fn doubt(launcher: &Launcher) -> Doubt {
    let scatter = Scatter::about(0.02, 1.0);
    let (efficiency, exponent) = match launcher {
        Launcher::Cord(Cord { elastic: Elastic::Material { .. }, .. }) => {
            (Efficiency::LogNormal { median: 0.75, sd: 0.35 }, 0.25)
        }
        Launcher::Cord(_) => (Efficiency::LogNormal { median: 0.75, sd: 0.2 }, 0.15),
        Launcher::Spring(_) => (Efficiency::Beta { a: 8.0, b: 4.0 }, 0.05),
        Launcher::Pressure(Pressure { expansion: Expansion::Valve { .. }, .. }) => {
            (Efficiency::LogNormal { median: 0.85, sd: 0.25 }, 0.1)
        }
        // Both fast-valve formulas are upper bounds.
        Launcher::Pressure(_) => (Efficiency::LogNormal { median: 0.5, sd: 0.35 }, 0.15),
        Launcher::Drop => (Efficiency::Beta { a: 200.0, b: 3.0 }, 0.01),
        Launcher::Pendulum(_) => (Efficiency::Beta { a: 60.0, b: 3.0 }, 0.02),
        Launcher::Ramp(_) => (Efficiency::Beta { a: 30.0, b: 4.0 }, 0.05),
        Launcher::Tow(_) => (Efficiency::LogNormal { median: 0.97, sd: 0.05 }, 0.02),
    };
    Doubt { efficiency, exponent, scatter, own_mass: 0.3 }
}
