//! Launch rigs: setting to speed and back, loads, energy, calibration.
//!
//! A [`Rig`] is a launcher with its object, its frame and its limits.
//! [`prediction`] answers forwards (setting to speed, with everything that has
//! to be known before anyone lets go), [`inverse`] backwards, [`calibrate`]
//! from real shots, [`camera`] turns frames into a speed, [`frame`] bends a
//! beam. Every launcher reduces to a push along a path ([`run`]).
//!
//! What a rig holds can kill. Every answer carries the energy held and the
//! [`cautions()`].

pub mod calibrate;
pub mod camera;
mod cautions;
pub mod cord;
mod doubt;
pub mod drop;
mod fired;
pub mod frame;
pub mod inverse;
mod launcher;
mod limits;
pub mod log;
pub mod pendulum;
pub mod prediction;
pub mod pressure;
pub mod ramp;
pub mod rubber;
pub mod run;
pub mod sheet;
pub mod spring;
mod text;
pub mod tow;

pub use self::{
    cautions::cautions,
    doubt::{Doubt, Efficiency, Scatter},
    fired::{Fired, fire},
    launcher::Launcher,
    run::Load,
    text::{language, parse, reference, schema},
};

use self::{frame::Frame, run::Run};
use crate::{math, quantity::Show};

/// Standard acceleration of free fall, in m/s2.
pub const GRAVITY: f64 = 9.806_65;

/// What is launched.
#[derive(Clone, Debug, PartialEq)]
pub struct Projectile {
    /// Mass, in kg, > 0.
    pub mass: f64,
    /// Drag coefficient times frontal area while it is pushed, in m2.
    pub drag_area: f64,
    /// Largest acceleration it stands, in m/s2, if known.
    pub survives: Option<f64>,
}

/// A winch or a latch and its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Winch {
    /// Working limit, in N, > 0.
    pub limit: f64,
    /// Parts of line that share the pull, >= 1.
    pub parts: u32,
}

/// A rig, checked and in SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    /// Its name.
    pub name: String,
    /// What makes the speed.
    pub launcher: Launcher,
    /// What is launched.
    pub object: Projectile,
    /// Mass of carriage, sabot or sling that moves with the object and stays,
    /// in kg.
    pub carriage: f64,
    /// Constant friction along the run, in N.
    pub friction: f64,
    /// Coefficient of friction on the run (times the weight of what slides).
    pub friction_coefficient: f64,
    /// Slope of the run, up positive, in rad (cords, springs, pressure, tow).
    pub elevation: f64,
    /// Air density, in kg/m3.
    pub air_density: f64,
    /// Length of run that the rig has, in m, if told.
    pub run_up: Option<f64>,
    /// Winch or latch, if told.
    pub winch: Option<Winch>,
    /// Frame beam, if told.
    pub frame: Option<Frame>,
    /// What is not known of the rig before it has shot.
    pub doubt: Doubt,
    /// Its shot log, as its file names it: from that file's own folder.
    pub shots: Option<String>,
    /// Units of display.
    pub show: Show,
}

impl Rig {
    /// What the launcher has to move, for an object of `mass` kg.
    #[must_use]
    pub fn load(&self, mass: f64) -> Load {
        Load {
            object: mass,
            carriage: self.carriage,
            resistance: self.resistance(mass),
            drag: 0.5 * self.air_density * self.object.drag_area,
        }
    }

    fn resistance(&self, mass: f64) -> f64 {
        let slides = match self.launcher {
            Launcher::Cord(_) | Launcher::Spring(_) | Launcher::Pressure(_) | Launcher::Tow(_) => {
                let weight = (mass + self.carriage) * GRAVITY;
                let (sin, cos) = (math::sin(self.elevation), math::cos(self.elevation));
                weight * (sin + self.friction_coefficient * cos)
            }
            Launcher::Drop | Launcher::Pendulum(_) | Launcher::Ramp(_) => 0.0,
        };
        self.friction + slides
    }

    /// Mass that moves beside the object: carriage and the launcher's own part, in kg.
    #[must_use]
    pub fn own_mass(&self) -> f64 {
        self.carriage + self.launcher.moving_mass()
    }

    /// The run at a setting (> 0) with the rig's own object.
    #[must_use]
    pub fn run(&self, setting: f64) -> Run {
        self.run_with(setting, self.object.mass, self.own_mass())
    }

    /// The run with another object mass (kg) and moving mass (kg).
    #[must_use]
    pub(crate) fn run_with(&self, setting: f64, mass: f64, own: f64) -> Run {
        self.launcher.run(setting, &self.load(mass), own)
    }

    /// Speed at a setting as the model has it, in m/s, with the standard
    /// deviations of its logarithm: what is not known of the rig (one value
    /// for all its shots) and what differs from shot to shot.
    ///
    /// For a scenario that starts from a rig's setting; `None` where the
    /// setting is not above zero or the object does not get going.
    #[must_use]
    pub fn launch(&self, setting: f64) -> Option<Launch> {
        let usable = setting.is_finite() && setting > 0.0;
        if !usable {
            return None;
        }
        let run = self.run(setting);
        let [low, middle, high] = self.doubt.efficiency.quantiles();
        let speed = run.speed(middle);
        let low = run.speed(low);
        if speed <= 0.0 || low <= 0.0 {
            return None;
        }
        // 5 % to 95 %, so 2 * 1.645 standard deviations.
        let unknown = math::ln(run.speed(high) / low) / 3.289_707;
        Some(Launch { speed, unknown, varying: self.doubt.scatter.told })
    }
}

/// A launch as a scenario needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Median speed, in m/s.
    pub speed: f64,
    /// Standard deviation of ln(speed) that all shots of the rig share.
    pub unknown: f64,
    /// Standard deviation of ln(speed) from shot to shot.
    pub varying: f64,
}
