//! What flies is made of, and what a barrier was tested with.

use super::{
    InputId,
    library::stuff::{Gives, HARD_STUFF, Stuff},
};

/// What an object is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MadeOf {
    /// By name.
    pub stuff: &'static Stuff,
    /// Where between its ends its pressure lies, 0..=1; of what is told, that
    /// pressure itself, in Pa. `None`: it does not give.
    pub pressure: Option<InputId>,
    /// Least and greatest pressure, in Pa.
    pub range: [f64; 2],
    /// Did the scenario say?
    pub told: bool,
}

impl Default for MadeOf {
    /// Hard, since nobody said: the safe side for going through.
    fn default() -> Self {
        Self { stuff: HARD_STUFF, pressure: None, range: HARD_STUFF.gives.range(), told: false }
    }
}

impl MadeOf {
    /// Pressure at the contact of a blow of `speed` (m/s), in Pa; infinite where
    /// it does not give.
    #[must_use]
    pub fn pressure(&self, row: &[f64], speed: f64) -> f64 {
        match (self.pressure, self.stuff.gives) {
            (None, _) => f64::INFINITY,
            (Some(id), Gives::AsTold) => row[id.0],
            (Some(id), gives) => gives.pressure(row[id.0], speed),
        }
    }
}

/// What a barrier's figure was found with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tested {
    /// By name.
    pub stuff: &'static Stuff,
    /// Mass, in kg, if it is known.
    pub mass: Option<f64>,
    /// Diameter of its contact or of itself, in m, if it is known.
    pub diameter: Option<f64>,
}

impl Default for Tested {
    fn default() -> Self {
        Self { stuff: HARD_STUFF, mass: None, diameter: None }
    }
}

/// How what flies compares with what a barrier was tested with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hardness {
    /// Made of the same.
    Same,
    /// Softer, whatever the truth about either.
    Softer,
    /// Harder, or it may be.
    Harder,
}

impl Tested {
    /// How `object` compares with it.
    #[must_use]
    pub fn against(&self, object: &MadeOf) -> Hardness {
        let [least, _] = self.stuff.gives.range();
        if self.stuff.name == object.stuff.name {
            Hardness::Same
        } else if object.range[1] <= least {
            Hardness::Softer
        } else {
            Hardness::Harder
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::library::stuff::{STUFFS, stuff};

    fn made_of(stuff: &'static Stuff) -> MadeOf {
        MadeOf { stuff, range: stuff.gives.range(), ..MadeOf::default() }
    }

    /// Softer one way is harder the other; of what overlaps neither is softer.
    #[test]
    fn of_two_at_most_one_is_the_softer() {
        for one in STUFFS {
            for other in STUFFS {
                let tested = |stuff| Tested { stuff, ..Tested::default() };
                let there = tested(one).against(&made_of(other));
                let back = tested(other).against(&made_of(one));
                assert_eq!(there == Hardness::Same, one.name == other.name);
                assert!(there != Hardness::Softer || back == Hardness::Harder);
            }
        }
        let tyre = Tested { stuff: stuff("tyre").unwrap(), ..Tested::default() };
        assert_eq!(tyre.against(&MadeOf::default()), Hardness::Harder, "nothing told is hard");
        let steel = Tested::default();
        assert_eq!(steel.against(&made_of(stuff("ice").unwrap())), Hardness::Softer);
    }
}
