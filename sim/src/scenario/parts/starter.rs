//! A claim to start from: a part of the shelf flies at another.

use super::{Side, shelf, text};
use crate::{
    body::Body,
    diagnostic::Diagnostic,
    flight::GRAVITY,
    math::{cos, sin},
    scenario::{Face, InputId, Scenario, face_axes, parse},
};
use std::{fmt::Write, path::Path};

/// What a claim is started with, by name.
#[derive(Clone, Copy, Debug)]
pub struct Starter<'n> {
    /// The object.
    pub object: &'n str,
    /// The target.
    pub target: &'n str,
}

/// Slowest throw, in m/s (judgement: what is tossed by hand or by a gust).
const SLOWEST: f64 = 8.0;
/// Clear way between object and target, in m (judgement: room to fly and to turn).
const ROOM: f64 = 4.0;
/// What looks up as steeply as this is dropped on: the upward part of its normal.
const LIES: f64 = 0.8;

/// A claim of two parts in under fifteen lines, which runs as it is: what lies is
/// dropped on, what stands is thrown at.
///
/// # Errors
///
/// If a part is not known, as [`parse`] says it of the claim.
pub fn starter(with: Starter<'_>) -> Result<String, Vec<Diagnostic>> {
    let Starter { object, target } = with;
    let moves = shelf::text(Side::Target, target).is_some_and(|part| text::has(part, Side::Target, "moves"));
    let motion = if moves { "moves" } else { "stands" };
    let bare = format!(
        "claim: x\nobject: {{like: {object}}}\nrelease: {{dropped: {{height: 100 m}}}}\n\
         target: {{like: {target}, {motion}: {{at: 50 m}}}}\nchain: [released, reaches]\n"
    );
    let scenario = parse(&bare, Path::new(""))?;
    Ok(written(&scenario, motion).unwrap_or(bare))
}

fn written(scenario: &Scenario, motion: &str) -> Option<String> {
    let at = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let most = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.999);
    let [thing, mark] = [Side::Object, Side::Target]
        .map(|side| scenario.parts.iter().find(|part| part.side == side));
    let (thing, mark) = (thing?, mark?);
    let face = scenario.target.faces.iter().find(|face| face.aim)?;
    let radius = Body::solid(scenario.object.shape.map(most), 1.0).bounding_radius();
    let [right, _, normal] = face_axes(at(face.facing), at(face.rake));
    let [x, y, z] = face.centre.map(at);
    let drops = normal.z > LIES;
    let (release, gap, does) = if drops {
        let low = (z + radius + 1.0 + ROOM).ceil();
        // Beside the edge of what is small, most would fall past it.
        let release = format!(
            "dropped: {{height: {{triangle: [{low} m, {} m, {} m]}}, left: {{normal: {{mean: 0 m, sd: 0.3 m}}}}, nose_up: {{range: [-20 deg, 20 deg]}}}}",
            low + 1.0,
            low + 2.0
        );
        (release, -x, "falls on")
    } else {
        let gap = (radius + ROOM - x.min(0.0)).ceil() * if motion == "moves" { 3.0 } else { 1.0 };
        let height = z.max(1.5).max(radius + 0.3);
        let comes = if motion == "moves" { at(scenario.target.motion.speed) } else { 0.0 };
        let (speed, elevation) = aimed(gap + x, z - height, comes);
        let release = format!(
            "launched: {{speed: {{between: [{} m/s, {} m/s]}}, height: {} m, elevation: {} deg, scatter: 2 deg, nose_up: {{range: [-10 deg, 10 deg]}}}}",
            (0.85 * speed).round(),
            (1.15 * speed).round(),
            (height * 10.0).ceil() / 10.0,
            elevation
        );
        (release, gap, "is thrown at")
    };
    let left = if y.abs() > 0.01 && right.y.abs() > 0.01 { format!(", left: {} m", tidy(-y)) } else { String::new() };
    let chain = chain(face);
    let end = ending(face);
    let mut text = String::new();
    let _ = writeln!(text, "claim: {} {does} {}, and {end}.", thing.about, lower(&mark.about));
    let _ = writeln!(text, "show: imperial");
    let _ = writeln!(text, "object: {{like: {}}}", thing.name);
    let _ = writeln!(text, "release:\n  {release}");
    let _ = writeln!(text, "target:\n  like: {}\n  aim: {}", mark.name, face.name);
    let _ = writeln!(text, "  {motion}: {{at: {} m{left}}}", tidy(gap));
    let _ = writeln!(text, "chain: [{}]", chain.join(", "));
    Some(text)
}

fn chain(face: &Face) -> Vec<&'static str> {
    let mut gates = vec!["released", "reaches", "strikes"];
    if face.barrier.is_some() {
        gates.push("perforates");
    }
    if face.occupant {
        gates.push("harms");
    }
    gates
}

fn ending(face: &Face) -> String {
    let name = face.name.replace('_', " ");
    match (&face.barrier, face.occupant) {
        (_, true) => format!("harms the {name}"),
        (Some(_), false) => format!("goes through its {name}"),
        (None, false) => format!("strikes its {name}"),
    }
}

/// A speed (m/s) and an elevation (whole degrees) that meet, in a vacuum, something
/// so far ahead and so much higher (m), which comes on at a speed of its own (m/s).
fn aimed(away: f64, up: f64, comes: f64) -> (f64, i32) {
    let misses = |speed: f64, degrees: i32| {
        let angle = f64::from(degrees).to_radians();
        let time = away / (speed * cos(angle) + comes);
        (speed * sin(angle) * time - 0.5 * GRAVITY * time * time - up).abs()
    };
    let mut speed = SLOWEST.max((2.0 * GRAVITY * (away + up.max(0.0))).sqrt().round());
    loop {
        let best = (-60..=60).min_by(|a, b| misses(speed, *a).total_cmp(&misses(speed, *b)));
        let best = best.unwrap_or(0);
        if misses(speed, best) < 0.5 || speed > 60.0 {
            return (speed, best);
        }
        speed += 2.0;
    }
}

/// To the centimetre.
fn tidy(length: f64) -> f64 {
    // Adding zero turns -0 into 0.
    (length * 100.0).round() / 100.0 + 0.0
}

/// With a small first letter.
fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
