//! The launchers as one closed set, and what each answers.

use super::{
    GRAVITY, Load, cord::Cord, pendulum::Pendulum, pressure::Pressure, ramp::Ramp, run::Run,
};
use super::{spring::Spring, tow::Tow};
use crate::{math, quantity::Dimension};

/// What makes the speed. One variant, one file.
#[derive(Clone, Debug, PartialEq)]
pub enum Launcher {
    /// Elastic cords; the setting is the pull-back, in m.
    Cord(Cord),
    /// A linear spring; the setting is its stretch, in m.
    Spring(Spring),
    /// Compressed gas; the setting is the gauge pressure, in Pa.
    Pressure(Pressure),
    /// A free fall; the setting is the height, in m.
    Drop,
    /// A swing; the setting is the angle from hanging, in rad.
    Pendulum(Pendulum),
    /// A slope; the setting is the height, in m.
    Ramp(Ramp),
    /// A tow through pulleys; the setting is the tow's speed, in m/s.
    Tow(Tow),
}

impl Launcher {
    /// Name as in a rig file.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Cord(_) => "cord",
            Self::Spring(_) => "spring",
            Self::Pressure(_) => "pressure",
            Self::Drop => "drop",
            Self::Pendulum(_) => "pendulum",
            Self::Ramp(_) => "ramp",
            Self::Tow(_) => "tow",
        }
    }

    /// What the setting is called.
    #[must_use]
    pub fn setting_name(&self) -> &'static str {
        match self {
            Self::Cord(_) => "pull-back",
            Self::Spring(_) => "stretch",
            Self::Pressure(_) => "gauge pressure",
            Self::Drop | Self::Ramp(_) => "height",
            Self::Pendulum(_) => "angle",
            Self::Tow(_) => "tow speed",
        }
    }

    /// What the setting measures.
    #[must_use]
    pub fn setting_dimension(&self) -> Dimension {
        match self {
            Self::Cord(_) | Self::Spring(_) | Self::Drop | Self::Ramp(_) => Dimension::Length,
            Self::Pressure(_) => Dimension::Pressure,
            Self::Pendulum(_) => Dimension::Angle,
            Self::Tow(_) => Dimension::Speed,
        }
    }

    /// Largest setting that means anything.
    #[must_use]
    pub fn largest_setting(&self) -> f64 {
        match self {
            Self::Cord(cord) => cord.largest_pull_back(),
            Self::Spring(spring) => spring.largest.map_or(1e3, |largest| 1.5 * largest),
            Self::Pressure(_) => 20e6,
            Self::Drop | Self::Ramp(_) => 500.0,
            Self::Pendulum(_) => std::f64::consts::PI,
            Self::Tow(_) => 100.0,
        }
    }

    /// Mass of the launcher that moves with the load, in kg.
    #[must_use]
    pub(crate) fn moving_mass(&self) -> f64 {
        match self {
            Self::Cord(cord) => cord.moving_mass(),
            Self::Spring(spring) => spring.mass / 3.0,
            Self::Pendulum(pendulum) => pendulum.arm / 3.0,
            Self::Pressure(_) | Self::Drop | Self::Ramp(_) | Self::Tow(_) => 0.0,
        }
    }

    /// The run from rest at a setting (> 0), with `own` kg of the launcher and
    /// carriage moving beside the object.
    #[must_use]
    pub fn run(&self, setting: f64, load: &Load, own: f64) -> Run {
        let mass = load.object + own;
        match self {
            Self::Cord(cord) => Run::along(setting, mass, load, true, |s| cord.pull(setting - s)),
            Self::Spring(spring) => {
                Run::along(setting, mass, load, true, |s| spring.pull(setting - s))
            }
            Self::Pressure(pressure) => pressure.run(setting, mass, load),
            Self::Drop => {
                let weight = (load.object + load.carriage) * GRAVITY;
                Run::along(setting, mass, load, true, |_| weight)
            }
            Self::Pendulum(pendulum) => {
                let bob = load.object + load.carriage;
                let stroke = setting * pendulum.length;
                Run::along(stroke, mass, load, false, |s| pendulum.push(setting, s, bob))
            }
            Self::Ramp(ramp) => {
                let falling = load.object + load.carriage;
                let mass = mass * (1.0 + ramp.rotation);
                Run::along(ramp.stroke(setting), mass, load, false, |_| ramp.push(falling))
            }
            // The tow sets the speed, whatever resists: that shows in its pull.
            Self::Tow(tow) => {
                let easy = Load { resistance: 0.0, drag: 0.0, ..*load };
                Run::along(tow.run_up, mass, &easy, true, |_| tow.push(setting, mass))
            }
        }
    }

    /// Steady pull of the winch, latch or tow at a setting, in N, before its
    /// own tackle; `None` where nothing is held or pulled.
    #[must_use]
    pub fn pull(&self, setting: f64, load: &Load, own: f64) -> Option<f64> {
        let falling = (load.object + load.carriage) * GRAVITY;
        match self {
            Self::Cord(cord) => Some(cord.pull(setting) + load.resistance),
            Self::Spring(spring) => Some(spring.pull(setting) + load.resistance),
            Self::Pressure(pressure) => Some(pressure.bore * setting),
            Self::Drop => Some(falling),
            Self::Pendulum(pendulum) => {
                let bob = load.object + load.carriage;
                Some(pendulum.push(setting, 0.0, bob))
            }
            Self::Ramp(ramp) => Some(falling * math::sin(ramp.slope)),
            Self::Tow(tow) => {
                let speed = tow.ratio * setting;
                let on_load = tow.push(setting, load.object + own)
                    + load.resistance
                    + load.drag * speed * speed;
                Some(tow.ratio * on_load)
            }
        }
    }

    /// Energy that the rig holds at a setting, in J: what is let go if
    /// something parts.
    #[must_use]
    pub fn held_energy(&self, setting: f64, load: &Load, own: f64) -> f64 {
        let falling = (load.object + load.carriage) * GRAVITY;
        match self {
            Self::Cord(cord) => cord.stored_energy(setting),
            Self::Spring(spring) => spring.stored_energy(setting),
            Self::Pressure(pressure) => pressure.stored_energy(setting),
            Self::Drop | Self::Ramp(_) => falling * setting,
            Self::Pendulum(p) => p.energy(setting, load.object + load.carriage),
            Self::Tow(tow) => {
                tow.stored_energy(self.pull(setting, load, own).unwrap_or(0.0) / tow.ratio)
            }
        }
    }

    /// Where the model's validity is left at a setting, in words.
    #[must_use]
    pub fn doubts(&self, setting: f64, speed: f64) -> Vec<String> {
        match self {
            Self::Cord(cord) => cord.doubts(setting),
            Self::Spring(spring) => spring.doubts(setting),
            Self::Pressure(pressure) => pressure.doubts(setting, speed),
            Self::Pendulum(pendulum) => pendulum.doubts(setting),
            Self::Drop | Self::Ramp(_) | Self::Tow(_) => Vec::new(),
        }
    }
}
