//! The gusts of one draw.

use crate::{
    math::hypot,
    sampling::{Domain, Stream},
    scenario::{GustSize, Turbulence},
    world::{self, Gusts, MeanWind},
};
use glam::DVec3;

/// The gusts that a flight from this place meets in this mean wind.
///
/// They are a function of the row and of nothing else, so that a row that is
/// flown again, moved by the rare-event search or taken from a designed sample
/// meets its own gusts: the history after the first gust comes from random
/// numbers whose seed is the bits of the input drawn by lot.
///
/// `row`: the draw's values, one per input, SI.
pub(super) fn gusts(
    turbulence: &Turbulence,
    row: &[f64],
    wind: &MeanWind,
    from: DVec3,
) -> Option<Gusts> {
    let mean = wind.at(from.z);
    let (across, upwards) = (row[turbulence.across.0], row[turbulence.upwards.0]);
    let size = match turbulence.size {
        GustSize::ByTerrain => {
            world::Turbulence { across, upwards, ..world::Turbulence::over(wind.terrain, from.z)? }
        }
        GustSize::Told { intensity, scale } => {
            // The deviation in m/s is the same at every height.
            let (told, here) = (hypot(wind.x, wind.y), hypot(mean[0], mean[1]));
            let ratio = if here > 0.0 { told / here } else { 0.0 };
            let intensity = row[intensity.0] * ratio;
            world::Turbulence { intensity, scale: row[scale.0], across, upwards }
        }
    };
    let stream = Stream::new(row[turbulence.later.0].to_bits(), Domain::GUST);
    let first = turbulence.at_release.map(|id| row[id.0]);
    Some(Gusts::new(size, mean, from, first, |number| stream.uniform(0, number)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        chain::Claim,
        engine::{Draws, Rows},
        scenario::{Terrain, parse},
        world::AirNow,
    };
    use std::path::Path;

    const SHEET: &str = "\
claim: A sheet in a gusty wind lands on a pane.
air: {wind: {speed: 20 m/s, towards: 30 deg, height: 10 m, terrain: open, turbulence: GUSTS}}
object: {shape: {plate: {length: 1.2 m, width: 0.8 m, thickness: 12 mm}}, mass: 9 kg}
release: {blown: {height: 4 m}}
target:
  stands: {at: 30 m}
  faces: {pane: {centre: [0 m, 0 m, 1 m], width: 1 m, height: 1 m, aim: true}}
chain: [released, reaches, strikes]
";

    fn claim(gusts: &str) -> Claim {
        let scenario = parse(&SHEET.replace("GUSTS", gusts), Path::new(""));
        Claim::new(scenario.unwrap_or_else(|problems| panic!("{problems:#?}")))
    }

    /// The air of the first draws of a seed.
    fn airs(claim: &Claim, count: u64) -> Vec<AirNow> {
        let draws = Draws::new(&claim.scenario().inputs, 3, &[]);
        let mut rows = Rows::default();
        draws.fill(0..count, &mut rows);
        let width = claim.scenario().inputs.len();
        rows.values.chunks_exact(width).map(|row| claim.air(row)).collect()
    }

    /// The gust at the release, in m/s along the wind.
    fn gust(air: &AirNow, time: f64) -> f64 {
        gusts(air, time)[0]
    }

    /// All three, in m/s: along the wind, across it, upwards.
    fn gusts(air: &AirNow, time: f64) -> [f64; 3] {
        let at = DVec3::new(0.0, 0.0, 4.0);
        let (wind, mean) = (air.wind_at(at, time), air.wind.at(4.0));
        let (x, y, root) = (wind.x - mean[0], wind.y - mean[1], 0.75_f64.sqrt());
        [x * root + y * 0.5, y * root - x * 0.5, wind.z]
    }

    /// Source: EN 1991-1-4: the deviation does not change with height, so that
    /// at 4 m it is Iv(10) U(10) = 0.18874 · 20 m/s, told or by terrain; and the
    /// correlation over a lag is exp(-lag U / L), L by terrain
    /// 300 (4/200)^(0.67 + 0.05 ln 0.05) m. Limits: 5 standard errors (1 in 1.7
    /// million each).
    #[test]
    fn draws_have_the_deviation_and_memory_of_the_standard() {
        let count = 20_000_u32;
        let speed = 20.0 * libm::log(4.0 / 0.05) / libm::log(10.0 / 0.05);
        let scale = 300.0 * libm::pow(4.0 / 200.0, 0.67 + 0.05 * libm::log(0.05));
        for (words, memory) in
            [("by_terrain", scale / speed), ("{intensity: 18.874 %, scale: 60 m}", 60.0 / speed)]
        {
            let airs = airs(&claim(words), u64::from(count));
            let mean = |find: &dyn Fn(&AirNow) -> f64| {
                airs.iter().map(find).sum::<f64>() / f64::from(count)
            };
            let variance = (0.188_74_f64 * 20.0).powi(2);
            let limit = 5.0 * (2.0 / f64::from(count)).sqrt();
            for time in [0.0, 3.0] {
                let found = mean(&|air| gust(air, time).powi(2)) / variance;
                assert!((found - 1.0).abs() < limit, "{words} {time}: {found}");
            }
            for lag in [0.5, 2.0] {
                let found = mean(&|air| gust(air, 0.0) * gust(air, lag)) / variance;
                let wanted = libm::exp(-lag / memory);
                assert!((found - wanted).abs() < limit + 0.0064, "{words} {lag}: {found} {wanted}");
            }
        }
    }

    /// Source: IEC 61400-1 (second-hand): across 0.8 of along, upwards 0.5; as told
    /// where they are told. Limits: 5 standard errors (1 in 1.7 million each).
    #[test]
    fn gusts_across_and_upwards_are_as_told_or_by_the_standard() {
        let count = 20_000_u32;
        let limit = 5.0 * (2.0 / f64::from(count)).sqrt();
        for (words, ratios) in [
            ("by_terrain", [0.8, 0.5]),
            ("{intensity: 18.874 %, scale: 60 m}", [0.8, 0.5]),
            ("{intensity: 18.874 %, scale: 60 m, across: 0.6, upwards: 0}", [0.6, 0.0]),
        ] {
            let airs = airs(&claim(words), u64::from(count));
            for time in [0.0, 2.0] {
                let square = |i: usize| {
                    let sum: f64 = airs.iter().map(|air| gusts(air, time)[i].powi(2)).sum();
                    sum / f64::from(count) / (0.188_74_f64 * 20.0).powi(2)
                };
                for (i, ratio) in [(1, ratios[0]), (2, ratios[1])] {
                    let wanted = ratio * ratio;
                    let found = square(i);
                    assert!(
                        (found - wanted).abs() <= limit * wanted,
                        "{words} {i} {time}: {found}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_same_row_meets_the_same_gusts_and_another_lot_others() {
        let claim = claim("by_terrain");
        let inputs = &claim.scenario().inputs;
        let mut row = Draws::new(inputs, 1, &[]).middle();
        let (one, again) = (claim.air(&row), claim.air(&row));
        assert_eq!(one, again);
        // Between: the same first gust, another history.
        row[inputs.find("air.wind.turbulence.later").unwrap().0] = 0.25;
        let other = claim.air(&row);
        assert!((gust(&one, 0.0) - gust(&other, 0.0)).abs() < 1e-12);
        assert!((gust(&one, 1.0) - gust(&other, 1.0)).abs() > 1e-3);
    }

    #[test]
    fn gusts_move_no_other_input() {
        let with = claim("by_terrain");
        let steady =
            SHEET.replace(", turbulence: GUSTS", "").replace("20 m/s", "{range: [9 m/s, 20 m/s]}");
        let gusty = steady.replace("terrain: open", "terrain: open, turbulence: by_terrain");
        let speeds = |text: &str| {
            let scenario = parse(text, Path::new("")).unwrap();
            let place = scenario.inputs.find("air.wind.speed").unwrap().0;
            let mut rows = Rows::default();
            Draws::new(&scenario.inputs, 8, &[]).fill(0..50, &mut rows);
            let width = scenario.inputs.len();
            rows.values.chunks_exact(width).map(|row| row[place].to_bits()).collect::<Vec<_>>()
        };
        assert_eq!(speeds(&steady), speeds(&gusty));
        assert_eq!(with.scenario().air.wind.as_ref().map(|wind| wind.terrain), Some(Terrain::Open));
    }
}
