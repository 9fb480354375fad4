//! `longodds judge`: model and shots together.

use crate::{
    failure::Failure,
    plain::{self, hundred},
    rigging, typed,
};
use longodds_sim::{
    findings::{Findings, Spread, Units},
    math,
    quantity::{Dimension, Show, format, significant},
    scenario::{Demand, Gate},
    trials::{
        demonstration::Statement,
        judgement::{BarrierJudgement, Judgement, Model, ModelBarrier, ModelGate, Weighing, judge},
    },
};
use serde_json::json;
use std::{io::Write, path::PathBuf};

/// Weigh real shots against the model, gate by gate.
///
/// The model counts for at most ten shots at each gate that the shots stand
/// for, times `--weight`; at the other gates it stands alone. Where shots have
/// a speed and the run a barrier, the barrier's threshold is fitted and the
/// claim's own blows are held against it.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds run claim.yaml
  longodds judge claim.findings.json shots.csv
  longodds judge claim.findings.json shots.csv --weight 0 --stands-for strikes,perforates")]
pub(crate) struct Arguments {
    /// Findings of a run.
    findings: PathBuf,
    /// The shot log; `-` reads standard input.
    shots: PathBuf,
    /// Weight of the model, 0 (shots alone) to 1.
    #[arg(long, value_parser = typed::weight, default_value = "1")]
    weight: f64,
    /// The gates that the shots stand for, apart by commas.
    ///
    /// An aimed rig says nothing about the claim's own aim: only what happens
    /// at the target is taken from it unless told otherwise.
    #[arg(long, value_delimiter = ',', default_value = "perforates,harms")]
    stands_for: Vec<String>,
    #[command(flatten)]
    camera: rigging::Camera,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = super::trials::findings(&arguments.findings)?;
    let log = rigging::shots(&arguments.shots, &arguments.camera, None)?;
    let stands_for = arguments
        .stands_for
        .iter()
        .map(|name| super::trials::gate(name.trim()))
        .collect::<Result<Vec<Gate>, Failure>>()?;
    let weighing = Weighing { weight: arguments.weight, stands_for };
    let judged = judge(&model(&findings), &log, &weighing);
    let statement = plain_shots(&judged);
    if arguments.json {
        let answer = json!({
            "claim": findings.claim_text, "judgement": judged, "shots_alone": statement,
        });
        writeln!(out, "{answer:#}")?;
        return Ok(());
    }
    let show = match findings.show {
        Units::Si => Show::Si,
        Units::Imperial => Show::Imperial,
    };
    writeln!(out, "Claim: {}\n\n{}\n", findings.claim_text.trim(), judged.standing)?;
    the_gates(&judged, out)?;
    plain::list(out, "MODEL AND SHOTS DISAGREE", &judged.conflicts)?;
    if let Some(barrier) = &judged.barrier {
        the_barrier(barrier, show, out)?;
    }
    if let Some(statement) = &statement {
        writeln!(out, "\nThe shots alone, with no model: {}.", statement.says)?;
        writeln!(out, "They do not say: {}.", statement.does_not_say)?;
    }
    let changes: Vec<String> = judged.outlook.iter().map(|o| o.sentence.clone()).collect();
    plain::list(out, "What would change this:", &changes)?;
    plain::list(out, "CAUTION", &findings.cautions)?;
    Ok(())
}

/// The model's side of the judgement from a run.
fn model(findings: &Findings) -> Model {
    let gates = findings
        .gates
        .iter()
        .map(|gate| ModelGate {
            gate: gate.gate,
            meaning: gate.meaning.clone(),
            came: gate.came,
            passed: gate.passed.min(gate.came),
        })
        .collect();
    let barrier = findings.barrier.as_ref().and_then(|barrier| {
        let [low, median, high] = [1, 3, 5].map(|i| barrier.resisted.quantiles[i]);
        let sound = low > 0.0 && median > 0.0 && high >= low;
        sound.then(|| ModelBarrier {
            demand: barrier.demand,
            mass: findings.object.mass,
            median,
            // 5 % to 95 %.
            spread: math::ln(high / low) / 3.289_707,
            demanded: shares(&barrier.demanded),
        })
    });
    Model { gates, barrier: barrier.filter(|barrier| !barrier.demanded.is_empty()) }
}

/// A histogram as values with their shares.
fn shares(spread: &Spread) -> Vec<(f64, f64)> {
    let total: u64 = spread.counts.iter().sum();
    spread
        .edges
        .windows(2)
        .zip(&spread.counts)
        .map(|(edges, count)| (0.5 * (edges[0] + edges[1]), *count))
        .filter(|(value, count)| *count > 0 && *value > 0.0)
        .map(|(value, count)| (value, count as f64 / total as f64))
        .collect()
}

/// What the shots say by themselves about the gate they stand for most.
fn plain_shots(judged: &Judgement) -> Option<Statement> {
    let gate = judged.gates.iter().filter(|gate| gate.shots > 0).max_by_key(|gate| gate.shots)?;
    let event = match gate.gate {
        Gate::Perforates => "a perforation",
        Gate::Strikes => "a strike",
        Gate::Harms => "a harmful one",
        Gate::Released | Gate::Reaches | Gate::Attitude => "a pass",
    };
    Some(Statement::new(gate.passed, gate.shots, event))
}

fn the_gates(judged: &Judgement, out: &mut dyn Write) -> Result<(), Failure> {
    let headings =
        ["gate", "model", "model counts for", "shots", "passed", "both", "95 % from", "to", ""];
    let mut table = plain::table(headings);
    for gate in &judged.gates {
        let name = json!(gate.gate);
        let used = gate.shots > 0;
        table.add_row([
            name.as_str().unwrap_or_default().to_owned(),
            hundred(gate.model),
            if used { format!("{} shots", gate.model_worth) } else { "all".to_owned() },
            if gate.stands_for { gate.shots.to_string() } else { "not asked".to_owned() },
            if used { gate.passed.to_string() } else { String::new() },
            hundred(gate.probability),
            hundred(gate.low),
            hundred(gate.high),
            gate.word.clone(),
        ]);
    }
    writeln!(out, "{table}")?;
    Ok(())
}

/// The threshold as a scenario has it: 90 % of the doubt about the median, and
/// the spread from shot to shot.
fn as_barrier(barrier: &BarrierJudgement) -> String {
    let [low, high] = barrier.nine_in_ten();
    let [key, unit] = match barrier.demand {
        Demand::NormalSpeed => ["speed", "m/s"],
        Demand::NormalEnergy | Demand::TotalEnergy => ["energy", "J"],
    };
    let say = |value: f64| significant(value, 3);
    let how =
        if barrier.demand == Demand::TotalEnergy { ", measured_as: total_energy" } else { "" };
    format!(
        "{{{key}: {{between: [{} {unit}, {} {unit}], skew: true, unknown: true}}, spread: {}{how}}}",
        say(low),
        say(high),
        significant(barrier.spread, 2),
    )
}

fn the_barrier(barrier: &BarrierJudgement, show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let dimension = match barrier.demand {
        Demand::NormalSpeed => Dimension::Speed,
        Demand::NormalEnergy | Demand::TotalEnergy => Dimension::Energy,
    };
    let shown = |value: f64| format(value, dimension, show);
    let [low, middle, high] = barrier.threshold.map(shown);
    writeln!(
        out,
        "\nThe barrier lets half of the blows through at {middle} (95 % between {low} and {high}), \
         from {} shots with {} perforations.",
        barrier.shots, barrier.perforations
    )?;
    if let Some(above) = barrier.above {
        writeln!(
            out,
            "No shot went through, so the shots only bound it from below: above {} (95 %).",
            shown(above)
        )?;
    }
    if barrier.claimed_to > 1.05 * barrier.shot_to {
        writeln!(
            out,
            "The claim makes blows of up to {}, the shots only to {}: beyond that the model speaks \
             alone.",
            shown(barrier.claimed_to),
            shown(barrier.shot_to)
        )?;
    }
    writeln!(out, "A shot's blow is reckoned square on, from its speed and mass.")?;
    if barrier.above.is_none() {
        writeln!(out, "In a scenario: `barrier: {}`", as_barrier(barrier))?;
        writeln!(out, "The shots alone: `barrier: {{shots: FILE}}` with the log's name.")?;
    }
    Ok(())
}
