//! Flights per second of one thread, for the reference problem and for one of
//! each shape.
//!
//! `cargo bench -p longodds-bench --bench flights [seconds] [family]`
//!
//! The reference problem: a plate 1.2 × 0.6 × 0.012 m of 6 kg, launched 2.5 m
//! up at N(25, 2) m/s in a random attitude with random rates, in a wind of its
//! own, flown until it crosses x = 20 m or meets the ground; a hit is a
//! crossing inside a rectangle.

#![expect(clippy::print_stdout, reason = "a benchmark talks to the terminal")]
#![expect(clippy::disallowed_methods, reason = "a benchmark reads the clock")]

use glam::{DQuat, DVec3};
use longodds_sim::{
    aero::Coefficients,
    body::{Body, Shape},
    flight::{
        Ending, Family, Flight, Last, Plane, Scene, Settings, Source, State, Step, Verdict, Watch,
        Work, fly,
    },
    math::{cos, ln, sin},
    world::{Air, AirNow, Carrier, Gusts, MeanWind, NUMBERS, Terrain, Turbulence, Wake},
};
use std::time::Instant;

/// Flights per call of the stepper.
const CHUNK: u64 = 4096;

/// A small generator; the benchmark needs no more.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut x = self.0;
        x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((x ^ (x >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * ln(self.uniform())).sqrt();
        radius * cos(core::f64::consts::TAU * self.uniform())
    }
}

/// What disturbs the wind.
#[derive(Clone, Copy, PartialEq)]
enum Disturbed {
    Not,
    Gusts,
    Wake,
}

/// The draws of one chunk.
struct Draws {
    dice: Dice,
    left: u64,
    body: Body,
    terrain: Terrain,
    disturbed: Disturbed,
}

impl Source for Draws {
    fn next_flight(&mut self) -> Option<Flight> {
        self.left = self.left.checked_sub(1)?;
        let dice = &mut self.dice;
        let air = Air { density: 1.2, viscosity: 1.8e-5, sound: 341.0 };
        let wind = MeanWind::new(3.0 * dice.normal(), 0.5 * dice.normal(), 10.0, self.terrain);
        let turn = core::f64::consts::TAU * dice.uniform();
        let (u, v) = (dice.uniform(), core::f64::consts::TAU * dice.uniform());
        let (low, high) = ((1.0 - u).sqrt(), u.sqrt());
        let attitude =
            DQuat::from_xyzw(low * sin(v), low * cos(v), high * sin(turn), high * cos(turn));
        let start = State {
            position: DVec3::new(0.0, 0.0, 2.5),
            velocity: DVec3::new(25.0 + 2.0 * dice.normal(), 0.5 * dice.normal(), dice.normal()),
            attitude,
            rates: 3.0 * DVec3::new(dice.normal(), dice.normal(), dice.normal()),
        };
        Some(Flight {
            draw: self.left,
            start,
            body: self.body,
            coefficients: Coefficients::new(&self.body, &air, 1.0),
            air: AirNow {
                air,
                wind,
                gusts: (self.disturbed == Disturbed::Gusts).then(|| gusts(&wind, &mut self.dice)),
                wake: (self.disturbed == Disturbed::Wake).then(|| wake(&wind)),
            },
            deadline: 30.0,
            watch: Watch {
                zone: None,
                plane: Some(Plane { normal: DVec3::X, offset: 20.0, rate: 0.0 }),
                every_step: false,
            },
        })
    }
}

/// Gusts of open country.
fn gusts(wind: &MeanWind, dice: &mut Dice) -> Gusts {
    let numbers: [f64; NUMBERS] = core::array::from_fn(|_| dice.uniform());
    let turbulence = Turbulence { intensity: 0.2, scale: 60.0, across: 0.8, upwards: 0.5 };
    let start = DVec3::new(0.0, 0.0, 2.5);
    let first = [dice.normal(), dice.normal(), dice.normal()];
    Gusts::new(turbulence, wind.at(2.5), start, first, |number| numbers[number as usize])
}

/// The wake of a carrier.
fn wake(wind: &MeanWind) -> Wake {
    let carrier = Carrier {
        velocity: [25.0, 0.0],
        tail: [0.0; 2],
        height: 4.0,
        drag_area: 6.4,
        dead_air: 4.4,
        strength: 1.0,
    };
    Wake::behind(&carrier, wind.at(2.0))
}

/// Counts hits on a rectangle in the plane.
#[derive(Default)]
struct Window {
    hits: u64,
    looks: u64,
}

impl Scene for Window {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        self.looks += 1;
        let Some(plane) = flight.watch.plane else { return Verdict::Continue };
        let beyond = |t: f64| plane.distance(step.position(t), t);
        let ground = |t: f64| step.position(t).z;
        if let Some(t) = crossing(step, beyond) {
            let at = step.state(t).position;
            self.hits += u64::from(at.y.abs() < 1.0 && (at.z - 1.0).abs() < 0.5);
            Verdict::Stop
        } else if crossing(step, ground).is_some() {
            Verdict::Stop
        } else {
            Verdict::Continue
        }
    }

    fn ended(&mut self, _: &Flight, _: Ending, _: Last) {}
}

/// Where in a step a distance vanishes (regula falsi with halving).
fn crossing(step: &Step, distance: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (step.from(), step.to());
    let (mut fa, mut fb) = (distance(a), distance(b));
    if fa * fb > 0.0 {
        return None;
    }
    for _ in 0..40 {
        let t = (a * fb - b * fa) / (fb - fa);
        let f = distance(t);
        if f.abs() < 1e-9 {
            return Some(t);
        }
        if f * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        (b, fb) = (t, f);
    }
    Some(b)
}

/// Nanoseconds of processor time of this thread, where the system tells.
fn processor_time() -> Option<u64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    text.split_whitespace().next()?.parse().ok()
}

/// Flies chunks for about `seconds` and prints one line.
fn measure(name: &str, draws: impl Fn(u64) -> Draws, settings: &Settings, seconds: f64) {
    let (mut flights, mut work, mut window) = (0u64, Work::default(), Window::default());
    let (began, from) = (Instant::now(), processor_time());
    while began.elapsed().as_secs_f64() < seconds {
        let did = fly(settings, &mut draws(flights), &mut window);
        flights += did.flights;
        work.steps += did.steps;
        work.rejected += did.rejected;
        work.evaluations += did.evaluations;
    }
    let spent = match (from, processor_time()) {
        (Some(a), Some(b)) => (b - a) as f64 * 1e-9,
        _ => began.elapsed().as_secs_f64(),
    };
    let per = |count: u64| count as f64 / flights as f64;
    println!(
        "{name:<22} {:<7} {:>9.0} flights/s  {:>5.1} steps  {:>4.2} refused  {:>5.1} evaluations  \
         {:>5.2} looks  {:.4} hits",
        settings.family.name(),
        flights as f64 / spent,
        per(work.steps),
        per(work.rejected),
        per(work.evaluations),
        per(window.looks),
        per(window.hits),
    );
}

/// Chunks of draws, by the number of flights flown before them.
fn draws(body: Body, terrain: Terrain, disturbed: Disturbed) -> impl Fn(u64) -> Draws {
    move |flown| Draws { dice: Dice(flown), left: CHUNK, body, terrain, disturbed }
}

fn main() {
    let words: Vec<String> =
        std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let seconds = words.first().and_then(|word| word.parse().ok()).unwrap_or(1.0);
    let plate = Shape::Plate { length: 1.2, width: 0.6, thickness: 0.012 };
    let bodies = [
        ("plate6dof", Body::solid(plate, 6.0)),
        ("sphere", Body::solid(Shape::Sphere { diameter: 0.0732 }, 0.145)),
        ("rod", Body::solid(Shape::Rod { length: 2.4, diameter: 0.06 }, 4.1)),
        ("block", Body::solid(Shape::Block { length: 0.3, width: 0.2, height: 0.1 }, 4.0)),
        ("disc", Body::solid(Shape::Disc { diameter: 0.6, thickness: 0.004 }, 3.0)),
        ("wheel", Body::solid(Shape::Wheel { diameter: 0.63, width: 0.2, hub: 0.4 }, 18.0)),
        ("cylinder", Body::solid(Shape::Cylinder { length: 0.9, diameter: 0.6 }, 20.0)),
        ("tube", Body::solid(Shape::Tube { length: 2.0, diameter: 0.1, wall: 0.003 }, 15.0)),
        ("cone", Body::solid(Shape::Cone { length: 0.7, diameter: 0.3 }, 3.0)),
        ("bar", Body::solid(Shape::Bar { length: 2.4, width: 0.089, height: 0.038 }, 4.1)),
        ("irregular", Body::solid(Shape::Irregular { diameter: 0.1, sphericity: 0.8 }, 1.2)),
    ];
    for family in Family::available() {
        if words.get(1).is_some_and(|word| word != family.name()) {
            continue;
        }
        let settings = Settings { family, ..Settings::default() };
        for (name, body) in bodies {
            measure(name, draws(body, Terrain::Uniform, Disturbed::Not), &settings, seconds);
        }
        let (_, body) = bodies[0];
        measure(
            "plate6dof, suburb",
            draws(body, Terrain::Suburb, Disturbed::Not),
            &settings,
            seconds,
        );
        measure(
            "plate6dof, gusts",
            draws(body, Terrain::Uniform, Disturbed::Gusts),
            &settings,
            seconds,
        );
        measure(
            "plate6dof, wake",
            draws(body, Terrain::Uniform, Disturbed::Wake),
            &settings,
            seconds,
        );
    }
}
