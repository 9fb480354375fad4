//! The set-up in plain numbers, every input in its middle.

use super::Parts;
use crate::{
    body::{Body, Form},
    math::{cos, sin},
    scenario::{InputId, Outline, Release, SolidShape, face_axes, pointing, turned},
    text::reader::Reader,
};
use glam::{DQuat, DVec3};

/// The set-up at the release, world axes, m.
pub(super) struct Scene {
    /// What flies.
    pub(super) body: Body,
    /// Where its centre starts.
    pub(super) start: DVec3,
    /// How it is turned.
    pub(super) attitude: DQuat,
    /// Over the ground; of what falls or is blown, none.
    pub(super) velocity: DVec3,
    /// The mean wind, over the ground.
    pub(super) wind: DVec3,
    /// The target's velocity.
    pub(super) moves: DVec3,
    pub(super) faces: Vec<Plane>,
    pub(super) solids: Vec<Block>,
}

/// A face.
pub(super) struct Plane {
    pub(super) name: String,
    pub(super) centre: DVec3,
    /// Outward.
    pub(super) normal: DVec3,
    /// Level, and up the slope.
    pub(super) axes: [DVec3; 2],
    /// Half extents along them.
    pub(super) half: [f64; 2],
    pub(super) aim: bool,
}

/// A solid.
pub(super) struct Block {
    pub(super) name: String,
    pub(super) centre: DVec3,
    pub(super) shape: SolidShape,
    pub(super) axes: [DVec3; 3],
    pub(super) half: [f64; 3],
}

impl Scene {
    pub(super) fn new(reader: &Reader<'_>, parts: Parts<'_>) -> Self {
        let at = |id: InputId| reader.middle(id);
        let point = |ids: &[InputId; 3]| DVec3::from_array(ids.map(at));
        let level = |angle: f64| DVec3::new(cos(angle), sin(angle), 0.0);
        let motion = &parts.target.motion;
        let origin = DVec3::new(at(motion.at), at(motion.left), 0.0);
        let faces = parts.target.faces.iter().map(|face| {
            let [right, up, normal] = face_axes(at(face.facing), at(face.rake));
            let half = match face.outline {
                Outline::Rectangle { width, height } => [at(width) / 2.0, at(height) / 2.0],
                Outline::Disc { diameter } => [at(diameter) / 2.0; 2],
            };
            let (name, centre) = (face.name.clone(), origin + point(&face.centre));
            Plane { name, centre, normal, axes: [right, up], half, aim: face.aim }
        });
        let solids = parts.target.solids.iter().map(|solid| {
            let along = level(at(solid.turn));
            Block {
                name: solid.name.clone(),
                centre: origin + point(&solid.centre),
                shape: solid.shape,
                axes: [along, DVec3::Z.cross(along), DVec3::Z],
                half: solid.size.map(|id| at(id) / 2.0),
            }
        });
        let [heading, climb] = parts.release.aim().map_or([0.0; 2], |aim| aim.map(at));
        let speed = match parts.release {
            Release::Launched(shot) => at(shot.speed) * shot.speed_factor.map_or(1.0, at),
            Release::Shed(shed) => at(shed.carrier_speed),
            Release::Dropped(_) | Release::Blown(_) => 0.0,
        };
        let pose = parts.release.pose();
        let angles = [pose.nose_up, pose.nose_left, pose.roll].map(at);
        Self {
            body: Body::solid(parts.object.shape.map(at), at(parts.object.mass)),
            start: point(parts.release.place()),
            attitude: turned(angles, heading, climb),
            velocity: pointing(heading, climb) * speed,
            wind: parts
                .air
                .wind
                .as_ref()
                .map_or(DVec3::ZERO, |wind| level(at(wind.towards)) * at(wind.speed)),
            moves: level(at(motion.heading)) * at(motion.speed),
            faces: faces.collect(),
            solids: solids.collect(),
        }
    }

    /// The faces that count.
    pub(super) fn aimed(&self) -> impl Iterator<Item = (usize, &Plane)> {
        self.faces.iter().enumerate().filter(|(_, face)| face.aim)
    }
}

impl Plane {
    /// Radius of the circle about it.
    pub(super) fn reach(&self) -> f64 {
        crate::math::hypot(self.half[0], self.half[1])
    }

    /// Points of it, a grid of so many each way.
    pub(super) fn points(&self, count: u32) -> impl Iterator<Item = DVec3> + '_ {
        let share = move |i: u32| 2.0 * f64::from(i) / f64::from(count - 1) - 1.0;
        (0..count * count).map(move |i| {
            let [a, b] = [share(i % count) * self.half[0], share(i / count) * self.half[1]];
            self.centre + self.axes[0] * a + self.axes[1] * b
        })
    }
}

impl Block {
    /// Whether a point is in it, and not only just.
    pub(super) fn holds(&self, point: DVec3) -> bool {
        let shares: [f64; 3] = std::array::from_fn(|i| {
            (point - self.centre).dot(self.axes[i])
                / (self.half[i] - super::begins::SLACK).max(1e-9)
        });
        shares.iter().all(|share| share.abs() < 1.0)
            && super::super::sense::fills(self.shape, shares)
    }

    /// Whether the line between two points goes through it.
    pub(super) fn blocks(&self, from: DVec3, to: DVec3) -> bool {
        const STEPS: u32 = 256;
        (1..STEPS).any(|i| self.holds(from.lerp(to, f64::from(i) / f64::from(STEPS))))
    }
}

/// The lowest point of a body in an attitude, below its centre, in m.
pub(super) fn depth(form: Form, attitude: DQuat) -> f64 {
    let up: [f64; 3] = [DVec3::X, DVec3::Y, DVec3::Z].map(|axis| (attitude * axis).z);
    match form {
        Form::Ball { radius } => radius,
        Form::Boxed { half } => {
            half.to_array().iter().zip(up).map(|(half, up)| half * up.abs()).sum()
        }
        Form::Revolved { axis, rings } => {
            let across = (1.0 - up[axis] * up[axis]).max(0.0).sqrt();
            rings
                .map(|ring| ring.radius * across - ring.offset * up[axis])
                .into_iter()
                .fold(f64::MIN, f64::max)
        }
    }
}

/// Points of a body's surface, body frame.
pub(super) fn surface(form: Form) -> Vec<DVec3> {
    let half = form.half_extents();
    let side = |i: u32| f64::from(i % 3) - 1.0;
    let grid = || (0..27_u32).map(|i| DVec3::new(side(i), side(i / 3), side(i / 9)));
    match form {
        Form::Ball { radius } => grid().map(|p| p.normalize_or_zero() * radius).collect(),
        Form::Boxed { .. } => grid().map(|p| p * half).collect(),
        Form::Revolved { axis, rings } => rings
            .iter()
            .flat_map(|ring| {
                (0..=16_u32).map(move |i| {
                    let angle = std::f64::consts::TAU * f64::from(i) / 16.0;
                    let mut point = [0.0; 3];
                    point[axis] = ring.offset;
                    let radius = if i == 16 { 0.0 } else { ring.radius };
                    point[(axis + 1) % 3] = radius * cos(angle);
                    point[(axis + 2) % 3] = radius * sin(angle);
                    DVec3::from_array(point)
                })
            })
            .chain([DVec3::ZERO])
            .collect(),
    }
}
