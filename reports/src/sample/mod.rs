//! Findings of our own invention, to draw and to test with: thrown boards
//! along plain parabolas, not simulated. Nothing here is a result.

pub(crate) mod evidence;

pub(crate) use self::evidence::{comparison, map, sweep, test_day};

use longodds_sim::{
    body::{Body, Shape},
    chain::Breach,
    engine::Stop,
    findings::*,
    math, note,
    quantity::Show,
    scenario::{Demand, Gate, Outline, SolidShape},
};

/// A number in 0..1 that depends on `i` and `k` alone (additive recurrence).
pub(crate) fn unit(i: u64, k: u64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "small counts")]
    let x =
        (i + 1) as f64 * [0.754_877_666, 0.569_840_291, 0.362_712_5, 0.219_319_1][(k % 4) as usize];
    x - x.floor()
}

fn chance(held: u64, flights: u64) -> Chance {
    let (x, n) =
        (f64::from(u32::try_from(held).unwrap()), f64::from(u32::try_from(flights).unwrap()));
    // Wilson, z = 1.96: good enough for a made-up record.
    let (p, z2) = (if n > 0.0 { x / n } else { 0.0 }, 3.84);
    let middle = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    let half = (1.96 / (1.0 + z2 / n)) * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
    Chance {
        at_most: false,
        open: 0,
        by_ways: None,
        probability: p,
        low: if held == 0 { 0.0 } else { middle - half },
        high: if held == flights { 1.0 } else { middle + half },
        level: 0.95,
        flights,
        held,
        method: Method::Plain,
    }
}

pub(crate) fn spread(values: impl Iterator<Item = f64>) -> Option<Spread> {
    let mut v: Vec<f64> = values.collect();
    v.sort_by(f64::total_cmp);
    let (min, max) = (*v.first()?, *v.last()?);
    let n = f64::from(u32::try_from(v.len()).unwrap());
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an index")]
    let at = |q: f64| v[((n - 1.0) * q).round() as usize];
    let bins: u32 = 32;
    let (low, high) = if max > min { (min, max) } else { (min - 0.5, max + 0.5) };
    let width = (high - low) / f64::from(bins);
    let mut counts = vec![0; bins as usize];
    for x in &v {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an index")]
        let bin = ((x - low) / width) as usize;
        counts[bin.min(bins as usize - 1)] += 1;
    }
    Some(Spread {
        count: v.len() as u64,
        mean: v.iter().sum::<f64>() / n,
        min,
        max,
        quantiles: [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99].map(at),
        edges: (0..=bins).map(|i| low + width * f64::from(i)).collect(),
        counts,
    })
}

fn path(i: u64, miss: bool) -> FlightFinding {
    let speed = 15.0 + 9.0 * unit(i, 0);
    let rise = -0.25 + 0.5 * unit(i, 1);
    let side = (unit(i, 2) - 0.5) * 0.4;
    let (vx, vy, vz) = (speed * math::cos(side), speed * math::sin(side), speed * rise);
    let wall = 14.0;
    let t_wall = wall / vx;
    let z_wall = 8.0 + vz * t_wall - 4.905 * t_wall * t_wall;
    let t_ground = (vz + (vz * vz + 156.96).sqrt()) / 9.81;
    let y_wall = vy * t_wall;
    let struck = !miss && z_wall > 0.8 && z_wall < 3.0 && y_wall.abs() < 1.5;
    let end = if t_wall < t_ground { t_wall } else { t_ground };
    let path = (0..=24)
        .map(|k| {
            let t = end * f64::from(k) / 24.0;
            let turn = t * (2.0 + 6.0 * unit(i, 3));
            PathPoint {
                time: t,
                position: [vx * t, vy * t, 8.0 + vz * t - 4.905 * t * t],
                seen: None,
                velocity: [vx, vy, vz - 9.81 * t],
                attitude: [0.0, math::sin(turn / 2.0), 0.0, math::cos(turn / 2.0)],
            }
        })
        .collect();
    let stopped_at = if t_ground < t_wall {
        Some(Gate::Reaches)
    } else if !struck {
        Some(Gate::Strikes)
    } else if unit(i, 3) < 0.7 {
        Some(Gate::Perforates)
    } else {
        None
    };
    FlightFinding {
        draw: i,
        stopped_at,
        struck,
        strike: struck.then_some(end),
        closest: false,
        end_speed: speed,
        contacts: Vec::new(),
        rest: None,
        path,
    }
}

fn input(i: u64, name: &str, dimension: &str, written: &str, q: [f64; 3]) -> InputFinding {
    InputFinding {
        name: name.to_owned(),
        dimension: dimension.to_owned(),
        written: written.to_owned(),
        quantiles: q,
        fixed: (q[0] - q[2]).abs() < 1e-12,
        unknown: i.is_multiple_of(3),
        assumed: i.is_multiple_of(4),
        of_itself: false,
        part: None,
    }
}

fn gate(gate: Gate, meaning: &str, came: u64, passed: u64, margin: (f64, &str)) -> GateFinding {
    GateFinding {
        gate,
        meaning: meaning.to_owned(),
        came,
        passed,
        given_before: chance(passed, came),
        so_far: chance(passed, 10_000),
        could: None,
        margin: (passed < came).then(|| spread((0..500).map(|i| margin.0 * unit(i, 1)))).flatten(),
        margin_dimension: margin.1.to_owned(),
    }
}

/// An ordinary record: a board off a scaffold against a shop window.
pub(crate) fn ordinary() -> Findings {
    let flights: Vec<_> = (0..60).map(|i| path(i, false)).collect();
    let crossings = (0..400)
        .map(|i| {
            let (right, up) = (8.0 * (unit(i, 0) - 0.5), 7.0 * (unit(i, 1) - 0.4));
            let struck = right.abs() < 1.5 && up.abs() < 1.1;
            CrossingFinding { right, up, face: 0, struck, held: struck && unit(i, 2) > 0.6 }
        })
        .collect();
    Findings {
        version: VERSION,
        program: "longodds 0.1.0".to_owned(),
        claim_text: "A sheet of plywood blows off a scaffold and goes through the shop window across the street.".to_owned(),
        show: Show::Si,
        scenario_name: "plywood.yaml".to_owned(),
        scenario_text: "claim: >-\n  A sheet of plywood blows off a scaffold and goes through the shop window.\nair:\n  wind: {speed: {between: [14 m/s, 24 m/s]}}  # <gusts> & \"lulls\"\n".to_owned(),
        seed: 1,
        partial: false,
        flights_asked: None,
        enough: Some(Enough { stop: Stop::Exact, floor: 5e-5, strikes: None, no_band: false, time_up: None }),
        search: None,
        family: "avx2".to_owned(),
        claim: chance(31, 10_000),
        band: Some(BandFinding {
            low: 5e-4,
            high: 0.03,
            low_interval: [3e-4, 8e-4],
            high_interval: [0.02, 0.04],
            share: 0.9,
            unknown: vec!["target.faces.shop_window.barrier.strength".to_owned()],
            mean: 3.1e-3,
            mean_interval: [2e-3, 5e-3],
            never: 0.9,
            never_chance: 1e-3,
            always: 0.0,
            always_chance: 0.0,
            flights: 10_000,
            decides: vec![DecidesFinding {
                input: "target.faces.shop_window.barrier.strength".to_owned(),
                dimension: "energy".to_owned(),
                part: 0.9,
                sides: None,
                strength: None,
            }],
        }),
        most_likely: Some(MostLikely {
            inputs: Vec::new(),
            distance: 2.7,
            ways: vec![1.0],
            flight: path(3, false),
            strike: None,
        }),
        shaky: vec![ShakyFinding {
            input: "object.drag_factor".to_owned(),
            dimension: "number".to_owned(),
            to: 1.2,
            probability: 0.02,
            low: 0.016,
            high: 0.025,
            flights: 3000,
            assumed: true,
        }],
        gates: vec![
            gate(Gate::Released, "the wind lifts it off the scaffold", 10_000, 8_120, (90.0, "force")),
            gate(Gate::Reaches, "it comes as far as the plane of shop_window", 8_120, 2_904, (9.0, "length")),
            gate(Gate::Strikes, "its first touch is on shop_window", 2_904, 212, (4.0, "length")),
            gate(Gate::Perforates, "it goes through the toughened glass", 212, 31, (260.0, "energy")),
        ],
        inputs: vec![
            input(1, "air.wind.speed", "speed", "central 90 % from 14 m/s to 24 m/s", [14.0, 19.0, 24.0]),
            input(2, "release.blown.height", "length", "triangular 6 m, 8 m, 10 m", [6.9, 8.0, 9.1]),
            input(3, "target.faces.shop_window.barrier.strength", "energy", "lognormal, median 260 J", [150.0, 260.0, 450.0]),
            input(5, "release.blown.nose_up", "angle", "uniform from 0 deg to 25 deg", [0.02, 0.22, 0.41]),
            input(7, "object.mass", "mass", "normal, mean 21 kg, sd 1 kg", [19.4, 21.0, 22.6]),
            input(8, "air.temperature", "temperature", "12 degC", [285.15; 3]),
            input(11, "target.stands.at", "length", "14 m", [14.0; 3]),
        ],
        parts: Vec::new(),
        faces: vec![
            FaceFinding { name: "shop_window".to_owned(), centre: [14.0, 0.0, 1.9], normal: [-1.0, 0.0, 0.0], right: [0.0, -1.0, 0.0], up: [0.0, 0.0, 1.0], outline: Outline::Rectangle { width: 3.0, height: 2.2 }, aim: true },
            FaceFinding { name: "door".to_owned(), centre: [14.0, 2.6, 1.1], normal: [-1.0, 0.0, 0.0], right: [0.0, -1.0, 0.0], up: [0.0, 0.0, 1.0], outline: Outline::Rectangle { width: 1.0, height: 2.1 }, aim: false },
        ],
        solids: vec![SolidFinding { name: "front".to_owned(), shape: SolidShape::Boxed, centre: [14.3, 0.0, 3.5], size: [0.5, 8.0, 7.0], turn: 0.0 }],
        object: (&Body::solid(Shape::Plate { length: 2.44, width: 1.22, thickness: 0.012 }, 21.0)).into(),
        start: Some(start()),
        target_at: [0.0; 3],
        target_velocity: [0.0; 3],
        target_moved: None,
        impact_speed: spread((0..212).map(|i| 15.0 + 9.0 * unit(i, 0) * unit(i, 1) + 3.0 * unit(i, 2))),
        left_with: None,
        left_share: None,
        miss_distance: spread((0..2904).map(|i| if unit(i, 3) < 0.08 { 0.0 } else { 5.0 * unit(i, 0) * unit(i, 1) })),
        obliquity: spread((0..212).map(|i| 1.3 * unit(i, 0) * unit(i, 2) + 0.05)),
        barrier: Some(BarrierFinding {
            lower_bound: false,
            strength: None,
            blows: Vec::new(),
            softer: false,
            counts_as: String::new(),
            face: "shop_window".to_owned(),
            name: "toughened_glass".to_owned(),
            demand: Demand::NormalEnergy,
            demanded: spread((0..212).map(|i| 20.0 + 300.0 * unit(i, 0) * unit(i, 1))).unwrap(),
            resisted: spread((0..212).map(|i| 180.0 + 160.0 * (unit(i, 0) + unit(i, 1) + unit(i, 2) - 1.0))).unwrap(),
            source: "made up for this example".to_owned(),
        }),
        arriving_energy: spread((0..31).map(|i| 10.0 + 120.0 * unit(i, 0))),
        harm: None,
        contacts: None,
        step_error: StepError { flights: 64, point_max: 4.1e-4, point_median: 2.0e-5, energy_max: 6.0e-4, energy_median: 3.0e-5, outside: 0, changed: 0 },
        energy_audit: None,
        drivers: vec![
            ranking(None, &[("release.blown.height", 0.81, 0.52), ("air.wind.speed", 0.74, 0.41), ("target.faces.shop_window.barrier.strength", 0.2, 0.38), ("object.mass", 0.56, 0.12), ("release.blown.nose_up", 0.45, 0.09)]),
            ranking(Some(Gate::Reaches), &[("air.wind.speed", 0.88, 0.63), ("release.blown.height", 0.71, 0.33), ("object.mass", 0.4, 0.03)]),
            ranking(Some(Gate::Strikes), &[("release.blown.nose_up", 0.3, 0.3), ("air.wind.speed", 0.52, 0.02)]),
        ],
        breaches: vec![BreachFinding { breach: Breach::Direction, flights: 310, share: 0.031, of: 10_000 }],
        models: vec![ModelNote { key: "plate".to_owned(), kind: Some(note::Kind::Memory), leaves_out: "sheets that flap".to_owned(), what: "drag and lift of the plate".to_owned(), model: "quasi-steady coefficients against angle of attack".to_owned(), source: "made up for this example".to_owned(), valid: "angles up to 90°, Re > 1e4".to_owned() }],
        cautions: vec!["Flying boards kill. This record judges a claim; it is no licence to try it.".to_owned()],
        warnings: vec!["`object.mass` is wider than its length suggests".to_owned()],
        flights,
        crossings,
        by_face: Vec::new(),
    }
}

fn ranking(gate: Option<Gate>, rows: &[(&str, f64, f64)]) -> GateDrivers {
    let ranking = rows
        .iter()
        .map(|&(input, auc, separation)| Driver {
            input: input.to_owned(),
            auc,
            window: false,
            separation,
            noise: 0.11,
            settles: 0.2,
        })
        .collect();
    GateDrivers { gate, ranking }
}

/// Every extreme that a page must survive, by name.
pub(crate) fn all() -> Vec<(&'static str, Findings)> {
    vec![
        ("ordinary", ordinary()),
        ("imperial", imperial()),
        ("impossible", impossible()),
        ("certain", certain()),
        ("single", single()),
        ("bare", bare()),
        ("long", long_names()),
        ("thirty", thirty()),
        ("rare", rare()),
        ("moving", moving()),
        ("strong", strong()),
        ("drop", drop()),
        ("bouncing", bouncing()),
        ("lump", lump()),
    ]
}

/// The same, each in both systems of units.
pub(crate) fn in_both_units() -> Vec<(&'static str, Findings)> {
    let mut out = all();
    for (name, mut findings) in all() {
        findings.show = if findings.show == Show::Si { Show::Imperial } else { Show::Si };
        out.push((name, findings));
    }
    out
}

fn imperial() -> Findings {
    Findings { show: Show::Imperial, partial: true, ..ordinary() }
}

fn impossible() -> Findings {
    let mut f = ordinary();
    f.claim = chance(0, 10_000);
    f.most_likely = None;
    f.gates[2] =
        gate(Gate::Strikes, "its first touch is on shop_window", 2_904, 0, (4.0, "length"));
    f.gates[3] =
        gate(Gate::Perforates, "it goes through the toughened glass", 0, 0, (1.0, "energy"));
    f.flights = (0..60).map(|i| path(i, true)).collect();
    for crossing in &mut f.crossings {
        (crossing.struck, crossing.held, crossing.up) = (false, false, crossing.up + 9.0);
    }
    (f.impact_speed, f.obliquity, f.barrier, f.arriving_energy) = (None, None, None, None);
    f.drivers.clear();
    f
}

fn certain() -> Findings {
    let mut f = ordinary();
    f.claim = chance(10_000, 10_000);
    for g in &mut f.gates {
        *g = gate(g.gate, &g.meaning, 10_000, 10_000, (1.0, "length"));
    }
    for flight in &mut f.flights {
        (flight.stopped_at, flight.struck) = (None, true);
    }
    for c in &mut f.crossings {
        (c.struck, c.held, c.right, c.up) = (true, true, c.right / 4.0, c.up / 4.0);
    }
    f.drivers.clear();
    f.breaches.clear();
    f.warnings.clear();
    f
}

pub(crate) fn single() -> Findings {
    let mut f = ordinary();
    f.claim = chance(1, 1);
    for g in &mut f.gates {
        *g = gate(g.gate, &g.meaning, 1, 1, (1.0, "length"));
        g.so_far = chance(1, 1);
    }
    f.flights.truncate(1);
    f.crossings = vec![CrossingFinding { right: 0.2, up: -0.3, face: 0, struck: true, held: true }];
    let one = |x: f64| spread(std::iter::once(x));
    (f.impact_speed, f.miss_distance, f.obliquity) = (one(17.3), one(0.0), one(0.31));
    f.arriving_energy = one(80.0);
    f.barrier = None;
    f.drivers.clear();
    f
}

/// No wind, no barrier, nothing strikes, nothing is drawn.
fn bare() -> Findings {
    let mut f = impossible();
    f.flights.clear();
    f.crossings.clear();
    f.solids.clear();
    f.miss_distance = None;
    f.gates = vec![gate(Gate::Strikes, "its first touch is on shop_window", 10_000, 0, (0.0, ""))];
    f.gates[0].margin = None;
    f.inputs.truncate(3);
    f.models.clear();
    f.cautions.clear();
    f.warnings.clear();
    f.breaches.clear();
    f
}

fn long_names() -> Findings {
    let mut f = ordinary();
    f.claim_text = "A very long story about ".repeat(12);
    let long = "the_window_of_the_shop_on_the_other_side_of_the_street_beside_the_old_post_office";
    f.faces[0].name = long.to_owned();
    f.solids[0].name = format!("solid_{long}");
    for input in &mut f.inputs {
        input.name = format!("{}.{long}", input.name);
        input.written = format!("{} and {long} <b>", input.written);
    }
    for g in &mut f.gates {
        g.meaning = format!("{} of {long} & co", g.meaning);
    }
    for d in f.drivers.iter_mut().flat_map(|d| &mut d.ranking) {
        d.input = format!("{}.{long}", d.input);
    }
    if let Some(barrier) = &mut f.barrier {
        (barrier.name, barrier.face) = (long.to_owned(), long.to_owned());
    }
    f
}

fn thirty() -> Findings {
    let mut f = ordinary();
    f.inputs = (0..30)
        .map(|i| {
            input(
                i,
                &format!("object.part_{i}.length"),
                "length",
                "uniform from 1 m to 2 m",
                [1.0, 1.5, if i < 20 { 2.0 } else { 1.0 }],
            )
        })
        .collect();
    let rows: Vec<(String, f64)> =
        (0..30).map(|i| (format!("object.part_{i}.length"), 0.6 / f64::from(i + 1))).collect();
    let rows: Vec<_> = rows.iter().map(|(n, s)| (n.as_str(), 0.7, *s)).collect();
    f.drivers = vec![
        ranking(None, &rows),
        ranking(Some(Gate::Reaches), &rows),
        ranking(Some(Gate::Strikes), &rows),
        ranking(Some(Gate::Perforates), &rows),
    ];
    f
}

/// One in four million, by splitting.
fn rare() -> Findings {
    let mut f = ordinary();
    let p = [0.31, 4.0e-3, 2.1e-4, 0.9];
    let mut so_far = 1.0;
    for (g, p) in f.gates.iter_mut().zip(p) {
        so_far *= p;
        (g.given_before.probability, g.given_before.low, g.given_before.high) =
            (p, p * 0.9, f64::min(p * 1.1, 1.0));
        (g.so_far.probability, g.so_far.low, g.so_far.high) = (so_far, so_far * 0.8, so_far * 1.2);
    }
    let c = &mut f.claim;
    (c.probability, c.low, c.high) = (so_far, so_far * 0.8, so_far * 1.25);
    c.method = Method::Subset;
    f.gates[1].given_before.held = 4_000;
    f
}

/// A target that drives past.
fn moving() -> Findings {
    let mut f = ordinary();
    f.target_velocity = [0.0, 4.0, 0.0];
    f.target_at = [14.0, -3.0, 0.0];
    for point in f.flights.iter_mut().flat_map(|flight| &mut flight.path) {
        let [x, y, z] = point.position;
        point.seen = Some([x, y - 4.0 * point.time, z]);
    }
    f.faces[0].outline = Outline::Disc { diameter: 2.6 };
    f
}

/// A barrier far stronger than what arrives.
fn strong() -> Findings {
    let mut f = ordinary();
    if let Some(barrier) = &mut f.barrier {
        barrier.demanded = spread((0..212).map(|i| 0.5 + 20.0 * unit(i, 0) * unit(i, 1))).unwrap();
    }
    f
}

/// Straight down onto a roof light.
fn drop() -> Findings {
    let mut f = ordinary();
    f.faces.truncate(1);
    f.solids.clear();
    let face = &mut f.faces[0];
    (face.centre, face.normal, face.up) = ([0.0, 0.0, 2.5], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]);
    f.object.extents = [0.3, 0.28, 0.28];
    for (i, flight) in (0..).zip(&mut f.flights) {
        let height = 6.0 + 2.0 * unit(i, 0);
        flight.strike = flight.strike.map(|time| 1.2 * time);
        for point in &mut flight.path {
            point.time *= 1.2;
            let t = point.time;
            point.position = [0.0, 0.0, (height - 4.905 * t * t).max(2.5)];
            point.velocity = [0.0, 0.0, -9.81 * t];
        }
    }
    f.miss_distance = spread(std::iter::repeat_n(0.0, 50));
    f
}

/// Strikes that are thrown back and come to rest on the ground before the
/// target; one record in which the flights know when they struck.
pub(crate) fn bouncing() -> Findings {
    let mut f = ordinary();
    let tube = Shape::Tube { length: 1.5, diameter: 0.3, wall: 0.03 };
    f.object = (&Body::solid(tube, 12.0)).into();
    for flight in f.flights.iter_mut().filter(|flight| flight.struck) {
        let Some(strike) = flight.path.last().cloned() else { continue };
        let [x, y, z] = strike.position;
        let back = -0.3 * strike.velocity[0];
        flight.contacts = vec![FlightContact {
            time: strike.time,
            position: strike.position,
            surface: "shop_window".to_owned(),
            what: "bounced".to_owned(),
            before: flight.end_speed,
            after: -back,
            lost: 900.0,
            until: None,
        }];
        let fall = (z / 4.905).sqrt();
        flight.path.extend((0..=12).map(|k| {
            let t = fall * f64::from(k) / 12.0;
            PathPoint {
                time: strike.time + t,
                position: [x + back * t, y, z - 4.905 * t * t],
                velocity: [back, 0.0, -9.81 * t],
                ..strike.clone()
            }
        }));
    }
    f
}

/// A lump of rock, in imperial units.
fn lump() -> Findings {
    let mut f = Findings { show: Show::Imperial, ..drop() };
    let lump = Shape::Irregular { diameter: 0.4, sphericity: 0.8 };
    f.object = (&Body::solid(lump, 9.0)).into();
    f
}

/// A start 8 m up, thrown a little upwards, in a wind.
fn start() -> Start {
    Start {
        at: [0.0, 0.5, 8.0],
        attitude: [0.0, 0.087, 0.0, 0.996],
        reach: [[-0.2, 0.2], [0.3, 0.7], [7.0, 9.0]],
        target_reach: [[-1.0, 1.5], [0.0, 0.0]],
        launch: Some(Launch {
            speed: [8.0, 10.0, 12.0],
            bearing: [-0.05, 0.0, 0.05],
            elevation: [0.05, 0.1, 0.15],
        }),
        carrier: None,
        wind: Some(Blows { speed: [14.0, 18.0, 24.0], towards: [-0.5, 0.0, 0.5] }),
    }
}
