//! A push along a straight path: work and losses from rest to release.
//!
//! Work-energy along the path, with `K` the kinetic energy of everything that
//! moves, `F` the push, `e` the share of it that arrives, `f` a constant
//! resistance and `D v^2` the drag:
//!
//! ```text
//! dK/ds = e F(s) - f - (2 D / m) K
//! ```
//!
//! The equation is linear in `K`, so `K = e * drive - loss` exactly: one run
//! answers for every `e`, which is what the calibration needs.
//!
//! Assumes: rigid object and carriage, cords and springs that follow without
//! waves of their own, constant friction. Ignores: static friction, vibration.

use serde::Serialize;

/// Points on a run. The push is smooth; RK4 over 200 steps is far below any
/// measured speed's uncertainty.
const STEPS: u32 = 200;

/// What a launcher has to move, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Mass that leaves, in kg.
    pub object: f64,
    /// Mass that pushes it and stays, in kg.
    pub carriage: f64,
    /// Constant resistance along the path, in N.
    pub resistance: f64,
    /// Drag force over speed squared, in kg/m.
    pub drag: f64,
}

/// One moment of a run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RunPoint {
    /// Distance from where the object was let go, in m.
    pub position: f64,
    /// Speed, in m/s.
    pub speed: f64,
    /// Acceleration along the path, in m/s2.
    pub acceleration: f64,
}

#[derive(Clone, Copy, Debug)]
struct Node {
    position: f64,
    /// Push before losses, in N.
    push: f64,
    /// Kinetic energy that an unreduced push alone would give, in J.
    drive: f64,
    /// What resistance and the drag on it take away, in J.
    loss: f64,
}

/// A run from rest, for every efficiency at once.
#[derive(Clone, Debug)]
pub struct Run {
    nodes: Vec<Node>,
    /// Everything that moves, in kg.
    mass: f64,
    /// Constant resistance, in N.
    resistance: f64,
    /// Drag force over speed squared, in kg/m.
    drag: f64,
    /// Whether the object leaves as soon as the push no longer beats the
    /// resistance (a carriage), rather than being held to the end (a barrel).
    free: bool,
}

impl Run {
    /// Pushes `mass` (kg, > 0) from rest along `stroke` (m, > 0) with
    /// `push(s)` in N at `s` m from the start.
    pub fn along(
        stroke: f64,
        mass: f64,
        load: &Load,
        free: bool,
        push: impl Fn(f64) -> f64,
    ) -> Self {
        let rate = 2.0 * load.drag / mass;
        let h = stroke / f64::from(STEPS);
        let mut nodes = Vec::with_capacity(STEPS as usize + 1);
        let mut node = Node { position: 0.0, push: push(0.0), drive: 0.0, loss: 0.0 };
        nodes.push(node);
        for i in 1..=STEPS {
            let end = h * f64::from(i);
            let (middle, last) = (push(end - 0.5 * h), push(end));
            node = Node {
                position: end,
                push: last,
                drive: linear_step(node.drive, rate, h, [node.push, middle, last]),
                loss: linear_step(node.loss, rate, h, [load.resistance; 3]),
            };
            nodes.push(node);
        }
        Self { nodes, mass, resistance: load.resistance, drag: load.drag, free }
    }

    /// A run that is known as speeds along the path (m, m/s), for launchers
    /// whose push depends on time; `e` then multiplies the kinetic energy.
    pub(super) fn from_speeds(points: &[(f64, f64)], mass: f64, load: &Load) -> Self {
        let energy = |v: f64| 0.5 * mass * v * v;
        let mut nodes: Vec<Node> = Vec::with_capacity(points.len());
        for (i, &(position, speed)) in points.iter().enumerate() {
            let (before, after) =
                (points[i.saturating_sub(1)], points[(i + 1).min(points.len() - 1)]);
            let span = after.0 - before.0;
            let slope = if span > 0.0 { (energy(after.1) - energy(before.1)) / span } else { 0.0 };
            // The net force, with drag given back so that `point` can take it off again.
            let push = slope + load.drag * speed * speed;
            nodes.push(Node { position, push, drive: energy(speed), loss: 0.0 });
        }
        Self { nodes, mass, resistance: 0.0, drag: load.drag, free: false }
    }

    /// Everything that moves, in kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.mass
    }

    /// Speed at which the object leaves when the share `e` of the push
    /// arrives, in m/s; 0 if it never gets going.
    #[must_use]
    pub fn speed(&self, e: f64) -> f64 {
        self.point(self.leaving(e), e).speed
    }

    /// Where the object leaves, in m from the start.
    #[must_use]
    pub fn leaves_at(&self, e: f64) -> f64 {
        self.nodes[self.leaving(e)].position
    }

    /// Where the push ends, in m from the start.
    #[must_use]
    pub fn stroke(&self) -> f64 {
        self.nodes.last().map_or(0.0, |node| node.position)
    }

    /// The run as a curve.
    #[must_use]
    pub fn points(&self, e: f64) -> Vec<RunPoint> {
        (0..self.nodes.len()).map(|i| self.point(i, e)).collect()
    }

    /// Largest acceleration before the object leaves, in m/s2.
    #[must_use]
    pub(crate) fn peak_acceleration(&self, e: f64) -> f64 {
        (0..=self.leaving(e)).map(|i| self.point(i, e).acceleration).fold(0.0, f64::max)
    }

    /// Speed of an object that comes off at `share` (0..1) of the run, in m/s.
    #[must_use]
    pub(crate) fn speed_at_share(&self, share: f64, e: f64) -> f64 {
        let wanted = share * self.leaves_at(e);
        let after = self.nodes.partition_point(|node| node.position < wanted);
        let (a, b) = (after.saturating_sub(1), after.min(self.nodes.len() - 1));
        let (a, b) = (self.point(a, e), self.point(b, e));
        let span = b.position - a.position;
        if span <= 0.0 {
            return b.speed;
        }
        // Energy, not speed, is close to straight between points.
        let t = (wanted - a.position) / span;
        (a.speed * a.speed * (1.0 - t) + b.speed * b.speed * t).sqrt()
    }

    fn energy(&self, i: usize, e: f64) -> f64 {
        e * self.nodes[i].drive - self.nodes[i].loss
    }

    fn point(&self, i: usize, e: f64) -> RunPoint {
        let speed_squared = (2.0 * self.energy(i, e) / self.mass).max(0.0);
        let node = &self.nodes[i];
        let net = e * node.push - self.resistance - self.drag * speed_squared;
        RunPoint {
            position: node.position,
            speed: speed_squared.sqrt(),
            acceleration: net / self.mass,
        }
    }

    /// The node at which the object leaves: the end, or the top of the energy
    /// where the push falls below the resistance before that.
    fn leaving(&self, e: f64) -> usize {
        let mut at = self.nodes.len() - 1;
        if self.free {
            while at > 0 && self.energy(at - 1, e) > self.energy(at, e) {
                at -= 1;
            }
        }
        at
    }
}

/// One RK4 step of `y' = g - rate y`, `g` given at the start, middle and end.
fn linear_step(y: f64, rate: f64, h: f64, g: [f64; 3]) -> f64 {
    let k1 = g[0] - rate * y;
    let k2 = g[1] - rate * (y + 0.5 * h * k1);
    let k3 = g[1] - rate * (y + 0.5 * h * k2);
    let k4 = g[2] - rate * (y + h * k3);
    y + h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math;

    fn load(resistance: f64, drag: f64) -> Load {
        Load { object: 2.0, carriage: 0.0, resistance, drag }
    }

    #[test]
    fn a_constant_push_gives_the_schoolbook_speed() {
        let run = Run::along(3.0, 2.0, &load(4.0, 0.0), true, |_| 40.0);
        // v^2 = 2 (0.9 * 40 - 4) 3 / 2
        assert!((run.speed(0.9) - 96.0_f64.sqrt()).abs() < 1e-12);
        assert!((run.leaves_at(0.9) - 3.0).abs() < 1e-12);
    }

    /// Closed form: v = vt sqrt(1 - exp(-2 D s / m)), vt^2 = F / D.
    #[test]
    fn drag_follows_the_closed_form() {
        let run = Run::along(50.0, 2.0, &load(0.0, 0.03), true, |_| 40.0);
        let exact = (40.0 / 0.03 * -math::expm1(-2.0 * 0.03 * 50.0 / 2.0)).sqrt();
        assert!((run.speed(1.0) / exact - 1.0).abs() < 1e-8, "{} {exact}", run.speed(1.0));
    }

    #[test]
    fn a_free_object_leaves_where_the_push_falls_below_the_friction() {
        let run = Run::along(1.0, 2.0, &load(25.0, 0.0), true, |s| 100.0 * (1.0 - s));
        assert!((run.leaves_at(1.0) - 0.75).abs() < 1e-9);
        assert!(run.speed(1.0) > run.points(1.0).last().unwrap().speed);
    }

    #[test]
    fn an_object_that_comes_off_early_is_slower() {
        let run = Run::along(1.0, 2.0, &load(0.0, 0.0), true, |_| 100.0);
        assert!((run.speed_at_share(0.25, 1.0) / run.speed(1.0) - 0.5).abs() < 1e-6);
    }
}
