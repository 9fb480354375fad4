//! Against throws whose landing places are known in closed form.

use super::*;
use crate::{
    engine::{Progress, Unwatched},
    flight::GRAVITY,
    scenario,
};
use std::{
    path::Path,
    sync::atomic::{AtomicU64, Ordering},
};

/// Thrown level without air from 10 m: it lands where speed and time say.
fn level(speed: &str, held: &str, more: &str) -> Claim {
    let text = format!(
        "claim: a test\nobject: {{shape: {{sphere: {{diameter: 2 cm}}}}, mass: 1 kg, drag_factor: 0}}\n\
         release: {{{held}: {{height: 10 m, {speed}}}}}\n\
         target: {{stands: {{at: 4 m}}, faces: {{roof: {{centre: [0 m, 0 m, 3 m], width: 50 m, \
         height: 50 m, rake: 90 deg, aim: true}}}}}}\nchain: [released, strikes]\n{more}"
    );
    Claim::new(scenario::parse(&text, Path::new(".")).unwrap())
}

fn ask(one_in: &[f64]) -> Ask {
    Ask { seed: 1, flights: 20_000, one_in: one_in.to_vec(), search: true }
}

/// Source: a fall of 10 m less the radius takes √(2·9.99/g); the speed is
/// normal, so distances are, with the handbook's percentage points 1.281552,
/// 3.090232 and 4.753424. The roof in the way must not stop it.
#[test]
fn a_throw_without_air_lands_where_its_speed_says() {
    let claim = level("speed: {normal: {mean: 20 m/s, sd: 2 m/s}}", "launched", "");
    let found = flown(&claim, &ask(&[10.0, 1e3, 1e6]), &Unwatched).unwrap();
    let time = (2.0 * 9.99 / GRAVITY).sqrt();
    assert_eq!(found.loose.k, 20_000);
    assert!((found.edge - 0.01).abs() < 1e-12);
    let forward = found.reach(Measure::Forward).unwrap();
    for (exceeded, z) in forward.exceeded.iter().zip([1.281_552, 3.090_232, 4.753_424]) {
        let known = (20.0 + 2.0 * z) * time + 0.01;
        let [low, high] = exceeded.interval.map(Option::unwrap);
        // 95 % intervals of one fixed seed.
        assert!(low < known && known < high, "{known} not in {exceeded:?}");
        assert!((exceeded.distance.unwrap() / known - 1.0).abs() < 0.02);
    }
    assert_eq!(forward.exceeded[0].how, How::Counted);
    assert_eq!(forward.exceeded[2].how, How::Searched);
    let sideways = found.reach(Measure::Sideways).unwrap();
    assert!((sideways.farthest - 0.01).abs() < 1e-9, "it has no reason to leave the line");
    // ½ v² with the speed at the ground.
    let fall = 2.0 * GRAVITY * 9.99;
    assert!((found.energy[1] - 0.5 * (400.0 + fall)).abs() < 2.0);
    assert!(found.share_above(0.5 * (400.0 + fall)).estimate > 0.49);
    assert_eq!((found.in_air, found.failed), (0, 0));
}

/// Source: as above, a uniform speed: nothing goes farther than its end.
#[test]
fn the_search_finds_the_end_of_what_there_is() {
    let claim = level("speed: {range: [10 m/s, 20 m/s]}", "launched", "");
    let found = flown(&claim, &ask(&[1e6]), &Unwatched).unwrap();
    let farthest = found.reach(Measure::Away).unwrap().exceeded[0].distance.unwrap();
    let end = 20.0 * (2.0 * 9.99 / GRAVITY).sqrt() + 0.01;
    assert!(farthest <= end + 1e-3 && farthest > 0.9999 * end, "{farthest} of {end}");
}

/// Shares are of what comes loose: held by its own weight, a sheet
/// or a ball lifts from ½ ρ U² C A = m g on, and only those flights count.
#[test]
fn only_what_comes_loose_counts() {
    let claim = level(
        "held: {times_weight: 1, lift_coefficient: 10}",
        "blown",
        "air: {wind: {speed: {range: [40 m/s, 100 m/s]}, terrain: uniform}}",
    );
    let asked = Ask { search: false, ..ask(&[10.0]) };
    let found = flown(&claim, &asked, &Unwatched).unwrap();
    let area = std::f64::consts::FRAC_PI_4 * 4e-4;
    let lift = (2.0 * GRAVITY / (1.225 * 10.0 * area)).sqrt();
    let share = (100.0 - lift) / 60.0;
    assert!((found.loose.estimate - share).abs() < 0.02, "{} is not {share}", found.loose.estimate);
    assert_eq!(found.density.flights, found.loose.k);
}

#[test]
fn what_never_comes_loose_has_no_map() {
    let claim = level(
        "held: {times_weight: 1e5}",
        "blown",
        "air: {wind: {speed: 10 m/s, terrain: uniform}}",
    );
    assert!(flown(&claim, &ask(&[10.0]), &Unwatched).is_none());
}

/// Wants to stop once so many flights are flown.
struct Until {
    most: u64,
    flown: AtomicU64,
}

impl Progress for Until {
    fn flown(&self, flights: u64) {
        self.flown.fetch_add(flights, Ordering::Relaxed);
    }

    fn stop(&self) -> bool {
        self.flown.load(Ordering::Relaxed) >= self.most
    }
}

fn stopped(claim: &Claim, most: u64) -> Option<Exclusion> {
    let ask = Ask { flights: 100_000, ..ask(&[10.0, 1e6]) };
    flown(claim, &ask, &Until { most, flown: AtomicU64::new(0) })
}

/// Source: what is stopped in the search holds the count of the same flights
/// when nothing is searched, to the bit; nothing of the search is told.
#[test]
fn a_search_that_is_stopped_leaves_what_was_counted() {
    let claim = level("speed: {normal: {mean: 20 m/s, sd: 2 m/s}}", "launched", "");
    let found = stopped(&claim, 101_000).unwrap();
    let plain = Ask { flights: 100_000, search: false, ..ask(&[10.0, 1e6]) };
    let counted = flown(&claim, &plain, &Unwatched).unwrap();
    assert!(found.partial && !counted.partial);
    assert_eq!((found.flights, found.searched), (100_000, 0));
    assert_eq!(found.reaches, counted.reaches);
    assert_eq!(found.reaches[0].exceeded[1].how, How::TooFew);
}

#[test]
fn what_is_stopped_in_its_flights_tells_of_those_that_were_flown() {
    let speed = "speed: {normal: {mean: 20 m/s, sd: 2 m/s}}";
    let touched = stopped(&level(speed, "launched", ""), 1).unwrap();
    assert!(touched.partial && touched.flights > 0 && touched.flights < 100_000);
    let bouncing = level(speed, "launched", "ground: asphalt\n");
    // Before any was followed to rest, in the midst of that, and before all.
    let first = stopped(&bouncing, 100_000).unwrap();
    assert!(!first.followed && first.flights == 100_000 && first.partial);
    let some = stopped(&bouncing, 100_001).unwrap();
    assert!(some.followed && some.flights < 100_000 && some.partial);
    assert_eq!(some.loose.n, some.flights);
    assert!(stopped(&bouncing, 0).is_none());
}

/// A sheet that is let go flat, ours; `pose`: what is told of how it is held.
fn sheet(pose: &str, more: &str) -> Claim {
    let text = format!(
        "claim: a test\nobject: {{shape: {{plate: {{length: 2.4 m, width: 1.2 m, thickness: 12 mm}}}}, \
         mass: 20 kg}}\nrelease: {{dropped: {{height: 30 m{pose}}}}}\n\
         target: {{stands: {{at: 4 m}}, faces: {{board: {{centre: [0 m, 0 m, 3 m], width: 1 m, \
         height: 1 m, aim: true}}}}}}\nchain: [released, strikes]\n{more}"
    );
    Claim::new(scenario::parse(&text, Path::new(".")).unwrap())
}

fn away(found: &Exclusion) -> f64 {
    found.reach(Measure::Away).unwrap().exceeded[0].distance.unwrap()
}

/// Dropped exactly flat it lands below: half its diagonal, 1.34 m. Nobody
/// stands there on the strength of that.
#[test]
fn a_sheet_let_go_flat_is_not_kept_to_its_own_diagonal() {
    let asked = Ask { flights: 2000, search: false, ..ask(&[10.0]) };
    let flat = sheet("", "");
    assert!(away(&flown(&flat, &asked, &Unwatched).unwrap()) < 1.4);
    let found = exclusion(&flat, &asked, &Unwatched).unwrap();
    assert!(away(&found) > 5.0, "{}", away(&found));
    assert_eq!(found.opened.len(), 6);
    assert!(away(found.as_told.as_ref().unwrap()) < 1.4, "both are there to be shown");
    // Told flat, it is questioned all the same.
    let told = exclusion(
        &sheet(
            ", nose_up: 0 deg, nose_left: 0 deg, roll: 0 deg, \
        spin: {x: 0 rpm, y: 0 rpm, z: 0 rpm}",
            "",
        ),
        &asked,
        &Unwatched,
    )
    .unwrap();
    assert!(told.opened.iter().all(|one| one.told));
    assert!(away(&told) > 3.0, "{}", away(&told));
}

/// The answer is nowhere narrower than as told, whatever is told.
#[test]
fn no_distance_is_nearer_than_as_told() {
    let asked = Ask { flights: 1000, search: false, ..ask(&[3.0, 10.0]) };
    let windy = "air: {wind: {speed: 8 m/s}}\n";
    for (pose, more) in [
        ("", ""),
        ("", windy),
        (", nose_up: {range: [20 deg, 40 deg]}", windy),
        (", nose_up: 90 deg, spin: 60 rpm", ""),
    ] {
        let found = exclusion(&sheet(pose, more), &asked, &Unwatched).unwrap();
        let told = found.as_told.as_ref().unwrap();
        for (wide, told) in found.reaches.iter().zip(&told.reaches) {
            assert!(wide.farthest >= told.farthest);
            for (wide, told) in wide.exceeded.iter().zip(&told.exceeded) {
                assert!(wide.distance >= told.distance, "{pose} {wide:?} {told:?}");
            }
        }
        let squares =
            |found: &Exclusion| found.density.per_square_metre(found.density.densest().unwrap());
        assert!(found.thickest().unwrap().2 >= squares(told).max(squares(&found)));
    }
}
