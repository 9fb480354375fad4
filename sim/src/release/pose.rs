//! From the angles of a pose to an attitude and rates.

use super::value;
use crate::scenario::{Pose, turned};
use glam::{DQuat, DVec3};

/// The attitude of a body whose nose points `heading` to the left of x and
/// `climb` above the horizontal, then is turned by the pose's own angles.
pub(super) fn attitude(pose: &Pose, row: &[f64], heading: f64, climb: f64) -> DQuat {
    let angles = [pose.nose_up, pose.nose_left, pose.roll].map(|id| value(row, id));
    turned(angles, heading, climb)
}

/// Spin about the body's own axes, in rad/s.
pub(super) fn rates(pose: &Pose, row: &[f64]) -> DVec3 {
    let [x, y, z] = pose.spin.map(|id| value(row, id));
    DVec3::new(x, y, z)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::scenario::InputId;

    /// A pose whose six inputs are the first six of a row.
    pub(crate) fn first_six() -> Pose {
        let [nose_up, nose_left, roll, x, y, z] = [0, 1, 2, 3, 4, 5].map(InputId);
        Pose { nose_up, nose_left, roll, spin: [x, y, z] }
    }

    #[test]
    fn nose_up_lifts_the_nose_and_nose_left_turns_it_to_y() {
        let quarter = std::f64::consts::FRAC_PI_2;
        let up = attitude(&first_six(), &[quarter, 0.0, 0.0], 0.0, 0.0) * DVec3::X;
        assert!((up - DVec3::Z).length() < 1e-15, "{up}");
        let left = attitude(&first_six(), &[0.0, quarter, 0.0], 0.0, 0.0) * DVec3::X;
        assert!((left - DVec3::Y).length() < 1e-15, "{left}");
    }

    #[test]
    fn roll_leaves_the_nose_alone() {
        let rolled = attitude(&first_six(), &[0.3, 0.2, 1.0], 0.0, 0.0) * DVec3::X;
        let plain = attitude(&first_six(), &[0.3, 0.2, 0.0], 0.0, 0.0) * DVec3::X;
        assert!((rolled - plain).length() < 1e-15);
    }
}
