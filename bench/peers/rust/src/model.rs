//! The equations of motion, for one flight: the same formulas as the engine's.

use crate::problem::{Curve, Problem};

type Vector = [f64; 3];

/// What the air does to a body.
pub trait Load: Clone + Send + Sync {
    fn new(problem: &Problem) -> Self;
    /// Force and moment in the body frame.
    fn load(&self, u: Vector, w: Vector) -> (Vector, Vector);
}

#[derive(Clone)]
pub struct Rigid<L> {
    per_mass: f64,
    weight: f64,
    per: Vector,
    gyro: Vector,
    load: L,
}

#[inline(always)]
fn turned(v: Vector, q: Vector, w: f64) -> Vector {
    let t = [
        2.0 * (q[1] * v[2] - q[2] * v[1]),
        2.0 * (q[2] * v[0] - q[0] * v[2]),
        2.0 * (q[0] * v[1] - q[1] * v[0]),
    ];
    [
        v[0] + w * t[0] + (q[1] * t[2] - q[2] * t[1]),
        v[1] + w * t[1] + (q[2] * t[0] - q[0] * t[2]),
        v[2] + w * t[2] + (q[0] * t[1] - q[1] * t[0]),
    ]
}

impl<L: Load> Rigid<L> {
    pub fn new(problem: &Problem) -> Self {
        let three = |names: [&str; 3]| names.map(|name| problem.constant(name));
        Self {
            per_mass: problem.constant("per_mass"),
            weight: problem.constant("weight"),
            per: three(["per_x", "per_y", "per_z"]),
            gyro: three(["gyro_x", "gyro_y", "gyro_z"]),
            load: L::new(problem),
        }
    }

    #[inline(always)]
    pub fn rate(&self, wind: [f64; 2], s: &[f64; 13]) -> [f64; 13] {
        let (q, w) = ([s[6], s[7], s[8]], [s[10], s[11], s[12]]);
        let u = turned([s[3] - wind[0], s[4] - wind[1], s[5]], q, -s[9]);
        let (force, moment) = self.load.load(u, w);
        let a = turned(force.map(|f| f * self.per_mass), q, s[9]);
        let h = w.map(|w| 0.5 * w);
        [
            s[3],
            s[4],
            s[5],
            a[0],
            a[1],
            a[2] - self.weight,
            s[9] * h[0] + q[1] * h[2] - q[2] * h[1],
            s[9] * h[1] + q[2] * h[0] - q[0] * h[2],
            s[9] * h[2] + q[0] * h[1] - q[1] * h[0],
            -(q[0] * h[0] + q[1] * h[1] + q[2] * h[2]),
            moment[0] * self.per[0] + self.gyro[0] * w[1] * w[2],
            moment[1] * self.per[1] + self.gyro[1] * w[2] * w[0],
            moment[2] * self.per[2] + self.gyro[2] * w[0] * w[1],
        ]
    }
}

#[derive(Clone)]
pub struct Sphere {
    reynolds: f64,
    drag: f64,
    per_mass: f64,
    weight: f64,
    curve: Curve,
}

impl Sphere {
    pub fn new(problem: &Problem) -> Self {
        Self {
            reynolds: problem.constant("reynolds"),
            drag: problem.constant("drag"),
            per_mass: problem.constant("per_mass"),
            weight: problem.constant("weight"),
            curve: problem.curve.clone().expect("a drag table"),
        }
    }

    #[inline(always)]
    pub fn rate(&self, wind: [f64; 2], s: &[f64; 6]) -> [f64; 6] {
        let (x, y, z) = (s[3] - wind[0], s[4] - wind[1], s[5]);
        let speed = (x * x + y * y + z * z).sqrt();
        let drag = -self.drag * self.curve.at(self.reynolds * speed) * self.per_mass;
        [s[3], s[4], s[5], drag * x, drag * y, drag * z - self.weight]
    }
}

#[derive(Clone)]
pub struct Plate {
    slope: f64,
    per_stall: f64,
    normal: f64,
    face_on: f64,
    lead: [f64; 2],
    friction: f64,
    edge: [f64; 2],
    tip: [f64; 2],
    lift: [f64; 2],
    torque: [f64; 2],
    roll: [f64; 2],
    spin: f64,
    radius: f64,
}

impl Load for Plate {
    fn new(problem: &Problem) -> Self {
        let one = |name| problem.constant(name);
        let two = |name| ["x", "y"].map(|axis| problem.constant(&format!("{name}_{axis}")));
        Self {
            slope: one("slope"),
            per_stall: 1.0 / one("stall"),
            normal: one("normal"),
            face_on: one("face_on"),
            lead: two("lead"),
            friction: one("friction"),
            edge: two("edge"),
            tip: two("tip"),
            lift: two("lift"),
            torque: two("torque"),
            roll: two("roll"),
            spin: one("spin"),
            radius: one("radius"),
        }
    }

    #[inline(always)]
    fn load(&self, u: Vector, w: Vector) -> (Vector, Vector) {
        let [xx, yy, zz] = u.map(|u| u * u);
        let squared = xx + yy + zz;
        let speed = squared.sqrt();
        let inverse = 1.0 / (squared + 1e-30);

        let (sine, square) = (u[2] * speed * inverse, zz * inverse);
        let arc = ((0.04 * square + 0.0446) * square + 0.075) * square;
        let arc = (arc + 1.0 / 6.0) * square + 1.0;
        let stalled = if sine < 0.0 { -self.face_on } else { self.face_on };
        let b = square * self.per_stall;
        let b2 = b * b;
        let b4 = b2 * b2;
        let b8 = b4 * b4;
        let weight = b8 * b4;
        let coefficient = (weight * stalled + sine * arc * self.slope) / (weight + 1.0);
        let pressure = -(self.normal * squared * coefficient);

        let lead = (xx + yy).sqrt() / (squared + speed * u[2].abs() + 1e-30);
        let (ahead_x, ahead_y) = (self.lead[0] * u[0] * lead, self.lead[1] * u[1] * lead);
        let skin = self.friction * speed;
        let along_x = (self.edge[0] * u[0].abs() + skin) * u[0];
        let along_y = (self.edge[1] * u[1].abs() + skin) * u[1];
        let (turn_x, turn_y) = (self.lift[0] * w[0], self.lift[1] * w[1]);
        let across_x = (yy + zz).sqrt() - self.tip[0] * w[0].abs();
        let across_y = (xx + zz).sqrt() - self.tip[1] * w[1].abs();
        let about_x = self.torque[0] * across_x - self.roll[0] * u[0].abs();
        let about_y = self.torque[1] * across_y - self.roll[1] * u[1].abs();
        (
            [
                turn_y * u[2] - along_x,
                -(turn_x * u[2] + along_y),
                turn_x * u[1] + pressure - turn_y * u[0],
            ],
            [
                ahead_y * pressure + about_x * w[0],
                about_y * w[1] - ahead_x * pressure,
                -self.spin * (self.radius * w[2].abs() + speed) * w[2],
            ],
        )
    }
}

#[derive(Clone)]
pub struct Rod {
    reynolds: f64,
    across: f64,
    strip: f64,
    damping: f64,
    end: f64,
    skin: f64,
    nose: f64,
    half: f64,
    curve: Curve,
}

impl Load for Rod {
    fn new(problem: &Problem) -> Self {
        let one = |name| problem.constant(name);
        Self {
            reynolds: one("reynolds"),
            across: one("across"),
            strip: one("strip"),
            damping: one("damping"),
            end: one("end"),
            skin: one("skin"),
            nose: one("nose"),
            half: one("half"),
            curve: problem.curve.clone().expect("a drag table"),
        }
    }

    #[inline(always)]
    fn load(&self, u: Vector, w: Vector) -> (Vector, Vector) {
        let crossing = u[1] * u[1] + u[2] * u[2];
        let strips = self.strip * (w[1] * w[1] + w[2] * w[2]) + crossing + 1e-30;
        let drag = self.across * self.curve.at(self.reynolds * strips.sqrt());
        let lever = self.half * self.nose * u[0];
        let sideways = drag + self.nose * u[0].abs();
        let axial = self.end * u[0].abs() + self.skin * (u[0] * u[0] + crossing).sqrt();
        let aligned = (w[2] * u[1] - w[1] * u[2]) / strips;
        let damp = drag * self.damping;
        (
            [-axial * u[0], -sideways * u[1], -sideways * u[2]],
            [
                0.0,
                lever * u[2] - damp * (w[1] - aligned * u[2]),
                -(lever * u[1] + damp * (aligned * u[1] + w[2])),
            ],
        )
    }
}
