//! The lowest point of a tilted circle, sharp or rounded.

use glam::{DQuat, DVec3};

/// A circle of a body across one of its axes, which stands on level ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rim {
    /// The body axis that it is across: 0, 1 or 2.
    pub(super) axis: usize,
    /// Where its centre is along the axis, in m.
    pub(super) offset: f64,
    /// Radius, in m.
    pub(super) radius: f64,
    /// How far the body reaches all round it, in m: 0 of a sharp rim, all of it of a
    /// bar's round end.
    pub(super) round: f64,
}

/// The point on the ground, seen from the centre of mass, world frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Foot {
    /// Where it is, in m.
    pub(super) arm: DVec3,
    /// How it moves as the body turns, in m/s: over the ground and through the
    /// body at once.
    pub(super) moves: DVec3,
}

impl Rim {
    /// Its lowest point, seen from the centre of mass, where the body has this
    /// attitude and turns at `spin` (world frame, rad/s). The axis must not be
    /// upright.
    #[inline]
    pub(super) fn foot(&self, attitude: DQuat, spin: DVec3) -> Foot {
        let axis = attitude * DVec3::AXES[self.axis];
        let turns = spin.cross(axis);
        // Down the circle's own plane: out = (axis z_axis - z) / across.
        let square = 1.0 - axis.z * axis.z;
        let across = square.sqrt();
        let out = (axis * axis.z - DVec3::Z) / across;
        let swings = (axis * turns.z + turns * axis.z) / across + out * (axis.z * turns.z / square);
        Foot {
            arm: axis * self.offset + out * self.radius - DVec3::Z * self.round,
            moves: turns * self.offset + swings * self.radius,
        }
    }

    /// Height of the body's centre of mass while its lowest point is on the ground, in m.
    pub(super) fn height(&self, attitude: DQuat) -> f64 {
        let axis = attitude * DVec3::AXES[self.axis];
        let across = (1.0 - axis.z * axis.z).max(0.0).sqrt();
        self.radius * across - self.offset * axis.z + self.round
    }

    /// Half the thickness across the axis, in m.
    pub(super) fn thickness(&self) -> f64 {
        self.radius + self.round
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rate of the foot against its difference quotient.
    #[test]
    fn the_foot_moves_as_fast_as_its_places_say() {
        for rim in [
            Rim { axis: 2, offset: -0.1, radius: 0.3, round: 0.0 },
            Rim { axis: 0, offset: 0.4, radius: 0.0, round: 0.05 },
        ] {
            moves_as_told(rim);
        }
    }

    fn moves_as_told(rim: Rim) {
        let attitude = DQuat::from_scaled_axis(DVec3::new(1.1, 0.4, -0.3));
        let spin = DVec3::new(0.7, -1.9, 3.1);
        let turned = |time: f64| DQuat::from_scaled_axis(spin * time) * attitude;
        let step = 1e-5;
        let [before, after] = [-step, step].map(|time| rim.foot(turned(time), spin).arm);
        let quotient = (after - before) / (2.0 * step);
        let foot = rim.foot(attitude, spin);
        assert!((foot.moves - quotient).length() < 1e-8, "{} is not {quotient}", foot.moves);
        assert!((foot.arm.z + rim.height(attitude)).abs() < 1e-15);
    }
}
