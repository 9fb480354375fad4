//! How often the calibration's 95 % band holds the next shot, by simulation.
//!
//! Rigs are imagined, shot 1 to 8 times, fitted, and shot once more: inside
//! what was tried, a quarter beyond, and half beyond. First with rigs as the
//! priors have them, then with rigs that are not what the fit takes them for.
//!
//! ```text
//! cargo run --release -p longodds-bench --bin band_coverage -- 400
//! ```
#![expect(clippy::print_stdout, reason = "a program that prints a table")]

use longodds_sim::{
    math,
    rig::{self, Launcher, Rig, Scatter, calibrate::Calibration, calibrate::Shot, spring::Spring},
    sampling::{Domain, Stream},
    uncertain::normal_quantile,
};
use rayon::prelude::*;

/// A rig of our own: cords known by their rubber only.
const RIG: &str = "\
rig: imagined
object: {mass: 2 kg}
launcher:
  cord: {count: 8, relaxed: 2.2 m, diameter: 14 mm, shear_modulus: 0.4 MPa, resting_stretch: 1.1}
carriage: 1 kg
";
/// Settings in the order shot, in m.
const SETTINGS: [f64; 8] = [1.2, 2.0, 1.6, 1.2, 2.0, 1.4, 1.8, 1.6];
const SHOTS: [usize; 5] = [1, 2, 3, 5, 8];
/// Settings predicted: within, a quarter beyond, half beyond the largest tried.
const AHEAD: [f64; 3] = [0.8, 1.25, 1.5];
/// Relative standard uncertainty of a measured speed.
const MEASURED: f64 = 0.025;

/// What the imagined rigs are.
#[derive(Clone, Copy)]
enum Truth {
    /// As the priors have them.
    Prior,
    /// Linear springs.
    Spring,
    /// With a friction of a tenth of the largest pull that nobody told.
    Friction,
    /// With one shot in the log a fifth too slow.
    Stranger,
}

fn main() {
    let tests = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(200_u64);
    let rig = match rig::parse(RIG) {
        Ok(rig) => rig,
        Err(problems) => {
            println!("{problems:?}");
            return;
        }
    };
    println!("{tests} rigs each; share of next shots inside the 95 % band (mean width of it)\n");
    println!(
        "{:<34}{:>6}{:>16}{:>16}{:>16}",
        "rigs", "shots", "within", "1.25 beyond", "1.5 beyond"
    );
    for (name, truth) in [
        ("as the priors have them", Truth::Prior),
        ("linear springs", Truth::Spring),
        ("friction that nobody told", Truth::Friction),
        ("one wild shot in the log", Truth::Stranger),
    ] {
        for shots in SHOTS {
            let all: Vec<[(bool, f64); 3]> =
                (0..tests).into_par_iter().map(|test| one(&rig, truth, shots, test)).collect();
            print!("{name:<34}{shots:>6}");
            for i in 0..AHEAD.len() {
                let held = all.iter().filter(|row| row[i].0).count() as f64 / tests as f64;
                let width = all.iter().map(|row| row[i].1).sum::<f64>() / tests as f64;
                print!("{:>16}", format!("{:.1} % ({:.0} %)", 100.0 * held, 100.0 * width));
            }
            println!();
        }
    }
}

/// Shoots one imagined rig; for each setting ahead: was the next shot's speed
/// inside the band, and how wide was the band (over its middle).
fn one(rig: &Rig, truth: Truth, count: usize, test: u64) -> [(bool, f64); 3] {
    let stream = Stream::new(7, Domain::SHOTS.part(1));
    let normal = |slot: u32| normal_quantile(stream.uniform(test, slot));
    let real = Real::new(rig, truth, [normal(0), normal(1), normal(2)]);
    let shots: Vec<Shot> = (0_u32..)
        .zip(SETTINGS)
        .take(count)
        .map(|(i, setting)| {
            let wild = matches!(truth, Truth::Stranger) && i == 0;
            let speed = real.speed(setting, normal(10 + 2 * i)) * if wild { 0.8 } else { 1.0 };
            let read = speed * math::exp(MEASURED * normal(11 + 2 * i));
            Shot::new(setting, read, MEASURED * read)
        })
        .collect();
    let calibration = Calibration::new(rig, &shots);
    let tried = calibration.tried().map_or(1.0, |tried| tried.1);
    let mut rows = [(false, 0.0); 3];
    for ((row, ahead), slot) in rows.iter_mut().zip(AHEAD).zip(100_u32..) {
        let next = real.speed(tried * ahead, normal(slot));
        let [low, middle, high] = calibration.speed_quantiles(tried * ahead, [0.025, 0.5, 0.975]);
        *row = (low <= next && next <= high, (high - low) / middle);
    }
    rows
}

/// An imagined rig.
struct Real {
    rig: Rig,
    ln_efficiency: f64,
    exponent: f64,
    scatter: f64,
}

impl Real {
    fn new(rig: &Rig, truth: Truth, z: [f64; 3]) -> Self {
        let mut rig = rig.clone();
        let [low, middle, high] = rig.doubt.efficiency.quantiles();
        let sd = math::ln(high / low) / 3.289_707;
        let Scatter { median, sd: spread, .. } = rig.doubt.scatter;
        let mut exponent = rig.doubt.exponent * z[1];
        if let (Truth::Spring, Launcher::Cord(cord)) = (truth, &rig.launcher) {
            let stiffness = rig::cord::as_spring(cord, 1.6);
            exponent = 0.0;
            rig.launcher = Launcher::Spring(Spring {
                stiffness,
                preload: 0.0,
                mass: cord.mass(),
                largest: None,
            });
        }
        if matches!(truth, Truth::Friction) {
            let load = rig.load(rig.object.mass);
            rig.friction = 0.1 * rig.launcher.pull(2.0, &load, rig.own_mass()).unwrap_or(0.0);
        }
        Self {
            ln_efficiency: math::ln(middle) + sd * z[0],
            exponent,
            scatter: median * math::exp(spread * z[2]),
            rig,
        }
    }

    fn speed(&self, setting: f64, z: f64) -> f64 {
        let e = math::exp(self.ln_efficiency + self.exponent * math::ln(setting / 1.6));
        self.rig.run(setting).speed(e) * math::exp(self.scatter * z)
    }
}
