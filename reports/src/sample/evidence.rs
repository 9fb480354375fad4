//! What other commands would hand to a page, of our own invention.

use crate::{
    Evidence, ExclusionChart,
    chart::{CalibrationChart, Decision, JudgementChart, PlanChart, PlanRow},
};
use longodds_sim::{
    estimate::Proportion,
    findings::{
        CompareFindings, CoverSpeed, CoverSpeeds, Kind, Known, MapFindings, MapSide, MeasureRow,
        Share, Strikes, SweepAnswer, SweepCrossing, SweepFindings, SweepPoint, Swept, VERSION,
    },
    math::exp,
    quantity::Show,
    rig::{
        self,
        calibrate::{Calibration, CurvePoint, NextShot, ShotFit},
        sheet::Sheet,
    },
    trials::{judgement::Estimate, sequential::Sequential},
};
use serde_json::json;

/// A logistic rise from 0 to 1.
fn rise(x: f64) -> f64 {
    1.0 / (1.0 + exp(-x))
}

fn share(p: f64) -> Share {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 1e4")]
    let held = (1e4 * p).round() as u64;
    let half = 1.96 * (p * (1.0 - p) / 1e4).sqrt() + 1e-4;
    let (low, high) = ((p - half).max(0.0), (p + half).min(1.0));
    Share { probability: p, low, high, held, flights: 10_000, open: 0 }
}

fn swept(show: Show) -> Swept {
    Swept { scenario_name: "plywood.yaml".to_owned(), show, seed: 1, flights: 10_000 }
}

pub(crate) fn sweep() -> SweepFindings {
    let point = |i: u32| {
        let value = 6.0 + 2.0 * f64::from(i);
        SweepPoint { value, chance: share(rise(0.5 * (value - 19.0))), gates: Vec::new() }
    };
    SweepFindings {
        kind: Kind::Sweep,
        version: VERSION,
        swept: swept(Show::Si),
        input: "air.wind.speed".to_owned(),
        dimension: "speed".to_owned(),
        told: Some([14.0, 19.0, 24.0]),
        points: (0..15).map(point).collect(),
        not_flown: 0,
        answers: Vec::new(),
    }
}

/// A search with its answers, in mph, for an input with a very long name.
fn searched() -> SweepFindings {
    let answer = |target: f64, value: f64| SweepAnswer {
        target,
        crossings: vec![SweepCrossing {
            value,
            low: Some(value - 0.6),
            high: Some(value + 0.7),
            rising: true,
        }],
        never_reached: None,
        always_exceeded: None,
    };
    let name = "a_barrier_with_quite_an_astonishingly_long_name_that_goes_on_and_on";
    SweepFindings {
        swept: swept(Show::Imperial),
        input: format!("target.faces.{name}.barrier.median"),
        answers: vec![answer(0.01, 9.81), answer(0.5, 19.0), answer(0.99, 28.2)],
        ..sweep()
    }
}

/// Never more than one in a thousand, and told far outside the range.
fn small_chances() -> SweepFindings {
    let mut record = sweep();
    for (point, i) in record.points.iter_mut().zip(0_u32..) {
        point.chance = share(4e-4 * f64::from(i % 3));
    }
    record.told = Some([100.0, 120.0, 140.0]);
    record
}

fn flat(p: f64) -> SweepFindings {
    let mut record = sweep();
    for point in &mut record.points {
        point.chance = share(p);
    }
    record.told = Some([6.0; 3]);
    record
}

pub(crate) fn map() -> MapFindings {
    let side = |input: &str, dimension: &str, values: [f64; 7], told| MapSide {
        input: input.to_owned(),
        dimension: dimension.to_owned(),
        told: Some(told),
        values: values.to_vec(),
    };
    let speeds = [6.0, 10.0, 14.0, 18.0, 22.0, 26.0, 30.0];
    let masses = [8.0, 12.0, 16.0, 20.0, 24.0, 28.0, 32.0];
    let chance = |speed: f64, mass: f64| share(rise(0.5 * (speed - 12.0) - 0.25 * (mass - 8.0)));
    MapFindings {
        kind: Kind::Map,
        version: VERSION,
        swept: swept(Show::Si),
        across: side("air.wind.speed", "speed", speeds, [14.0, 19.0, 24.0]),
        up: side("object.mass", "mass", masses, [19.4, 21.0, 22.6]),
        chances: masses.map(|m| speeds.map(|v| chance(v, m)).to_vec()).to_vec(),
    }
}

/// A map of nothing but one chance, long names, imperial units.
fn flat_map(p: f64) -> MapFindings {
    let mut record = map();
    let long = "of_the_shop_on_the_other_side_of_the_street_beside_the_old_post_office";
    record.swept = swept(Show::Imperial);
    record.across.input = format!("air.wind.{long}.speed");
    record.up.input = format!("object.mass_{long}");
    for chance in record.chances.iter_mut().flatten() {
        *chance = share(p);
    }
    record
}

pub(crate) fn comparison() -> CompareFindings {
    let row = |measure: &str, dimension: &str, claim, rig, difference: [f64; 3]| MeasureRow {
        measure: measure.to_owned(),
        dimension: dimension.to_owned(),
        claim,
        rig,
        difference: Known { estimate: difference[0], low: difference[1], high: difference[2] },
    };
    let cover = |share, energy, speed: Option<f64>| CoverSpeed {
        share,
        energy,
        speed,
        low: speed.map(|v| v - 0.7),
        high: speed.filter(|v| *v < 22.0).map(|v| v + 0.9),
        below: None,
        above: if speed.is_none() { Some(60.0) } else { None },
    };
    CompareFindings {
        kind: Kind::Compare,
        version: VERSION,
        claim_name: "plywood.yaml".to_owned(),
        rig_name: "rig_plywood.yaml".to_owned(),
        show: Show::Si,
        flights: 40_000,
        strikes: Strikes { claim: 4_120, rig: 38_022 },
        as_hard: Known { estimate: 0.62, low: 0.59, high: 0.65 },
        measures: vec![
            row(
                "speed at the strike",
                "speed",
                [9.0, 14.0, 22.0],
                [15.0, 16.0, 17.2],
                [2.0, 1.6, 2.4],
            ),
            row(
                "energy square to the face",
                "energy",
                [40.0, 310.0, 1900.0],
                [380.0, 520.0, 700.0],
                [210.0, 160.0, 260.0],
            ),
            row(
                "path from square on",
                "angle",
                [0.05, 0.4, 1.1],
                [0.05, 0.41, 1.0],
                [0.01, -0.03, 0.05],
            ),
            row(
                "length from square on",
                "angle",
                [0.1, 0.8, 1.5],
                [0.02, 0.07, 0.15],
                [-0.73, -0.8, -0.68],
            ),
        ],
        covers: Some(CoverSpeeds {
            input: "release.launched.speed".to_owned(),
            speeds: vec![
                cover(0.5, 310.0, Some(12.1)),
                cover(0.9, 1_300.0, Some(18.4)),
                cover(0.95, 1_900.0, Some(22.3)),
                cover(0.99, 3_800.0, None),
            ],
        }),
    }
}

fn bare_comparison() -> CompareFindings {
    let mut record = CompareFindings { covers: None, show: Show::Imperial, ..comparison() };
    for row in &mut record.measures {
        (row.claim, row.rig) = ([0.0; 3], [0.0; 3]);
    }
    record
}

pub(crate) fn calibration(shots: usize) -> CalibrationChart {
    let speed = |setting: f64| 9.0 * setting;
    let curve = (1..=20).map(|i| {
        let setting = 0.12 * f64::from(i);
        let v = speed(setting);
        CurvePoint { setting, speed: [0.88 * v, v, 1.12 * v] }
    });
    let shot = |i: usize| {
        let setting = 0.6 + 0.9 * super::unit(i as u64, 0);
        let v = speed(setting) * (0.95 + 0.1 * super::unit(i as u64, 1));
        ShotFit {
            name: format!("shot {}", i + 1),
            setting,
            speed: v,
            expected: [0.9 * v, v, 1.1 * v],
            chance: 0.4,
            fits: i % 7 != 3,
        }
    };
    CalibrationChart {
        rig: "crossbow in the yard".to_owned(),
        setting_name: "pull-back".to_owned(),
        dimension: "length".to_owned(),
        show: Show::Imperial,
        curve: curve.collect(),
        shots: (0..shots).map(shot).collect(),
        next: Some(NextShot {
            setting: 2.0,
            speed: [16.0, 18.0, 20.0],
            chance_within: 0.7,
            tried_to: Some(1.5),
            beyond_tried: true,
            limits_kept: Some(true),
        }),
    }
}

/// Shots at a pane, agreeing with what was thought of it or not.
pub(crate) fn judgement(shots: usize, agree: bool) -> JudgementChart {
    let edges: Vec<f64> = (0..=80).map(|i| 20.0 * exp(0.05 * f64::from(i))).collect();
    let bell = |middle: f64, width: f64| {
        let z = |edge: f64| (longodds_sim::math::ln(edge / middle)) / width;
        edges.windows(2).map(|e| exp(-0.5 * z(e[0]) * z(e[0]))).collect::<Vec<f64>>()
    };
    let blow = |i: usize| {
        let size = 60.0 + 160.0 * super::unit(i as u64, 3);
        (size, size * (0.7 + 0.6 * super::unit(i as u64, 4)) > 150.0)
    };
    let estimate = Estimate::holding;
    JudgementChart {
        show: Show::Imperial,
        dimension: "energy".to_owned(),
        barrier: "shop window".to_owned(),
        scenario_name: "plywood.yaml".to_owned(),
        before: bell(120.0, 0.5),
        after: bell(160.0, 0.2),
        claimed: bell(70.0, 0.4),
        edges: edges.clone(),
        shots: (0..shots).map(blow).collect(),
        model: estimate(0.33, 0.01, 0.9),
        by_scenario: estimate(0.14, 0.003, 0.48),
        by_shots: estimate(0.05, 0.0, 0.3),
        both: agree.then(|| estimate(0.13, 0.002, 0.47)),
        on_camera:
            "At 30 mph, against this shop window, none of our shots went through: that says \
                    nothing of another window."
                .to_owned(),
    }
}

pub(crate) fn plan(rows: usize) -> PlanChart {
    let row = |i: usize| {
        let n = i + 1;
        #[expect(clippy::cast_precision_loss, reason = "a few rows")]
        let share = 1.0 - 0.75 / n as f64;
        PlanRow {
            name: format!("{} shots, {i} events", 17 * n),
            share,
            said: String::new(),
            bill: format!("{} targets, cost {}", 17 * n, 680 * n),
        }
    };
    PlanChart {
        title: "29 shots without an event show that it is rarer than 10 %".to_owned(),
        subtitle: "Chance that each plan shows it.".to_owned(),
        rows: (0..rows).map(row).collect(),
        wanted: Some(0.8),
        decision: None,
    }
}

/// A sequential test of up to so many shots.
fn sequential(largest: u64, low: f64, high: f64) -> PlanChart {
    let test = Sequential::new(low, high, 0.05, 0.1, largest).expect("a plan of our own");
    PlanChart {
        wanted: None,
        decision: Some(Decision {
            low,
            high,
            slope: test.slope,
            accept: test.accept,
            reject: test.reject,
            largest,
        }),
        ..plan(4)
    }
}

/// Where a made-up thing lands, thickest in the middle.
fn debris(show: Show, flights: u64, known: bool, partial: bool) -> ExclusionChart {
    let spread = |i: u64, k: u64| super::unit(i, k) + super::unit(3 * i + 7, k + 1) - 1.0;
    let mut cells = std::collections::BTreeMap::new();
    for i in 0..flights {
        let at = [30.0 * spread(i, 0) + 12.0, 22.0 * spread(i, 2)];
        #[expect(clippy::cast_possible_truncation, reason = "within 100 m")]
        let cell = at.map(|v| (v / 2.0).floor() as i32);
        *cells.entry(cell).or_insert(0_u64) += 1;
    }
    let cells: Vec<_> = cells
        .into_iter()
        .map(|([x, y], n)| json!({ "corner": [2 * x, 2 * y], "flights": n }))
        .collect();
    let exceeded = |one_in: f64, distance: f64, how: &str| {
        let told = known || one_in < 1e5;
        json!({
            "one_in": one_in,
            "distance": told.then_some(distance),
            "interval": [0.97 * distance, told.then_some(1.03 * distance)],
            "how": if told { how } else { "too_few" },
        })
    };
    let found = json!({
        "flights": flights,
        "partial": partial,
        "loose": Proportion::clopper_pearson(flights, flights, 0.95),
        "searched": 40_000,
        "followed": partial,
        "centre": [0.0, 0.0],
        "edge": 1.2,
        "reaches": [{
            "measure": "away",
            "farthest": 51.0,
            "beyond": 1e-3,
            "exceeded": [
                exceeded(10.0, 31.0, "counted"),
                exceeded(1e3, 47.0, "counted"),
                exceeded(1e6, 66.0, "searched"),
            ],
        }],
        "density": { "side": 2.0, "flights": flights, "cells": cells },
        "speed": [9.0, 12.0, 15.0],
        "energy": [40.0, 90.0, 160.0],
        "in_air": 0,
        "failed": 0,
        "drawn": [],
    });
    ExclusionChart { show, found: serde_json::from_value(found).expect("a record of our own") }
}

/// Everything that can stand on a page beside a run, and its extremes.
pub(crate) fn all() -> Vec<(&'static str, Evidence)> {
    let mut long = plan(3);
    for row in &mut long.rows {
        row.name = "more shots of every arrangement than anyone wants to shoot".to_owned();
        row.bill = "a great many targets of laminated glass, cost 123,456,789".to_owned();
    }
    let mut lonely = sweep();
    lonely.points.truncate(1);
    vec![
        ("ordinary", Evidence::Sweep(sweep())),
        ("ordinary", Evidence::Map(map())),
        ("ordinary", Evidence::Comparison(comparison())),
        ("ordinary", Evidence::Calibration(calibration(5))),
        ("ordinary", Evidence::Judgement(judgement(5, true))),
        ("split", Evidence::Judgement(judgement(1, false))),
        ("forty", Evidence::Judgement(judgement(40, true))),
        ("ordinary", Evidence::Plan(plan(4))),
        ("searched", Evidence::Sweep(searched())),
        ("small", Evidence::Sweep(small_chances())),
        ("never", Evidence::Sweep(flat(0.0))),
        ("always", Evidence::Sweep(flat(1.0))),
        ("lonely", Evidence::Sweep(lonely)),
        ("never", Evidence::Map(flat_map(0.0))),
        ("always", Evidence::Map(flat_map(1.0))),
        ("bare", Evidence::Comparison(bare_comparison())),
        ("none", Evidence::Calibration(calibration(0))),
        ("thirty", Evidence::Calibration(calibration(30))),
        ("ordinary", Evidence::Exclusion(debris(Show::Si, 4_000, true, false))),
        ("stopped", Evidence::Exclusion(debris(Show::Imperial, 4_000, false, true))),
        ("lonely", Evidence::Exclusion(debris(Show::Si, 1, true, false))),
        ("sequential", Evidence::Plan(sequential(60, 0.1, 0.3))),
        ("endless", Evidence::Plan(sequential(5000, 0.001, 0.002))),
        ("short", Evidence::Plan(sequential(3, 0.001, 0.999))),
        ("one", Evidence::Plan(plan(1))),
        ("long", Evidence::Plan(long)),
    ]
}

/// One of each kind.
pub(crate) fn ordinary() -> Vec<Evidence> {
    all().into_iter().filter(|(name, _)| *name == "ordinary").map(|(_, one)| one).collect()
}

/// A day with a shot on new ground and one over a limit.
pub(crate) fn test_day() -> Sheet {
    let text = "rig: a tower by the barn\nobject: {mass: 2 kg}\nlauncher: {drop: }\n";
    let tower = rig::parse(text).expect("a rig of our own");
    let settings = [1.0, 1.5, 2.0, 2.5, 3.0];
    let mut sheet = Sheet::new(&tower, &Calibration::new(&tower, &[]), &settings, 1);
    sheet.shots[3].new_ground = true;
    sheet.shots[4].prediction.limits_kept = Some(false);
    sheet
}
