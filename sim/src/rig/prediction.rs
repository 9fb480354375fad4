//! Forwards: everything to know about a setting before anyone lets go.

use super::{
    Launcher, Rig,
    calibrate::Calibration,
    cautions::cautions,
    frame::Bending,
    inverse::stroke,
    run::{Run, RunPoint},
};
use serde::Serialize;

/// Shares of the run at which an object might come off early.
const EARLY: [f64; 3] = [0.5, 0.75, 0.9];

/// A setting and what it does. SI units.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Prediction {
    /// The setting (m, Pa, rad or m/s).
    pub setting: f64,
    /// 2.5, 50 and 97.5 % of the next shot's true speed, in m/s.
    pub speed: [f64; 3],
    /// Kinetic energy of the object at the median speed, in J.
    pub object_energy: f64,
    /// Energy that the rig holds, in J.
    pub held_energy: f64,
    /// Pull on the winch, latch or tow, in N, tackle counted in; `None` where
    /// there is none.
    pub pull: Option<f64>,
    /// Limit of the winch, in N, if told.
    pub pull_limit: Option<f64>,
    /// Largest acceleration of the object, in m/s2.
    pub acceleration: f64,
    /// Largest acceleration it stands, in m/s2, if told.
    pub survives: Option<f64>,
    /// Length of run needed, in m.
    pub run_up: f64,
    /// Length of run there is, in m, if told.
    pub run_up_limit: Option<f64>,
    /// Where the object leaves, in m from the start of the run.
    pub leaves_at: f64,
    /// Speed if it comes off at a share of the run: (share, m/s).
    pub early: Vec<(f64, f64)>,
    /// The run at the median efficiency, thinned.
    pub run: Vec<RunPoint>,
    /// Momentum that the rig takes up when the carriage is stopped, in N s.
    pub carriage_momentum: f64,
    /// Energy to take out of the carriage and cords, in J.
    pub carriage_energy: f64,
    /// Recoil: push of the launcher on its anchor at release, in N.
    pub recoil: f64,
    /// The frame beam, if told.
    pub frame: Option<Bending>,
    /// `true` if winch, run, ratings are all kept as far as they are told;
    /// `None` where none is told.
    pub limits_kept: Option<bool>,
    /// Limits that are not told, the one that kills first.
    pub limits_to_find: Vec<String>,
    /// Where the model or a rating is left, in words.
    pub doubts: Vec<String>,
    /// Cautions, most urgent first.
    pub cautions: Vec<String>,
}

impl Prediction {
    /// Predicts a setting (> 0) from the rig and its calibration.
    #[must_use]
    pub fn new(rig: &Rig, calibration: &Calibration, setting: f64) -> Self {
        let run = rig.run(setting);
        let efficiency = calibration.efficiency_at(setting);
        let (mass, own, load) = (rig.object.mass, rig.own_mass(), rig.load(rig.object.mass));
        let speed = calibration.speed_quantiles(setting, [0.025, 0.5, 0.975]);
        let whole_pull = rig.launcher.pull(setting, &load, own);
        let parts = rig.winch.as_ref().map_or(1.0, |winch| f64::from(winch.parts));
        let held = rig.launcher.held_energy(setting, &load, own);
        let recoil = recoil(rig, setting, &run, speed[1]);
        Self {
            setting,
            speed,
            object_energy: 0.5 * mass * speed[1] * speed[1],
            held_energy: held,
            pull: whole_pull.map(|pull| pull / parts),
            pull_limit: rig.winch.as_ref().map(|winch| winch.limit),
            acceleration: acceleration(rig, &run, efficiency, speed[1]),
            survives: rig.object.survives,
            run_up: stroke(rig, setting),
            run_up_limit: rig.run_up,
            leaves_at: run.leaves_at(efficiency),
            early: EARLY.map(|share| (share, run.speed_at_share(share, efficiency))).to_vec(),
            run: run.points(efficiency).into_iter().step_by(4).collect(),
            carriage_momentum: own * speed[1],
            carriage_energy: 0.5 * own * speed[1] * speed[1],
            recoil,
            frame: rig.frame.as_ref().map(|frame| frame.bending(recoil)),
            limits_kept: rig.keeps_limits(setting),
            limits_to_find: rig.limits_to_find(),
            doubts: rig.launcher.doubts(setting, speed[1]),
            cautions: cautions(rig, setting, held),
        }
    }
}

/// The largest steady force on what the launcher is anchored to, in N.
fn recoil(rig: &Rig, setting: f64, run: &Run, speed: f64) -> f64 {
    let load = rig.load(rig.object.mass);
    match &rig.launcher {
        Launcher::Pendulum(pendulum) => pendulum.tension(speed, load.object + load.carriage),
        Launcher::Drop | Launcher::Ramp(_) | Launcher::Tow(_) => {
            rig.launcher.pull(setting, &load, rig.own_mass()).unwrap_or(0.0)
        }
        Launcher::Cord(_) | Launcher::Spring(_) | Launcher::Pressure(_) => {
            let pull = rig.launcher.pull(setting, &load, rig.own_mass()).unwrap_or(0.0);
            pull.max(run.mass() * run.peak_acceleration(1.0))
        }
    }
}

/// Largest acceleration of the object: along the path, and towards the pivot.
fn acceleration(rig: &Rig, run: &Run, efficiency: f64, speed: f64) -> f64 {
    let along = run.peak_acceleration(efficiency);
    match &rig.launcher {
        Launcher::Pendulum(pendulum) => along.max(speed * speed / pendulum.length),
        Launcher::Cord(_)
        | Launcher::Spring(_)
        | Launcher::Pressure(_)
        | Launcher::Drop
        | Launcher::Ramp(_)
        | Launcher::Tow(_) => along,
    }
}
