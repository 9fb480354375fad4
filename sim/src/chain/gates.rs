//! One gate at a time: passed, or by how much not.

use super::{Breach, Claim, Outcome};
use crate::{
    barrier,
    body::Body,
    contact::{Scenery, Surface, Touch},
    harm, math,
    scenario::{Gate, Outline},
};
use glam::DVec3;

/// Relative shortfall of a gate that needs a strike, where there was none:
/// above that of any strike (90 degrees where a tenth of a degree was asked).
const NO_STRIKE: f64 = 1e3;

/// By how much a gate was not passed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Short {
    /// In the gate's own measure.
    pub(super) margin: f64,
    /// Over what the gate asked for.
    pub(super) relative: f64,
}

/// What is known once a flight is over.
pub(super) struct Evidence<'a> {
    pub(super) claim: &'a Claim,
    pub(super) row: &'a [f64],
    pub(super) body: &'a Body,
    pub(super) scenery: &'a Scenery,
    /// How far short of the aimed plane it ended, in m.
    pub(super) short: f64,
    /// Straight distance from the release to that plane, in m.
    pub(super) way: f64,
    /// How it came on somebody behind the barrier.
    pub(super) occupied: Option<Touch>,
    /// What its barrier made of the strike, if that was asked already.
    pub(super) weighed: Option<barrier::Verdict>,
}

impl Evidence<'_> {
    /// `None`: passed. Notes on the way what the gate measured.
    pub(super) fn test(&self, gate: Gate, outcome: &mut Outcome) -> Option<Short> {
        match gate {
            Gate::Released => None,
            Gate::Reaches => self.reaches(outcome),
            Gate::Strikes => self.strikes(outcome),
            Gate::Attitude => self.attitude(outcome),
            Gate::Perforates => self.perforates(outcome),
            Gate::Harms => self.harms(outcome),
        }
    }

    fn reaches(&self, outcome: &Outcome) -> Option<Short> {
        let came = outcome.struck || outcome.crossing.is_some() || self.short <= 0.0;
        (!came).then(|| over(self.short, self.way))
    }

    fn strikes(&self, outcome: &Outcome) -> Option<Short> {
        if outcome.struck {
            return None;
        }
        let first = self.claim.aimed()[0];
        // Stopped before its centre crossed: how far from the outline it was.
        let miss =
            outcome.miss.unwrap_or_else(|| beside(self.scenery, first, outcome.end, outcome.time));
        Some(over(miss, half_size(self.scenery.faces[first].outline)))
    }

    fn attitude(&self, outcome: &Outcome) -> Option<Short> {
        let (Some(touch), Some(demand)) = (struck(outcome), self.claim.scenario().target.attitude)
        else {
            return Some(self.beside_it(outcome));
        };
        let within = self.row[demand.within.0];
        let beyond = touch.axis_angles[demand.axis] - within;
        (beyond > 0.0).then(|| over(beyond, within))
    }

    fn perforates(&self, outcome: &mut Outcome) -> Option<Short> {
        let (Some(touch), Some(barrier)) = (struck(outcome), self.barrier(outcome)) else {
            return Some(self.beside_it(outcome));
        };
        let verdict = self
            .weighed
            .unwrap_or_else(|| barrier::Verdict::of(barrier, self.row, self.body, &touch));
        outcome.demand = Some(verdict.demand);
        outcome.resistance = Some(verdict.resistance);
        outcome.could = verdict.could;
        outcome.blow = Some(verdict.demand * barrier::told(barrier, self.row) / verdict.resistance);
        for (left, breach) in [
            (verdict.oblique, Breach::Oblique),
            (verdict.glances, Breach::Glances),
            (verdict.other_contact, Breach::Contact),
            (verdict.extrapolated, Breach::Formula),
            (verdict.beyond_shots, Breach::Shots),
            (verdict.harder, Breach::Harder),
        ] {
            let applies = match breach {
                Breach::Formula => barrier.formula.is_some(),
                Breach::Contact => barrier.contact.is_some(),
                Breach::Shots => barrier.hardest.is_some(),
                _ => true,
            };
            if applies {
                outcome.check(breach, left);
            }
        }
        if !verdict.perforates {
            outcome.arriving_energy = None;
            return Some(over(verdict.margin(), verdict.resistance));
        }
        outcome.residual_speed = Some(verdict.residual_speed);
        outcome.arriving_energy = Some(verdict.arriving_energy);
        None
    }

    fn harms(&self, outcome: &mut Outcome) -> Option<Short> {
        let occupants = self.claim.has_occupants();
        if outcome.struck && occupants {
            // What does not come as far as that arrives with nothing.
            outcome.arriving_energy = Some(self.occupied.map_or(0.0, |touch| touch.total_energy));
        }
        let (Some(touch), Some(energy)) = (struck(outcome), outcome.arriving_energy) else {
            return Some(self.beside_it(outcome));
        };
        let whole = touch.relative_velocity.length();
        let speed = if occupants {
            self.occupied.map_or(0.0, |touch| touch.relative_velocity.length())
        } else {
            outcome.residual_speed.unwrap_or(whole)
        };
        let touch = self.occupied.unwrap_or(touch);
        let harm = &self.claim.scenario().harm;
        let reading = harm::read(harm, self.row, self.body, &touch, [energy, speed]);
        outcome.check(Breach::Harm, !reading.in_range);
        (!reading.reached).then(|| over(reading.margin(), reading.threshold))
    }

    /// Short of a gate that asks for a strike which never was: farther than
    /// any strike can be, and the farther the wider it passed, so that a search
    /// finds its way. The margin has no measure and is left at 1.
    fn beside_it(&self, outcome: &Outcome) -> Short {
        let miss = self.strikes(outcome).map_or(0.0, |short| short.relative);
        Short { margin: 1.0, relative: NO_STRIKE + miss }
    }

    fn barrier(&self, outcome: &Outcome) -> Option<&crate::scenario::Barrier> {
        match outcome.touch?.surface {
            Surface::Face(i) => self.claim.scenario().target.faces[i].barrier.as_ref(),
            Surface::Ground | Surface::Solid(_) => None,
        }
    }
}

/// Distance of a point from a face's outline, in m; 0 on the face.
pub(super) fn beside(scenery: &Scenery, face: usize, point: DVec3, time: f64) -> f64 {
    let from_centre = point - scenery.centre(face, time);
    let face = &scenery.faces[face];
    math::hypot(face.miss(face.on_face(from_centre)), from_centre.dot(face.normal))
}

/// Half the diagonal or the diameter of an outline, in m.
fn half_size(outline: Outline<f64>) -> f64 {
    match outline {
        Outline::Rectangle { width, height } => 0.5 * math::hypot(width, height),
        Outline::Disc { diameter } => 0.5 * diameter,
    }
}

fn struck(outcome: &Outcome) -> Option<Touch> {
    if outcome.struck { outcome.touch } else { None }
}

fn over(margin: f64, asked: f64) -> Short {
    Short { margin, relative: margin / asked.max(f64::MIN_POSITIVE) }
}
