//! What must be true of every judgement, whatever barrier, claim and log.

use super::{tests::Conditions, *};
use crate::{
    quantity::Show,
    scenario::Demand,
    uncertain::{Distribution, LogNormal},
};
use proptest::prelude::*;

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// Priors with an edge, with tails, of a few values; known spread or not.
fn strength() -> impl Strategy<Value = Strength> {
    let median = prop_oneof![
        (20.0..200.0, 1.05..6.0)
            .prop_map(|(low, times)| Distribution::uniform(low, low * times).unwrap()),
        (20.0..400.0, 0.02..1.2_f64).prop_map(|(median, sd)| Distribution::LogNormal(
            LogNormal::new(crate::math::ln(median), sd).unwrap()
        )),
        prop::collection::vec((20.0..400.0, 0.1..1.0), 1..4).prop_map(|pairs| {
            let (values, weights): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
            Distribution::choice(&values, &weights).unwrap()
        }),
    ];
    let spreads = prop::collection::vec((0.003..0.8, 0.1..1.0_f64), 1..3);
    (median, spreads).prop_map(|(median, spreads)| {
        let sum: f64 = spreads.iter().map(|s| s.1).sum();
        let spreads = spreads.into_iter().map(|(s, weight)| [s, weight / sum]).collect();
        thin(Strength::new(&median, spreads))
    })
}

/// Every fifth cell, for speed: the laws hold for any prior.
fn thin(mut strength: Strength) -> Strength {
    if strength.cells.len() > 20 {
        strength.cells = strength.cells.iter().copied().step_by(5).collect();
        let sum: f64 = strength.cells.iter().map(|cell| cell.mass).sum();
        strength.cells.iter_mut().for_each(|cell| cell.mass /= sum);
    }
    strength
}

fn barrier() -> impl Strategy<Value = ModelBarrier> {
    (strength(), prop::collection::vec(10.0..500.0, 1..4)).prop_map(|(strength, sizes)| {
        let share = 1.0 / sizes.len() as f64;
        let demanded = sizes.into_iter().map(|size| (size, share)).collect();
        ModelBarrier { demand: Demand::NormalEnergy, strength, demanded }
    })
}

fn blow() -> impl Strategy<Value = Blow> {
    (5.0..2000.0, prop_oneof![Just(0.0), 0.005..0.6], any::<bool>())
        .prop_map(|(size, doubt, through)| Blow { size, doubt, through })
}

fn log(most: usize) -> impl Strategy<Value = Vec<Blow>> {
    prop::collection::vec(blow(), 0..most)
}

/// By the scenario, with a tenth wide, and by the shots: nothing rounded.
fn three(barrier: &ModelBarrier, blows: &[Blow]) -> [Estimate; 3] {
    let groups = blow::grouped(blows);
    let grid = weigh::Grid::new(&barrier.strength, &barrier.demanded, &groups);
    [1.0, TRUST, 0.0].map(|own| grid.estimate(&grid.weights(own)))
}

fn with(blows: &[Blow], more: Blow) -> Vec<Blow> {
    blows.iter().copied().chain([more]).collect()
}

proptest! {
    #![proptest_config(config(800))]

    /// Below ten shots: whatever a blow's size, that it was stopped never raises
    /// the chance of any other, and that it went through never lowers it.
    #[test]
    fn a_stopped_shot_never_raises_the_chance(
        barrier in barrier(), blows in log(6), size in 5.0..2000.0, doubt in 0.0..0.6,
    ) {
        let before = three(&barrier, &blows);
        for through in [false, true] {
            let after = three(&barrier, &with(&blows, Blow { size, doubt, through }));
            for (a, b) in before.iter().zip(&after) {
                let (rise, low, high) = (
                    b.probability - a.probability, b.low - a.low, b.high - a.high,
                );
                let sign = if through { 1.0 } else { -1.0 };
                prop_assert!(sign * rise > -1e-9, "{through} at {size}: {a:?} {b:?}");
                // The ends move with it, but for where they lie between cells.
                if barrier.strength.spreads.len() == 1 {
                    prop_assert!(sign * low > -0.01 && sign * high > -0.01, "{a:?} {b:?}");
                }
            }
        }
    }

    /// Below ten shots: the harder the blow that was stopped, the more it lowers
    /// the chance; the softer the one that went through, the more it raises it.
    #[test]
    fn a_harder_blow_that_was_stopped_lowers_it_more(
        barrier in barrier(), blows in log(6), size in 5.0..1000.0, times in 1.01..5.0, doubt in 0.0..0.6,
    ) {
        for through in [false, true] {
            let one = |size| three(&barrier, &with(&blows, Blow { size, doubt, through }));
            for (soft, hard) in one(size).iter().zip(&one(size * times)) {
                prop_assert!(hard.probability <= soft.probability + 1e-9, "{soft:?} {hard:?}");
            }
        }
    }

    #[test]
    fn every_estimate_is_a_chance_in_its_interval(barrier in barrier(), blows in log(14), weight in 0.0..=1.0) {
        let Some(judged) = barrier.judge(&blows, weight) else {
            prop_assert!(blows.is_empty());
            return Ok(());
        };
        let all = [judged.before, judged.by_scenario, judged.by_shots]
            .into_iter()
            .chain(judged.both)
            .chain(judged.twice_the_spread)
            .chain(judged.five_more);
        for e in all {
            prop_assert!(0.0 <= e.low && e.low <= e.probability, "{e:?}");
            prop_assert!(e.probability <= e.high && e.high <= 1.0, "{e:?}");
        }
        prop_assert!((0.0..=1.0).contains(&judged.surprise));
        prop_assert!(judged.bayes_factor >= 0.0 && judged.overruled <= 1.0 + 1e-9);
        let [low, middle, high] = judged.threshold;
        prop_assert!(low <= middle && middle <= high);
        prop_assert_eq!(judged.both.is_none(), judged.agreement.is_conflict());
    }

    #[test]
    fn the_order_of_shots_does_not_matter(barrier in barrier(), blows in log(8)) {
        let mut turned = blows.clone();
        turned.reverse();
        prop_assert_eq!(three(&barrier, &blows), three(&barrier, &turned));
    }

    /// A shot whose blow nobody knows says nothing.
    #[test]
    fn a_blow_of_unknown_size_moves_nothing(barrier in barrier(), blows in log(5), size in 5.0..2000.0, through in any::<bool>()) {
        let vague = Blow { size, doubt: 1e7, through };
        for (a, b) in three(&barrier, &blows).iter().zip(&three(&barrier, &with(&blows, vague))) {
            prop_assert!((a.probability - b.probability).abs() < 1e-4, "{a:?} {b:?}");
        }
    }

    /// Where only shots speak, the same log again leaves less open of the
    /// strength.
    #[test]
    fn more_of_the_same_narrows(
        barrier in barrier(), shots in prop::collection::vec((-1.0..1.0, any::<bool>()), 1..3), spread in 0.05..0.8,
    ) {
        let middle = barrier.strength.middle();
        let blow = |(off, through)| Blow { size: crate::math::exp(middle + off), doubt: 0.03, through };
        let blows: Vec<Blow> = shots.into_iter().map(blow).collect();
        let strength = Strength { spreads: vec![[spread, 1.0]], ..barrier.strength.clone() };
        let barrier = ModelBarrier { strength, ..barrier };
        let width = |blows: &[Blow]| {
            let groups = blow::grouped(blows);
            let grid = weigh::Grid::new(&barrier.strength, &barrier.demanded, &groups);
            let weights = grid.weights(0.0);
            crate::math::ln(grid.median(&weights, 0.975) / grid.median(&weights, 0.025))
        };
        let again = |times: usize| -> Vec<Blow> {
            blows.iter().copied().cycle().take(times * blows.len()).collect()
        };
        prop_assert!(width(&again(3)) <= 1.02 * width(&blows), "{blows:?}");
    }
}

fn gate(gate: Gate, passed: u64, came: u64) -> ModelGate {
    ModelGate { gate, meaning: String::new(), came, passed, reached: 1.0, searched: None }
}

fn model(barrier: &ModelBarrier, claim: Estimate) -> Model {
    let gates = vec![gate(Gate::Strikes, 2000, 10_000), gate(Gate::Perforates, 700, 2000)];
    Model { claim, gates, barrier: Some(barrier.clone()) }
}

fn results(blows: &[Blow]) -> ShotLog {
    use crate::rig::log::{LoggedShot, ShotResult};
    let shots = (1..).zip(blows).map(|(line, blow)| LoggedShot {
        name: line.to_string(),
        line,
        setting: None,
        speed: None,
        mass: None,
        result: Some(if blow.through { ShotResult::Through } else { ShotResult::Stopped }),
        remark: String::new(),
    });
    ShotLog { shots: shots.collect() }
}

/// Longest run of digits that are not rounded away, ignoring commas.
fn digits(word: &str) -> usize {
    let plain: String = word.chars().filter(|c| *c != ',').collect();
    let bare: String = plain.chars().filter(|c| *c != '.').collect();
    let figures = bare.trim_start_matches('0');
    if plain.contains('.') { figures.len() } else { figures.trim_end_matches('0').len() }
}

proptest! {
    #![proptest_config(config(500))]

    /// The claim moves with its gate, stays a chance, and nothing that is said
    /// of it has more than three digits.
    #[test]
    fn what_is_said_of_a_claim_claims_no_more_than_it_knows(
        barrier in barrier(), blows in log(12), ln_claim in -25.0..0.0, half in 1.0..4.0, weight in prop_oneof![Just(0.0), Just(1.0), 0.1..1.0],
    ) {
        let p = crate::math::exp(ln_claim);
        let claim = Estimate::holding(p, p / half, p * half);
        let model = model(&barrier, claim);
        let weighing = Weighing { weight, stands_for: vec![Gate::Perforates] };
        let judged = judge(&model, &results(&blows), &blows, &weighing);
        if blows.is_empty() {
            prop_assert_eq!(judged.both, Some(claim), "an empty log changes nothing");
        }
        for e in judged.both.iter().chain(&judged.by_shots) {
            prop_assert!(0.0 <= e.low && e.low <= e.probability && e.probability <= e.high && e.high <= 1.0);
        }
        let conditions = Conditions {
            barrier: "pane".to_owned(), speeds: Some([10.0, 20.0]), pose: None, square: true, round: true, show: Show::Si,
        };
        let said = judged.said(Show::Si);
        prop_assert_eq!(said.standing.contains("DO NOT AGREE"), judged.both.is_none());
        let one = [said.standing, judged.on_camera(&conditions)];
        let all = said.barrier.into_iter().chain(said.conflicts).chain(said.outlook).chain(one);
        for sentence in all {
            for word in sentence.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')) {
                prop_assert!(digits(word.trim_matches(['.', ','])) <= 3, "{word}: {sentence}");
            }
            prop_assert!(!sentence.contains("NaN") && !sentence.contains("inf"), "{sentence}");
        }
        let conflict = judged.gates.iter().any(|gate| gate.agreement.is_conflict());
        prop_assert_eq!(judged.both.is_none(), conflict);
    }

    /// Counted shots too: a pass never lowers, a failure never raises.
    #[test]
    fn a_counted_shot_moves_a_gate_its_own_way(passed in 0_u64..2000, blows in log(12), weight in 0.0..=1.0) {
        let gate = gate(Gate::Perforates, passed, 2000);
        let weighing = Weighing { weight, stands_for: vec![Gate::Perforates] };
        let after = |blows: &[Blow]| gate.by_count(&results(blows), &weighing);
        let before = after(&blows);
        for through in [false, true] {
            let more = after(&with(&blows, Blow { size: 1.0, doubt: 0.0, through }));
            if let (Some(a), Some(b)) = (before.both, more.both) {
                let sign = if through { 1.0 } else { -1.0 };
                prop_assert!(blows.is_empty() || sign * (b.probability - a.probability) >= 0.0, "{a:?} {b:?}");
                prop_assert!(b.low <= b.probability && b.probability <= b.high);
            }
        }
    }
}
