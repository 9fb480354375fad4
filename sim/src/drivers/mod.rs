//! Which inputs decide the outcome, gate by gate, and what a rig should hold.
//!
//! The ranking comes from the run's own flights: where an input stood among
//! those who passed a gate, beside all who came to it. Nothing is flown again,
//! and rare outcomes are ranked as well as common ones, where shares of
//! variance all go to zero. Interactions need flights of their own
//! ([`pick_freeze`]).
//!
//! Where inputs are correlated, a ranking answers what knowing an input tells,
//! not what it causes: an idle input that moves with a strong one ranks high.
//! Credit is not shared out between correlated inputs (Shapley's way).

mod designed;
mod first_order;
mod isolation;
mod separation;

pub use self::{
    designed::{Index, PickFreeze, pick_freeze},
    first_order::{first_orders, rank_first_order, varies},
    isolation::{Isolation, Tolerance, isolation, tolerance},
    separation::{Separation, separation},
};

use crate::estimate::InputTally;

/// One input's part in passing a gate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driver {
    /// Which input, as numbered in the tally.
    pub input: usize,
    /// How those who passed differ from those who came.
    pub separation: Separation,
    /// What holding it would settle.
    pub isolation: Isolation,
}

/// The inputs ranked for one gate (from 0), or for the whole claim (`None`),
/// the strongest first.
///
/// Ranked by the gap between who passed and who came; beside it stands the gap
/// that chance alone would show.
#[must_use]
pub fn ranking(tally: &InputTally, gate: Option<usize>) -> Vec<Driver> {
    let (before, after) = gate.map_or((0, tally.gates()), |g| (g, g + 1));
    let mut drivers: Vec<Driver> = (0..tally.inputs())
        .map(|input| {
            let came = tally.passed_at_least(input, before);
            let passed = tally.passed_at_least(input, after);
            Driver {
                input,
                separation: separation(&came, &passed),
                isolation: isolation(&came, &passed),
            }
        })
        .collect();
    drivers.sort_by(|a, b| b.separation.gap.total_cmp(&a.separation.gap));
    drivers
}

#[cfg(test)]
pub(crate) mod half_space {
    //! Hit if alpha . u > b, alpha = (0.8, 0.5, 0.3, 0.1, 0) / norm: exact
    //! measures of importance are known.

    use crate::{
        estimate::InputTally,
        sampling::{Domain, Stream},
        uncertain::normal_quantile,
    };

    pub(crate) fn tally(b: f64, flights: u64) -> InputTally {
        let alpha = [0.8, 0.5, 0.3, 0.1, 0.0].map(|a| a / 0.99_f64.sqrt());
        let stream = Stream::new(12, Domain::DRAWS);
        let mut tally = InputTally::new(5, 1);
        for draw in 0..flights {
            let mut u = [0.0; 5];
            stream.fill(draw, &[0, 1, 2, 3, 4], &mut u);
            let sum: f64 = alpha.iter().zip(u).map(|(a, u)| a * normal_quantile(u)).sum();
            tally.record(u, usize::from(sum > b));
        }
        tally
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strongest_input_comes_first_and_an_idle_one_is_noise() {
        let ranked = ranking(&half_space::tally(1.0, 40_000), None);
        let order: Vec<usize> = ranked.iter().map(|d| d.input).collect();
        assert_eq!(order[..4], [0, 1, 2, 3]);
        let idle = &ranked[4].separation;
        assert!(idle.gap < 1.5 * idle.gap_noise, "{idle:?}");
        assert!(ranked[0].separation.gap > 20.0 * ranked[0].separation.gap_noise);
    }
}
