//! `live PROGRAM [SCENARIO]...`: how long an edit of the live page waits for its
//! numbers, over the socket: the median and 95 % of many edits, in ms.
//!
//! Each edit moves the target a little, to where it has not been: nothing is remembered.
//! The next one is sent when the claim is settled, as by somebody who looks at each.

#[path = "../../../tests/wire.rs"]
#[expect(dead_code, reason = "the tests ask more of it")]
mod wire;

use longodds_sim::scenario::parse;
use serde_json::{Value, json};
use std::{
    io::{self, Write},
    ops::ControlFlow,
    path::Path,
    process::Command,
    time::Duration,
};
use wire::Served;

/// What is moved.
const KEY: &str = "target.stands.at";

/// Edits of each scenario.
const EDITS: u32 = 40;

/// A sheet that tumbles, a ball of fruit, a rod through the air, a wheel that bounces.
const USUAL: [&str; 4] = [
    "scenarios/shop_window.yaml",
    "scenarios/barn_pumpkin.yaml",
    "scenarios/sawmill_billet.yaml",
    "scenarios/fair_wheel.yaml",
];

/// The first edits among them that are waited for until all is said.
const WHOLE: u32 = 4;

/// The longest wait for one.
const PATIENCE: Duration = Duration::from_secs(20);

/// Flights that count as many.
const MANY: u64 = 20_000;

/// When what was there, of one edit, in ms; `None`: it did not come.
#[derive(Clone, Copy, Debug, Default)]
struct Waits {
    /// The first number, and how many flights it rests on.
    number: Option<f64>,
    first: u64,
    /// The first flights drawn.
    drawn: Option<f64>,
    /// So many flights counted.
    many: Option<f64>,
    /// Known to a third.
    settled: Option<f64>,
    /// All that a run says.
    whole: Option<f64>,
}

fn main() -> io::Result<()> {
    let mut args = std::env::args().skip(1);
    let program =
        args.next().ok_or_else(|| io::Error::other("usage: live PROGRAM [SCENARIO]..."))?;
    let mut scenarios: Vec<String> = args.collect();
    if scenarios.is_empty() {
        scenarios = USUAL.map(str::to_owned).to_vec();
    }
    let mut out = io::stdout().lock();
    writeln!(
        out,
        "| claim | first number, ms | on flights | first flights drawn | {MANY} counted | known to a third | all said |"
    )?;
    writeln!(out, "|---|---|---|---|---|---|---|")?;
    for scenario in scenarios {
        let waits = measured(&program, &scenario)?;
        let name = scenario.rsplit('/').next().unwrap_or(&scenario).trim_end_matches(".yaml");
        let column = |of: fn(&Waits) -> Option<f64>| told(waits.iter().filter_map(of).collect());
        writeln!(
            out,
            "| {name} | {} | {} | {} | {} | {} | {} |",
            column(|w| w.number),
            told(waits.iter().map(|w| w.first as f64).collect()),
            column(|w| w.drawn),
            column(|w| w.many),
            column(|w| w.settled),
            column(|w| w.whole),
        )?;
        out.flush()?;
    }
    Ok(())
}

/// The median and 95 % of what came, and how often it did if not always.
fn told(mut values: Vec<f64>) -> String {
    values.sort_unstable_by(f64::total_cmp);
    let at = |share: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place")]
        let place = (share * values.len() as f64) as usize;
        values.get(place.min(values.len().saturating_sub(1))).copied().unwrap_or(f64::NAN)
    };
    match values.len() {
        0 => "no need".to_owned(),
        n if n < EDITS as usize => format!("{:.0} / {:.0} ({n} of {EDITS})", at(0.5), at(0.95)),
        _ => format!("{:.0} / {:.0}", at(0.5), at(0.95)),
    }
}

fn measured(program: &str, scenario: &str) -> io::Result<Vec<Waits>> {
    let served = Served::start(Command::new(program).args(["live", scenario]))?;
    let opened = served.post("/api/open", &json!({}))?.json()?;
    // What is done once, at the start, is done.
    std::thread::sleep(Duration::from_secs(2));
    let at = stands_at(scenario)?;
    (0..EDITS).map(|k| one(&served, &opened["digest"], at, k)).collect()
}

/// Where the target stands, m.
fn stands_at(scenario: &str) -> io::Result<f64> {
    let text = std::fs::read_to_string(scenario)?;
    let folder = Path::new(scenario).parent().unwrap_or(Path::new(""));
    let parsed = parse(&text, folder).map_err(|told| io::Error::other(format!("{told:?}")))?;
    let found = parsed.inputs.list().iter().find(|input| input.name == KEY);
    found
        .map(|input| input.distribution.quantile(0.5))
        .ok_or_else(|| io::Error::other(format!("{scenario} has no {KEY}")))
}

fn one(served: &Served, digest: &Value, at: f64, k: u32) -> io::Result<Waits> {
    let until_whole = k < WHOLE;
    let there = format!("{:.4} m", at * (1.0 + 0.002 * f64::from(k + 1)));
    let edit = json!({ "digest": digest, "sets": [[KEY, there]], "page": "bench" });
    let mut waits = Waits::default();
    served.lines("/api/edit", &edit, |line, since| {
        let ms = 1e3 * since.as_secs_f64();
        let flights = line["flights"].as_u64().unwrap_or(0);
        match (line["event"].as_str(), line["into"].as_str()) {
            (Some("done"), _) => {
                waits.settled.get_or_insert(ms);
                waits.whole = Some(ms);
            }
            (_, Some("chance")) => {
                if waits.number.is_none() {
                    (waits.number, waits.first) = (Some(ms), flights);
                }
                if flights >= MANY {
                    waits.many.get_or_insert(ms);
                }
                if line["phase"] == "settled" {
                    waits.settled.get_or_insert(ms);
                }
            }
            (_, Some("flights")) => {
                waits.drawn.get_or_insert(ms);
            }
            _ => {}
        }
        let enough = if until_whole { waits.whole } else { waits.settled };
        if enough.is_some() || since > PATIENCE {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    })?;
    Ok(waits)
}
