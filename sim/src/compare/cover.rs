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
    /// Launch speed at which the rig's middle shot has it, in m/s; `None`:
    /// nothing between a quarter and six times the rig's speed does.
    pub speed: Option<f64>,
    /// The same at the ends of the energy's 95 % interval, which comes from
    /// the claim's flights; `None`: beyond the speeds tried.
    pub ends: [Option<f64>; 2],
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
            ends: ends.map(|end| speed_for(&curve, end?)),
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

/// The first speed at which the curve comes up to an energy.
fn speed_for(curve: &[[f64; 2]], energy: f64) -> Option<f64> {
    let wanted = ln(energy);
    let crossed = |pair: &&[[f64; 2]]| pair[0][1] <= wanted && wanted <= pair[1][1];
    let pair = curve.windows(2).find(crossed)?;
    let [[x0, y0], [x1, y1]] = [pair[0], pair[1]];
    let share = if y1 > y0 { (wanted - y0) / (y1 - y0) } else { 0.0 };
    Some(exp(x0 + share * (x1 - x0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Energy goes with the square of the speed: 4 J at 2 m/s.
    #[test]
    fn a_parabola_is_read_backwards() {
        let curve: Vec<_> = (1..=8).map(|v| [ln(f64::from(v)), 2.0 * ln(f64::from(v))]).collect();
        assert!((speed_for(&curve, 4.0).unwrap() - 2.0).abs() < 1e-12);
        assert!((speed_for(&curve, 30.25).unwrap() - 5.5).abs() < 1e-12);
        assert_eq!(speed_for(&curve, 100.0), None);
    }
}
