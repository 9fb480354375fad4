//! The set-up before anything flies: what stands where, and how far spreads reach.

use super::{FaceFinding, Findings, ObjectFinding, SolidFinding, Things, things};
use crate::{
    math::{cos, sin},
    quantity::Show,
    scenario::{InputId, Release, Scenario, pointing, turned},
};
use serde::{Deserialize, Serialize};

/// Ends of a spread that are shown.
const ENDS: [f64; 2] = [0.05, 0.95];

/// A claim's set-up, every input in its middle, and how far its spreads reach.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SetUp {
    /// Units of display.
    pub show: Show,
    /// What flies.
    pub object: ObjectFinding,
    /// The target's faces.
    pub faces: Vec<FaceFinding>,
    /// The target's solids.
    pub solids: Vec<SolidFinding>,
    /// Velocity of the target over the ground, in m/s.
    pub target_velocity: [f64; 3],
    /// How it begins.
    pub start: Start,
}

/// How the object begins. Positions in m, world frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Start {
    /// Where its centre is.
    pub at: [f64; 3],
    /// How it is turned: quaternion x, y, z, w, body to world.
    pub attitude: [f64; 4],
    /// 5 and 95 % of each of its coordinates.
    pub reach: [[f64; 2]; 3],
    /// How far the target reaches from its middle along x and y: 5 and 95 %.
    pub target_reach: [[f64; 2]; 2],
    /// Aim and speed, of what is launched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub launch: Option<Launch>,
    /// Speed of the carrier along x, in m/s: 5, 50 and 95 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carrier: Option<[f64; 3]>,
    /// The mean wind, if any blows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind: Option<Blows>,
}

/// What an aimed launch gives.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Launch {
    /// Speed, in m/s: 5, 50 and 95 %.
    pub speed: [f64; 3],
    /// Bearing, from x to the left, with its scatter, in rad: 5, 50 and 95 %.
    pub bearing: [f64; 3],
    /// Elevation with its scatter, in rad: as `bearing`.
    pub elevation: [f64; 3],
}

/// The mean wind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Blows {
    /// Speed, in m/s: 5, 50 and 95 %.
    pub speed: [f64; 3],
    /// Where it blows to, from x to the left, in rad: 5, 50 and 95 %.
    pub towards: [f64; 3],
}

impl Launch {
    /// Unit vector along the aim.
    #[must_use]
    pub fn along(&self) -> [f64; 3] {
        pointing(self.bearing[1], self.elevation[1]).to_array()
    }
}

impl SetUp {
    /// That of a record; `None` of one that is older than this.
    #[must_use]
    pub fn of(findings: &Findings) -> Option<Self> {
        Some(Self {
            show: findings.show,
            object: findings.object.clone(),
            faces: findings.faces.clone(),
            solids: findings.solids.clone(),
            target_velocity: findings.target_velocity,
            start: findings.start.clone()?,
        })
    }
}

/// The set-up of a claim.
#[must_use]
pub fn set_up(scenario: &Scenario) -> SetUp {
    let Things { object, faces, solids, target_velocity } = things(scenario);
    let (show, start) = (scenario.show, start(scenario));
    SetUp { show, object, faces, solids, target_velocity, start }
}

/// How a claim's object begins.
pub(super) fn start(scenario: &Scenario) -> Start {
    let at = |id: InputId, share: f64| scenario.inputs.get(id).distribution.quantile(share);
    let middle = |id: InputId| at(id, 0.5);
    let three = |id: InputId| [at(id, ENDS[0]), middle(id), at(id, ENDS[1])];
    let release = &scenario.release;
    let place = *release.place();
    let [heading, climb] = release.aim().map_or([0.0; 2], |aim| aim.map(middle));
    let pose = release.pose();
    let angles = [pose.nose_up, pose.nose_left, pose.roll].map(middle);
    let motion = &scenario.target.motion;
    Start {
        at: place.map(middle),
        attitude: turned(angles, heading, climb).to_array(),
        reach: place.map(|id| ENDS.map(|share| at(id, share))),
        target_reach: [motion.at, motion.left]
            .map(|id| ENDS.map(|share| at(id, share) - middle(id))),
        launch: match release {
            Release::Launched(shot) => {
                let factor = shot.speed_factor.map_or([1.0; 3], three);
                let speed = three(shot.speed);
                Some(Launch {
                    speed: [0, 1, 2].map(|k| speed[k] * factor[k]),
                    bearing: apart(three(shot.bearing), three(shot.error_left)),
                    elevation: apart(three(shot.elevation), three(shot.error_up)),
                })
            }
            Release::Dropped(_) | Release::Shed(_) | Release::Blown(_) => None,
        },
        carrier: match release {
            Release::Shed(shed) => Some(three(shed.carrier_speed)),
            Release::Launched(_) | Release::Dropped(_) | Release::Blown(_) => None,
        },
        wind: scenario
            .air
            .wind
            .as_ref()
            .map(|wind| Blows { speed: three(wind.speed), towards: three(wind.towards) })
            .filter(|blows| blows.speed[2] > 0.0),
    }
}

/// Two spreads that have nothing to do with each other, one on the other.
fn apart(aim: [f64; 3], error: [f64; 3]) -> [f64; 3] {
    let middle = aim[1] + error[1];
    let side = |k: usize| {
        let (a, b) = (aim[k] - aim[1], error[k] - error[1]);
        (a * a + b * b).sqrt()
    };
    [middle - side(0), middle, middle + side(2)]
}

/// Where a launched object is after a time, in s, with no air: in m, world frame.
#[must_use]
pub fn in_vacuum(start: &Start, launch: &Launch, time: f64) -> [f64; 3] {
    let along = launch.along();
    let fall = 0.5 * crate::rig::GRAVITY * time * time;
    let at = [0, 1, 2].map(|k| start.at[k] + along[k] * launch.speed[1] * time);
    [at[0], at[1], at[2] - fall]
}

impl Blows {
    /// Unit vector in which it blows over the ground, in its middle.
    #[must_use]
    pub fn way(&self) -> [f64; 2] {
        [cos(self.towards[1]), sin(self.towards[1])]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        chain::Claim,
        engine::{self, Draws},
        scenario::parse,
    };
    use std::path::Path;

    const CLAIM: &str = "\
claim: A board is thrown at a pane from beside it.
air: {wind: {speed: {between: [4 m/s, 9 m/s]}, towards: BEARING}}
object: {shape: {block: {length: 1 m, width: 20 cm, height: 4 cm}}, mass: 5 kg}
release:
  launched:
    height: {range: [2 m, 3 m]}
    left: ASIDE
    speed: {range: [8 m/s, 12 m/s]}
    bearing: BEARING
    elevation: 5 deg
    scatter: 2 deg
    nose_left: BEARING
target:
  stands: {at: {range: [5 m, 7 m]}, left: ASIDE}
  faces: {pane: {centre: [0 m, 0 m, 1.5 m], facing: BEARING, width: 2 m, height: 1 m, aim: true}}
chain: [released, reaches, strikes]
";

    fn set(side: i32) -> SetUp {
        let text = CLAIM
            .replace("BEARING", &format!("{} deg", 10 * side))
            .replace("ASIDE", &format!("{side} m"));
        set_up(&parse(&text, Path::new("")).unwrap())
    }

    /// What is drawn is what flies: the middle draw starts there, turned so, that fast.
    #[test]
    fn the_middle_draw_starts_there() {
        let text = CLAIM.replace("BEARING", "10 deg").replace("ASIDE", "1 m");
        let scenario = parse(&text, Path::new("")).unwrap();
        let drawn = set_up(&scenario);
        let claim = Claim::ready(scenario, 1);
        let middle = Draws::new(&claim.scenario().inputs, 1, &[]).middle();
        let path = engine::record(&claim, 0, &middle);
        let first = &path.moments[0].1;
        let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} beside {b}");
        for k in 0..3 {
            close(first.position[k], drawn.start.at[k]);
            let launch = drawn.start.launch.as_ref().unwrap();
            close(first.velocity[k], launch.speed[1] * launch.along()[k]);
        }
        for k in 0..4 {
            close(first.attitude.to_array()[k], drawn.start.attitude[k]);
        }
    }

    #[test]
    fn a_mirror_mirrors_it() {
        let [left, right] = [set(1), set(-1)];
        let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} beside {b}");
        close(left.start.at[1], -right.start.at[1]);
        close(left.start.at[2], right.start.at[2]);
        let [a, b] = [&left, &right].map(|side| side.start.launch.clone().unwrap());
        for k in 0..3 {
            close(a.bearing[k], -b.bearing[2 - k]);
            close(a.elevation[k], b.elevation[k]);
        }
        close(left.faces[0].normal[1], -right.faces[0].normal[1]);
        close(left.faces[0].centre[1], -right.faces[0].centre[1]);
        let blows = |side: &SetUp| side.start.wind.clone().unwrap().towards[1];
        close(blows(&left), -blows(&right));
    }
}
