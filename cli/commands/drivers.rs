//! `longodds drivers`: which inputs decide, and what a rig should hold.

use crate::{
    failure::Failure,
    files, paste,
    plain::table,
    progress::Bar,
    what_if::{self, FLIGHTS, Sets},
};
use longodds_reports::words::capital;
use longodds_sim::{
    answer::gate_in_words,
    chain::Claim,
    drivers::{Driver, Index, PickFreeze, first_orders, pick_freeze, ranking, tolerance, varies},
    engine::{Arrivals, ClaimState, Order, Progress, Tally, arrivals},
    math::ln,
    quantity::format,
    scenario::{Gate, Input, InputId},
    words::{Spoken, count, interval},
};
use serde_json::{Value, json};
use std::{io::Write, path::PathBuf};

/// Tell which inputs decide the claim and each of its steps, how much of the
/// doubt a rig would settle that holds them, and how tightly it has to.
///
/// The ranking comes from the flights themselves; inputs that move together
/// share what they decide. How hard it arrives is shared out among the flights
/// that strike. `--totals` flies a sample made for the purpose (16 independently
/// scrambled sets of Sobol' points), which also sees inputs that decide only
/// together.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds drivers scenarios/shop_window.yaml
  longodds drivers claim.yaml --totals --json")]
pub(crate) struct Arguments {
    /// The scenario; `-` reads it from standard input.
    scenario: PathBuf,
    /// Plain flights to rank from.
    #[arg(long, default_value_t = 100_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    flights: u64,
    /// Fly the designed sample too.
    #[arg(long)]
    totals: bool,
    /// Rows of the designed sample, rounded up to 16 times a power of two; it
    /// takes so many flights for every input.
    #[arg(long, default_value_t = 4096, value_parser = clap::value_parser!(u32).range(100..=10_000_000))]
    rows: u32,
    /// The seed of the random draws.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    sets: Sets,
}

/// Loss of the best chance within which an input no longer matters.
const LOSS: f64 = 0.1;

/// Inputs told for each step.
const TOLD: usize = 5;

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let changed = what_if::read(&arguments.scenario, &arguments.sets)?;
    let claim = Claim::ready(changed.scenario.clone(), arguments.seed);
    if claim.scenario().inputs.uncertain().next().is_none() {
        return Err(Failure::wrong("no input of the scenario is uncertain")
            .help("spread at least one of them, such as {range: [7 m, 9 m]}"));
    }
    let bar = Bar::new(arguments.flights, "flights");
    let order = Order::new(arguments.seed, 0..arguments.flights);
    let (tally, arrivals) = arrivals(&claim, &order, &bar);
    let was_stopped = bar.stop();
    drop(bar);
    if was_stopped {
        return Err(Failure::STOPPED);
    }
    let totals = arguments.totals.then(|| Totals::new(&claim, arguments));
    let found = Found { claim, tally, arrivals, totals };
    if arguments.json {
        return as_json(&found, out);
    }
    if let Some(told) = changed.compared(arguments.seed, arguments.flights.min(FLIGHTS))? {
        told.say(out)?;
    }
    found.told(out)?;
    writeln!(
        out,
        "\nRanked from {} plain flights of seed {}.",
        count(found.tally.flights()),
        arguments.seed
    )?;
    found.go_on(arguments, out)
}

/// What the command found.
struct Found {
    claim: Claim,
    tally: Tally,
    arrivals: Arrivals,
    totals: Option<Totals>,
}

impl Found {
    fn told(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let claim = &self.claim;
        writeln!(out, "{}", most_of_the_doubt(claim, &self.tally))?;
        let together = together(claim);
        if !together.is_empty() {
            writeln!(
                out,
                "These move together, and share what they decide: {}.",
                together.join("; ")
            )?;
        }
        for place in std::iter::once(None).chain((0..claim.gates().len()).map(Some)) {
            told(claim, &self.tally, place, out)?;
        }
        self.how_hard(out)?;
        let Some(totals) = &self.totals else { return Ok(()) };
        shares(
            out,
            "Shares of the variance of the whole claim, by a designed sample",
            &totals.claim,
        )?;
        shares(
            out,
            "Shares of the variance of the energy where a flight is decided (at the strike, or\n\
             where it passed by or fell), by the same sample",
            &totals.energy,
        )
    }

    /// The next command: the strongest input that can be held, over its range.
    fn go_on(&self, arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
        let ranked = ranking(&self.tally.inputs, None);
        let standing = ranked.iter().find(|driver| {
            driver.separation.gap > driver.separation.gap_noise
                && !is_chance(&self.claim, driver.input)
        });
        let name = files::typed(&arguments.scenario);
        let show = self.claim.scenario().show;
        let words: Vec<String> = match standing.map(|driver| nth(&self.claim, driver.input)) {
            Some(input) => {
                let [low, high] = [0.05, 0.95]
                    .map(|u| format(input.distribution.quantile(u), input.dimension, show));
                ["sweep", &name, &input.name, "--from", &low, "--to", &high]
                    .map(str::to_owned)
                    .into()
            }
            None => vec!["run".to_owned(), name],
        };
        let words = words.iter().map(String::as_str).chain(paste::sets(&arguments.sets.set));
        writeln!(out, "{}", paste::next(words))?;
        Ok(())
    }

    /// First-order shares of the energy at the strike, largest first; `None`
    /// with too few strikes.
    fn of_energy(&self) -> Option<Vec<(String, Index)>> {
        let shares = first_orders(&self.arrivals.ranks, &self.arrivals.energy)?;
        let names = (0..).map(|place| nth(&self.claim, place).name.clone());
        let mut named: Vec<(String, Index)> = names.zip(shares).collect();
        named.sort_by(|a, b| b.1.estimate.total_cmp(&a.1.estimate));
        Some(named)
    }

    fn how_hard(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let strikes = count(self.arrivals.energy.len() as u64);
        if !self.arrivals.energy.is_empty() && !varies(&self.arrivals.energy) {
            writeln!(
                out,
                "\nHow hard it arrives: all {strikes} strikes arrive alike, so that there is \
                 nothing to share out."
            )?;
            return Ok(());
        }
        let Some(shares) = self.of_energy() else {
            writeln!(out, "\nHow hard it arrives: {strikes} strikes are too few to share it out.")?;
            return Ok(());
        };
        writeln!(out, "\nHow hard it arrives (energy at the strike), from {strikes} strikes")?;
        let mut rows = table(["input", "share of the variance (95 % interval)"]);
        let standing: Vec<_> = shares.iter().filter(|(_, index)| index.low > 0.0).collect();
        if standing.is_empty() {
            writeln!(out, "  No input stands out from chance.")?;
            return Ok(());
        }
        for (name, index) in standing.into_iter().take(TOLD) {
            rows.add_row([name.clone(), range(index)]);
        }
        writeln!(out, "{rows}")?;
        Ok(())
    }
}

fn shares(out: &mut dyn Write, title: &str, totals: &[Total]) -> Result<(), Failure> {
    if totals.is_empty() {
        writeln!(out, "\n{title}: it does not vary, so that there is nothing to share out.")?;
        return Ok(());
    }
    writeln!(out, "\n{title}")?;
    let mut rows = table(["inputs", "alone (95 % interval)", "with all it acts with"]);
    for total in totals {
        rows.add_row([total.names.join(" and "), range(&total.first), range(&total.total)]);
    }
    writeln!(out, "{rows}")?;
    Ok(())
}

fn range(index: &Index) -> String {
    let part = |x: f64| x.clamp(0.0, 1.0);
    let (estimate, low, high) = (part(index.estimate), part(index.low), part(index.high));
    format!("{} ({})", Spoken::inside(estimate, low, high).set(), interval(low, high).set())
}

/// Where the doubt is: entropy adds up along the chain.
fn most_of_the_doubt(claim: &Claim, tally: &Tally) -> String {
    let entropy = |p: f64| {
        let term = |q: f64| if q > 0.0 { -q * ln(q) } else { 0.0 };
        term(p) + term(1.0 - p)
    };
    let mut parts = [
        ("whether it comes loose", 0.0),
        ("where it goes", 0.0),
        ("how it is turned", 0.0),
        ("how hard it hits", 0.0),
    ];
    for (place, gate) in claim.gates().iter().enumerate() {
        let (came, passed) = (tally.came(place) as f64, tally.passed(place) as f64);
        let doubt = if came > 0.0 { came * entropy(passed / came) } else { 0.0 };
        let part = match gate {
            Gate::Released => 0,
            Gate::Reaches | Gate::Strikes => 1,
            Gate::Attitude => 2,
            Gate::Perforates | Gate::Harms => 3,
        };
        parts[part].1 += doubt;
    }
    let all: f64 = parts.iter().map(|part| part.1).sum();
    if all <= 0.0 {
        return "There is no doubt to share out: every flight ended the same way.".to_owned();
    }
    parts.sort_by(|a, b| b.1.total_cmp(&a.1));
    let share = Spoken::near(parts[0].1 / all).set();
    if parts[1].1 <= 0.0 {
        return format!("All of the doubt is in {}: nothing else ever differed.", parts[0].0);
    }
    if parts[0].1 < 0.5 * all {
        return format!("The largest part of the doubt ({share}) is in {}.", parts[0].0);
    }
    format!("Most of the doubt ({share}) is in {}, not in {}.", parts[0].0, parts[1].0)
}

/// Groups of inputs that are correlated, by their names.
fn together(claim: &Claim) -> Vec<String> {
    let groups = groups(claim).into_iter().filter(|group| group.len() > 1);
    let name = |place: usize| nth(claim, place).name.clone();
    groups.map(|group| group.into_iter().map(name).collect::<Vec<_>>().join(" and ")).collect()
}

fn nth(claim: &Claim, place: usize) -> &Input {
    let inputs = &claim.scenario().inputs;
    let id: Vec<InputId> = inputs.uncertain().collect();
    inputs.get(id[place])
}

/// The uncertain inputs in groups that are independent of each other.
fn groups(claim: &Claim) -> Vec<Vec<usize>> {
    let inputs = &claim.scenario().inputs;
    let ids: Vec<usize> = inputs.uncertain().map(|id| id.0).collect();
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (place, id) in ids.iter().enumerate() {
        let tied =
            |group: &Vec<usize>| group.iter().any(|other| inputs.copula().ties(ids[*other], *id));
        let (joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(tied);
        groups = apart;
        let mut group: Vec<usize> = joined.into_iter().flatten().collect();
        group.push(place);
        groups.push(group);
    }
    groups
}

fn told(
    claim: &Claim,
    tally: &Tally,
    place: Option<usize>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let (came, passed) = counts(claim, tally, place);
    let name = place.map_or("The whole claim".to_owned(), |p| capital(&gate_in_words(claim, p)));
    if passed == 0 || passed == came {
        let why = if came == 0 {
            "no flight came to it"
        } else if passed == 0 {
            "none passed"
        } else {
            "all passed"
        };
        writeln!(out, "\n{name}: {why}, so that nothing decides it here.")?;
        return Ok(());
    }
    let (came, passed) = (count(came), count(passed));
    writeln!(out, "\n{name}: {passed} of {came}")?;
    let found = ranking(&tally.inputs, place);
    let mut rows = table(["input", "which way", "settles", "stops mattering if held"]);
    let standing =
        found.iter().filter(|driver| driver.separation.gap > driver.separation.gap_noise);
    let mut any = false;
    for driver in standing.take(TOLD) {
        any = true;
        let input = nth(claim, driver.input);
        rows.add_row([
            input.name.clone(),
            direction(driver).to_owned(),
            Spoken::near(driver.isolation.entropy).set(),
            held(claim, tally, place, driver),
        ]);
    }
    if any {
        writeln!(out, "{rows}")?;
    } else {
        writeln!(out, "  No input stands out from chance.")?;
    }
    Ok(())
}

fn counts(claim: &Claim, tally: &Tally, place: Option<usize>) -> (u64, u64) {
    match place {
        Some(place) => (tally.came(place), tally.passed(place)),
        None => (tally.flights(), tally.passed(claim.gates().len() - 1)),
    }
}

/// Least distance from even odds that is called a direction.
const SOME_WAY: f64 = 0.02;

fn direction(driver: &Driver) -> &'static str {
    let separation = &driver.separation;
    let clear = separation.auc_noise.max(SOME_WAY);
    match separation.auc {
        _ if separation.window => "a window",
        x if x > 0.5 + clear => "more helps",
        x if x < 0.5 - clear => "less helps",
        _ => "a window",
    }
}

/// The range within which an input, held, no longer matters.
fn held(claim: &Claim, tally: &Tally, place: Option<usize>, driver: &Driver) -> String {
    let (before, after) = place.map_or((0, claim.gates().len()), |p| (p, p + 1));
    let bins = |least| tally.inputs.passed_at_least(driver.input, least);
    let Some(found) = tolerance(&bins(before), &bins(after), LOSS) else { return String::new() };
    if is_chance(claim, driver.input) {
        return CHANCE.to_owned();
    }
    let input = nth(claim, driver.input);
    let say =
        |u: f64| format(input.distribution.quantile(u), input.dimension, claim.scenario().show);
    match (found.low > 0.0, found.high < 1.0) {
        (true, true) => format!("from {} to {}", say(found.low), say(found.high)),
        (true, false) => format!("above {}", say(found.low)),
        (false, true) => format!("below {}", say(found.high)),
        (false, false) => "anywhere".to_owned(),
    }
}

/// In the place of limits that nobody can hold.
const CHANCE: &str = "nobody can hold it";

/// Whether an input differs of itself: the gust of the moment, how one barrier
/// differs from its like.
fn is_chance(claim: &Claim, place: usize) -> bool {
    let scenario = claim.scenario();
    scenario.inputs.uncertain().nth(place).is_some_and(|id| scenario.is_of_itself(id))
}

struct Total {
    names: Vec<String>,
    first: Index,
    total: Index,
}

/// What the designed sample found, of the claim and of the energy.
struct Totals {
    claim: Vec<Total>,
    energy: Vec<Total>,
}

impl Totals {
    fn new(claim: &Claim, arguments: &Arguments) -> Self {
        let state = ClaimState::new(claim, &[]);
        let (groups, gates) = (groups(claim), claim.gates().len());
        let inputs = claim.scenario().inputs.uncertain().count();
        let rows = arguments.rows as usize;
        let [of_claim, of_energy] =
            pick_freeze(inputs, &groups, rows, arguments.seed, |points, out| {
                state.fly(points, out, |outcome| {
                    [f64::from(u8::from(outcome.passed >= gates)), outcome.end_energy]
                });
            });
        Self { claim: named(claim, &groups, of_claim), energy: named(claim, &groups, of_energy) }
    }
}

fn named(claim: &Claim, groups: &[Vec<usize>], found: PickFreeze) -> Vec<Total> {
    let mut totals: Vec<Total> = groups
        .iter()
        .zip(found.first.into_iter().zip(found.total))
        .map(|(group, (first, total))| Total {
            names: group.iter().map(|place| nth(claim, *place).name.clone()).collect(),
            first,
            total,
        })
        .filter(|total| total.total.estimate.is_finite())
        .collect();
    totals.sort_by(|a, b| b.total.estimate.total_cmp(&a.total.estimate));
    totals
}

fn as_json(found: &Found, out: &mut dyn Write) -> Result<(), Failure> {
    let (claim, tally) = (&found.claim, &found.tally);
    let index = |i: &Index| json!({ "estimate": i.estimate, "low": i.low, "high": i.high });
    let gates: Vec<Value> = std::iter::once(None)
        .chain((0..claim.gates().len()).map(Some))
        .map(|place| {
            let ranked: Vec<Value> = ranking(&tally.inputs, place)
                .iter()
                .map(|driver| one(claim, tally, place, driver))
                .collect();
            let (came, passed) = counts(claim, tally, place);
            let gate = place.map(|place| claim.gates()[place]);
            json!({ "gate": gate, "came": came, "passed": passed, "ranking": ranked })
        })
        .collect();
    let all = |totals: &[Total]| {
        let one = |t: &Total| json!({ "inputs": t.names, "first": index(&t.first), "total": index(&t.total) });
        totals.iter().map(one).collect::<Vec<Value>>()
    };
    let arriving = found.of_energy().map(|shares| {
        let one = |(name, share): &(String, Index)| json!({ "input": name, "first": index(share) });
        shares.iter().map(one).collect::<Vec<Value>>()
    });
    let totals = found.totals.as_ref();
    let what = json!({
        "summary": most_of_the_doubt(claim, tally),
        "flights": tally.flights(),
        "together": together(claim),
        "gates": gates,
        "strikes": found.arrivals.energy.len(),
        "arriving_energy": arriving,
        "totals": totals.map(|totals| all(&totals.claim)),
        "energy_totals": totals.map(|totals| all(&totals.energy)),
    });
    writeln!(out, "{what:#}")?;
    Ok(())
}

fn one(claim: &Claim, tally: &Tally, place: Option<usize>, driver: &Driver) -> Value {
    let (before, after) = place.map_or((0, claim.gates().len()), |p| (p, p + 1));
    let bins = |least| tally.inputs.passed_at_least(driver.input, least);
    let input = nth(claim, driver.input);
    let at = |u: f64| input.distribution.quantile(u);
    let chance = is_chance(claim, driver.input);
    let tolerance = tolerance(&bins(before), &bins(after), LOSS).filter(|_| !chance);
    let held = tolerance.map(|found| {
        json!({
            "best": at(found.best),
            "low": (found.low > 0.0).then(|| at(found.low)),
            "high": (found.high < 1.0).then(|| at(found.high)),
        })
    });
    json!({
        "input": input.name,
        "auc": driver.separation.auc,
        "window": driver.separation.window,
        "of_itself": chance,
        "separation": driver.separation.gap,
        "noise": driver.separation.gap_noise,
        "settles": driver.isolation.entropy,
        "held": held,
    })
}
