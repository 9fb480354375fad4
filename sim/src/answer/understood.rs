//! How a set-up is understood, in a line: how the object is turned, and where the
//! target is.

use crate::{
    body::{Body, Form},
    math::{acos, hypot},
    quantity::Dimension,
    scenario::{InputId, Outline, Release, Scenario, pointing, turned},
    words::Voice,
};
use glam::DVec3;

/// Sides of this many times another are the longer ones.
const LONGER: f64 = 1.5;

/// The set-up in a line, every input in its middle: "The plate starts flat, its
/// nose ahead, 8 m up; `shop_window`, 3 m wide and 2.2 m high, is 14 m away."
#[must_use]
pub fn understood(scenario: &Scenario) -> String {
    let voice = Voice::plain(scenario.show);
    let middle = |id: InputId| scenario.inputs.get(id).distribution.quantile(0.5);
    let long = |length: f64| voice.quantity(length, Dimension::Length);
    let [x, y, z] = scenario.release.place().map(middle);
    let motion = &scenario.target.motion;
    let origin = [middle(motion.at) - x, middle(motion.left) - y];
    let away =
        |centre: &[InputId; 3]| hypot(origin[0] + middle(centre[0]), origin[1] + middle(centre[1]));
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let nearest = aimed.min_by(|a, b| away(&a.centre).total_cmp(&away(&b.centre)));
    let there = nearest.map_or_else(String::new, |face| {
        let size = match face.outline {
            Outline::Rectangle { width, height } => {
                format!("{} by {}", long(middle(width)), long(middle(height)))
            }
            Outline::Disc { diameter } => format!("{} across", long(middle(diameter))),
        };
        // Of what is launched or shed ahead is along x; what falls or is blown has none.
        let ahead = origin[0] + middle(face.centre[0]);
        let behind = match &scenario.release {
            Release::Launched(_) | Release::Shed(_) if ahead < -0.5 * away(&face.centre) => {
                " behind"
            }
            _ => "",
        };
        format!("; {} to `{}`{behind}, {size}", long(away(&face.centre)), face.name)
    });
    let turned = turning(scenario, middle).map_or_else(String::new, |words| format!(" {words},"));
    format!("The {} starts{turned} {} up{there}.", scenario.object.shape.noun(), long(z))
}

/// How it is turned: along its way, and to the ground. `None` of a ball.
fn turning(scenario: &Scenario, middle: impl Fn(InputId) -> f64) -> Option<String> {
    let body = Body::solid(scenario.object.shape.map(&middle), 1.0);
    if Form::of(&body).is_ball() {
        return None;
    }
    let [heading, climb] = scenario.release.aim().map_or([0.0; 2], |aim| aim.map(&middle));
    let pose = scenario.release.pose();
    let angles = [pose.nose_up, pose.nose_left, pose.roll].map(&middle);
    let attitude = turned(angles, heading, climb);
    let way = match &scenario.release {
        Release::Launched(_) | Release::Shed(_) => Some(pointing(heading, climb)),
        Release::Dropped(_) | Release::Blown(_) => None,
    };
    let from =
        |axis: DVec3, line: DVec3| acos((attitude * axis).dot(line).abs().min(1.0)).to_degrees();
    let half = body.half_extents();
    let flat = half.x.min(half.y) > LONGER * half.z;
    let up = from(if flat { DVec3::Z } else { DVec3::X }, DVec3::Z);
    let lies = match (flat, up) {
        (true, angle) if angle < 30.0 => "flat side down",
        (true, angle) if angle > 60.0 => "on its edge",
        (false, angle) if angle < 30.0 => "on end",
        (false, angle) if angle > 60.0 => "lying",
        _ => "tilted",
    };
    let Some(way) = way else { return Some(lies.to_owned()) };
    let ahead = (attitude * DVec3::X).dot(way);
    let nose = match from(DVec3::X, way) {
        angle if angle < 30.0 && ahead > 0.0 => "nose first",
        angle if angle < 30.0 => "tail first",
        angle if angle > 60.0 => "side first",
        _ => "at a slant",
    };
    Some(format!("{nose}, {lies}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::parse;
    use std::path::Path;

    fn said(pose: &str) -> String {
        let text = format!(
            "claim: A sheet is thrown at a pane.
show: imperial
object: {{shape: {{plate: {{length: 8 ft, width: 4 ft, thickness: 12 mm}}}}, mass: 20 kg}}
release: {{launched: {{height: 6 ft, speed: 15 m/s, scatter: 2 deg{pose}}}}}
target:
  stands: {{at: 14 ft}}
  faces: {{pane: {{centre: [0 m, 0 m, 5 ft], width: 5 ft, height: 4 ft, aim: true}}}}
chain: [released, reaches, strikes]
"
        );
        understood(&parse(&text, Path::new("")).unwrap())
    }

    #[test]
    fn a_set_up_is_told_in_a_line() {
        assert_eq!(
            said(""),
            "The plate starts nose first, flat side down, 6 ft up; 14 ft to `pane`, 5 ft by 4 ft."
        );
        assert!(said(", roll: 90 deg").contains("nose first, on its edge"));
        assert!(said(", nose_left: 180 deg").contains("tail first, flat side down"));
        assert!(said(", nose_left: 90 deg, nose_up: 45 deg").contains("side first"));
    }

    /// To the left or to the right is all the same to it.
    #[test]
    fn a_mirror_changes_no_word() {
        for angle in [10, 40, 70, 110, 170] {
            let turned = |side: i32| {
                said(&format!(", nose_left: {} deg, roll: {} deg", side * angle, side * angle / 2))
            };
            assert_eq!(turned(1), turned(-1));
        }
    }
}
