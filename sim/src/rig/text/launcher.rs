//! The launcher's own keys, and the doubts that go with each.

use super::{count, counted};
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
        row::{Group, Kind, Row, sub, value, word},
        what::What,
        yaml::{Node, Value},
    },
};

/// Highest pressure or modulus that is not a slip, in Pa.
const MOST: f64 = 1e12;

const LAWS: [(&str, Law); 2] = [("rubber", Law::Rubber), ("neo_hookean", Law::NeoHookean)];
const EXPANSIONS: [(&str, Expansion); 2] =
    [("adiabatic", Expansion::Adiabatic), ("isothermal", Expansion::Isothermal)];

/// Reads the keys of one kind.
type Read = fn(&mut Reader<'_>, &Table<'_>) -> Option<Launcher>;

/// The row of every kind beside what reads it.
fn kinds() -> [(Row, Read); 7] {
    let length = What::positive(Dimension::Length);
    let stretch = What::any(Dimension::Number).within(1.0, 7.0);
    let density = What::positive(Dimension::Density);
    let pressure = |low, high| What::any(Dimension::Pressure).within(low, high);
    let point = vec![
        ("extension", Kind::Value(What::not_negative(Dimension::Length))),
        ("pull", Kind::Value(What::not_negative(Dimension::Force))),
    ];
    let measured = Kind::List(Box::new(Kind::Tuple(point)));
    let cord = vec![
        count("count", "How many cords pull side by side."),
        value("relaxed", length, "Length of one without a pull."),
        value("diameter", length, "Of one without a pull."),
        value("density", density, "Of its rubber.").or(930.0),
        value("shear_modulus", pressure(1e3, 1e9), "Of its rubber.").like("0.4 MPa"),
        word("law", &LAWS, "How the pull grows.").may("`rubber`"),
        Row::new("measured", measured, "Extension of a cord and pull of all, rising from nothing.")
            .like("[[0 m, 0 N], [0.5 m, 60 N]]"),
        value("resting_stretch", stretch, "Its length over its relaxed one where it rests.")
            .or(1.0),
        value("largest_stretch", stretch, "The most that it is let.").may("not told"),
    ];
    let cord = Group::new("Cords of rubber.", cord).choose(&["shear_modulus", "measured"]);
    let force = What::not_negative(Dimension::Force);
    let mass = What::not_negative(Dimension::Mass);
    let spring = vec![
        value("stiffness", What::positive(Dimension::Stiffness), "Its rate."),
        value("preload", force, "Its pull before it is set.").or(0.0),
        value("mass", mass, "Its own mass.").or(0.0),
        value("largest_stretch", length, "The most that it is let.").may("not told"),
    ];
    let valve = vec![
        value("bore", length, "Of the valve.").like("12 mm"),
        value(
            "discharge",
            What::positive(Dimension::Ratio).within(0.05, 1.0),
            "Its discharge coefficient.",
        )
        .or(0.8),
        value(
            "dead_volume",
            What::positive(Dimension::Volume),
            "Behind the object before it moves.",
        )
        .or(1e-5),
    ];
    let pressures = vec![
        value("volume", What::positive(Dimension::Volume), "Of the vessel."),
        value("bore", length, "Of the barrel.").like("50 mm"),
        value("length", length, "Of the barrel."),
        word("expansion", &EXPANSIONS, "How the gas expands, if the valve lets all of it through."),
        sub("valve", Group::new("What the gas goes through.", valve)),
        value("rated", pressure(1e3, MOST), "What the vessel is rated for, above the atmosphere.")
            .may("not told"),
        value("atmosphere", pressure(5e4, 1.2e5), "Pressure of the air outside.").or(101_325.0),
    ];
    let pressures =
        Group::new("Compressed gas behind the object.", pressures).choose(&["expansion", "valve"]);
    let pendulum = vec![
        value("length", length, "From pivot to object."),
        value("arm", mass, "Mass of the arm.").or(0.0),
    ];
    let slope = What::any(Dimension::Angle).within(0.01, std::f64::consts::FRAC_PI_2);
    let share = What::any(Dimension::Number).within(0.0, 2.0);
    let ramp = vec![
        value("slope", slope, "Of the ramp."),
        value("friction", share, "Coefficient of friction.").or(0.0),
        value("rotation", share, "Moment of inertia over mass and radius squared, of what rolls.")
            .or(0.0),
    ];
    let ratio = What::any(Dimension::Number).within(0.05, 20.0);
    let tow = vec![
        value("ratio", ratio, "Speed of the object over that of the tug.").or(1.0),
        value("run_up", length, "Length of the run."),
        value("line_stiffness", What::positive(Dimension::Stiffness), "Of the line.")
            .may("not told"),
    ];
    let drop = Kind::Either(vec![Kind::Nothing, Kind::Group(Group::new("", Vec::new()))]);
    let swing = Group::new("A swing.", pendulum);
    [
        (sub("cord", cord), |r, t| self::cord(r, t).map(Launcher::Cord)),
        (sub("spring", Group::new("A spring.", spring)), |r, t| {
            self::spring(r, t).map(Launcher::Spring)
        }),
        (sub("pressure", pressures), |r, t| self::pressure(r, t).map(Launcher::Pressure)),
        (Row::new("drop", drop, "A fall from a height."), |_, _| Some(Launcher::Drop)),
        (sub("pendulum", swing), |r, t| self::pendulum(r, t).map(Launcher::Pendulum)),
        (sub("ramp", Group::new("A slope.", ramp)), |r, t| self::ramp(r, t).map(Launcher::Ramp)),
        (sub("tow", Group::new("A tug on a line.", tow)), |r, t| {
            self::tow(r, t).map(Launcher::Tow)
        }),
    ]
}

pub(super) fn row() -> Row {
    let rows = kinds().into_iter().map(|(row, _)| row).collect();
    sub("launcher", Group::choice("What makes the speed.", rows)).like("{drop: }")
}

pub(super) fn read(reader: &mut Reader<'_>, rig: &Table<'_>) -> Option<Launcher> {
    let table = reader.open(rig, "launcher")?;
    let (key, node) = reader.chosen(&table)?;
    if key.name == "drop" && matches!(node.value, Value::Empty) {
        return Some(Launcher::Drop);
    }
    let table = reader.opened(&table, key, node)?;
    let (_, read) = kinds().into_iter().find(|(row, _)| row.name == key.name)?;
    read(reader, &table)
}

fn cord(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Cord> {
    let [relaxed, diameter, resting, largest, density] =
        ["relaxed", "diameter", "resting_stretch", "largest_stretch", "density"]
            .map(|name| reader.value_of(table, name));
    let elastic = elastic(reader, table);
    let count = counted(reader, table, "count");
    Some(Cord {
        count: count?,
        relaxed: relaxed?,
        section: Cord::round(diameter?),
        density: density?,
        elastic: elastic?,
        resting_stretch: resting?,
        largest_stretch: largest,
    })
}

fn elastic(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Elastic> {
    let (key, node) = reader.chosen(table)?;
    if key.name == "measured" {
        return measured(reader, node, &key.span).map(Elastic::Measured);
    }
    let shear_modulus = reader.value_of(table, "shear_modulus");
    let law = reader.word_of(table, "law", "a stress law", &LAWS).unwrap_or(Law::Rubber);
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

fn spring(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Spring> {
    let [stiffness, preload, mass, largest] = ["stiffness", "preload", "mass", "largest_stretch"]
        .map(|name| reader.value_of(table, name));
    Some(Spring { stiffness: stiffness?, preload: preload?, mass: mass?, largest })
}

fn pressure(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Pressure> {
    let [volume, bore, length, atmosphere, rated] =
        ["volume", "bore", "length", "atmosphere", "rated"]
            .map(|name| reader.value_of(table, name));
    let (key, _) = reader.chosen(table)?;
    let expansion = if key.name == "valve" {
        valve(reader, table)
    } else {
        reader.word_of(table, "expansion", "`adiabatic` or `isothermal`", &EXPANSIONS)
    };
    Some(Pressure {
        volume: volume?,
        bore: Cord::round(bore?),
        length: length?,
        atmosphere: atmosphere?,
        expansion: expansion?,
        rated,
    })
}

fn valve(reader: &mut Reader<'_>, pressure: &Table<'_>) -> Option<Expansion> {
    let table = reader.open(pressure, "valve")?;
    let [bore, discharge, dead] =
        ["bore", "discharge", "dead_volume"].map(|name| reader.value_of(&table, name));
    Some(Expansion::Valve { discharge: discharge?, area: Cord::round(bore?), dead_volume: dead? })
}

fn pendulum(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Pendulum> {
    let [length, arm] = ["length", "arm"].map(|name| reader.value_of(table, name));
    Some(Pendulum { length: length?, arm: arm? })
}

fn ramp(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Ramp> {
    let [slope, friction, rotation] =
        ["slope", "friction", "rotation"].map(|name| reader.value_of(table, name));
    Some(Ramp { slope: slope?, friction: friction?, rotation: rotation? })
}

fn tow(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Tow> {
    let [ratio, run_up, line_stiffness] =
        ["ratio", "run_up", "line_stiffness"].map(|name| reader.value_of(table, name));
    Some(Tow { ratio: ratio?, run_up: run_up?, line_stiffness })
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
