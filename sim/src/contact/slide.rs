//! Sliding and rolling on level ground, in closed form.
//!
//! A ball slips under Coulomb friction until it rolls, and then rolls on
//! against its rolling resistance. A bar that lies does so across its axis and
//! slides along it, each with the whole of the friction (where it does both at
//! once, friction is taken up to 1.4 times too large). So do a wheel and a disc
//! that roll upright on their rim while they are fast enough to stay so; what leans
//! is followed by [`super::Lean`], and a cone on its side by [`super::Cone`]. Everything
//! else slides on its side until it stops. Still air slows what rolls or slides by its drag at the beginning of
//! the stretch: the way is that of quadratic drag, spread evenly over it. Wind is
//! left out: a sheet that it lifts again is not covered.
//!
//! Source: Routh's sphere on a plane, standard derivation: slipping ends after
//! `2 u / (7 μ g)`, at 5/7 of the speed of a ball that did not spin.

use super::{
    Motion,
    bounce::Contact,
    clear::parabola,
    fault::{Law, share},
    land::{Goes, land},
    work::Work,
};
use crate::{
    flight::{Flight, GRAVITY, Path, State},
    math::log1p,
};
use glam::{DQuat, DVec3};

/// A body that slides or rolls to rest.
#[derive(Clone, Copy, Debug)]
pub struct Slide {
    start: f64,
    from: State,
    mass: f64,
    /// What it took to lie down.
    landing: Work,
    goes: Goes,
    parts: [Coast; 2],
}

/// A straight or curved way that ends in rest: first slipping, then rolling.
#[derive(Clone, Copy, Debug, Default)]
struct Coast {
    /// Velocity at the beginning, in m/s.
    velocity: DVec3,
    /// Angular velocity at the beginning, world frame, in rad/s.
    spin: DVec3,
    /// Angular velocity at the end of slipping.
    rolling_spin: DVec3,
    /// From the middle down to where it rubs, in m; 0 of what only slides.
    radius: f64,
    slip: Leg,
    roll: Leg,
}

/// A stretch of constant deceleration.
#[derive(Clone, Copy, Debug, Default)]
struct Leg {
    /// In m/s².
    acceleration: DVec3,
    /// How long, in s; endless without friction.
    time: f64,
    /// Friction or resistance (of the air, too) over weight.
    share: f64,
    /// Speed at which the contact rubs at the beginning, in m/s, and by how
    /// much it falls in a second.
    rubbing: [f64; 2],
}

impl Slide {
    /// Of a flight's body, which has settled at `time` (s) in `state`: what was left of
    /// its hopping and rocking is gone, and unless it rolls upright it lies level.
    #[must_use]
    pub fn new(flight: &Flight, state: &State, time: f64, contact: &Contact, rolling: f64) -> Self {
        let body = &flight.body;
        let (from, landing) = land(body, state);
        let State { attitude, velocity, .. } = from;
        let goes = Goes::of(body, attitude);
        let air = Air { flight, attitude };
        let spin = attitude * from.rates;
        let friction = contact.friction;
        let parts = match goes {
            Goes::Round => {
                let round = Round { radius: from.position.z, inertia: 0.4 };
                [round.coast(velocity, spin, [friction, rolling], &air), Coast::default()]
            }
            Goes::About(i) => {
                let axis = (attitude * DVec3::AXES[i]).with_z(0.0).normalize();
                let along = axis * velocity.dot(axis);
                let radius = body.half_extents()[(i + 1) % 3];
                let inertia = body.inertia[i] / (body.mass * radius * radius);
                let round = Round { radius, inertia };
                let turning = axis * from.rates[i];
                [
                    round.coast(velocity - along, turning, [friction, rolling], &air),
                    Coast::sliding(along, friction, &air),
                ]
            }
            Goes::Still | Goes::RoundApex => {
                [Coast::sliding(velocity, friction, &air), Coast::default()]
            }
        };
        Self { start: time, from, mass: body.mass, landing, goes, parts }
    }

    /// When it comes to rest, in s; endless without friction.
    #[must_use]
    pub fn end(&self) -> f64 {
        let time = |coast: &Coast| coast.slip.time + coast.roll.time;
        self.start + self.parts.iter().map(time).fold(0.0, f64::max)
    }

    /// When what rolls has slowed down to `speed` (m/s), in s; at once if it was
    /// slower, at its end if it slips all the way.
    #[must_use]
    pub fn slows_to(&self, speed: f64) -> f64 {
        let Coast { slip, roll, .. } = &self.parts[0];
        let [rolls_off, slowing] = roll.rubbing;
        self.start + slip.time + over((rolls_off - speed).max(0.0), slowing)
    }

    /// The moments at which its motion changes, in order, the last one being
    /// its end.
    #[must_use]
    pub fn changes(&self) -> [f64; 4] {
        let mut changes = [self.start; 4];
        for (part, pair) in self.parts.iter().zip(changes.chunks_exact_mut(2)) {
            pair[0] += part.slip.time;
            pair[1] += part.slip.time + part.roll.time;
        }
        changes.sort_unstable_by(f64::total_cmp);
        changes
    }

    /// Work on it until `time`: of lying down, and of the force (friction and air) by the
    /// way of the point where it rubs. What rolls is braked by its resistance on its way.
    #[must_use]
    pub fn work(&self, time: f64) -> Work {
        let parts = self.parts.iter().map(|part| part.work(time - self.start) * self.mass);
        parts.fold(self.landing, |sum, done| sum + Work::of(done))
    }
}

impl Motion for Slide {
    /// Over a stretch in which its motion does not change: a parabola, in a
    /// fixed attitude.
    fn path(&self, span: [f64; 2]) -> Option<Path> {
        let centre = parabola(span, |time| self.state(time).position);
        Some(Path { centre, attitude: self.from.attitude, turned: 0.0 })
    }

    fn state(&self, time: f64) -> State {
        let mut now = State { velocity: DVec3::ZERO, ..self.from };
        let mut spin = DVec3::ZERO;
        for part in &self.parts {
            let (way, velocity, turning) = part.at(time - self.start);
            now.position += way;
            now.velocity += velocity;
            spin += turning;
        }
        // About an axis it turns by as much as it rolls, however that leans.
        now.rates = match self.goes {
            Goes::About(i) => {
                let axis = (now.attitude * DVec3::AXES[i]).with_z(0.0).normalize();
                DVec3::AXES[i] * spin.dot(axis)
            }
            Goes::Round | Goes::RoundApex | Goes::Still => now.attitude.inverse() * spin,
        };
        now
    }
}

/// The still air about a body that slides.
struct Air<'f> {
    flight: &'f Flight,
    attitude: DQuat,
}

impl Air<'_> {
    /// Deceleration (m/s²) that brings a body to rest over the same way as
    /// `friction` (m/s²) and quadratic drag together: the way is
    /// `ln(1 + b v²/a) / 2b`, with a the friction and b v² the drag, each over
    /// the mass.
    fn slowed(&self, velocity: DVec3, friction: f64) -> f64 {
        let Flight { body, coefficients, .. } = self.flight;
        let back = self.attitude.inverse();
        let (force, _) = coefficients.load(back * velocity, DVec3::ZERO);
        let along = velocity.normalize_or_zero();
        let drag = (-(self.attitude * force).dot(along) / body.mass).max(0.0);
        if drag > 1e-9 * friction && friction > 0.0 {
            drag / log1p(drag / friction)
        } else {
            friction
        }
    }
}

/// What rolls: a radius, and the moment of inertia over `m r²`.
struct Round {
    radius: f64,
    inertia: f64,
}

impl Round {
    fn coast(
        &self,
        velocity: DVec3,
        spin: DVec3,
        [friction, rolling]: [f64; 2],
        air: &Air<'_>,
    ) -> Coast {
        let k = self.inertia;
        let slip = velocity + spin.cross(DVec3::Z * -self.radius);
        let rubbing = slip.length();
        let along = slip.normalize_or_zero();
        let slowing = friction * GRAVITY * (1.0 + 1.0 / k);
        let slip = Leg {
            acceleration: along * (-friction * GRAVITY),
            time: over(rubbing, slowing),
            share: friction,
            rubbing: [rubbing, slowing],
        };
        // What slipping leaves, whatever the friction.
        let rolls = velocity - along * (rubbing * k / (1.0 + k));
        let speed = rolls.length();
        let resistance = air.slowed(rolls, rolling * GRAVITY);
        let slowing = resistance / (1.0 + k);
        let roll = Leg {
            acceleration: rolls.normalize_or_zero() * -slowing,
            time: over(speed, slowing),
            share: resistance / GRAVITY,
            rubbing: [speed, slowing],
        };
        let rolling_spin = DVec3::Z.cross(rolls) / self.radius * share(Law::Rolls);
        Coast { velocity, spin, rolling_spin, radius: self.radius, slip, roll }
    }
}

/// Time in which a speed is lost, in s.
fn over(speed: f64, slowing: f64) -> f64 {
    if speed > 0.0 { speed / slowing } else { 0.0 }
}

impl Coast {
    fn sliding(velocity: DVec3, friction: f64, air: &Air<'_>) -> Self {
        let (speed, slowing) = (velocity.length(), air.slowed(velocity, friction * GRAVITY));
        let slip = Leg {
            acceleration: velocity.normalize_or_zero() * -slowing,
            time: over(speed, slowing),
            share: slowing / GRAVITY,
            rubbing: [speed, slowing],
        };
        Self { velocity, slip, ..Self::default() }
    }

    /// Way, velocity and angular velocity after `time`.
    fn at(&self, time: f64) -> (DVec3, DVec3, DVec3) {
        let (slips, rolls) = (self.slip.time, self.roll.time);
        if time < slips {
            let (way, velocity) = self.slip.from(self.velocity, time);
            let share = if slips.is_finite() { time / slips } else { 0.0 };
            return (way, velocity, self.spin.lerp(self.rolling_spin, share));
        }
        let (way, velocity) = self.slip.from(self.velocity, slips);
        if time < slips + rolls {
            let (more, left) = self.roll.from(velocity, time - slips);
            let share = if rolls.is_finite() { 1.0 - (time - slips) / rolls } else { 1.0 };
            return (way + more, left, self.rolling_spin * share);
        }
        let (more, _) = self.roll.from(velocity, rolls);
        (way + more, DVec3::ZERO, DVec3::ZERO)
    }

    /// Work over the mass, in J/kg: <= 0.
    fn work(&self, time: f64) -> f64 {
        // The force is even while it slips, and so is the change of the slip.
        let slips = time.clamp(0.0, self.slip.time);
        let share = if self.slip.time.is_finite() { slips / self.slip.time } else { 0.0 };
        let (_, velocity) = self.slip.from(self.velocity, slips);
        let spin = self.spin.lerp(self.rolling_spin, share);
        let rubs = |velocity: DVec3, spin: DVec3| velocity + spin.cross(DVec3::Z * -self.radius);
        let mean = rubs(self.velocity, self.spin).midpoint(rubs(velocity, spin));
        let rolls = (time - self.slip.time).clamp(0.0, self.roll.time);
        let rubbed = if slips > 0.0 { self.slip.acceleration.dot(mean) * slips } else { 0.0 };
        rubbed - GRAVITY * self.roll.resists(rolls)
    }
}

impl Leg {
    fn from(&self, velocity: DVec3, time: f64) -> (DVec3, DVec3) {
        let gained = self.acceleration * time * share(Law::Slides);
        ((velocity + gained * 0.5) * time, velocity + gained)
    }

    /// Work of rolling resistance over the weight, in m.
    fn resists(&self, time: f64) -> f64 {
        let [speed, slowing] = self.rubbing;
        if time > 0.0 { self.share * (speed - 0.5 * slowing * time) * time } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        body::{Body, Shape},
        contact::tests::flight_in,
    };
    use proptest::prelude::*;

    fn contact(friction: f64) -> Contact {
        Contact { restitution: 0.3, friction, grip_return: 0.0 }
    }

    fn state(velocity: DVec3, spin: DVec3, attitude: DQuat) -> State {
        State { position: DVec3::Z * 0.1, velocity, attitude, rates: attitude.inverse() * spin }
    }

    /// A flight of `body`; `drag`: as a factor on the published one.
    fn flight(body: Body, drag: f64) -> Flight {
        let air = crate::world::Air { density: 1.225, viscosity: 1.789e-5, sound: 340.294 };
        flight_in(air, body, drag)
    }

    fn ball() -> Body {
        Body::solid(Shape::Sphere { diameter: 0.2 }, 3.0)
    }

    fn energy(body: &Body, state: &State) -> f64 {
        body.kinetic_energy(state.velocity, state.rates)
    }

    /// Source: Routh's sphere on a plane (derived): from 7 m/s without spin on
    /// friction 0.4 it slips for 2·7/(7·0.4·g) s over 12 u²/(49 μ g) m, and
    /// rolls off at 5 m/s.
    #[test]
    fn a_ball_slips_until_it_rolls_at_five_sevenths() {
        let start = state(DVec3::X * 7.0, DVec3::ZERO, DQuat::IDENTITY);
        let slide = Slide::new(&flight(ball(), 0.0), &start, 2.0, &contact(0.4), 0.02);
        let slips = 2.0 / (0.4 * GRAVITY);
        let rolls = slide.state(2.0 + slips);
        assert!((rolls.velocity.x - 5.0).abs() < 1e-12);
        assert!((rolls.position.x - 12.0 / (0.4 * GRAVITY)).abs() < 1e-12);
        assert!((rolls.rates.y - 50.0).abs() < 1e-9, "{}", rolls.rates);
        assert!((slide.changes()[2] - 2.0 - slips).abs() < 1e-12);
        // Backspin of the right size stops it dead: ω r = 5/2 v.
        let back = state(DVec3::X * 7.0, DVec3::Y * (-2.5 * 70.0), DQuat::IDENTITY);
        let slide = Slide::new(&flight(ball(), 0.0), &back, 0.0, &contact(0.4), 0.02);
        assert!(slide.state(slide.end()).velocity.length() < 1e-9);
        assert!(slide.end() - slide.parts[0].slip.time < 1e-9);
    }

    #[test]
    fn what_has_settled_lies_level_on_the_ground() {
        let drum = Body::solid(Shape::Cylinder { length: 0.9, diameter: 0.6 }, 25.0);
        let sheet = Body::solid(Shape::Plate { length: 2.0, width: 1.0, thickness: 0.02 }, 9.0);
        // On its side: 14.04 deg below level, apex and rim on the ground.
        let cone = Body::solid(Shape::Cone { length: 0.7, diameter: 0.35 }, 3.0);
        let tilts = |lies: DQuat| DQuat::from_rotation_y(0.04) * DQuat::from_rotation_z(1.1) * lies;
        let on_end = DQuat::from_rotation_y(std::f64::consts::FRAC_PI_2);
        let flat = DQuat::from_rotation_x(std::f64::consts::PI);
        for (body, lies, axis, up, height) in [
            (drum, DQuat::IDENTITY, 0, 0.0, 0.3),
            (drum, on_end, 0, 1.0, 0.45),
            (sheet, flat, 2, 1.0, 0.01),
            (cone, DQuat::from_rotation_y(0.245), 0, 0.242_535_625, 0.127_331_203),
        ] {
            let start = state(DVec3::X, DVec3::ZERO, tilts(lies));
            let rest = Slide::new(&flight(body, 0.0), &start, 0.0, &contact(0.5), 0.02).state(0.0);
            let stands = (rest.attitude * DVec3::AXES[axis]).z.abs();
            assert!((stands - up).abs() < 1e-9, "{stands} is not {up}");
            assert!((rest.position.z - height).abs() < 1e-9, "{} m", rest.position.z);
        }
    }

    /// Source: stopping distance v²/(2 μ g), standard.
    #[test]
    fn a_crate_slides_to_its_stopping_distance() {
        let crate_ = Body::solid(Shape::Block { length: 0.6, width: 0.4, height: 0.2 }, 9.0);
        let start = state(DVec3::new(3.0, 4.0, -0.1), DVec3::ZERO, DQuat::IDENTITY);
        let slide = Slide::new(&flight(crate_, 0.0), &start, 0.0, &contact(0.5), 0.02);
        let rest = slide.state(slide.end());
        let way = (rest.position - start.position).length();
        assert!((way - 25.0 / GRAVITY).abs() < 1e-12, "{way}");
        assert!(rest.velocity.length() < 1e-12);
        let endless = Slide::new(&flight(crate_, 0.0), &start, 0.0, &contact(0.0), 0.0);
        assert!(endless.end().is_infinite());
        assert!((endless.state(2.0).position.x - 6.0).abs() < 1e-12);
        assert!((endless.work(2.0).done + 0.045).abs() < 1e-12, "it lay down from 0.1 m/s");
    }

    #[test]
    fn a_bar_slides_along_and_rolls_across() {
        let bar = Body::solid(Shape::Rod { length: 1.0, diameter: 0.2 }, 3.0);
        let start = state(DVec3::new(3.0, 3.0, 0.0), DVec3::ZERO, DQuat::IDENTITY);
        let slide = Slide::new(&flight(bar, 0.0), &start, 0.0, &contact(0.5), 0.02);
        // Source: slipping cylinder (derived): it rolls off at 2/3.
        let slips = 3.0 / (3.0 * 0.5 * GRAVITY);
        assert!((slide.state(slips).velocity.y - 2.0).abs() < 1e-12);
        let rest = slide.state(slide.end()).position;
        assert!((rest.x - 9.0 / GRAVITY).abs() < 1e-12 && rest.y > 10.0, "{rest}");
    }

    /// Source: rolling resistance slows what rolls by c g / (1 + k), k being its
    /// moment of inertia over m r² (standard).
    #[test]
    fn a_wheel_rolls_on_its_rim_against_its_rolling_resistance() {
        let wheel = Body::solid(Shape::Wheel { diameter: 0.6, width: 0.2, hub: 0.5 }, 15.0);
        let upright = DQuat::from_rotation_x(std::f64::consts::FRAC_PI_2);
        let start = state(DVec3::X * 6.0, DVec3::Y * 20.0, upright);
        let slide = Slide::new(&flight(wheel, 0.0), &start, 0.0, &contact(0.6), 0.02);
        let k = wheel.inertia.z / (15.0 * 0.09);
        let way = slide.state(slide.end()).position.x;
        assert!((way - 36.0 * (1.0 + k) / (2.0 * 0.02 * GRAVITY)).abs() < 1e-9, "{way}");
        // On its side it slides.
        let flat = state(DVec3::X * 6.0, DVec3::ZERO, DQuat::IDENTITY);
        let slide = Slide::new(&flight(wheel, 0.0), &flat, 0.0, &contact(0.6), 0.02);
        let way = slide.state(slide.end()).position.x;
        assert!((way - 36.0 / (2.0 * 0.6 * GRAVITY)).abs() < 1e-9, "{way}");
    }

    /// Source: quadratic drag with constant friction, standard: v²(x) falls to
    /// zero over ln(1 + b v²/a)/2b (derived).
    #[test]
    fn the_air_shortens_the_way_of_what_rolls_fast() {
        let start = state(DVec3::X * 20.0, DVec3::Y * 200.0, DQuat::IDENTITY);
        let rolls = |drag| Slide::new(&flight(ball(), drag), &start, 0.0, &contact(0.5), 0.02);
        let way = |slide: Slide| slide.state(slide.end()).position.x;
        let vacuum = way(rolls(0.0));
        assert!((vacuum - 1.4 * 400.0 / (2.0 * 0.02 * GRAVITY)).abs() < 1e-9, "{vacuum}");
        let body = flight(ball(), 1.0);
        let (force, _) = body.coefficients.load(DVec3::X * 20.0, DVec3::ZERO);
        let b = -force.x / 3.0 / 400.0 / 1.4;
        let a = 0.02 * GRAVITY / 1.4;
        let wanted = log1p(b * 400.0 / a) / (2.0 * b);
        assert!((way(rolls(1.0)) - wanted).abs() < 1e-9 && wanted < 0.9 * vacuum);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..Default::default() })]

        /// Force times way of the contact is the energy that is gone, at any time.
        #[test]
        fn what_friction_takes_is_what_is_lost(
            velocity in [-9.0..9.0, -9.0..9.0],
            spin in [-60.0..60.0, -60.0..60.0],
            numbers in (0.05..1.0, 0.005..0.2, 0.0..1.0),
            turn in -3.0..3.0,
        ) {
            let (friction, rolling, share) = numbers;
            let bar = Body::solid(Shape::Rod { length: 1.0, diameter: 0.2 }, 3.0);
            let attitude = DQuat::from_rotation_z(turn);
            let velocity = DVec3::new(velocity[0], velocity[1], 0.0);
            let level = DVec3::new(spin[0], spin[1], 0.0);
            let axis = attitude * DVec3::X;
            for (body, spin) in [(ball(), level), (bar, axis * spin[0])] {
                let start = state(velocity, spin, attitude);
                let slide = Slide::new(&flight(body, 1.0), &start, 0.0, &contact(friction), rolling);
                let time = share * slide.end();
                let change = energy(&body, &slide.state(time)) - energy(&body, &start);
                let Work { done, gained } = slide.work(time);
                let all = energy(&body, &start);
                prop_assert!((change - done).abs() < 1e-9 * all, "{change} {done}");
                prop_assert!(gained <= 1e-9 * all, "{gained}");
            }
        }
    }
}
