//! How hard a logged shot struck: as the rig's own flights do at its speed, or,
//! for want of a rig, anywhere between square on and as the claim's strikes do.

use super::Blow;
use crate::{
    barrier::demand,
    chain::{Claim, Outcome},
    engine::{Change, Order, Progress, run_picking},
    math::{exp, hypot, ln},
    rig::log::{LoggedShot, ShotLog},
    scenario::{Demand, Gate, Release},
};
use serde::Serialize;

/// Flights at each speed.
const FLIGHTS: u64 = 600;
/// Fewest strikes of them that tell how hard a shot struck.
const FEWEST: usize = 30;
/// Most speeds that are flown one by one; more are read off a curve.
const SPEEDS: usize = 12;

/// How shots struck: middles of the rig's flights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pose {
    /// Angle of the path from square on, in rad: 5, 50 and 95 %.
    pub obliquity: [f64; 3],
    /// Angles of length, width and thickness from square on, in rad, middles.
    pub axes: [f64; 3],
}

/// The blows of a log.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Blows {
    /// Shot by shot, of those that speak of the barrier.
    pub blows: Vec<Blow>,
    /// Slowest and fastest of them, in m/s, if there are any.
    pub speeds: Option<[f64; 2]>,
    /// How they struck, where a rig was flown.
    pub pose: Option<Pose>,
    /// How many speeds had no uncertainty told.
    pub taken_as_exact: usize,
}

/// Why a rig's flights do not tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unstruck {
    /// Nothing is launched at a speed that could be set.
    NotLaunched,
    /// Its barrier is not counted by the claim's formula.
    OtherBarrier,
    /// At this speed, in m/s, too few flights struck.
    Seldom {
        /// The speed.
        speed: f64,
        /// Strikes.
        strikes: usize,
        /// Of so many flights.
        flights: u64,
    },
}

/// A shot that says something of the barrier, with its speed and whether it
/// went through.
fn speaks(shot: &LoggedShot) -> Option<(&LoggedShot, f64, bool)> {
    Some((shot, shot.speed?.value, shot.result?.passed(Gate::Perforates)?))
}

fn power(measure: Demand) -> f64 {
    if measure == Demand::NormalSpeed { 1.0 } else { 2.0 }
}

impl Blows {
    fn new(log: &ShotLog, blow: impl Fn(&LoggedShot, f64, f64) -> (f64, f64)) -> Self {
        let spoken = || log.shots.iter().filter_map(speaks);
        let blows = spoken().map(|(shot, speed, through)| {
            let relative = shot.speed.map_or(0.0, |speed| speed.uncertainty / speed.value);
            let (size, doubt) = blow(shot, speed, relative);
            Blow { size, doubt, through }
        });
        let speeds = || spoken().map(|one| one.1);
        let ends = speeds().reduce(f64::min).zip(speeds().reduce(f64::max));
        let exact = |(shot, _, _): &(&LoggedShot, f64, bool)| {
            shot.speed.is_some_and(|speed| speed.uncertainty <= 0.0)
        };
        Self {
            blows: blows.collect(),
            speeds: ends.map(|(low, high)| [low, high]),
            pose: None,
            taken_as_exact: spoken().filter(exact).count(),
        }
    }
}

/// Shots of which nothing but speed and mass is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bare {
    /// What the barrier's strength is measured in.
    pub measure: Demand,
    /// Mass where a shot tells none, in kg.
    pub mass: f64,
    /// What the claim's own strikes bring of what they would square on, 0..1.
    pub share: f64,
}

impl Bare {
    /// Least share that is believed of the claim's own strikes.
    const LEAST: f64 = 0.01;

    /// Whether the claim's own strikes are as good as square on.
    #[must_use]
    pub fn is_square(&self) -> bool {
        self.share > 0.9
    }

    /// The blows, each anywhere between square on with all that it has and as
    /// little of it as the claim's own strikes bring (nine times in ten).
    #[must_use]
    pub fn blows(&self, log: &ShotLog) -> Blows {
        Blows::new(log, |shot, speed, relative| {
            let mass = shot.mass.unwrap_or(self.mass);
            let size = match self.measure {
                Demand::NormalSpeed => speed,
                Demand::NormalEnergy | Demand::TotalEnergy => 0.5 * mass * speed * speed,
            };
            let share = self.share.clamp(Self::LEAST, 1.0);
            let turned = 0.5 * ln(1.0 / share) / 1.645;
            (size * share.sqrt(), hypot(turned, power(self.measure) * relative))
        })
    }
}

/// A rig's scenario, made ready to fly.
#[derive(Clone, Debug)]
pub struct Rigged<'a> {
    /// The rig's shot.
    pub rig: &'a Claim,
    /// What the claim's barrier is measured in.
    pub measure: Demand,
    /// Whether it is counted in units of a formula.
    pub by_formula: bool,
    /// The seed of the flights.
    pub seed: u64,
}

/// What strikes at one speed.
#[derive(Clone, Debug)]
struct Struck {
    ln_speed: f64,
    /// Mean and standard deviation of the logarithm of the blow.
    mean: f64,
    sd: f64,
    strikes: Vec<Strike>,
}

#[derive(Clone, Copy, Debug)]
struct Strike {
    ln: f64,
    obliquity: f64,
    axes: [f64; 3],
}

impl Rigged<'_> {
    /// The blows of a log, each as the rig strikes at that shot's speed, with
    /// the spread of its strikes and the doubt about the speed.
    ///
    /// # Errors
    ///
    /// [`Unstruck`] if its flights do not tell.
    pub fn blows(&self, log: &ShotLog, progress: &impl Progress) -> Result<Blows, Unstruck> {
        let Release::Launched(launched) = &self.rig.scenario().release else {
            return Err(Unstruck::NotLaunched);
        };
        let inputs = &self.rig.scenario().inputs;
        let mass_id = self.rig.scenario().object.mass;
        let own_mass = inputs.get(mass_id).distribution.quantile(0.5);
        if self.by_formula && !self.counts_by_formula() {
            return Err(Unstruck::OtherBarrier);
        }
        let at = |speed: f64, mass: Option<f64>| {
            let mut changes = vec![Change::Set(launched.speed, speed)];
            // The measured speed has the doubt about the rig in it.
            changes.extend(launched.speed_factor.map(|id| Change::Set(id, 1.0)));
            changes.extend(mass.map(|mass| Change::Set(mass_id, mass)));
            self.struck(speed, changes, progress)
        };
        let mut shots: Vec<(f64, Option<f64>)> =
            log.shots.iter().filter_map(speaks).map(|(shot, v, _)| (v, shot.mass)).collect();
        shots.sort_by(|a, b| {
            a.0.total_cmp(&b.0).then(a.1.unwrap_or(own_mass).total_cmp(&b.1.unwrap_or(own_mass)))
        });
        shots.dedup();
        let one_by_one = shots.len() <= SPEEDS;
        let flown: Vec<((f64, Option<f64>), Struck)> = if one_by_one {
            let each = shots.iter().map(|shot| Ok((*shot, at(shot.0, shot.1)?)));
            each.collect::<Result<_, Unstruck>>()?
        } else {
            let (low, high) = (ln(shots[0].0), ln(shots[shots.len() - 1].0));
            let speed = |i: usize| exp(low + (high - low) * i as f64 / (SPEEDS - 1) as f64);
            let each = (0..SPEEDS).map(|i| Ok(((speed(i), None), at(speed(i), None)?)));
            each.collect::<Result<_, Unstruck>>()?
        };
        let mut found = Blows::new(log, |shot, speed, relative| {
            let (mean, sd) = if one_by_one {
                let this = flown.iter().find(|(key, _)| *key == (speed, shot.mass));
                this.map_or((0.0, 0.0), |(_, struck)| (struck.mean, struck.sd))
            } else {
                let (mean, sd) = between(&flown, ln(speed));
                let heavier = if self.measure == Demand::NormalSpeed { 0.0 } else { 1.0 };
                (mean + heavier * ln(shot.mass.unwrap_or(own_mass) / own_mass), sd)
            };
            (exp(mean), hypot(sd, power(self.measure) * relative))
        });
        found.pose = pose(flown.iter().flat_map(|(_, struck)| struck.strikes.iter()));
        Ok(found)
    }

    /// Is its own aimed face counted by a formula too?
    fn counts_by_formula(&self) -> bool {
        let faces = &self.rig.scenario().target.faces;
        let by_formula = |face: &usize| {
            faces[*face].barrier.as_ref().is_some_and(|barrier| barrier.formula.is_some())
        };
        self.rig.gates().contains(&Gate::Perforates) && self.rig.aimed().iter().all(by_formula)
    }

    fn struck(
        &self,
        speed: f64,
        changes: Vec<Change>,
        progress: &impl Progress,
    ) -> Result<Struck, Unstruck> {
        let order = Order { changes, ..Order::new(self.seed, 0..FLIGHTS) };
        let (_, strikes) = run_picking(self.rig, &order, progress, |outcome| self.strike(outcome));
        if strikes.len() < FEWEST {
            return Err(Unstruck::Seldom { speed, strikes: strikes.len(), flights: FLIGHTS });
        }
        let count = strikes.len() as f64;
        let mean = strikes.iter().map(|strike| strike.ln).sum::<f64>() / count;
        let square = |strike: &Strike| (strike.ln - mean) * (strike.ln - mean);
        let sd = (strikes.iter().map(square).sum::<f64>() / count).sqrt();
        Ok(Struck { ln_speed: ln(speed), mean, sd, strikes })
    }

    fn strike(&self, outcome: &Outcome) -> Option<Strike> {
        let touch = outcome.touch.filter(|_| outcome.struck)?;
        let size = if self.by_formula { outcome.blow? } else { demand(self.measure, &touch) };
        (size > 0.0).then(|| Strike {
            ln: ln(size),
            obliquity: touch.obliquity,
            axes: touch.axis_angles,
        })
    }
}

/// Mean and spread between the speeds flown.
fn between(flown: &[((f64, Option<f64>), Struck)], ln_speed: f64) -> (f64, f64) {
    let pair = flown.windows(2).find(|pair| ln_speed <= pair[1].1.ln_speed);
    let pair = pair.unwrap_or(&flown[flown.len() - 2..]);
    let (a, b) = (&pair[0].1, &pair[1].1);
    let share = (ln_speed - a.ln_speed) / (b.ln_speed - a.ln_speed);
    (a.mean + share * (b.mean - a.mean), a.sd + share * (b.sd - a.sd))
}

fn pose<'a>(strikes: impl Iterator<Item = &'a Strike> + Clone) -> Option<Pose> {
    let quantile = |of: &dyn Fn(&Strike) -> f64, p: f64| {
        let mut values: Vec<f64> = strikes.clone().map(of).collect();
        values.sort_by(f64::total_cmp);
        crate::estimate::quantile(&values, p)
    };
    let obliquity = |p| quantile(&|strike| strike.obliquity, p);
    let axis = |i: usize| quantile(&move |strike: &Strike| strike.axes[i], 0.5);
    Some(Pose {
        obliquity: [obliquity(0.05)?, obliquity(0.5)?, obliquity(0.95)?],
        axes: [axis(0)?, axis(1)?, axis(2)?],
    })
}
