//! All sentences of one answer, held against the record and each other.

use crate::{
    sayings::{assumption, faults, share},
    util::Dir,
};
use longodds_sim::{
    answer::summary,
    chain::Breach,
    estimate::{LEVEL, Proportion},
    findings::{
        BreachFinding, Chance, DecidesFinding, Findings, Method, SideFinding, StrengthFinding,
    },
    math,
    words::Lettering,
};
use proptest::{prelude::*, strategy::ValueTree};
use std::{fs, path::Path};

fn made_up() -> Findings {
    serde_json::from_str(include_str!("made_up_findings.json")).unwrap()
}

/// A chance of any size: as likely 1 in a million as 1 in 2, and near certain
/// as near never.
fn anything() -> impl Strategy<Value = f64> {
    (0.0..1.0_f64, 0..8_i32, any::<bool>(), 0..12_u8).prop_map(|(x, small, other, end)| {
        let p = match end {
            0 => 0.0,
            1 => 1.0,
            _ => x * math::pow(10.0, -f64::from(small)),
        };
        if other { 1.0 - p } else { p }
    })
}

fn ends() -> impl Strategy<Value = [f64; 2]> {
    (anything(), anything()).prop_map(|(a, b)| [a.min(b), a.max(b)])
}

/// What a run of this many flights through four gates may count.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a count")]
fn counts() -> impl Strategy<Value = (u64, [u64; 4])> {
    let share = || anything();
    (1_u64..3_000_000, share(), share(), share(), share()).prop_map(|(flights, a, b, c, d)| {
        let mut left = flights;
        let passed = [a, b, c, d].map(|share| {
            left = ((left as f64 * share).round() as u64).min(left);
            left
        });
        (flights, passed)
    })
}

fn chance(held: u64, flights: u64, findings: &mut Chance) {
    let p = Proportion::printed(held, flights, LEVEL);
    (findings.held, findings.flights) = (held, flights);
    (findings.probability, findings.low, findings.high) =
        (if flights == 0 { 0.0 } else { p.estimate }, p.low, p.high);
    findings.method = Method::Plain;
}

/// A record of any numbers: the counts fit each other, the band need not fit
/// anything.
fn records() -> impl Strategy<Value = Findings> {
    let band = (ends(), ends(), ends(), ends(), ends(), 0_u64..1_000_000);
    let more = (any::<bool>(), any::<bool>(), any::<bool>(), 0..4_u8, anything(), anything());
    (counts(), band, more).prop_map(|((flights, passed), band, more)| {
        let mut f = made_up();
        f.shaky.clear();
        let mut came = flights;
        for (gate, passed) in f.gates.iter_mut().zip(passed) {
            (gate.came, gate.passed) = (came, passed);
            chance(passed, came, &mut gate.given_before);
            chance(passed, flights, &mut gate.so_far);
            came = passed;
        }
        chance(passed[3], flights, &mut f.claim);
        let ([low, high], low_interval, high_interval, mean_interval, shares, behind) = band;
        let (searched, bound, fits, sides, at, other) = more;
        if searched && f.claim.held < 20 {
            let (low, high) = (f.claim.low, f.claim.high);
            f.claim.probability = (low + at * (high - low)).max(1e-12);
            (f.claim.low, f.claim.high) = (low * other, f.claim.probability.max(high * at));
            f.claim.method = Method::Subset;
            // Sometimes the ways that were found leave little open, sometimes much.
            let ends = [f.claim.low, f.claim.probability + other * at * f.claim.probability];
            f.claim.by_ways = fits.then_some(ends);
        }
        if behind % 3 == 0 {
            let outside = BreachFinding { share: 0.5 + 0.5 * at.max(0.01), ..f.breaches[0] };
            f.breaches.push(BreachFinding { breach: Breach::Formula, ..outside });
        }
        f.claim.at_most = bound;
        let p = f.claim.probability;
        let b = f.band.as_mut().unwrap();
        (b.low, b.high) = match other {
            _ if !fits => (low, high),
            // Few of the worlds carry the mean, or pull it down.
            x if x < 0.2 => (0.3 * p, 0.7 * p),
            x if x > 0.4 => (p + 0.6 * (1.0 - p), p + 0.9 * (1.0 - p)),
            _ => (p * low, p + (1.0 - p) * high * p),
        };
        let about = |[from, to]: [f64; 2], x: f64| {
            let narrow = [x * (1.0 - 0.3 * from), x + 0.3 * x * (1.0 - x) * to];
            if fits { narrow } else { [from.min(x), to.max(x)] }
        };
        b.low_interval = about(low_interval, b.low);
        b.high_interval = about(high_interval, b.high);
        b.mean_interval = if fits { [p * 0.9, p * 1.1] } else { mean_interval };
        b.never = shares[0];
        b.always = 1.0 - shares[1];
        if fits {
            b.always = (p * (1.0 - low * 0.1)).min(1.0);
            b.never = ((1.0 - p) * (1.0 - high * 0.1)).min(1.0 - b.always);
        }
        (b.never_chance, b.always_chance) = (0.009 * at, 1.0 - 0.009 * other);
        b.flights = behind;
        let sides = match sides {
            0 => Some([SideFinding::Values(vec![50.0, 60.0]), SideFinding::Values(vec![500.0])]),
            1 => Some([SideFinding::UpTo(50.0), SideFinding::From(52.0)]),
            _ => None,
        };
        b.decides = vec![DecidesFinding {
            input: "barrier.median".to_owned(),
            dimension: "energy".to_owned(),
            part: at,
            sides,
            strength: (behind % 2 == 0)
                .then(|| StrengthFinding { thing: "panel".to_owned(), gone_through: at < 0.5 }),
        }];
        f
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4000) })]

    #[test]
    fn whatever_the_record_its_sentences_agree(findings in records()) {
        let faults = faults(&findings);
        prop_assert!(faults.is_empty(), "{faults:#?}\n{:#?}\n{:#?}\n{:#?}",
            summary(&findings, Lettering::Plain), findings.claim, findings.band);
    }
}

/// The records above lead to every kind of sentence.
#[test]
fn every_kind_of_sentence_is_held() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut seen = [0; 6];
    for _ in 0..40_000 {
        let findings = records().new_tree(&mut runner).unwrap().current();
        let said = summary(&findings, Lettering::Plain);
        let open = said.open.unwrap_or_default();
        let kinds = [
            said.hangs.is_some(),
            open.contains("it is from"),
            open.contains("it is up to"),
            open.contains("less often than that"),
            open.contains("more often than that"),
            open.contains("is not resolved"),
        ];
        for (seen, kind) in seen.iter_mut().zip(kinds) {
            *seen += u32::from(kind);
        }
    }
    assert!(seen.iter().all(|count| *count >= 5), "{seen:?}");
}

/// The reader finds fault with what was once printed.
#[test]
fn the_reader_finds_what_is_wrong() {
    let mut f = made_up();
    f.shaky.clear();
    assert_eq!(faults(&f), Vec::<String>::new());
    let words = "`x` was assumed, not told: at 1 it would be 50 in 100 (likely), not 1 in 320 \
                 (exceptionally unlikely).";
    let mut found = Vec::new();
    assumption(words, 1.0 / 320.0, &mut |good, what| found.extend((!good).then_some(what)));
    assert!(found.iter().any(|fault| fault.contains("is not 0.5")), "{found:?}");
    let read = |text| share(text).unwrap().p;
    assert!((read("All but 1 in 1,000") - 0.999).abs() < 1e-12);
    assert!((read("5.2 in 100") - 0.052).abs() < 1e-12);
    assert!((read("1 in 31 million") - 1.0 / 31e6).abs() < 1e-15);
}

/// The demos with these seeds and so many flights; with the search or without.
fn demos(seeds: std::ops::Range<u64>, flights: &str, more: &[&str]) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let dir = Dir::new(&format!("the_demos_agree_{}", seeds.start));
    let mut wrong = Vec::new();
    let mut demos: Vec<_> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "yaml"))
        .collect();
    demos.sort();
    assert!(demos.len() >= 5, "the demos are gone");
    for demo in &demos {
        for seed in seeds.clone() {
            let (name, seed) = (demo.to_str().unwrap(), seed.to_string());
            let args = ["run", name, "--flights", flights, "--seed", &seed, "--json"];
            let answer = dir.longodds(&[&args[..], more].concat());
            assert_eq!(answer.status, 0, "{name}: {}", answer.err);
            let findings: Findings = serde_json::from_str(&answer.out).unwrap();
            let faults = faults(&findings);
            wrong.extend(faults.into_iter().map(|fault| format!("{name} {seed}: {fault}")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_sentences_of_every_demo_agree() {
    demos(1..3, "400", &["--no-rare"]);
}

/// Minutes long; `cargo test --release --test integration agree -- --ignored`.
#[test]
#[ignore = "takes minutes"]
fn the_sentences_of_every_demo_agree_with_every_seed() {
    demos(1..21, "4000", &[]);
}

/// A panel that stands or breaks by one unknown, `barrier` being told.
fn panel(barrier: &str) -> String {
    format!(
        "claim: A ball goes through a panel.
object: {{shape: {{sphere: {{diameter: 60 mm}}}}, mass: 0.5 kg, drag_factor: 0}}
release: {{launched: {{height: 1 m, speed: 20 m/s}}}}
target:
  stands: {{at: 2 m}}
  faces:
    panel: {{centre: [0 m, 0 m, 1 m], width: 1 m, height: 1 m, aim: true, barrier: {barrier}}}
chain: [released, reaches, strikes, perforates]
"
    )
}

/// The blow is a little under 0.5 x 0.5 kg x (20 m/s)² = 100 J.
#[test]
fn a_panel_that_always_or_never_breaks_is_told_as_such() {
    let dir = Dir::new("a_panel_that_always_or_never_breaks");
    let run = |barrier: &str, seed: &str| {
        dir.file("a.yaml", panel(barrier));
        let args = ["run", "a.yaml", "--flights", "3000", "--seed", seed, "--no-rare"];
        let (words, findings) = dir.told_twice(&args);
        assert_eq!(faults(&findings), Vec::<String>::new());
        words
    };
    for seed in ["1", "2", "3"] {
        let weak = "{energy: {choice: [{value: 50 J, weight: 1}, {value: 500 J, weight: 99}], \
                    unknown: true}, spread: 0.02}";
        let said = run(weak, seed);
        assert!(
            said.starts_with(
                "It always goes through a weak `panel` (at 50 J) and never through a strong one (at \
                 500 J); which one stands there we do not know (1.0 in 100 of what we think \
                 possible for the first, 99 in 100 for the second)."
            ),
            "{said}"
        );
        let even = "{energy: {range: [50 J, 150 J], unknown: true}, spread: 0.005}";
        let said = run(even, seed);
        assert!(said.starts_with("It always goes through a weak `panel` (up to 9"), "{said}");
        assert!(said.contains("a strong one (from 9") || said.contains("one (from 10"), "{said}");
        assert!(said.contains(" on what we know (about as likely as not)."), "{said}");
        assert!(said.contains("counting error alone leaves"), "{said}");
    }
}
