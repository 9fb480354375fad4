//! The mean wind and its profile with height.
//!
//! Assumes: a steady horizontal wind whose speed depends on height alone; what
//! gusts add to it is [`Gusts`]', and what a carrier drags along is [`Wake`]'s.
//! Profile: EN 1991-1-4, logarithmic above `z_min`, constant below it.
//! Valid: up to 200 m (the range of the standard). Ignores: buildings and hills.

use crate::{
    lane::{Curve, Lane, Processor, per_flight},
    math::{cos, ln, sin},
    note::{Kind, Note, Subject},
    world::{AirNow, Gusts, Terrain, Wake, WakeCurves, gusts::GustLanes},
};
use core::fmt::Debug;
use std::sync::LazyLock;

/// Its section of the page of trust.
const SUBJECT: Subject = Subject { key: "wind", claims: "How the mean wind grows with height" };

/// What it says of itself.
pub const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "wind",
    how: "mean wind with a logarithmic profile for the terrain",
    source: "EN 1991-1-4, section 4 (terrain categories, second-hand; category 0 from memory)",
    kind: Kind::Memory,
    range: "open ground of that kind upwind, up to 200 m",
    leaves_out: "eddies behind buildings and vehicles",
};

/// Roughness length and height below which the profile is constant, in m;
/// `None` for the uniform wind.
///
/// Source: EN 1991-1-4, table 4.1 (category 0 from memory).
#[must_use]
pub(super) fn roughness(terrain: Terrain) -> Option<[f64; 2]> {
    match terrain {
        Terrain::Uniform => None,
        Terrain::Sea => Some([0.003, 1.0]),
        Terrain::Flat => Some([0.01, 1.0]),
        Terrain::Open => Some([0.05, 2.0]),
        Terrain::Suburb => Some([0.3, 5.0]),
        Terrain::Town => Some([1.0, 10.0]),
    }
}

/// Speed at `height` (m) as a multiple of the speed at `reference` (m), over
/// this ground. Source: EN 1991-1-4, 4.3.2 (the factor `k_r` cancels).
fn ratio([z0, lowest]: [f64; 2], height: f64, reference: f64) -> f64 {
    ln(height.max(lowest) / z0) / ln(reference.max(lowest) / z0)
}

/// One flight's mean wind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanWind {
    /// Along x at the reference height, in m/s.
    pub x: f64,
    /// Along y at the reference height, in m/s.
    pub y: f64,
    /// Reference height, in m, > 0.
    pub height: f64,
    /// What makes the profile. The same for all flights of a run.
    pub terrain: Terrain,
}

impl MeanWind {
    /// A wind of `speed` (m/s) at `height` (m) that blows `towards` an angle
    /// from x towards y (rad).
    #[must_use]
    pub fn new(speed: f64, towards: f64, height: f64, terrain: Terrain) -> Self {
        Self { x: speed * cos(towards), y: speed * sin(towards), height, terrain }
    }

    /// No wind.
    #[must_use]
    pub fn none() -> Self {
        Self { x: 0.0, y: 0.0, height: 10.0, terrain: Terrain::Uniform }
    }

    /// Components along x and y at `height` (m) above the ground, in m/s.
    #[must_use]
    pub fn at(&self, height: f64) -> [f64; 2] {
        let ratio =
            roughness(self.terrain).map_or(1.0, |ground| ratio(ground, height, self.height));
        [self.x * ratio, self.y * ratio]
    }
}

/// A wind as the step loop sees it: numbers per flight, and what all flights
/// of a run share.
pub trait WindModel: Copy + Debug {
    /// The numbers of a block of flights.
    type Lanes<S: Processor>: Copy + Debug;
    /// What the flights share.
    type Shared: Copy;

    /// This model's numbers for an air.
    fn of(air: &AirNow) -> Self;
    /// What all flights share that fly in such an air, over the same ground.
    fn shared(air: &AirNow) -> Self::Shared;
    /// The same numbers for every flight of a block.
    fn spread<S: Processor>(self, simd: S) -> Self::Lanes<S>;
    /// Puts one flight's numbers in its place.
    fn put<S: Processor>(self, lanes: &mut Self::Lanes<S>, lane: usize);
    /// The wind at a place (m) and a time (s), in m/s.
    fn velocity<S: Processor>(
        shared: Self::Shared,
        lanes: &Self::Lanes<S>,
        place: [Lane<S>; 3],
        time: Lane<S>,
    ) -> [Lane<S>; 3];
}

per_flight! {
    /// The wind that multiplies the profile, in m/s.
    pub struct Wind {
        /// Along x.
        x,
        /// Along y.
        y,
    }
}

/// ln(z/z0) of each ground by height, from 1/2 m to 1 km, as multiples of the
/// value at 10 m. Every `z_min` is the edge of a cell, so that the kink there
/// is kept.
static PROFILES: LazyLock<[Curve; 5]> = LazyLock::new(|| {
    [Terrain::Sea, Terrain::Flat, Terrain::Open, Terrain::Suburb, Terrain::Town]
        .map(|terrain| Curve::new(-1, 10, |z| over(terrain, z)))
});

/// Speed at `height` over the speed at 10 m.
fn over(terrain: Terrain, height: f64) -> f64 {
    roughness(terrain).map_or(1.0, |ground| ratio(ground, height, 10.0))
}

/// The mean wind and its profile. Over uniform ground there is no profile to
/// look up: one branch that always goes the same way.
#[derive(Clone, Copy, Debug)]
pub struct Profiled(Wind);

impl WindModel for Profiled {
    type Lanes<S: Processor> = Wind<Lane<S>>;
    type Shared = Option<&'static Curve>;

    fn of(air: &AirNow) -> Self {
        let wind = &air.wind;
        let scale = 1.0 / over(wind.terrain, wind.height);
        Self(Wind { x: wind.x * scale, y: wind.y * scale })
    }

    fn shared(air: &AirNow) -> Self::Shared {
        let place = match air.wind.terrain {
            Terrain::Uniform => return None,
            Terrain::Sea => 0,
            Terrain::Flat => 1,
            Terrain::Open => 2,
            Terrain::Suburb => 3,
            Terrain::Town => 4,
        };
        Some(&PROFILES[place])
    }

    #[inline(always)]
    fn spread<S: Processor>(self, simd: S) -> Self::Lanes<S> {
        self.0.spread(simd)
    }

    #[inline(always)]
    fn put<S: Processor>(self, lanes: &mut Self::Lanes<S>, lane: usize) {
        self.0.put(lanes, lane);
    }

    #[inline(always)]
    fn velocity<S: Processor>(
        curve: Self::Shared,
        lanes: &Self::Lanes<S>,
        [_, _, height]: [Lane<S>; 3],
        _: Lane<S>,
    ) -> [Lane<S>; 3] {
        let level = height.of(0.0);
        let Some(curve) = curve else { return [lanes.x, lanes.y, level] };
        let ratio = curve.at(height);
        [lanes.x * ratio, lanes.y * ratio, level]
    }
}

/// The mean wind, its profile, and what disturbs it: gusts, a wake, or both. A
/// loop of its own: their code slows down even a loop in which a branch leaves
/// them out (measured with gusts: 2 to 5 %).
#[derive(Clone, Copy, Debug)]
pub struct Disturbed {
    mean: Profiled,
    gusts: Option<Gusts>,
    wake: Option<Wake>,
}

/// What flights in disturbed air share. The branches on it always go the same
/// way in one run.
#[derive(Clone, Copy, Debug)]
pub struct DisturbedShared {
    profile: Option<&'static Curve>,
    gusts: bool,
    wake: Option<&'static WakeCurves>,
}

/// The disturbed air of a block of flights.
#[derive(Clone, Copy, Debug)]
pub struct DisturbedLanes<S: Processor> {
    mean: Wind<Lane<S>>,
    gusts: GustLanes<S>,
    wake: Wake<Lane<S>>,
}

impl WindModel for Disturbed {
    type Lanes<S: Processor> = DisturbedLanes<S>;
    type Shared = DisturbedShared;

    fn of(air: &AirNow) -> Self {
        Self { mean: Profiled::of(air), gusts: air.gusts, wake: air.wake }
    }

    fn shared(air: &AirNow) -> Self::Shared {
        DisturbedShared {
            profile: Profiled::shared(air),
            gusts: air.gusts.is_some(),
            wake: air.wake.map(|_| WakeCurves::get()),
        }
    }

    /// Undisturbed: gusts and wakes are put in flight by flight.
    #[inline(always)]
    fn spread<S: Processor>(self, simd: S) -> Self::Lanes<S> {
        DisturbedLanes {
            mean: self.mean.spread(simd),
            gusts: GustLanes::none(simd),
            wake: Wake::none(simd),
        }
    }

    #[inline(always)]
    fn put<S: Processor>(self, lanes: &mut Self::Lanes<S>, lane: usize) {
        self.mean.put::<S>(&mut lanes.mean, lane);
        if let Some(gusts) = &self.gusts {
            lanes.gusts.put(lane, gusts);
        }
        if let Some(wake) = self.wake {
            wake.put(&mut lanes.wake, lane);
        }
    }

    #[inline(always)]
    fn velocity<S: Processor>(
        shared: Self::Shared,
        lanes: &Self::Lanes<S>,
        place: [Lane<S>; 3],
        time: Lane<S>,
    ) -> [Lane<S>; 3] {
        let mut wind = Profiled::velocity(shared.profile, &lanes.mean, place, time);
        let [x, y, _] = place;
        if shared.gusts {
            let gust = lanes.gusts.at([x, y], time);
            wind = [wind[0] + gust[0], wind[1] + gust[1], gust[2]];
        }
        if let Some(curves) = shared.wake {
            let drawn = lanes.wake.at(curves, place, time);
            wind = [wind[0] + drawn[0], wind[1] + drawn[1], wind[2]];
        }
        wind
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::world::Air;
    use pulp::Scalar;

    const GROUNDS: [Terrain; 5] =
        [Terrain::Sea, Terrain::Flat, Terrain::Open, Terrain::Suburb, Terrain::Town];

    /// Source: EN 1991-1-4, roughness factors cr = kr ln(z/z0), kr = 0.19
    /// (z0/0.05)^0.07: category II at 10 m 1.00668, at 2 m 0.70089.
    #[test]
    fn open_country_at_two_metres_has_the_ratio_of_the_standard() {
        let wind = MeanWind::new(10.0, 0.0, 10.0, Terrain::Open);
        assert!((wind.at(2.0)[0] / 10.0 - 0.700_89 / 1.006_68).abs() < 1e-5);
        assert!((wind.at(0.3)[0] - wind.at(2.0)[0]).abs() < 1e-12);
    }

    /// Source: log law, z0 0.03 m: U2/U10 0.722947, U30/U10 1.189118.
    #[test]
    fn the_log_law_has_its_textbook_ratios() {
        assert!((ratio([0.03, 0.1], 2.0, 10.0) - 0.722_947).abs() < 1e-6);
        assert!((ratio([0.03, 0.1], 30.0, 10.0) - 1.189_118).abs() < 1e-6);
    }

    #[test]
    fn the_step_loop_sees_the_same_wind_within_a_micron_per_second() {
        for terrain in GROUNDS {
            let wind = MeanWind::new(20.0, 0.7, 4.0, terrain);
            let air = AirNow { wind, ..AirNow::still(Air::vacuum()) };
            let lanes = Profiled::of(&air).spread(Scalar);
            let (shared, zero) = (Profiled::shared(&air), Lane::splat(Scalar, 0.0));
            let mut z = 0.01;
            while z < 900.0 {
                let [x, y, _] = Profiled::velocity(shared, &lanes, [zero, zero, zero.of(z)], zero);
                let wanted = wind.at(z);
                let error = (x.get(0) - wanted[0]).abs().max((y.get(0) - wanted[1]).abs());
                assert!(error < 1e-5, "{terrain:?} {z}: {error}");
                z *= 1.01;
            }
        }
    }
}
