//! What a scenario has as exact and life never does: attitude, aim, spin and
//! the direction of the wind.
//!
//! Nobody lets go of a sheet so level that it falls flat, and people stand
//! where it goes when it is not. What is fixed is therefore opened: as wide as
//! it may be where nobody told it, about the told value where somebody did.
//! What is told with a spread stays as told. How wide is judgement, and is
//! said beside the answer.

use crate::{
    body::Shape,
    math::asin,
    quantity::{Dimension, Show, format},
    scenario::{InputId, Inputs, Pose, Release, Scenario},
    uncertain::Distribution,
};
use serde::{Deserialize, Serialize};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A told attitude is kept to so much either way, in rad (20 deg; judgement).
const TILT: f64 = 20.0 * PI / 180.0;
/// A told aim, in rad (5 deg; judgement).
const AIM: f64 = 5.0 * PI / 180.0;
/// A told direction of the wind, in rad: within a few minutes it swings so far
/// to either side (30 deg; common practice, no source).
const VEER: f64 = 30.0 * PI / 180.0;
/// An aim that nobody told is anything from this far below the horizontal, in
/// rad (10 deg), to well above what goes farthest (60 deg); judgement.
const UNAIMED: [f64; 2] = [-10.0 * PI / 180.0, 60.0 * PI / 180.0];
/// Spin that a hand, an edge or a gust lends whatever it lets go, in rad/s
/// (2 turns a second; judgement).
const LENT: f64 = 2.0 * TAU;
/// ... or a rim speed of this share of the speed that it leaves with, if that is
/// more (judgement).
const RIM: f64 = 0.2;
/// A told spin is kept to half a turn a second, in rad/s, and to a share of
/// itself; judgement.
const SPIN: f64 = 0.5 * TAU;
/// See [`SPIN`].
const SPIN_SHARE: f64 = 0.3;

/// Points of the distribution of an angle above or below the horizontal where
/// every direction is as likely as every other.
const POINTS: u32 = 181;

/// An input that was fixed and is not taken as exact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Opened {
    /// Its name in the scenario.
    pub input: String,
    /// What it measures: an angle or a rate of turn.
    pub dimension: String,
    /// The value that it had, SI.
    pub was: f64,
    /// Was it told? If not, it was a default.
    pub told: bool,
    /// The least and the greatest value it is taken to have, SI.
    pub taken: [f64; 2],
}

impl Opened {
    /// As words: what it was, and what it is taken to be.
    #[must_use]
    pub fn words(&self, show: Show) -> String {
        let dimension = Dimension::from_name(&self.dimension).unwrap_or(Dimension::Number);
        let say = |value: f64| format(value, dimension, show);
        let [low, high] = self.taken;
        let taken = if dimension == Dimension::Angle && high - low >= PI {
            "any direction".to_owned()
        } else {
            format!("{} to {}", say(low), say(high))
        };
        if self.told {
            format!(
                "`{}` is told as {} without a spread, and nothing is so exact: taken as {taken}",
                self.input,
                say(self.was)
            )
        } else {
            format!("`{}` is not told: taken as {taken}", self.input)
        }
    }
}

/// How an input is opened.
enum Way {
    /// Any angle of a full turn.
    Around,
    /// Any angle to the horizontal, every direction as likely as every other.
    UpAndDown,
    /// Every value of a range alike.
    Range([f64; 2]),
}

/// The inputs of a scenario with nothing exact that is not so in life, and what
/// was opened for it. `radius`: that of the object's bounding sphere, in m.
pub(super) fn opened(scenario: &Scenario, radius: f64) -> (Inputs, Vec<Opened>) {
    let mut inputs = scenario.inputs.clone();
    let opened = exact(scenario, radius)
        .into_iter()
        .filter_map(|(id, way)| {
            let input = scenario.inputs.get(id);
            let (distribution, taken) = spread(&way)?;
            let was = input.distribution.quantile(0.5);
            inputs.replace(id, distribution);
            Some(Opened {
                input: input.name.clone(),
                dimension: input.dimension.name().to_owned(),
                was,
                told: !input.assumed,
                taken,
            })
        })
        .collect();
    (inputs, opened)
}

fn spread(way: &Way) -> Option<(Distribution, [f64; 2])> {
    match way {
        Way::Around => Some((Distribution::uniform(-PI, PI).ok()?, [-PI, PI])),
        Way::UpAndDown => {
            let share = |i| f64::from(i) / f64::from(POINTS - 1);
            let sample: Vec<f64> = (0..POINTS).map(|i| asin(2.0 * share(i) - 1.0)).collect();
            Some((Distribution::measured(&sample).ok()?, [-FRAC_PI_2, FRAC_PI_2]))
        }
        Way::Range([low, high]) => Some((Distribution::uniform(*low, *high).ok()?, [*low, *high])),
    }
}

/// Every fixed input that is not exact in life and that the flight feels, with
/// the way it is opened.
fn exact(scenario: &Scenario, radius: f64) -> Vec<(InputId, Way)> {
    let mut found = attitude(scenario);
    found.extend(spin(scenario, radius));
    found.extend(aim(scenario));
    found.extend(wind(scenario));
    found
}

fn is_fixed(scenario: &Scenario, id: InputId) -> bool {
    scenario.inputs.get(id).distribution.is_fixed()
}

fn pose(scenario: &Scenario) -> &Pose {
    scenario.release.pose()
}

/// A fixed input: opened about its value if it was told, wholly if not.
fn about(scenario: &Scenario, id: InputId, by: f64, untold: Way) -> Option<(InputId, Way)> {
    let input = scenario.inputs.get(id);
    if !input.distribution.is_fixed() {
        return None;
    }
    let was = input.distribution.quantile(0.5);
    Some((id, if input.assumed { untold } else { Way::Range([was - by, was + by]) }))
}

/// How it is turned; a ball is turned like any other.
fn attitude(scenario: &Scenario) -> Vec<(InputId, Way)> {
    if matches!(scenario.object.shape, Shape::Sphere { .. }) {
        return Vec::new();
    }
    let pose = pose(scenario);
    let ways =
        [(pose.nose_up, Way::UpAndDown), (pose.nose_left, Way::Around), (pose.roll, Way::Around)];
    ways.into_iter().filter_map(|(id, untold)| about(scenario, id, TILT, untold)).collect()
}

/// How it spins; a smooth ball's spin counts only where it bounces.
fn spin(scenario: &Scenario, radius: f64) -> Vec<(InputId, Way)> {
    let ball = matches!(scenario.object.shape, Shape::Sphere { .. });
    if ball && scenario.object.spin_lift_factor.is_none() && !scenario.bounces() {
        return Vec::new();
    }
    let lent = LENT.max(RIM * leaving_speed(scenario) / radius.max(1e-3));
    let opened = |id: InputId| {
        let was = scenario.inputs.get(id).distribution.quantile(0.5);
        let by = SPIN.max(SPIN_SHARE * was.abs());
        about(scenario, id, by, Way::Range([-lent, lent]))
    };
    pose(scenario).spin.into_iter().filter_map(opened).collect()
}

/// How fast it leaves, or is blown away, at the fast end, in m/s.
fn leaving_speed(scenario: &Scenario) -> f64 {
    let fast = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.95);
    match &scenario.release {
        Release::Launched(launched) => fast(launched.speed),
        Release::Shed(shed) => fast(shed.carrier_speed),
        Release::Blown(_) => scenario.air.wind.as_ref().map_or(0.0, |wind| fast(wind.speed)),
        Release::Dropped(_) => 0.0,
    }
}

/// The aim of what is launched or thrown, unless its scatter is told. What lies
/// straight ahead is a matter of where x points: it is never wholly untold.
fn aim(scenario: &Scenario) -> Vec<(InputId, Way)> {
    let Release::Launched(launched) = &scenario.release else { return Vec::new() };
    let axes = [
        (launched.elevation, launched.error_up, Way::Range(UNAIMED)),
        (launched.bearing, launched.error_left, Way::Range([-AIM, AIM])),
    ];
    axes.into_iter()
        .filter(|(_, error, _)| is_fixed(scenario, *error))
        .filter_map(|(id, _, untold)| about(scenario, id, AIM, untold))
        .collect()
}

/// Where the wind blows to.
fn wind(scenario: &Scenario) -> Vec<(InputId, Way)> {
    let Some(wind) = &scenario.air.wind else { return Vec::new() };
    about(scenario, wind.towards, VEER, Way::Around).into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::parse;
    use std::path::Path;

    fn scenario(release: &str, shape: &str, more: &str) -> Scenario {
        let text = format!(
            "claim: a test\nobject: {{shape: {shape}, mass: 1 kg}}\nrelease: {release}\n\
             target: {{stands: {{at: 9 m}}, faces: {{board: {{centre: [0 m, 0 m, 1 m], width: 1 m, \
             height: 1 m, aim: true}}}}}}\nchain: [released, strikes]\n{more}"
        );
        parse(&text, Path::new(".")).unwrap()
    }

    const SHEET: &str = "{plate: {length: 1 m, width: 0.5 m, thickness: 5 mm}}";
    const BALL: &str = "{sphere: {diameter: 10 cm}}";

    fn names(release: &str, shape: &str, more: &str) -> Vec<(String, bool)> {
        let (_, opened) = opened(&scenario(release, shape, more), 0.5);
        let short = |one: Opened| (one.input.rsplit('.').next().unwrap().to_owned(), one.told);
        opened.into_iter().map(short).collect()
    }

    #[test]
    fn what_is_fixed_is_opened_and_what_has_a_spread_is_not() {
        let told = "{dropped: {height: 9 m, nose_up: 0 deg, nose_left: {range: [-9 deg, 9 deg]}}}";
        let found = names(told, SHEET, "air: {wind: {speed: 5 m/s, towards: 10 deg}}\n");
        let wanted = [("nose_up", true), ("roll", false), ("x", false), ("spin", false)];
        let wanted = wanted.into_iter().chain([("z", false), ("towards", true)]);
        assert_eq!(found, wanted.map(|(name, told)| (name.to_owned(), told)).collect::<Vec<_>>());
    }

    #[test]
    fn a_ball_has_no_attitude_and_a_smooth_one_no_spin_but_where_it_bounces() {
        assert_eq!(names("{dropped: {height: 9 m}}", BALL, ""), []);
        assert_eq!(names("{dropped: {height: 9 m}}", BALL, "ground: asphalt\n").len(), 3);
    }

    #[test]
    fn an_aim_whose_scatter_is_told_stays_and_one_without_does_not() {
        let thrown = |more: &str| {
            names(&format!("{{thrown: {{height: 9 m, speed: 9 m/s{more}}}}}"), BALL, "")
        };
        let both = [("elevation".to_owned(), false), ("bearing".to_owned(), false)];
        assert_eq!(thrown(""), both);
        assert_eq!(thrown(", elevation: 3 deg, bearing: {range: [0 deg, 2 deg]}").len(), 1);
        assert_eq!(thrown(", scatter: 1 deg"), []);
    }

    /// Source: of directions that are all alike the height is even (Archimedes'
    /// hat box): half lie within 30 deg of the horizontal.
    #[test]
    fn any_attitude_is_every_direction_alike() {
        let (distribution, _) = spread(&Way::UpAndDown).unwrap();
        for (u, degrees) in [(0.25, -30.0), (0.5, 0.0), (0.75, 30.0), (0.933_012_7, 60.0)] {
            let found = distribution.quantile(u).to_degrees();
            assert!((found - degrees).abs() < 0.1, "{u}: {found}");
        }
    }
}
