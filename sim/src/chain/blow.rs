//! A strike judged again: what comes after the flight, with other numbers.
//!
//! Some of what is not known enters only once the aimed face is struck: how
//! strong its barrier is, which formula of it is right, what harms. The strikes
//! that were flown then serve every value of it.

use super::Claim;
use crate::{
    barrier::{self, Verdict},
    contact::{Surface, Touch},
    harm,
    math::ln,
    scenario::{Barrier, Formula, Gate, InputId, library::criteria::Quantity},
    uncertain::{normal_cdf, normal_quantile},
};

/// Strengths of one barrier that are tried where no closed form goes through.
const STRENGTHS: u32 = 16;

impl Claim {
    /// The inputs that play no part before an aimed face is struck; none where
    /// flights go on after a touch.
    #[must_use]
    pub fn behind(&self) -> Vec<InputId> {
        if self.follows() {
            return Vec::new();
        }
        let scenario = self.scenario();
        let mut all: Vec<InputId> = vec![scenario.harm.threshold];
        if let Quantity::HeadHic { lasts, head, restitution, .. } = scenario.harm.quantity {
            all.extend([lasts, head, restitution]);
        }
        all.extend(scenario.target.attitude.map(|demand| demand.within));
        let aimed = self.aimed().iter().map(|face| &scenario.target.faces[*face]);
        for barrier in aimed.filter_map(|face| face.barrier.as_ref()) {
            all.extend([barrier.median, barrier.beta, barrier.scatter]);
            all.extend(barrier.formula.iter().flat_map(formula));
            all.extend(barrier.object.pressure);
        }
        all
    }

    /// The chance that this strike on an aimed face passes all the gates after
    /// it, over how one barrier differs from its like.
    ///
    /// `row`: the draw's values, SI; its scatter of the barrier is not looked
    /// at where it is drawn for itself.
    #[must_use]
    pub(crate) fn chance_of_blow(&self, touch: &Touch, row: &mut [f64]) -> f64 {
        let asks = |gate| self.gates().contains(&gate);
        if asks(Gate::Attitude) {
            let demand = self.scenario().target.attitude;
            let turned = |axis: usize, within: InputId| touch.axis_angles[axis] <= row[within.0];
            if !demand.is_some_and(|demand| turned(demand.axis, demand.within)) {
                return 0.0;
            }
        }
        if !asks(Gate::Perforates) {
            let energy = [touch.total_energy, touch.relative_velocity.length()];
            return if asks(Gate::Harms) { self.harms(touch, row, energy) } else { 1.0 };
        }
        let Some(barrier) = self.barrier_of(touch) else { return 0.0 };
        if !self.differs_of_itself(barrier) {
            return self.goes_through(barrier, touch, row);
        }
        if !asks(Gate::Harms) {
            row[barrier.scatter.0] = 0.0;
            let met = barrier::met(barrier, row, &self.body(row), touch);
            if !met.could {
                return 0.0;
            }
            let over = ln(barrier::demand(barrier.demand, touch).max(f64::MIN_POSITIVE) / met.law);
            let beta = row[barrier.beta.0];
            return if beta > 0.0 {
                normal_cdf(over / beta)
            } else {
                f64::from(u8::from(over > 0.0))
            };
        }
        let strengths = (0..STRENGTHS).map(|k| (f64::from(k) + 0.5) / f64::from(STRENGTHS));
        let sum: f64 = strengths
            .map(|u| {
                row[barrier.scatter.0] = normal_quantile(u);
                self.goes_through(barrier, touch, row)
            })
            .sum();
        sum / f64::from(STRENGTHS)
    }

    /// 1 if it goes through and, where asked, harms behind; else 0.
    fn goes_through(&self, barrier: &Barrier, touch: &Touch, row: &[f64]) -> f64 {
        let verdict = Verdict::of(barrier, row, &self.body(row), touch);
        if !verdict.perforates {
            return 0.0;
        }
        if !self.gates().contains(&Gate::Harms) {
            return 1.0;
        }
        self.harms(touch, row, [verdict.arriving_energy, verdict.residual_speed])
    }

    fn harms(&self, touch: &Touch, row: &[f64], arriving: [f64; 2]) -> f64 {
        let harm = &self.scenario().harm;
        f64::from(u8::from(harm::read(harm, row, &self.body(row), touch, arriving).reached))
    }

    fn barrier_of(&self, touch: &Touch) -> Option<&Barrier> {
        match touch.surface {
            Surface::Face(i) => self.scenario().target.faces[i].barrier.as_ref(),
            Surface::Ground | Surface::Solid(_) => None,
        }
    }

    /// Whether one barrier differs from the next by a normal number of its own.
    fn differs_of_itself(&self, barrier: &Barrier) -> bool {
        let inputs = &self.scenario().inputs;
        let free = !inputs.get(barrier.scatter).distribution.is_fixed();
        free && !inputs.copula().members().contains(&barrier.scatter.0)
    }
}

fn formula(formula: &Formula) -> Vec<InputId> {
    match *formula {
        Formula::Steel { thickness, strength, span, which, contact } => {
            vec![thickness, strength, span, which, contact]
        }
        Formula::Concrete { thickness, strength, density, reinforcement, which } => {
            vec![thickness, strength, density, reinforcement, which]
        }
        // A pane's sides decide whether it is struck.
        Formula::Board { thickness }
        | Formula::Polycarbonate { thickness }
        | Formula::Pane { thickness, .. } => vec![thickness],
    }
}
