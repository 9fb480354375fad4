//! The launch speed at which a rig's shot covers a share of the claim.

use super::{Impact, Measure, impacts, median, sorted};
use crate::{
    chain::Claim,
    engine::{Change, Order, Progress},
    estimate::{LEVEL, quantile, quantile_interval},
    math::{exp, ln},
    scenario::{InputId, Release},
};

/// Shares of the claim's strikes to be covered.
const SHARES: [f64; 4] = [0.5, 0.9, 0.95, 0.99];

/// Speeds tried: so many, from this share of the rig's own speed to so many
/// times it, each the same factor above the one before.
const TRIED: u32 = 25;
const SLOWEST: f64 = 0.25;
const FASTEST: f64 = 6.0;

/// A launch speed that covers a share of the claim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cover {
    /// The share of the claim's strikes.
    pub share: f64,
    /// Energy along the normal that this asks for, in J.
    pub energy: f64,
    /// Launch speed at which the rig's middle shot has it.
    pub speed: Needed,
    /// The same at the ends of the energy's 95 % interval, which comes from
    /// the claim's flights; `None`: that end is open.
    pub ends: [Option<Needed>; 2],
}

/// A launch speed, as far as those tried tell: from a quarter to six times the
/// rig's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Needed {
    /// This one, in m/s.
    At(f64),
    /// The slowest tried (m/s) strikes harder already.
    Below(f64),
    /// The fastest tried (m/s) does not strike as hard.
    Above(f64),
}

/// Which input was turned, and what it gave.
#[derive(Clone, Debug, PartialEq)]
pub struct Covers {
    /// The rig's launch speed.
    pub speed: InputId,
    /// Share by share.
    pub covers: Vec<Cover>,
}

/// Turns the rig's launch speed until its middle shot strikes as hard as 50,
/// 90, 95 and 99 % of the claim's; `None` if the rig does not launch, or never
/// strikes.
#[must_use]
pub fn covers(
    claim: &[Impact],
    rig: &Claim,
    seed: u64,
    flights: u64,
    progress: &impl Progress,
) -> Option<Covers> {
    let Release::Launched(launched) = &rig.scenario().release else { return None };
    let own = rig.scenario().inputs.get(launched.speed).distribution.quantile(0.5);
    let curve = curve(rig, launched.speed, own, seed, flights, progress);
    if curve.len() < 2 {
        return None;
    }
    let wanted = sorted(claim, Measure::NormalEnergy);
    let cover = |share: f64| {
        let energy = quantile(&wanted, share)?;
        let ends = quantile_interval(&wanted, share, LEVEL);
        Some(Cover {
            share,
            energy,
            speed: speed_for(&curve, energy),
            ends: ends.map(|end| Some(speed_for(&curve, end?))),
        })
    };
    Some(Covers {
        speed: launched.speed,
        covers: SHARES.into_iter().map(cover).collect::<Option<_>>()?,
    })
}

/// Launch speeds and the middle energy of their strikes, both logarithmic.
fn curve(
    rig: &Claim,
    speed: InputId,
    own: f64,
    seed: u64,
    flights: u64,
    progress: &impl Progress,
) -> Vec<[f64; 2]> {
    let step = ln(FASTEST / SLOWEST) / f64::from(TRIED - 1);
    (0..TRIED)
        .filter_map(|i| {
            let value = own * SLOWEST * exp(step * f64::from(i));
            let changes = vec![Change::Set(speed, value)];
            let order = Order { changes, ..Order::new(seed, 0..flights) };
            let energy = median(&impacts(rig, &order, progress), Measure::NormalEnergy)?;
            (energy > 0.0).then(|| [ln(value), ln(energy)])
        })
        .collect()
}

/// The first speed at which the curve comes up to an energy: more energy never
/// asks for less speed. The curve has two points at least.
fn speed_for(curve: &[[f64; 2]], energy: f64) -> Needed {
    let wanted = ln(energy);
    let [slowest, fastest] = [curve[0], curve[curve.len() - 1]];
    if wanted < slowest[1] {
        return Needed::Below(exp(slowest[0]));
    }
    let crossed = |pair: &&[[f64; 2]]| pair[0][1] <= wanted && wanted <= pair[1][1];
    let Some(pair) = curve.windows(2).find(crossed) else {
        return Needed::Above(exp(fastest[0]));
    };
    let [[x0, y0], [x1, y1]] = [pair[0], pair[1]];
    let share = if y1 > y0 { (wanted - y0) / (y1 - y0) } else { 0.0 };
    Needed::At(exp(x0 + share * (x1 - x0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Energy goes with the square of the speed: 4 J at 2 m/s.
    #[test]
    fn a_parabola_is_read_backwards() {
        let curve: Vec<_> = (1..=8).map(|v| [ln(f64::from(v)), 2.0 * ln(f64::from(v))]).collect();
        let near = |found: Needed, wanted: f64| matches!(found, Needed::At(speed) if (speed - wanted).abs() < 1e-12);
        assert!(near(speed_for(&curve, 4.0), 2.0) && near(speed_for(&curve, 30.25), 5.5));
        assert!(matches!(speed_for(&curve, 100.0), Needed::Above(v) if (v - 8.0).abs() < 1e-12));
        assert!(matches!(speed_for(&curve, 0.5), Needed::Below(v) if (v - 1.0).abs() < 1e-12));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// Whatever the curve, even one that falls in between: what covers more
        /// is never slower, and nothing is out of reach beneath what is not.
        #[test]
        fn covering_more_never_takes_less_speed(
            steps in prop::collection::vec((0.01..0.5, -0.5..2.0), 2..30),
            energies in prop::collection::vec(0.01..1e4, 2..8),
        ) {
            let mut at = [0.0, 0.0];
            let curve: Vec<[f64; 2]> = steps
                .iter()
                .map(|(x, y)| {
                    at = [at[0] + x, at[1] + y];
                    at
                })
                .collect();
            let mut energies = energies;
            energies.sort_by(f64::total_cmp);
            let rank = |found: Needed| match found {
                Needed::Below(_) => (0, 0.0),
                Needed::At(speed) => (1, speed),
                Needed::Above(_) => (2, 0.0),
            };
            for pair in energies.windows(2) {
                let [a, b] = [pair[0], pair[1]].map(|energy| rank(speed_for(&curve, energy)));
                prop_assert!(a.0 < b.0 || (a.0 == b.0 && a.1 <= b.1 + 1e-12), "{a:?} {b:?}");
            }
        }
    }
}
