use super::*;
use crate::{
    rig::{
        camera::Measured,
        log::{LoggedShot, ShotResult},
    },
    scenario::Demand,
};

fn log(results: &[(ShotResult, f64)]) -> ShotLog {
    let shots = (1..).zip(results).map(|(line, &(result, speed))| LoggedShot {
        name: format!("line {line}"),
        line,
        setting: None,
        speed: (speed > 0.0).then_some(Measured { value: speed, uncertainty: 0.0 }),
        mass: None,
        result: Some(result),
        remark: String::new(),
    });
    ShotLog { shots: shots.collect() }
}

fn gate(gate: Gate, passed: u64, came: u64) -> ModelGate {
    ModelGate { gate, meaning: String::new(), came, passed }
}

fn model(barrier: Option<ModelBarrier>) -> Model {
    let gates = vec![gate(Gate::Strikes, 2000, 10_000), gate(Gate::Perforates, 1200, 2000)];
    Model { gates, barrier }
}

fn weighing(weight: f64) -> Weighing {
    Weighing { weight, stands_for: vec![Gate::Perforates, Gate::Harms] }
}

fn glass() -> ModelBarrier {
    ModelBarrier {
        demand: Demand::NormalSpeed,
        mass: 2.0,
        median: 20.0,
        spread: 0.3,
        demanded: vec![(18.0, 0.25), (22.0, 0.5), (26.0, 0.25)],
    }
}

/// Prior p 0.12 worth 10 shots, 0 of 8: Beta(1.2, 16.8), mean 0.0666667,
/// 95 % 0.003031 to 0.215330; 3 of 8: mean 0.233333, tail 0.109044
/// (general-purpose library).
#[test]
fn a_gate_by_count_matches_the_reference() {
    // 11999.5 passes of 99,999 with half a pass added are 0.12 to six digits.
    let perforates = gate(Gate::Perforates, 119_999, 999_999);
    let none = log(&[(ShotResult::Stopped, 0.0); 8]);
    let (got, _) = perforates.by_count(&none, &weighing(1.0));
    assert!((got.probability - 0.066_666_67).abs() < 1e-6, "{got:?}");
    assert!((got.low - 0.003_031_16).abs() < 1e-6 && (got.high - 0.215_330_24).abs() < 1e-6);
    let mut results = vec![(ShotResult::Stopped, 0.0); 5];
    results.extend([(ShotResult::Through, 0.0); 3]);
    let (got, _) = perforates.by_count(&log(&results), &weighing(1.0));
    assert!((got.probability - 0.233_333_33).abs() < 1e-6);
    assert!((got.agreement.unwrap() - 0.109_044_21).abs() < 1e-5, "{got:?}");
}

#[test]
fn two_shots_that_bounced_do_not_settle_it() {
    let shots = log(&[(ShotResult::Stopped, 0.0); 2]);
    let judged = judge(&model(None), &shots, &weighing(1.0));
    let before = judge(&model(None), &ShotLog::default(), &weighing(1.0));
    assert!(judged.probability < before.probability);
    assert!(judged.gates[1].high > 0.7, "{:?}", judged.gates[1]);
    assert!(judged.standing.contains("two shots") || judged.standing.contains("2 shots"));
    assert!(judged.conflicts.is_empty());
}

#[test]
fn a_model_of_no_weight_leaves_the_shots_alone() {
    let shots = log(&[(ShotResult::Stopped, 0.0); 10]);
    let judged = judge(&model(None), &shots, &weighing(0.0));
    // Jeffreys: 0.5 of 11.
    assert!((judged.gates[1].probability - 0.5 / 11.0).abs() < 1e-12);
    assert!(judged.gates[1].agreement.is_none());
    assert!(judged.standing.contains("nothing of the model"));
    // The gate that no shot stands for stays the model's.
    assert!((judged.gates[0].probability - 0.2).abs() < 1e-3);
}

#[test]
fn without_the_model_two_stopped_shots_carry_no_verdict_by_threshold() {
    let shots = log(&[(ShotResult::Stopped, 21.0); 2]);
    let judged = judge(&model(Some(glass())), &shots, &weighing(0.0));
    assert!(judged.barrier.is_none());
    assert!(judged.gates[1].method == "count" && judged.gates[1].high > 0.6);
}

#[test]
fn a_conflict_is_raised_and_not_averaged_away() {
    let judged = judge(&model(None), &log(&[(ShotResult::Stopped, 0.0); 12]), &weighing(1.0));
    assert_eq!(judged.conflicts.len(), 1, "{:?}", judged.conflicts);
    let judged =
        judge(&model(Some(glass())), &log(&[(ShotResult::Stopped, 60.0); 6]), &weighing(1.0));
    assert_eq!(judged.conflicts.len(), 1, "{:?}", judged.conflicts);
}

#[test]
fn shots_without_a_perforation_bound_the_threshold() {
    let judged =
        judge(&model(Some(glass())), &log(&[(ShotResult::Stopped, 21.0); 3]), &weighing(1.0));
    let barrier = judged.barrier.unwrap();
    let above = barrier.above.unwrap();
    // Before: 5 % below 20 exp(-1.645 * 0.3) = 12.2.
    assert!(above > 13.5 && above < 21.0, "{above}");
    assert!(judged.gates[1].probability < 0.55 && judged.gates[1].method == "threshold");
    let mixed = log(&[(ShotResult::Stopped, 19.0), (ShotResult::Through, 24.0)]);
    assert!(judge(&model(Some(glass())), &mixed, &weighing(1.0)).barrier.unwrap().above.is_none());
}

#[test]
fn the_product_of_sure_gates_is_the_product_of_their_chances() {
    let product = Product::new(&[vec![0.5; 512], vec![0.4; 512]]);
    assert!((product.mean - 0.2).abs() < 1e-12 && (product.low - 0.2).abs() < 1e-12);
}

#[test]
fn the_outlook_names_the_gate_with_the_most_doubt() {
    let judged = judge(&model(None), &log(&[(ShotResult::Stopped, 0.0); 2]), &weighing(1.0));
    let first = &judged.outlook[0];
    assert_eq!(first.gate, Gate::Perforates);
    assert!(first.none_pass < first.now && first.now < first.all_pass);
}
