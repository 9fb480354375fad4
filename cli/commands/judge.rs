//! `longodds judge`: model and shots together.

use crate::{
    failure::Failure,
    files, input, paste,
    plain::{self, percent},
    progress::Bar,
    rigging, typed,
};
use longodds_reports::{
    Frame,
    chart::{self, JudgementChart},
};
use longodds_sim::{
    answer::{Conditions, Judged, Sayable, gate_chance, gate_ends},
    chain::Claim,
    engine::Progress,
    findings::{BarrierFinding, Findings, Kind, Silhouette, VERSION},
    quantity::{Dimension, Show, format, significant},
    rig::log::ShotLog,
    scenario::{self, Demand, Gate, Scenario},
    trials::{
        demonstration::Statement,
        judgement::{
            Bare, BarrierJudgement, Blows, Estimate, Judgement, Method, Model, ModelBarrier,
            ModelGate, Rigged, Unstruck, Weighing, judge,
        },
    },
    words::Voice,
};
use serde_json::json;
use std::{
    io::Write,
    path::{Path, PathBuf},
};

/// Weigh real shots against the model, gate by gate.
///
/// At the barrier the scenario's unknown strength is what is thought before the
/// shots, nine parts of it and one part next to nothing known; what it lets vary
/// is the scatter. The claim's own blows are held against what the shots leave
/// of it. Other gates that the shots stand for are counted, the model being worth
/// ten shots at most; the rest is the model's alone. Where model and shots
/// disagree, both stand beside each other.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds run claim.yaml
  longodds judge claim.findings.json shots.csv --rig rig_shot.yaml
  longodds judge claim.findings.json shots.csv --weight 0 --stands-for strikes,perforates")]
pub(crate) struct Arguments {
    /// Findings of a run of the claim.
    findings: PathBuf,
    /// The shot log; `-` reads standard input.
    shots: PathBuf,
    /// The scenario of the rig's shot, or the findings of a run of it: each shot's blow is what its flights give
    /// at that shot's launch speed. Without it, shots are taken to strike anywhere
    /// between square on and as the claim's own strikes do.
    #[arg(long)]
    rig: Option<PathBuf>,
    /// Weight of the model, 0 (shots alone) to 1.
    #[arg(long, value_parser = typed::weight, default_value = "1")]
    weight: f64,
    /// The gates that the shots stand for, apart by commas.
    ///
    /// An aimed rig says nothing about the claim's own aim: only what happens
    /// at the target is taken from it unless told otherwise.
    #[arg(long, value_delimiter = ',', default_value = STANDS_FOR)]
    stands_for: Vec<String>,
    #[command(flatten)]
    camera: rigging::Camera,
    /// Seed of the rig's flights.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Draw what was thought of the strength, the shots, and what is thought
    /// after them (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Print JSON, in SI units: `report --with` puts it on a page.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = super::report::read(&arguments.findings)?;
    let log = rigging::shots(&arguments.shots, &arguments.camera, None)?;
    let stands_for = arguments
        .stands_for
        .iter()
        .map(|name| super::trials::gate(name.trim()))
        .collect::<Result<Vec<Gate>, Failure>>()?;
    let show = findings.show;
    let model = model(&findings);
    let (blows, assumed) = blows(arguments, &findings, &model, &log)?;
    let weighing = Weighing { weight: arguments.weight, stands_for };
    let judged = judge(&model, &log, &blows.blows, &weighing);
    let said = judged.said(show);
    let (alone, alone_said) = plain_shots(&judged).unzip();
    let say = judged.on_camera(&conditions(&findings, &blows, show));
    let chart = chart(&findings, &judged, show, &say);
    if arguments.json {
        let answer = json!({
            "kind": Kind::Judgement, "version": VERSION, "claim": findings.claim_text,
            "assumed": assumed, "asked": log.repeated(), "judgement": judged, "blows": blows,
            "shots_alone": alone, "chart": chart,
            "says": { "claim": said, "shots_alone": alone_said, "on_camera": say },
        });
        writeln!(out, "{answer:#}")?;
    } else {
        writeln!(out, "Claim: {}", findings.claim_text.trim())?;
        plain::list(out, "ASSUMED", &assumed)?;
        plain::list(out, "ASKED", &log.repeated())?;
        write_words(&judged, &said, &findings, show, out)?;
        if let Some(statement) = &alone_said {
            writeln!(out, "\nThe shots alone, with no model: {}.", statement.says)?;
            writeln!(out, "They do not say: {}.", statement.does_not_say)?;
        }
        plain::list(out, "What would change this:", &said.outlook)?;
        plain::list(out, "CAUTION", &findings.cautions)?;
        writeln!(out, "\nTo say on camera: {say}")?;
    }
    match (&arguments.picture, &chart) {
        (Some(path), Some(chart)) => {
            let picture = chart::judgement(chart, Frame::page());
            rigging::write_picture_beside(path, &picture, arguments.json, out)?;
        }
        (Some(_), None) => {
            return Err(Failure::wrong("no shot has both a speed and `stopped` or `through`")
                .help("there is nothing to draw"));
        }
        (None, _) => {}
    }
    let stream = files::is_stream(&arguments.shots) || files::is_stream(&arguments.findings);
    if !arguments.json && !stream && chart.is_some() {
        writeln!(out, "{}", go_on(arguments))?;
    }
    Ok(())
}

/// The next command: the page of the run with this beside it, the options as told.
fn go_on(arguments: &Arguments) -> String {
    let [findings, shots] = [&arguments.findings, &arguments.shots].map(|path| files::typed(path));
    let mut words = vec!["judge".to_owned(), findings.clone(), shots];
    if let Some(rig) = &arguments.rig {
        words.extend(["--rig".to_owned(), files::typed(rig)]);
    }
    if arguments.weight < 1.0 {
        words.extend(["--weight".to_owned(), arguments.weight.to_string()]);
    }
    let stands_for = arguments.stands_for.join(",");
    if stands_for != STANDS_FOR {
        words.extend(["--stands-for".to_owned(), stands_for]);
    }
    if arguments.seed != 1 {
        words.extend(["--seed".to_owned(), arguments.seed.to_string()]);
    }
    words.extend(arguments.camera.typed());
    let kept = files::beside(&arguments.findings, "judge.json");
    paste::on_the_page(words.iter().map(String::as_str), &kept, &findings)
}

/// The gates that an aimed rig's shots stand for.
const STANDS_FOR: &str = "perforates,harms";

/// The model's side of the judgement from a run.
fn model(findings: &Findings) -> Model {
    let mut reached = 1.0;
    let gates = findings
        .gates
        .iter()
        .map(|gate| {
            let told = ModelGate {
                gate: gate.gate,
                meaning: gate.meaning.clone(),
                came: gate.came,
                passed: gate.passed.min(gate.came),
                reached,
                searched: (!gate.given_before.is_counted()).then(|| {
                    let given = &gate.given_before;
                    Estimate::holding(given.probability, given.low, given.high)
                }),
            };
            reached = gate.so_far.high.min(reached);
            told
        })
        .collect();
    let claim = &findings.claim;
    let [low, high] = claim.ends();
    Model {
        claim: Estimate::holding(claim.probability, low, high),
        gates,
        barrier: findings.barrier.as_ref().and_then(strength),
    }
}

fn strength(barrier: &BarrierFinding) -> Option<ModelBarrier> {
    let strength = barrier.strength.clone()?;
    (!barrier.blows.is_empty()).then(|| ModelBarrier {
        demand: barrier.demand,
        strength,
        demanded: barrier.blows.clone(),
    })
}

/// How hard each shot struck, and what had to be assumed for that.
fn blows(
    arguments: &Arguments,
    findings: &Findings,
    model: &Model,
    log: &ShotLog,
) -> Result<(Blows, Vec<String>), Failure> {
    let mut assumed = Vec::new();
    let barrier = model.barrier.as_ref();
    let measure = barrier.map_or(Demand::NormalEnergy, |barrier| barrier.demand);
    let by_formula = barrier.is_some_and(|barrier| barrier.strength.by_formula);
    let mut blows = match &arguments.rig {
        Some(path) => flown(arguments, path, measure, by_formula, log)?,
        None => bare(findings).blows(log),
    };
    if arguments.rig.is_none() && !blows.blows.is_empty() {
        assumed.push(how_bare(&bare(findings)));
        if by_formula {
            assumed.push(
                "the barrier is told by a formula, which asks how the object struck: without --rig \
                 the shots are only counted"
                    .to_owned(),
            );
            blows.blows.clear();
        }
    }
    if blows.taken_as_exact > 0 {
        assumed.push(format!(
            "{} of the log tell no uncertainty: taken as exact",
            if blows.taken_as_exact == 1 {
                "one speed".to_owned()
            } else {
                format!("{} speeds", blows.taken_as_exact)
            }
        ));
    }
    if arguments.rig.is_some() && !blows.blows.is_empty() {
        assumed
            .push("the log's speeds are launch speeds; the rig's flights did the rest".to_owned());
    }
    if findings.barrier.is_some() && barrier.is_none() && !blows.blows.is_empty() {
        assumed.push(
            "these findings do not tell the strength of one barrier to weigh the blows against \
             (several are aimed at, or an older program wrote them): the shots are only counted"
                .to_owned(),
        );
    }
    if barrier.is_some_and(|barrier| barrier.strength.lower_bound) {
        assumed.push(
            "the barrier is only known to withstand its standard's test: it is taken to break \
             anywhere from there to about six times that"
                .to_owned(),
        );
    }
    Ok((blows, assumed))
}

/// Shots of which only the speed is known, against this claim's target.
fn bare(findings: &Findings) -> Bare {
    let mass = findings.object.mass;
    let (measure, share) = match (&findings.barrier, &findings.impact_speed) {
        (Some(barrier), Some(speed)) => {
            let (asked, speed) = (barrier.demanded.quantiles[3], speed.quantiles[3]);
            let share = match barrier.demand {
                Demand::NormalSpeed => asked / speed,
                Demand::NormalEnergy => asked / (0.5 * mass * speed * speed),
                Demand::TotalEnergy => 1.0,
            };
            (barrier.demand, if share.is_finite() { share.min(1.0) } else { 1.0 })
        }
        (Some(barrier), None) => (barrier.demand, 1.0),
        (None, _) => (Demand::NormalEnergy, 1.0),
    };
    Bare { measure, mass, share }
}

fn how_bare(bare: &Bare) -> String {
    if bare.is_square() {
        return "for want of --rig: every shot struck square on, at the speed in the log, with its \
                whole mass behind the point of contact, as the claim's own strikes nearly do. One \
                that struck turned or off square was softer, and what it shows is less"
            .to_owned();
    }
    let what = if bare.measure == Demand::NormalSpeed { "speed" } else { "energy" };
    format!(
        "for want of --rig: every shot struck at the speed in the log, anywhere between square on \
         and as the claim's own strikes do, which bring {} of that {what} to bear. With the rig's \
         scenario each shot counts for what it was",
        percent(bare.share)
    )
}

/// The scenario of the rig's shot: as written, or as a run of it kept it.
fn rigs_shot(path: &Path) -> Result<Scenario, Failure> {
    if path.extension().is_none_or(|ending| ending != "json") {
        return input::scenario(path);
    }
    let kept = super::report::read(path)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    scenario::parse(&kept.scenario_text, folder).map_err(|_| {
        Failure::wrong(format!("the scenario kept in `{}` cannot be read again", files::name(path)))
            .help("give the scenario itself")
    })
}

/// The rig's flights at each shot's speed.
fn flown(
    arguments: &Arguments,
    path: &Path,
    measure: Demand,
    by_formula: bool,
    log: &ShotLog,
) -> Result<Blows, Failure> {
    let rig = Claim::ready(rigs_shot(path)?, arguments.seed);
    let bar = Bar::new(12 * 600, "flights");
    let found = Rigged { rig: &rig, measure, by_formula, seed: arguments.seed }.blows(log, &bar);
    let stopped = bar.stop();
    drop(bar);
    if stopped {
        return Err(Failure::STOPPED);
    }
    let name = files::name(path);
    found.map_err(|why| match why {
        Unstruck::NotLaunched => {
            Failure::wrong(format!("`{name}` launches nothing at a speed that could be set"))
                .help("give the scenario of the rig's shot: `release: {launched: {speed: ...}}`")
        }
        Unstruck::OtherBarrier => Failure::wrong(format!(
            "the claim's barrier is told by a formula and that of `{name}` is not"
        ))
        .help("give the rig's aimed face the same `barrier`, and the chain `perforates`"),
        Unstruck::Seldom { speed, strikes, flights } => Failure::wrong(format!(
            "at {} the rig of `{name}` strikes in {strikes} of {flights} flights: too few to tell \
             how hard that shot struck",
            format(speed, Dimension::Speed, rig.scenario().show)
        ))
        .help("aim better, or give the speeds at the launcher"),
    })
}

fn conditions(findings: &Findings, blows: &Blows, show: Show) -> Conditions {
    let barrier = findings.barrier.as_ref().map_or_else(
        || "target".to_owned(),
        |barrier| {
            let name = if barrier.name == "as told" { &barrier.face } else { &barrier.name };
            name.replace('_', " ")
        },
    );
    let round = matches!(findings.object.silhouette, Silhouette::Ball | Silhouette::Lump);
    let square = bare(findings).is_square();
    Conditions { barrier, speeds: blows.speeds, pose: blows.pose, square, round, show }
}

fn chart(findings: &Findings, judged: &Judgement, show: Show, say: &str) -> Option<JudgementChart> {
    let barrier = judged.barrier.as_ref()?;
    let dimension = match barrier.demand {
        _ if barrier.by_formula => Dimension::Number,
        Demand::NormalSpeed => Dimension::Speed,
        Demand::NormalEnergy | Demand::TotalEnergy => Dimension::Energy,
    };
    let told = findings.barrier.as_ref()?;
    let name = if told.name == "as told" { &told.face } else { &told.name };
    Some(JudgementChart {
        show,
        dimension: dimension.name().to_owned(),
        barrier: name.replace('_', " "),
        scenario_name: findings.scenario_name.clone(),
        edges: barrier.drawn.edges.clone(),
        before: barrier.drawn.before.clone(),
        after: barrier.drawn.after.clone(),
        claimed: barrier.drawn.claimed.clone(),
        shots: barrier.points.iter().map(|blow| (blow.size, blow.through)).collect(),
        model: barrier.before,
        by_scenario: barrier.by_scenario,
        by_shots: barrier.by_shots,
        both: if judged.weight > 0.0 { barrier.both } else { Some(barrier.by_shots) },
        on_camera: say.to_owned(),
    })
}

/// What the shots say by themselves about the gate they stand for most.
fn plain_shots(judged: &Judgement) -> Option<(Statement, Sayable)> {
    let gate = judged.gates.iter().filter(|gate| gate.shots > 0).max_by_key(|gate| gate.shots)?;
    let event = match gate.gate {
        Gate::Perforates => "a perforation",
        Gate::Strikes => "a strike",
        Gate::Harms => "a harmful one",
        Gate::Released | Gate::Reaches | Gate::Attitude => "a pass",
    };
    let statement = Statement::new(gate.passed, gate.shots);
    Some((statement, statement.said(event)))
}

fn write_words(
    judged: &Judgement,
    said: &Judged,
    findings: &Findings,
    show: Show,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    writeln!(out, "\n{}\n", said.standing)?;
    the_gates(judged, show, out)?;
    let heading = if judged.both.is_none() { "MODEL AND SHOTS DISAGREE" } else { "DOUBT" };
    plain::list(out, heading, &said.conflicts)?;
    let Some(barrier) = &judged.barrier else { return Ok(()) };
    writeln!(out)?;
    for sentence in &said.barrier {
        writeln!(out, "{sentence}")?;
    }
    the_barrier(barrier, show, out)?;
    if findings.claim.at_most {
        writeln!(out, "The run's chance is a bound (at most), and so is what is made of it here.")?;
    }
    Ok(())
}

fn the_gates(judged: &Judgement, show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let headings = [
        "gate",
        "model",
        "shots",
        "passed",
        "both",
        "95 % from",
        "to",
        "shots alone",
        "from",
        "to",
    ];
    let mut table = plain::table(headings);
    let voice = Voice::plain(show);
    let cells = |e: Option<&Estimate>, none: &str| {
        e.map_or_else(
            || [none.to_owned(), String::new(), String::new()],
            |e| {
                let [low, high] = gate_ends(e).map(|end| voice.say(end));
                [gate_chance(e, voice), low, high]
            },
        )
    };
    for gate in &judged.gates {
        let name = json!(gate.gate);
        let used = gate.method != Method::Model;
        let [model, _, _] = cells(gate.model.as_ref(), "none came");
        let both = cells(gate.both.as_ref(), if used { "disagree" } else { "" });
        let alone = cells(gate.by_shots.as_ref().filter(|_| used), "");
        let shots = if gate.stands_for { gate.shots.to_string() } else { "not asked".to_owned() };
        let passed = if used { gate.passed.to_string() } else { String::new() };
        let first = [name.as_str().unwrap_or_default().to_owned(), model, shots, passed];
        table.add_row(first.into_iter().chain(both).chain(alone));
    }
    writeln!(out, "{table}")?;
    Ok(())
}

/// The threshold as a scenario has it: 90 % of the doubt about the median, and
/// the spread from shot to shot.
fn as_barrier(barrier: &BarrierJudgement) -> String {
    let [low, high] = barrier.nine_in_ten;
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
    let shown = |value: f64| barrier.size(value, show);
    let [low, middle, high] = barrier.threshold.map(shown);
    writeln!(
        out,
        "The barrier lets half of the blows through at {middle} (95 % between {low} and {high})."
    )?;
    if let Some(above) = barrier.above {
        writeln!(
            out,
            "No shot went through, so the shots only bound it from below: above {} (95 %).",
            shown(above)
        )?;
    } else if !barrier.by_formula {
        writeln!(out, "In a scenario: `barrier: {}`", as_barrier(barrier))?;
        writeln!(out, "The shots alone: `barrier: {{shots: FILE}}` with the log's name.")?;
    }
    Ok(())
}
