//! A claim to start from: a part of the shelf flies at another.

use super::{
    Found, Part, Side,
    find::{find, on_the_shelf},
    shelf::{shelf, unknown},
    text,
};
use crate::{
    body::Body,
    diagnostic::Diagnostic,
    flight::GRAVITY,
    math::{cos, sin},
    scenario::{Face, InputId, Scenario, check::parse_with, face_axes},
};
use std::{fmt::Write, path::Path};

/// What a claim is started with.
#[derive(Clone, Copy, Debug)]
pub struct Starter<'n> {
    /// The object, by name.
    pub object: &'n str,
    /// The target, by name.
    pub target: &'n str,
    /// Where parts of one's own are looked for; `None`: on the shelf alone.
    pub folder: Option<&'n Path>,
}

/// The other part of a claim in which one is looked at.
const PLAIN: Starter<'static> = Starter { object: "brick", target: "shop_front", folder: None };

/// Slowest throw, in m/s (judgement: what is tossed by hand or by a gust).
const SLOWEST: f64 = 8.0;
/// Clear way between object and target, in m (judgement: room to fly and to turn).
const ROOM: f64 = 4.0;
/// What looks up as steeply as this is dropped on: the upward part of its normal.
const LIES: f64 = 0.8;

impl Starter<'_> {
    fn find(&self, side: Side, name: &str) -> Found {
        match self.folder {
            Some(folder) => find(folder, side, name),
            None => on_the_shelf(side, name),
        }
    }
}

/// A claim of two parts in under fifteen lines, which runs as it is: what lies is
/// dropped on, what stands is thrown at.
///
/// # Errors
///
/// Which side has no such part, and what is wrong with the one that it has, with
/// places in the part's text or none.
///
/// # Examples
///
/// ```
/// use longodds_sim::scenario::{parse, parts::{Starter, starter}};
/// use std::path::Path;
/// let with = Starter { object: "slate", target: "greenhouse", folder: None };
/// let text = starter(with).unwrap();
/// assert!(parse(&text, Path::new("")).unwrap().warnings.is_empty());
/// ```
pub fn starter(with: Starter<'_>) -> Result<String, Vec<(Side, Diagnostic)>> {
    let Starter { object, target, .. } = with;
    let mut problems = Vec::new();
    let mut moves = false;
    for (side, name) in [(Side::Object, object), (Side::Target, target)] {
        match with.find(side, name) {
            Ok(Some((_, text))) => moves |= text::has(&text, side, "moves"),
            Ok(None) => problems.push((side, unknown(side, name))),
            Err(why) => problems.push((side, Diagnostic::error("part::file", why))),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let motion = if moves { "moves" } else { "stands" };
    let bare = format!(
        "claim: x\nobject: {{like: {object}}}\nrelease: {{dropped: {{height: 100 m}}}}\n\
         target: {{like: {target}, {motion}: {{at: 50 m}}}}\nchain: [released, reaches]\n"
    );
    let found = |side, name: &str| with.find(side, name);
    let side = |problem: Diagnostic| {
        let file = problem.elsewhere.as_ref().map_or("", |text| text.name.as_str());
        let side = if file.contains(Side::Target.folder()) { Side::Target } else { Side::Object };
        (side, problem)
    };
    let scenario = parse_with(&bare, with.folder.unwrap_or(Path::new("")), &found)
        .map_err(|problems| problems.into_iter().map(side).collect::<Vec<_>>())?;
    Ok(written(&scenario, motion).unwrap_or(bare))
}

/// Every part of the shelf for a side, each in a claim of its own.
#[must_use]
pub fn in_claims(side: Side) -> Vec<(Part, Scenario)> {
    let each = |part: Part| {
        let with = match side {
            Side::Object => Starter { object: &part.name, ..PLAIN },
            Side::Target => Starter { target: &part.name, ..PLAIN },
        };
        let text = starter(with).ok()?;
        let scenario = parse_with(&text, Path::new(""), &on_the_shelf).ok()?;
        Some((part, scenario))
    };
    shelf(side).into_iter().filter_map(each).collect()
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
    let drops = normal.z > LIES && motion == "stands";
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
        // Nobody throws at people.
        let people = scenario.target.faces.iter().any(|face| face.occupant);
        (release, gap, if people { "flies at" } else { "is thrown at" })
    };
    let left = if y.abs() > 0.01 && right.y.abs() > 0.01 {
        format!(", left: {} m", tidy(-y))
    } else {
        String::new()
    };
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
