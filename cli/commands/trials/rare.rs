//! Shots to show that something is rare.

use super::{Costs, Planned, gate, money, targets};
use crate::{
    failure::Failure,
    plain::{self, bar, percent},
    typed,
};
use longodds_reports::chart::{PlanChart, PlanRow};
use longodds_sim::{
    answer::Sayable,
    scenario::Gate,
    trials::demonstration::{Demonstration, Statement, seen_at_least_once},
    words::Spoken,
};
use serde_json::json;
use std::{io::Write, path::PathBuf};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The share of shots to show it is below.
    #[arg(long, value_parser = typed::share)]
    below: f64,
    /// Confidence.
    #[arg(long, value_parser = typed::share, default_value = "95 %")]
    confidence: f64,
    /// The chance per shot that is expected, to judge the plan by.
    #[arg(long, value_parser = typed::share, conflicts_with = "findings")]
    expect: Option<f64>,
    /// Take the expected chance from a run (`claim.findings.json`).
    #[arg(long)]
    findings: Option<PathBuf>,
    /// The gate of the run that the shots test; else the last before `harms`.
    #[arg(long)]
    gate: Option<String>,
    #[command(flatten)]
    costs: Costs,
}

/// The chance that the plan starts from, and where it is from.
fn expected(arguments: &Arguments) -> Result<(f64, String), Failure> {
    let Some(path) = &arguments.findings else {
        return Ok(match arguments.expect {
            Some(chance) => (chance, "as told".to_owned()),
            None => (0.2 * arguments.below, "a fifth of the limit, for want of better".to_owned()),
        });
    };
    let findings = crate::commands::report::read(path)?;
    let wanted = match &arguments.gate {
        Some(name) => Some(gate(name)?),
        None => None,
    };
    let found = match wanted {
        Some(gate) => findings.gates.iter().find(|finding| finding.gate == gate),
        None => findings.gates.iter().rev().find(|finding| finding.gate != Gate::Harms),
    };
    let Some(found) = found else {
        return Err(Failure::wrong("the run's chain does not have that gate"));
    };
    let chance = found.given_before.probability.clamp(1e-9, 1.0 - 1e-9);
    Ok((chance, format!("the model's for \"{}\", given the gates before", found.meaning)))
}

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let (chance, source) = expected(arguments)?;
    let plans: Vec<Demonstration> = (0..=3)
        .map(|k| Demonstration::new(arguments.below, arguments.confidence, k, chance, &cost))
        .collect();
    let first = &plans[0];
    let statement = Statement::new(0, first.shots);
    let said = statement.said("a perforation");
    let answer = json!({
        "expected": chance, "expected_from": source, "plans": plans, "statement": statement,
        "says": said,
    });
    let chart = chart(arguments, chance, &source, &plans);
    let write = |out: &mut dyn Write| {
        write_words(arguments, (chance, &source), &plans, out)?;
        in_words(&said, out)
    };
    let planned = Planned { shots: first.shots, speed: None };
    arguments.costs.answer(&chart, answer, write, &planned, out)
}

fn write_words(
    arguments: &Arguments,
    (chance, source): (f64, &str),
    plans: &[Demonstration],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let first = &plans[0];
    writeln!(
        out,
        "{} shots without a single event show, with {} confidence, that it happens in fewer than {} \
         of shots.\n",
        first.shots,
        percent(arguments.confidence),
        percent(arguments.below)
    )?;
    let mut table =
        plain::table(["events allowed", "shots", "chance the plan passes", "", "targets", "cost"]);
    for plan in plans {
        table.add_row([
            plan.allowed.to_string(),
            plan.shots.to_string(),
            Spoken::near(plan.passes).to_string(),
            bar(plan.passes, 20),
            targets(&plan.bill),
            money(&plan.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}\nExpected chance per shot: {} ({source}).", Spoken::near(chance))?;
    writeln!(
        out,
        "At that chance, {} shots show the event at least once in {} of tests.",
        first.shots,
        Spoken::near(seen_at_least_once(chance, first.shots))
    )?;
    Ok(())
}

fn chart(arguments: &Arguments, chance: f64, source: &str, plans: &[Demonstration]) -> PlanChart {
    let first = &plans[0];
    let row = |plan: &Demonstration| PlanRow {
        name: format!("{} shots, {} events", plan.shots, plan.allowed),
        share: plan.passes,
        said: String::new(),
        bill: arguments.costs.bill(&plan.bill),
    };
    PlanChart {
        title: format!(
            "{} shots without an event show that it is rarer than {}",
            first.shots,
            percent(arguments.below)
        ),
        subtitle: format!(
            "Chance that each plan passes, if a shot has the event with {} ({source}). Confidence {}.",
            Spoken::near(chance),
            percent(arguments.confidence)
        ),
        rows: plans.iter().map(row).collect(),
        wanted: None,
        decision: None,
    }
}

fn in_words(said: &Sayable, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "\nWhat it would let one say: {}.", said.says)?;
    writeln!(out, "What it would not: {}.", said.does_not_say)?;
    Ok(())
}
