//! From a tally to findings.

use super::{
    BarrierFinding, Chance, CrossingFinding, Driver, EnergyAudit, FaceFinding, Findings,
    GateDrivers, GateFinding, HarmFinding, InputFinding, Method, ObjectFinding, PartFinding,
    SolidFinding, Spread, StepError, VERSION, answers, by_face, cautions, contacts, ground, hurt,
    models, paths, set_up, way, words,
};
use crate::{
    body::Body,
    chain::Claim,
    contact::Scenery,
    drivers::{self as ranked, ranking},
    engine::{Draws, Measure, Rows, Stop, Tally, audit, check_steps},
    estimate::{LEVEL, Proportion},
    flight,
    scenario::{Barrier, Face, Gate, Hardness, Input, InputId, Scenario, parts::Part},
    study::Study,
    trials::judgement::Strength,
};

/// Where a run came from, as far as the engine does not know it.
#[derive(Clone, Debug, Default)]
pub struct Origin {
    /// The scenario's name as typed.
    pub scenario_name: String,
}

/// How many draws are flown twice to measure the step error.
const FLOWN_TWICE: u64 = 256;

/// Bins of a histogram.
const BINS: usize = 40;

/// Makes the record of a study.
///
/// A small fixed subset of the draws is flown again here: for the step error,
/// and for the paths that are drawn.
#[must_use]
pub fn findings(claim: &Claim, study: &Study, origin: &Origin) -> Findings {
    let sketch = sketch(claim, study, origin, usize::MAX);
    let draws = Draws::new(&claim.scenario().inputs, study.ask.seed, &[]);
    let mut again = Rows::default();
    draws.fill(0..study.tally.flights().min(FLOWN_TWICE), &mut again);
    Findings {
        step_error: step_error(claim, &again.values),
        energy_audit: Some(energy_audit(claim, &again.values)),
        ..sketch
    }
}

/// [`findings`] while somebody waits: no flight is flown twice, so that the step error
/// is that of no flight, and nothing is said of the energy.
///
/// `paths`: how many flights of each fate are drawn at most.
#[must_use]
pub fn sketch(claim: &Claim, study: &Study, origin: &Origin, paths: usize) -> Findings {
    let scenario = claim.scenario();
    let (order, tally) = (study.order(), &study.tally);
    let draws = Draws::new(&scenario.inputs, order.seed, &order.changes);
    let middle = draws.middle();
    let mut scenery = Scenery::default();
    scenery.place(&scenario.target, &middle);
    let flown = tally.flights();
    let last = claim.gates().len() - 1;
    let claimed = Chance {
        at_most: at_most(claim, last),
        ..ground::left_open(
            answers::claim(study, chance(tally.passed(last), flown)),
            tally.open.iter().sum(),
        )
    };
    Findings {
        version: VERSION,
        program: concat!("longodds ", env!("CARGO_PKG_VERSION")).to_owned(),
        claim_text: scenario.claim.clone(),
        show: scenario.show,
        scenario_name: origin.scenario_name.clone(),
        scenario_text: scenario.text.clone(),
        seed: order.seed,
        partial: study.stop == Stop::Interrupted,
        flights_asked: study.ask.flights,
        enough: Some(answers::enough(scenario, study)),
        search: answers::search(study, &chance(tally.passed(last), flown)),
        family: flight::Family::of_this_machine().name().to_owned(),
        band: answers::band(scenario, study),
        most_likely: study.likeliest.as_ref().map(|way| way::most_likely(claim, way)),
        shaky: answers::shaky(scenario, study, &claimed),
        gates: gates(claim, tally, &claimed),
        claim: claimed,
        inputs: inputs(scenario),
        parts: scenario.parts.iter().map(part).collect(),
        faces: faces(scenario, &scenery),
        solids: solids(scenario, &scenery, &middle),
        object: (&claim.body(&middle)).into(),
        start: Some(set_up::start(scenario)),
        target_at: scenery.origin.to_array(),
        target_velocity: scenery.velocity.to_array(),
        target_moved: hurt::moved(scenario, &middle, &tally.impact_speed),
        flights: paths::flights(claim, tally, &draws, paths),
        crossings: crossings(tally),
        by_face: by_face::chains(claim, tally),
        impact_speed: spread(&tally.impact_speed),
        left_with: spread(&tally.left_with[0]),
        left_share: spread(&tally.left_with[1]),
        miss_distance: spread(&tally.miss),
        obliquity: spread(&tally.obliquity),
        barrier: barrier(scenario, tally),
        arriving_energy: spread(&tally.arriving),
        harm: harm(claim, tally, &middle),
        contacts: contacts::finding(claim, tally),
        step_error: step_error(claim, &[]),
        energy_audit: None,
        drivers: drivers(claim, tally, &draws),
        breaches: ground::breaches(tally),
        models: models::notes(scenario),
        cautions: cautions::cautions(scenario),
        warnings: scenario.warnings.iter().map(ToString::to_string).collect(),
    }
}

/// What is drawn of a scenario, at the middle of its inputs and at the release.
#[derive(Clone, Debug)]
pub struct Things {
    /// What flies.
    pub object: ObjectFinding,
    /// The target's faces.
    pub faces: Vec<FaceFinding>,
    /// Its solids.
    pub solids: Vec<SolidFinding>,
    /// Velocity of the target over the ground, in m/s.
    pub target_velocity: [f64; 3],
}

/// The things of a scenario, before anything flies.
#[must_use]
pub fn things(scenario: &Scenario) -> Things {
    let middle = Draws::new(&scenario.inputs, 0, &[]).middle();
    let mut scenery = Scenery::default();
    scenery.place(&scenario.target, &middle);
    let at = |id: InputId| middle[id.0];
    let body = Body::solid(scenario.object.shape.map(at), at(scenario.object.mass));
    Things {
        object: (&body).into(),
        faces: faces(scenario, &scenery),
        solids: solids(scenario, &scenery, &middle),
        target_velocity: scenery.velocity.to_array(),
    }
}

pub(crate) fn chance(held: u64, flights: u64) -> Chance {
    let p = Proportion::printed(held, flights, LEVEL);
    Chance {
        probability: p.estimate,
        low: p.low,
        high: p.high,
        level: p.level,
        flights,
        held,
        method: Method::Plain,
        at_most: false,
        open: 0,
        by_ways: None,
    }
}

/// Whether the chance of passing up to here is an upper bound: it has to go
/// through a barrier that is only known by the test it passed, or by what
/// something harder does to it.
fn at_most(claim: &Claim, place: usize) -> bool {
    let mut aimed = claim.aimed().iter().map(|face| &claim.scenario().target.faces[*face]);
    claim.gates()[..=place].contains(&Gate::Perforates)
        && aimed.any(|face| face.barrier.as_ref().is_some_and(Barrier::is_bound))
}

/// The gates in order; the last one agrees with the chance of the claim.
fn gates(claim: &Claim, tally: &Tally, whole: &Chance) -> Vec<GateFinding> {
    let mut gates: Vec<GateFinding> =
        (0..claim.gates().len()).map(|place| gate(claim, tally, place)).collect();
    let Some((last, before)) = gates.split_last_mut() else { return gates };
    let every = chance(tally.flights(), tally.flights());
    let before = before.last().map_or(&every, |gate| &gate.so_far);
    if let Some(given) = answers::last_gate(whole, before) {
        last.given_before = Chance { at_most: last.given_before.at_most, ..given };
    }
    last.so_far = whole.clone();
    gates
}

fn gate(claim: &Claim, tally: &Tally, place: usize) -> GateFinding {
    let (scenario, gate) = (claim.scenario(), claim.gates()[place]);
    let (came, passed) = (tally.came(place), tally.passed(place));
    let bound = at_most(claim, place);
    GateFinding {
        gate,
        meaning: words::meaning(scenario, gate),
        came,
        passed,
        given_before: Chance {
            at_most: gate == Gate::Perforates && bound,
            ..ground::left_open(chance(passed, came), tally.open[place])
        },
        so_far: Chance {
            at_most: bound,
            ..ground::left_open(chance(passed, tally.flights()), tally.open[..=place].iter().sum())
        },
        could: could(scenario, gate).then(|| {
            let open = tally.open[..place].iter().sum();
            Chance {
                at_most: true,
                ..ground::left_open(chance(tally.could, tally.flights()), open)
            }
        }),
        margin: spread(&tally.margins[place])
            .filter(|_| gate != Gate::Perforates || words::one_measure(scenario)),
        margin_dimension: words::margin_dimension(scenario, gate).to_owned(),
    }
}

/// Whether bounds say of some blows that they cannot go through: those of formulae.
fn could(scenario: &Scenario, gate: Gate) -> bool {
    let mut aimed = scenario.target.faces.iter().filter(|face| face.aim);
    let formula = |face: &Face| face.barrier.as_ref().is_some_and(|it| it.formula.is_some());
    gate == Gate::Perforates && aimed.any(formula)
}

/// A measure as quantiles and a histogram; `None` if nothing was seen.
pub(super) fn spread(measure: &Measure) -> Option<Spread> {
    let (min, max) = measure.ends()?;
    let bars = measure.bars(BINS);
    Some(Spread {
        count: measure.count(),
        mean: measure.mean()?,
        min,
        max,
        quantiles: [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99]
            .map(|q| measure.quantile(q).unwrap_or(min)),
        edges: bars.edges,
        counts: bars.counts,
    })
}

fn inputs(scenario: &Scenario) -> Vec<InputFinding> {
    let asked = scenario.inputs.list().iter().enumerate().filter(|(_, input)| scenario.asks(input));
    let mut inputs: Vec<_> = asked
        .map(|(place, one)| InputFinding {
            of_itself: scenario.is_of_itself(InputId(place)),
            part: scenario.part_of(one).map(|part| part.name.clone()),
            ..input(one)
        })
        .collect();
    inputs.sort_by_key(|input| (input.fixed, input.assumed));
    inputs
}

fn input(input: &Input) -> InputFinding {
    InputFinding {
        name: input.name.clone(),
        dimension: input.dimension.name().to_owned(),
        written: input.written.clone(),
        quantiles: [0.05, 0.5, 0.95].map(|u| input.distribution.quantile(u)),
        fixed: input.distribution.is_fixed(),
        unknown: input.unknown,
        assumed: input.assumed,
        of_itself: false,
        part: None,
    }
}

fn part(part: &Part) -> PartFinding {
    PartFinding {
        side: part.side.key().to_owned(),
        name: part.name.clone(),
        about: part.about.clone(),
        source: part.source.clone(),
        kind: Some(part.kind),
        file: part.own_file().map(str::to_owned),
    }
}

fn faces(scenario: &Scenario, scenery: &Scenery) -> Vec<FaceFinding> {
    let pairs = scenario.target.faces.iter().zip(&scenery.faces);
    pairs
        .map(|(face, now)| FaceFinding {
            name: face.name.clone(),
            centre: now.centre.to_array(),
            normal: now.normal.to_array(),
            right: now.right.to_array(),
            up: now.up.to_array(),
            outline: now.outline,
            aim: face.aim,
        })
        .collect()
}

fn solids(scenario: &Scenario, scenery: &Scenery, middle: &[f64]) -> Vec<SolidFinding> {
    let pairs = scenario.target.solids.iter().zip(&scenery.solids);
    pairs
        .map(|(solid, now)| SolidFinding {
            name: solid.name.clone(),
            shape: solid.shape,
            centre: now.centre.to_array(),
            size: now.half.map(|half| 2.0 * half),
            turn: middle[solid.turn.0],
        })
        .collect()
}

fn crossings(tally: &Tally) -> Vec<CrossingFinding> {
    let mut kept = tally.crossings.clone().into_sorted();
    kept.extend(tally.held.clone().into_sorted());
    kept.sort_by_key(|(draw, _)| *draw);
    kept.dedup_by_key(|(draw, _)| *draw);
    kept.into_iter()
        .map(|(_, crossing)| CrossingFinding {
            right: crossing.at[0],
            up: crossing.at[1],
            face: crossing.face,
            struck: crossing.struck,
            held: crossing.held,
        })
        .collect()
}

/// The barrier of the aimed face that is struck most.
fn barrier(scenario: &Scenario, tally: &Tally) -> Option<BarrierFinding> {
    let weighed = tally.faces.iter().filter(|on| on.demand.count() > 0);
    let (face, demand, resistance) = match weighed.max_by_key(|on| on.demand.count()) {
        Some(on) => (scenario.target.faces.get(on.face)?, &on.demand, &on.resistance),
        None => (words::aimed(scenario)?, &tally.demand, &tally.resistance),
    };
    let barrier = face.barrier.as_ref()?;
    Some(BarrierFinding {
        face: face.name.clone(),
        name: barrier.name.clone(),
        demand: barrier.demand,
        demanded: spread(demand)?,
        resisted: spread(resistance)?,
        source: barrier.source.clone(),
        lower_bound: barrier.lower_bound,
        strength: only_one(scenario).then(|| Strength::of(barrier, &scenario.inputs)),
        blows: blows(&tally.blow),
        softer: barrier.hardness() == Hardness::Softer,
        counts_as: if barrier.object.told { "" } else { barrier.object.stuff.name }.to_owned(),
    })
}

/// Whether one barrier alone is aimed at.
fn only_one(scenario: &Scenario) -> bool {
    let aimed = scenario.target.faces.iter().filter(|face| face.aim);
    aimed.filter(|face| face.barrier.is_some()).count() == 1
}

/// A measure as values with their shares, finer towards its largest values:
/// those decide where few go through.
fn blows(measure: &Measure) -> Vec<(f64, f64)> {
    let even = |from: f64, to: f64, count: u32| {
        let width = (to - from) / f64::from(count);
        (0..count).map(move |i| (from + width * (f64::from(i) + 0.5), width))
    };
    let levels = even(0.0, 0.99, 99).chain(even(0.99, 0.999, 9)).chain(even(0.999, 1.0, 10));
    let value = |(level, share): (f64, f64)| Some((measure.quantile(level)?, share));
    levels.filter_map(value).filter(|(size, _)| *size > 0.0).collect()
}

fn harm(claim: &Claim, tally: &Tally, middle: &[f64]) -> Option<HarmFinding> {
    let asked = claim.gates().contains(&Gate::Harms);
    let harm = &claim.scenario().harm;
    asked.then(|| HarmFinding {
        threshold: middle[harm.threshold.0],
        name: harm.name.clone(),
        source: harm.source.clone(),
        reading: hurt::head(claim.scenario(), middle, &tally.arriving),
    })
}

fn energy_audit(claim: &Claim, rows: &[f64]) -> EnergyAudit {
    let found = audit(claim, rows);
    EnergyAudit {
        flights: found.flights,
        touches: found.touches,
        worst: found.worst,
        outside: found.outside,
        gained: found.gained,
        holds: found.holds(),
    }
}

fn step_error(claim: &Claim, rows: &[f64]) -> StepError {
    let check = check_steps(claim, rows);
    StepError {
        flights: check.flights,
        point_max: check.point_max,
        point_median: check.point_median,
        energy_max: check.energy_max,
        energy_median: check.energy_median,
        outside: check.outside,
        changed: check.changed,
    }
}

/// Ranks the inputs for the whole claim and for every gate.
fn drivers(claim: &Claim, tally: &Tally, draws: &Draws) -> Vec<GateDrivers> {
    let places = (0..claim.gates().len()).map(Some);
    std::iter::once(None)
        .chain(places)
        .map(|place| GateDrivers {
            gate: place.map(|place| claim.gates()[place]),
            ranking: ranking(&tally.inputs, place)
                .into_iter()
                .map(|driver| one_driver(claim, draws, &driver))
                .collect(),
        })
        .collect()
}

fn one_driver(claim: &Claim, draws: &Draws, driver: &ranked::Driver) -> Driver {
    let place = draws.uncertain()[driver.input];
    Driver {
        input: claim.scenario().inputs.list()[place].name.clone(),
        auc: driver.separation.auc,
        window: driver.separation.window,
        separation: driver.separation.gap,
        noise: driver.separation.gap_noise,
        settles: driver.isolation.entropy,
    }
}
