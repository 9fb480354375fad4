//! A coil spring, or anything that pulls in proportion to its stretch.
//!
//! Valid while the spring stays within its rated stretch and pushes along the
//! path. A third of its own mass moves with the load (linear velocity
//! profile, derived).

/// A linear spring, possibly pre-tensioned.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// Stiffness, in N/m, > 0.
    pub stiffness: f64,
    /// Pull left where the push ends, in N, >= 0.
    pub preload: f64,
    /// The spring's own mass, in kg.
    pub mass: f64,
    /// Largest stretch from the end of the push, in m, if told.
    pub largest: Option<f64>,
}

impl Spring {
    /// Pull at a stretch from the end of the push, in N.
    #[must_use]
    pub fn pull(&self, stretch: f64) -> f64 {
        self.preload + self.stiffness * stretch
    }

    /// Energy that the push can give up, in J.
    #[must_use]
    pub fn energy(&self, stretch: f64) -> f64 {
        (self.preload + 0.5 * self.stiffness * stretch) * stretch
    }

    /// Everything the spring holds, preload included, in J.
    #[must_use]
    pub fn stored_energy(&self, stretch: f64) -> f64 {
        let pull = self.pull(stretch);
        0.5 * pull * pull / self.stiffness
    }

    /// What is doubtful about a stretch.
    #[must_use]
    pub fn doubts(&self, stretch: f64) -> Vec<String> {
        match self.largest {
            Some(limit) if stretch > limit => {
                vec!["the spring is stretched beyond its limit: it may take a set or break".into()]
            }
            _ => Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::{Load, run::Run};

    /// 500 N/m, stretch 0.5 m, 2 kg, own mass 0.3 kg: sqrt(2 * 62.5 / 2.1).
    #[test]
    fn a_spring_gives_the_closed_form_speed() {
        let spring = Spring { stiffness: 500.0, preload: 0.0, mass: 0.3, largest: None };
        let load = Load { object: 2.0, carriage: 0.0, resistance: 0.0, drag: 0.0 };
        let run = Run::along(0.5, 2.1, &load, true, |s| spring.pull(0.5 - s));
        assert!((run.speed(1.0) - 7.715_17).abs() < 5e-6);
    }

    /// Force plateau F0 + k x with m 2 kg, F0 300 N, k 50 N/m: v^2 = 61, 124,
    /// 256 m2/s2 at 0.2, 0.4, 0.8 m.
    #[test]
    fn a_preloaded_spring_gives_the_plateau_law() {
        let spring = Spring { stiffness: 50.0, preload: 300.0, mass: 0.0, largest: None };
        for (x, v2) in [(0.2, 61.0), (0.4, 124.0), (0.8, 256.0)] {
            assert!((2.0 * spring.energy(x) / 2.0 - v2).abs() < 1e-9);
        }
    }
}
