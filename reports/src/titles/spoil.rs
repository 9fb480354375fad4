//! Ways to spoil a record, so that what was true of it is not any more.

use crate::{Evidence, sample};
use longodds_sim::{
    findings::{Chance, Findings, Spread},
    scenario::Gate,
};

/// Ways to spoil a run: for every title at least one that makes it untrue.
pub(super) fn findings() -> [fn(&mut Findings); 14] {
    [
        other_chance,
        none_held,
        all_held,
        gates_turned,
        stretched,
        fates_turned,
        crossings_turned,
        drivers_turned,
        one_of_each,
        emptied,
        filled,
        only_a_bound,
        started_elsewhere,
        start_turned,
    ]
}

/// Higher up and farther away.
fn started_elsewhere(f: &mut Findings) {
    if let Some(start) = &mut f.start {
        start.at = start.at.map(|v| 1.3 * v + 0.7);
    }
}

/// What was kept is not, and the other way round.
fn start_turned(f: &mut Findings) {
    f.start = match f.start {
        Some(_) => None,
        None => sample::ordinary().start,
    };
}

fn moved(chance: &mut Chance) {
    let p = chance.probability;
    chance.probability = if p > 0.5 { 0.6 * p } else { 1.6 * p + 0.02 };
    chance.held = chance.held / 2 + 3;
    chance.flights += 7;
}

fn other_chance(f: &mut Findings) {
    moved(&mut f.claim);
    for gate in &mut f.gates {
        moved(&mut gate.given_before);
        moved(&mut gate.so_far);
    }
}

pub(super) fn none_held(f: &mut Findings) {
    (f.claim.held, f.claim.probability, f.claim.low) = (0, 0.0, 0.0);
}

fn all_held(f: &mut Findings) {
    (f.claim.held, f.claim.probability, f.claim.high) = (f.claim.flights, 1.0, 1.0);
}

/// What passed stops, and what stopped passes.
fn gates_turned(f: &mut Findings) {
    for gate in &mut f.gates {
        gate.came += 3;
        gate.passed = gate.came - gate.passed;
        gate.given_before.probability = 1.0 - gate.given_before.probability;
    }
}

fn spreads(f: &mut Findings) -> impl Iterator<Item = &mut Spread> {
    let barrier = f.barrier.as_mut().map(|b| [&mut b.demanded, &mut b.resisted]);
    let measured = [&mut f.impact_speed, &mut f.miss_distance, &mut f.obliquity];
    measured.into_iter().flatten().chain(barrier.into_iter().flatten())
}

fn stretched(f: &mut Findings) {
    for spread in spreads(f) {
        spread.quantiles = spread.quantiles.map(|q| 1.2 * q + 0.1);
        spread.max = 1.2 * spread.max + 0.1;
    }
}

fn fates_turned(f: &mut Findings) {
    for flight in &mut f.flights {
        flight.struck = !flight.struck;
        flight.stopped_at = match flight.stopped_at {
            None => Some(Gate::Released),
            Some(_) => None,
        };
        flight.draw += 1_000_000;
    }
    if let Some(way) = &mut f.most_likely {
        way.flight.stopped_at = Some(Gate::Released);
    }
}

fn crossings_turned(f: &mut Findings) {
    for crossing in &mut f.crossings {
        crossing.struck = !crossing.struck;
    }
}

/// The first is last.
fn drivers_turned(f: &mut Findings) {
    for ranking in f.drivers.iter_mut().map(|block| &mut block.ranking) {
        let mut separations: Vec<f64> = ranking.iter().map(|d| d.separation).collect();
        separations.sort_by(f64::total_cmp);
        for (driver, separation) in ranking.iter_mut().zip(separations) {
            (driver.separation, driver.noise) = (separation + 0.1, 0.01);
        }
    }
}

/// What there was of many there is one of.
fn one_of_each(f: &mut Findings) {
    for spread in spreads(f) {
        spread.count = 1;
    }
}

fn emptied(f: &mut Findings) {
    f.flights.clear();
    f.most_likely = None;
    f.crossings.clear();
    f.drivers.clear();
    (f.impact_speed, f.miss_distance, f.obliquity, f.barrier) = (None, None, None, None);
    f.gates.clear();
}

/// What there was nothing of there is.
fn filled(f: &mut Findings) {
    let full = sample::ordinary();
    *f = Findings { faces: f.faces.clone(), show: f.show, ..full };
}

pub(super) fn only_a_bound(f: &mut Findings) {
    f.claim.at_most = true;
    if let Some(barrier) = &mut f.barrier {
        barrier.lower_bound = true;
    }
    for gate in f.gates.iter_mut().filter(|gate| gate.gate == Gate::Perforates) {
        (gate.given_before.at_most, gate.so_far.at_most) = (true, true);
    }
}

/// Ways to spoil what another command found.
pub(super) fn evidence() -> [fn(&mut Evidence); 4] {
    [other_chances, flat_chances, other_settings, other_names]
}

fn shifted(p: &mut f64) {
    *p = if *p > 0.5 { 0.5 * *p } else { 0.5 + 0.4 * *p };
}

fn other_chances(one: &mut Evidence) {
    match one {
        Evidence::Sweep(record) => {
            for chance in record.points.iter_mut().map(|point| &mut point.chance) {
                shifted(&mut chance.probability);
                chance.held = chance.flights / 3;
            }
        }
        Evidence::Map(record) => {
            record.chances.iter_mut().flatten().for_each(|c| shifted(&mut c.probability));
        }
        Evidence::Comparison(record) => shifted(&mut record.as_hard.estimate),
        Evidence::Exclusion(chart) => {
            chart.found.loose.k += 1;
            for one in chart.found.reaches.iter_mut().flat_map(|reach| &mut reach.exceeded) {
                one.one_in *= 3.0;
            }
        }
        Evidence::Judgement(chart) => {
            shifted(&mut chart.model.probability);
            shifted(&mut chart.by_scenario.probability);
            chart.shots.truncate(1);
        }
        Evidence::Calibration(_) | Evidence::Plan(_) => {}
    }
}

fn flat_chances(one: &mut Evidence) {
    match one {
        Evidence::Sweep(record) => {
            record.points.iter_mut().for_each(|point| point.chance.probability = 0.3);
        }
        Evidence::Map(record) => {
            record.chances.iter_mut().flatten().for_each(|chance| chance.probability = 0.3);
        }
        _ => {}
    }
}

fn other_settings(one: &mut Evidence) {
    let more = |v: &mut f64| *v = 1.3 * *v + 0.1;
    match one {
        Evidence::Sweep(record) => {
            record.points.iter_mut().for_each(|point| more(&mut point.value));
            let crossings = record.answers.iter_mut().flat_map(|answer| &mut answer.crossings);
            crossings.for_each(|crossing| more(&mut crossing.value));
            // One setting is no line, and two are.
            let two: Vec<_> = record.points.first().cloned().into_iter().collect();
            if record.points.len() < 2 {
                record.points.extend(two);
            }
        }
        Evidence::Map(record) => {
            record.across.values.iter_mut().for_each(more);
        }
        Evidence::Calibration(chart) => {
            chart.curve.iter_mut().for_each(|point| more(&mut point.setting));
            if let Some(next) = &mut chart.next {
                more(&mut next.setting);
            } else if chart.curve.is_empty() {
                chart.curve = sample::evidence::calibration(0).curve;
            }
        }
        Evidence::Exclusion(chart) => {
            for reach in &mut chart.found.reaches {
                more(&mut reach.farthest);
                reach.exceeded.iter_mut().filter_map(|one| one.distance.as_mut()).for_each(more);
            }
        }
        _ => {}
    }
}

fn other_names(one: &mut Evidence) {
    match one {
        Evidence::Sweep(record) => record.input.push('s'),
        Evidence::Map(record) => record.across.input.push('s'),
        Evidence::Calibration(chart) => chart.rig.push('s'),
        Evidence::Plan(chart) => chart.title.push('s'),
        _ => {}
    }
}
