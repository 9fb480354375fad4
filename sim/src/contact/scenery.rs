//! One draw's target in plain numbers.

use super::{
    manoeuvre::{Brakes, Manoeuvre, Steers},
    obstacle::{Figure, Obstacle},
    round::Round,
    wedge::Wedge,
};
use crate::{
    body::Ring,
    flight::{Plane, Zone},
    math::{cos, sin},
    scenario::{Face, InputId, Outline, Solid, SolidShape, Target, face_axes},
};
use glam::{DVec2, DVec3};

/// A face at time 0, world axes.
#[derive(Clone, Copy, Debug)]
pub struct FaceNow {
    /// Centre at time 0, in m.
    pub centre: DVec3,
    /// Unit outward normal.
    pub normal: DVec3,
    /// Unit vector to the right as the face is looked at from outside;
    /// horizontal.
    pub right: DVec3,
    /// Unit vector up the slope.
    pub up: DVec3,
    /// Outline, in m.
    pub outline: Outline<f64>,
    /// Does a hit here count?
    pub aim: bool,
}

/// A solid at time 0, world axes.
#[derive(Clone, Copy, Debug)]
pub struct SolidNow {
    /// Centre at time 0, in m.
    pub centre: DVec3,
    /// What of the box it fills.
    pub shape: SolidShape,
    /// Unit axes.
    pub axes: [DVec3; 3],
    /// Half extents along them, in m.
    pub half: [f64; 3],
}

/// A target as one draw has it; its buffers are used again from draw to draw.
#[derive(Clone, Debug, Default)]
pub struct Scenery {
    /// Origin of the target frame at time 0, in m.
    pub origin: DVec3,
    /// Velocity of the target on its even course, in m/s.
    pub velocity: DVec3,
    /// How it leaves that course, if it brakes or steers.
    pub manoeuvre: Option<Manoeuvre>,
    /// The faces, in the scenario's order.
    pub faces: Vec<FaceNow>,
    /// The solids, in the scenario's order.
    pub solids: Vec<SolidNow>,
}

impl Scenery {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Becomes `target` as `row` (the draw's input values, SI) has it.
    pub fn place(&mut self, target: &Target, row: &[f64]) {
        let value = |id: InputId| row[id.0];
        let motion = &target.motion;
        let heading = value(motion.heading);
        self.origin = DVec3::new(value(motion.at), value(motion.left), 0.0);
        self.velocity = DVec3::new(cos(heading), sin(heading), 0.0) * value(motion.speed);
        self.manoeuvre = Manoeuvre::new(
            self.velocity,
            motion.brakes.map(|brakes| Brakes { after: value(brakes.after), at: value(brakes.at) }),
            motion.steers.map(|steers| Steers {
                after: value(steers.after),
                at: value(steers.at),
                left: value(steers.by) * if steers.to_left { 1.0 } else { -1.0 },
            }),
        );
        self.faces.clear();
        self.faces.extend(target.faces.iter().map(|face| FaceNow::of(face, self.origin, row)));
        self.solids.clear();
        self.solids.extend(target.solids.iter().map(|solid| SolidNow::of(solid, self.origin, row)));
    }

    /// The box about all faces and solids that moves with them on their even
    /// course.
    #[must_use]
    pub fn zone(&self) -> Zone {
        let boxes = self
            .faces
            .iter()
            .map(|face| (face.centre, face.extent()))
            .chain(self.solids.iter().map(|solid| (solid.centre, solid.extent())));
        let (mut low, mut high) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        for (centre, half) in boxes {
            low = low.min(centre - half);
            high = high.max(centre + half);
        }
        if low.x > high.x {
            (low, high) = (self.origin, self.origin);
        }
        let half = (high - low) / 2.0;
        Zone { centre: low + half, velocity: self.velocity, half }
    }

    /// Whether what is at `position` (m) at `time` (s) is more than `by` (m) beside
    /// everything, and `velocity` (m/s) takes it away from all of it; never
    /// of a target that leaves its even course.
    #[must_use]
    pub fn is_left(&self, position: DVec3, velocity: DVec3, time: f64, by: f64) -> bool {
        let Zone { centre, velocity: course, half } = self.zone();
        let from = position - centre - course * time;
        let away = from - from.clamp(-half, half);
        self.manoeuvre.is_none() && away.length() > by && (velocity - course).dot(away) > 0.0
    }

    /// The plane of a face, moving with the target on its even course.
    #[must_use]
    pub fn plane(&self, face: usize) -> Plane {
        let FaceNow { centre, normal, .. } = self.faces[face];
        Plane { normal, offset: normal.dot(centre), rate: normal.dot(self.velocity) }
    }

    /// The place in the list of every face that is aimed at.
    pub fn aimed(&self) -> impl Iterator<Item = usize> {
        self.faces.iter().enumerate().filter(|(_, face)| face.aim).map(|(i, _)| i)
    }

    /// Where a face's centre is at `time`, in m.
    #[must_use]
    pub fn centre(&self, face: usize, time: f64) -> DVec3 {
        let even = self.faces[face].centre + self.velocity * time;
        self.manoeuvre.as_ref().map_or(even, |manoeuvre| even + manoeuvre.away(time))
    }

    /// A point at `time` as the target sees it, were its course even, in m.
    #[must_use]
    pub fn seen(&self, point: DVec3, time: f64) -> DVec3 {
        self.manoeuvre.as_ref().map_or(point, |manoeuvre| point - manoeuvre.away(time))
    }

    /// Signed distance of a point from the plane of a face at `time`, in m.
    #[must_use]
    pub fn distance(&self, face: usize, point: DVec3, time: f64) -> f64 {
        self.plane(face).distance(self.seen(point, time), time)
    }
}

impl FaceNow {
    fn of(face: &Face, origin: DVec3, row: &[f64]) -> Self {
        let [right, up, normal] = face_axes(row[face.facing.0], row[face.rake.0]);
        Self {
            centre: origin + DVec3::from_array(face.centre.map(|id| row[id.0])),
            normal,
            right,
            up,
            outline: face.outline.map(|id| row[id.0]),
            aim: face.aim,
        }
    }

    /// A point given from the centre, as right and up on the face.
    #[must_use]
    pub fn on_face(&self, from_centre: DVec3) -> [f64; 2] {
        [from_centre.dot(self.right), from_centre.dot(self.up)]
    }

    /// Distance of a point on the face's plane (right, up from the centre)
    /// from the outline, in m; 0 inside.
    #[must_use]
    pub fn miss(&self, [right, up]: [f64; 2]) -> f64 {
        match self.outline {
            Outline::Rectangle { width, height } => {
                let beyond = |x: f64, whole: f64| (x.abs() - whole / 2.0).max(0.0);
                DVec2::new(beyond(right, width), beyond(up, height)).length()
            }
            Outline::Disc { diameter } => {
                (DVec2::new(right, up).length() - diameter / 2.0).max(0.0)
            }
        }
    }

    fn extent(&self) -> DVec3 {
        match self.outline {
            Outline::Rectangle { width, height } => {
                self.right.abs() * (width / 2.0) + self.up.abs() * (height / 2.0)
            }
            Outline::Disc { diameter } => {
                let reach = |n: f64| diameter / 2.0 * (1.0 - n * n).max(0.0).sqrt();
                DVec3::new(reach(self.normal.x), reach(self.normal.y), reach(self.normal.z))
            }
        }
    }

    pub(super) fn obstacle(&self, velocity: DVec3) -> Obstacle {
        let figure = match self.outline {
            Outline::Rectangle { width, height } => Figure::Prism {
                axes: [self.right, self.up, self.normal],
                half: [width / 2.0, height / 2.0, 0.0],
            },
            Outline::Disc { diameter } => {
                Figure::Disc { normal: self.normal, radius: diameter / 2.0 }
            }
        };
        Obstacle { figure, centre: self.centre, velocity }
    }
}

impl SolidNow {
    fn of(solid: &Solid, origin: DVec3, row: &[f64]) -> Self {
        let turn = row[solid.turn.0];
        let (sine, cosine) = (sin(turn), cos(turn));
        Self {
            centre: origin + DVec3::from_array(solid.centre.map(|id| row[id.0])),
            shape: solid.shape,
            axes: [DVec3::new(cosine, sine, 0.0), DVec3::new(-sine, cosine, 0.0), DVec3::Z],
            half: solid.size.map(|id| row[id.0] / 2.0),
        }
    }

    fn extent(&self) -> DVec3 {
        let part = |i: usize| self.axes[i].abs() * self.half[i];
        part(0) + part(1) + part(2)
    }

    pub(super) fn obstacle(&self, velocity: DVec3) -> Obstacle {
        let Self { axes, half, .. } = *self;
        let figure = match self.shape {
            SolidShape::Boxed => Figure::Prism { axes, half },
            SolidShape::Wedge => Figure::Wedge(Wedge { axes, half }),
            SolidShape::Cylinder { axis } => {
                let radius = half[(axis + 1) % 3];
                let rings = [half[axis], -half[axis]].map(|offset| Ring { offset, radius });
                Figure::Cylinder(Round { axis: axes[axis], rings })
            }
        };
        Obstacle { figure, centre: self.centre, velocity }
    }
}
