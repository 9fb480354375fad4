//! Shots that stop as soon as a low and a high chance are told apart.

use super::{Costs, Planned, money};
use crate::{
    failure::Failure,
    plain::{self, bar, percent},
    typed,
};
use longodds_reports::chart::{Decision, PlanChart, PlanRow};
use longodds_sim::{
    quantity::significant,
    trials::sequential::{Course, Sequential},
    words::Spoken,
};
use serde_json::json;
use std::io::Write;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The chance per shot that means no.
    #[arg(long, value_parser = typed::share)]
    low: f64,
    /// The chance per shot that means yes.
    #[arg(long, value_parser = typed::share)]
    high: f64,
    /// Chance of saying high where it is low.
    #[arg(long, value_parser = typed::share, default_value = "5 %")]
    false_high: f64,
    /// Chance of saying low where it is high.
    #[arg(long, value_parser = typed::share, default_value = "10 %")]
    false_low: f64,
    /// Largest number of shots.
    #[arg(long, default_value_t = 60, value_parser = clap::value_parser!(u64).range(1..=5000))]
    largest: u64,
    #[command(flatten)]
    costs: Costs,
}

pub(super) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let cost = arguments.costs.cost()?;
    let plan = Sequential::new(
        arguments.low,
        arguments.high,
        arguments.false_high,
        arguments.false_low,
        arguments.largest,
    )
    .ok_or_else(|| Failure::usage("`--low` must be below `--high`"))?;
    let (low, high) = (arguments.low, arguments.high);
    let chances = [0.5 * low, low, 0.5 * (low + high), high, 0.5 * (1.0 + high)];
    let courses: Vec<_> = chances.iter().map(|chance| plan.course(*chance, &cost)).collect();
    let answer = json!({ "plan": plan, "courses": courses });
    let chart = chart(arguments, &plan, &courses);
    let write = |out: &mut dyn Write| write_words(arguments, &plan, &courses, out);
    let planned = Planned { shots: arguments.largest, speed: None };
    arguments.costs.answer(&chart, answer, write, &planned, out)
}

fn write_words(
    arguments: &Arguments,
    plan: &Sequential,
    courses: &[Course],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    writeln!(out, "After each shot look at the line; stop when one column is met.\n")?;
    let mut table = plain::table(["after shot", "say low at or below", "say high at or above"]);
    for n in (1..=arguments.largest.min(15)).chain([20, 30, 40, 60]) {
        if n > arguments.largest {
            break;
        }
        let lowest = (0..=n).take_while(|k| plan.says(*k, n) == Some(false)).last();
        let highest = (0..=n).find(|k| plan.says(*k, n) == Some(true));
        let shown = |k: Option<u64>| k.map_or_else(|| "shoot on".to_owned(), |k| k.to_string());
        table.add_row([n.to_string(), shown(lowest), shown(highest)]);
    }
    writeln!(out, "{table}\n")?;
    let mut table =
        plain::table(["if the chance is", "says high", "", "shots, expected", "cut off", "cost"]);
    for course in courses {
        table.add_row([
            percent(course.chance),
            Spoken::near(1.0 - course.says_low).to_string(),
            bar(1.0 - course.says_low, 20),
            significant(course.shots, 3),
            Spoken::near(course.cut_off).to_string(),
            money(&course.bill, &arguments.costs),
        ]);
    }
    writeln!(out, "{table}")?;
    writeln!(
        out,
        "Exact, with the test cut off at {} shots; there the nearer line decides.",
        arguments.largest
    )?;
    Ok(())
}

/// Its lines, and how the test ends, whatever the chance turns out to be.
fn chart(arguments: &Arguments, plan: &Sequential, courses: &[Course]) -> PlanChart {
    let row = |course: &Course| PlanRow {
        name: format!("chance is {}", percent(course.chance)),
        share: 1.0 - course.says_low,
        said: String::new(),
        bill: format!(
            "{} shots, {}",
            significant(course.shots, 3),
            arguments.costs.bill(&course.bill)
        ),
    };
    let most = courses.iter().map(|course| course.shots).fold(0.0, f64::max);
    PlanChart {
        title: format!(
            "Telling {} from {} takes {} shots on average at most, never more than {}",
            percent(plan.low),
            percent(plan.high),
            significant(most, 3),
            plan.largest
        ),
        subtitle: "How often the test says that the chance is high; behind it the shots to expect."
            .to_owned(),
        rows: courses.iter().map(row).collect(),
        wanted: None,
        decision: Some(Decision {
            low: plan.low,
            high: plan.high,
            slope: plan.slope,
            accept: plan.accept,
            reject: plan.reject,
            largest: plan.largest,
        }),
    }
}
