//! A flight does not see its neighbours, and processors agree.

use super::{
    List, Logbook,
    bodies::{each_shape, flight, the, windy},
    flown, moving,
};
use crate::{
    body::{Body, Surface},
    flight::{Family, Flight, Plane, Settings, State, Watch, fly},
    world::MeanWind,
    world::Terrain,
};
use glam::{DQuat, DVec3};

/// A number in 0..1 that looks random.
pub(super) fn jumble(draw: u64, place: u64) -> f64 {
    let mut x =
        draw.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ place.wrapping_mul(0xd1b5_4a32_d192_ed03);
    x ^= x >> 31;
    x = x.wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x ^= x >> 27;
    x = x.wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^= x >> 31;
    (x >> 11) as f64 / (1u64 << 53) as f64
}

/// Flights of one body, all different, that end at a plane, at the ground or
/// at their deadlines.
pub(super) fn variety(body: Body, count: u64, terrain: Terrain) -> Vec<Flight> {
    (0..count)
        .map(|draw| {
            let at = |place| jumble(draw, place);
            let wind = MeanWind::new(12.0 * at(1), 6.0 * at(2), 10.0, terrain);
            let turn = DVec3::new(at(3), at(4), at(5)) - 0.5;
            let start = State {
                attitude: DQuat::from_scaled_axis(6.0 * turn),
                rates: 8.0 * (DVec3::new(at(6), at(7), at(8)) - 0.5),
                ..moving([0.0, 0.0, 2.5], [25.0 + 6.0 * (at(9) - 0.5), at(10), 4.0 * at(11)])
            };
            let plane = Plane { normal: DVec3::X, offset: 20.0, rate: -3.0 * at(12) };
            Flight {
                draw,
                watch: Watch { zone: None, plane: Some(plane), every_step: false },
                ..flight(body, windy(wind), start, 0.2 + 2.0 * at(13))
            }
        })
        .collect()
}

/// Every number that came out, by draw.
pub(super) fn bits(log: &Logbook) -> Vec<(u64, Vec<u64>)> {
    let row = |time: f64, state: &State| {
        [time].into_iter().chain(state.to_array()).map(f64::to_bits).collect::<Vec<_>>()
    };
    let crossings = log.crossings.iter().map(|(draw, time, state)| (*draw, row(*time, state)));
    let ends = log.ends.iter().map(|(draw, _, last)| (*draw, row(last.time, &last.state)));
    let mut all: Vec<_> = crossings.chain(ends).collect();
    all.sort();
    all
}

#[test]
fn a_flight_alone_and_in_company_has_the_same_bits() {
    for family in Family::available() {
        let settings = Settings { family, ..Settings::default() };
        for terrain in [Terrain::Uniform, Terrain::Suburb] {
            let sphere = the("sphere");
            // What curves when it spins is a model of its own.
            let ball = ("ball", Body { surface: Surface::Felt, ..sphere });
            for (name, body) in each_shape().into_iter().chain([ball]) {
                let flights = variety(body, 60, terrain);
                let together = bits(&flown(flights.clone(), &settings));
                assert_eq!(together.len(), 60);
                let alone: Vec<_> = flights
                    .into_iter()
                    .flat_map(|flight| bits(&flown(vec![flight], &settings)))
                    .collect();
                assert!(together == alone, "{name}, {terrain:?}, {}", family.name());
            }
        }
    }
}

/// A flight that fails (its numbers overflow) must not spoil the next one in
/// its seat.
#[test]
fn a_failed_flight_leaves_no_trace() {
    let body = the("rod");
    let good = variety(body, 40, Terrain::Uniform);
    let mut mixed = Vec::new();
    for (i, flight) in good.iter().enumerate() {
        let broken = State { rates: DVec3::splat(1e200), ..flight.start };
        mixed.push(Flight { draw: 1000 + i as u64, start: broken, ..flight.clone() });
        mixed.push(flight.clone());
    }
    let log = flown(mixed, &Settings::default());
    let failed = log.ends.iter().filter(|(_, ending, _)| *ending == crate::flight::Ending::Failed);
    assert_eq!(failed.count(), 40);
    let kept: Vec<_> = bits(&log).into_iter().filter(|(draw, _)| *draw < 1000).collect();
    assert!(kept == bits(&flown(good, &Settings::default())));
}

/// Limit: the error budget, 1 mm. Rounding differs, and a tumbling sheet
/// magnifies it until step sizes differ too.
#[test]
fn processor_families_agree_within_the_budget() {
    for (name, body) in each_shape() {
        let flights = variety(body, 40, Terrain::Open);
        let mut logs = Family::available().map(|family| {
            let settings = Settings { family, ..Settings::default() };
            let mut log = flown(flights.clone(), &settings);
            log.crossings.sort_by_key(|(draw, ..)| *draw);
            log.crossings
        });
        let best = logs.next().unwrap();
        for other in logs {
            assert_eq!(best.len(), other.len());
            let apart =
                best.iter().zip(&other).map(|(a, b)| (a.2.position - b.2.position).length());
            let worst = apart.fold(0.0, f64::max);
            assert!(worst < 1e-3, "{name}: {worst}");
        }
    }
}

#[test]
fn an_empty_source_takes_no_work() {
    let work = fly(&Settings::default(), &mut List(vec![].into_iter()), &mut Logbook::default());
    assert_eq!(work, crate::flight::Work::default());
}
