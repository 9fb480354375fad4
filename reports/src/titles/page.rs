//! The sentences of the charts of a run.

use super::{
    Sentence, gaps, is_so,
    read::{count, is_bound, is_quantity, is_share},
    spoil, which,
};
use crate::{
    camera::{self, Format, Ground},
    chart::{Fate, LITTLE},
    picture::Picture,
    pictures, sample, words,
};
use longodds_sim::{
    findings::{Chance, Driver, Findings, FlightFinding, GateDrivers, GateFinding, Spread},
    quantity::Dimension,
    scenario::Gate,
};
use std::collections::BTreeSet;

type Sentences = &'static [Sentence<Findings>];

/// A chart's name and what its title may say.
const CHARTS: [(&str, Sentences); 15] = [
    ("chain", CHAIN),
    ("set-up", SET_UP),
    ("flights", FLIGHTS),
    ("tumble", TUMBLE),
    ("hits", HITS),
    ("barrier", BARRIER),
    ("impact-speed", SPEED),
    ("miss-distance", MISS),
    ("obliquity", OBLIQUITY),
    ("drivers", DRIVERS),
    ("odds", ODDS),
    ("energy", ENERGY),
    ("stream", STREAM),
    ("fan", FAN),
    ("closest", CLOSEST),
];

fn named<'a>(f: &'a Findings, name: &str) -> Option<&'a GateFinding> {
    f.gates.iter().find(|gate| words::gate(gate.gate) == name)
}

/// Is this gate the one that loses the largest share of what comes to it?
fn weakest(f: &Findings, gate: &GateFinding) -> bool {
    let came = f.gates.iter().filter(|other| other.came > 0);
    gate.came > 0
        && came.into_iter().all(|o| o.given_before.probability >= gate.given_before.probability)
}

/// A share that says "at most" where it is no more than a bound.
fn is_estimate(text: &str, chance: &Chance) -> bool {
    let bound = chance.at_most && chance.probability > 0.0;
    let text = text.to_lowercase().replace("all but at least ", "at most all but ");
    match text.strip_prefix("at most ") {
        None if chance.probability >= 1.0 && bound => text == "anything from 0 to 100 %",
        Some(share) => bound && is_bound(share, chance.probability),
        None => !bound && is_share(&text, chance.probability),
    }
}

/// Is the gate named the weakest, and does this share pass it and so go on?
fn narrows(f: &Findings, said: &[&str]) -> bool {
    named(f, said[0]).is_some_and(|gate| {
        let some = gate.passed > 0 && gate.passed < gate.came;
        some && weakest(f, gate)
            && is_estimate(said[1], &gate.given_before)
            && said[2] == words::passes(gate.gate)
    })
}

/// Is the gate named the weakest, and does none of so many flights pass it?
fn none_passes(f: &Findings, said: &[&str]) -> bool {
    let none = |g: &GateFinding| g.passed == 0 && count(said[1]) == Some(g.came);
    named(f, said[0]).is_some_and(|gate| none(gate) && weakest(f, gate))
}

/// The nearest aimed face over the ground: how far, and what it is called.
fn aimed_at(f: &Findings) -> Option<(f64, String)> {
    let [x, y, _] = f.start.as_ref()?.at;
    let faces = f.faces.iter().filter(|face| face.aim);
    let away = faces.map(|face| {
        let [dx, dy] = [face.centre[0] - x, face.centre[1] - y];
        ((dx * dx + dy * dy).sqrt(), face.name.replace('_', " "))
    });
    away.min_by(|a, b| a.0.total_cmp(&b.0))
}

fn begins(f: &Findings, noun: &str, up: &str) -> bool {
    let called = f.object.noun == noun || f.object.noun.is_empty() && noun == "object";
    let start = f.start.as_ref();
    called && start.is_some_and(|start| is_quantity(up, start.at[2], Dimension::Length))
}

const SET_UP: Sentences = &[
    Sentence {
        words: "The {} starts {} up, over the middle of the {}",
        holds: |said, f| {
            begins(f, said[0], said[1])
                && aimed_at(f).is_some_and(|(away, name)| away < 5e-3 && name == said[2])
        },
    },
    Sentence {
        words: "The {} starts {} up, {} from the middle of the {}",
        holds: |said, f| {
            begins(f, said[0], said[1])
                && aimed_at(f).is_some_and(|(away, name)| {
                    is_quantity(said[2], away, Dimension::Length) && name == said[3]
                })
        },
    },
    Sentence { words: "No set-up was kept for drawing", holds: |_, f| f.start.is_none() },
];

const CHAIN: Sentences = &[
    Sentence {
        words: "No flight came to a gate",
        holds: |_, f| f.gates.iter().all(|g| g.came == 0),
    },
    Sentence {
        words: "Nothing breaks the chain: {} out of {} pass every gate",
        holds: |said, f| {
            let whole = |g: &GateFinding| g.came == g.passed && count(said[0]) == Some(g.came);
            f.gates.iter().all(whole) && count(said[0]) == count(said[1])
        },
    },
    Sentence {
        words: "The chain is weakest at “{}”: none of {} flown at random passes it",
        holds: |said, f| none_passes(f, said) && f.claim.probability > 0.0,
    },
    Sentence {
        words: "The claim breaks at “{}”: none of {} passes it",
        holds: |said, f| none_passes(f, said) && f.claim.probability <= 0.0,
    },
    Sentence {
        words: "The chain is weakest at “{}”: {} of the flights that come so far {}",
        holds: |said, f| {
            narrows(f, said) && f.gates[0].came > named(f, said[0]).map_or(0, |g| g.came)
        },
    },
    Sentence {
        words: "The chain is weakest at “{}”: {} of all flights {}",
        holds: |said, f| {
            narrows(f, said) && named(f, said[0]).is_some_and(|g| g.came == f.gates[0].came)
        },
    },
];

fn held_of(f: &Findings, held: Option<u64>, of: Option<u64>) -> bool {
    let bound = f.claim.at_most && f.claim.held > 0;
    !bound && held == Some(f.claim.held) && of == Some(f.claim.flights)
}

fn strikes(f: &Findings) -> bool {
    f.impact_speed.is_some() || f.flights.iter().any(|flight| flight.struck)
}

const FLIGHTS: Sentences = &[
    Sentence { words: "No flight was kept for drawing", holds: |_, f| f.flights.is_empty() },
    Sentence {
        words: "Not one of {} does what the claim says, and none even strikes",
        holds: |said, f| held_of(f, Some(0), count(said[0])) && !strikes(f),
    },
    Sentence {
        words: "Some flights strike, but not one of {} does what the claim says",
        holds: |said, f| held_of(f, Some(0), count(said[0])) && strikes(f),
    },
    Sentence {
        words: "The one flight flown does what the claim says",
        holds: |_, f| held_of(f, Some(1), Some(1)),
    },
    Sentence {
        words: "All of {} do what the claim says",
        holds: |said, f| held_of(f, count(said[0]), count(said[0])),
    },
    Sentence {
        words: "{} of all flights do what the claim says",
        holds: |said, f| is_estimate(said[0], &f.claim),
    },
    Sentence {
        words: "{} flights does what the claim says",
        holds: |said, f| is_estimate(said[0], &f.claim),
    },
    Sentence {
        words: "{} of {} do what the claim says",
        holds: |said, f| {
            held_of(f, count(said[0]), count(said[1])) && f.claim.held < f.claim.flights
        },
    },
];

/// How far a flight got, as the places of the gates in the chain of events.
fn got(flight: &FlightFinding) -> usize {
    flight.stopped_at.map_or(usize::MAX, |gate| gate as usize)
}

/// The flights that may be called the closest: marked so, or else no other got
/// farther.
fn closest(f: &Findings, stopped_at: Option<Gate>) -> bool {
    if let Some(way) = f.most_likely.as_ref().filter(|way| way.flight.path.len() > 1) {
        return way.flight.stopped_at == stopped_at;
    }
    let drawn: Vec<_> = f.flights.iter().filter(|flight| flight.path.len() > 1).collect();
    let farthest = drawn.iter().map(|flight| got(flight)).max();
    let marked = drawn.iter().any(|flight| flight.closest);
    drawn
        .iter()
        .filter(|flight| if marked { flight.closest } else { Some(got(flight)) == farthest })
        .any(|flight| flight.stopped_at == stopped_at)
}

const TUMBLE: Sentences = &[
    Sentence {
        words: "No closest call can be drawn",
        holds: |_, f| f.flights.iter().all(|one| one.path.len() < 2),
    },
    Sentence {
        words: "How the claim comes true: one flight that passes every gate",
        holds: |_, f| closest(f, None),
    },
    Sentence {
        words: "The closest call: it never came loose",
        holds: |_, f| closest(f, Some(Gate::Released)),
    },
    Sentence {
        words: "The closest call: it fell short of the target",
        holds: |_, f| closest(f, Some(Gate::Reaches)),
    },
    Sentence {
        words: "The closest call: it came as far as the target and missed it",
        holds: |_, f| closest(f, Some(Gate::Strikes)),
    },
    Sentence {
        words: "The closest call: it struck, but not in the attitude needed",
        holds: |_, f| closest(f, Some(Gate::Attitude)),
    },
    Sentence {
        words: "The closest call: it struck, and the barrier stopped it",
        holds: |_, f| closest(f, Some(Gate::Perforates)),
    },
    Sentence {
        words: "The closest call: it went through, and arrived too weak to harm",
        holds: |_, f| closest(f, Some(Gate::Harms)),
    },
];

/// Crossings of the face of this name: how many, and how many struck.
fn crossings(f: &Findings, face: &str) -> (u64, u64) {
    let place = f.faces.iter().position(|one| words::place(&one.name) == face && one.aim);
    let mine = f.crossings.iter().filter(|c| Some(c.face) == place);
    mine.fold((0, 0), |(n, struck), c| (n + 1, struck + u64::from(c.struck)))
}

fn half(spread: Option<&Spread>, text: &str, dimension: Dimension) -> bool {
    spread.is_some_and(|spread| is_quantity(text, spread.quantiles[3], dimension))
}

/// The gate of striking, where this is the only face aimed at.
fn only_face<'a>(f: &'a Findings, name: &str) -> Option<&'a GateFinding> {
    let aimed: Vec<_> =
        f.faces.iter().filter(|face| face.aim).map(|face| words::place(&face.name)).collect();
    f.gates.iter().find(|gate| gate.gate == Gate::Strikes && gate.came > 0 && aimed == [name])
}

const HITS: Sentences = &[
    Sentence {
        words: "No flight came as far as the plane of {}",
        holds: |said, f| crossings(f, said[0]).0 == 0,
    },
    Sentence {
        words: "Every flight drawn that comes so far strikes {}",
        holds: |said, f| matches!(crossings(f, said[0]), (n, struck) if n > 0 && n == struck),
    },
    Sentence {
        words: "Half of the flights that come so far miss {} by {} or more",
        holds: |said, f| {
            let (n, struck) = crossings(f, said[0]);
            struck < n && half(f.miss_distance.as_ref(), said[1], Dimension::Length)
        },
    },
    Sentence {
        words: "All that comes so far strikes {}",
        holds: |said, f| only_face(f, said[0]).is_some_and(|gate| gate.passed == gate.came),
    },
    Sentence {
        words: "{} of what comes so far strikes {}",
        holds: |said, f| {
            let gate = only_face(f, said[1]);
            gate.is_some_and(|g| g.passed < g.came && is_estimate(said[0], &g.given_before))
        },
    },
    Sentence {
        words: "Of {} drawn here, {} strike {}",
        holds: |said, f| {
            let (n, struck) = crossings(f, said[2]);
            count(said[0]) == Some(n) && count(said[1]) == Some(struck)
        },
    },
];

fn through(f: &Findings) -> Option<&GateFinding> {
    f.gates.iter().find(|gate| gate.gate == Gate::Perforates)
}

/// "X typically arrives against (at least) Y".
fn arrives(f: &Findings, arrives: &str, against: &str) -> bool {
    f.barrier.as_ref().is_some_and(|barrier| {
        let (dimension, _) = words::demand(barrier.demand);
        let least = against.strip_prefix("at least ");
        least.is_some() == barrier.lower_bound
            && half(Some(&barrier.demanded), arrives, dimension)
            && half(Some(&barrier.resisted), least.unwrap_or(against), dimension)
    })
}

const BARRIER: Sentences = &[
    Sentence {
        words: "No barrier stands in the way",
        holds: |_, f| f.barrier.is_none() && through(f).is_none(),
    },
    Sentence {
        words: "Nothing arrived at the barrier",
        holds: |_, f| f.barrier.is_none() && through(f).is_some(),
    },
    Sentence {
        words: "{} of what comes to the barrier goes through: {} typically arrives against {}",
        holds: |said, f| {
            let share = through(f).is_some_and(|gate| is_estimate(said[0], &gate.given_before));
            share && arrives(f, said[1], said[2])
        },
    },
    Sentence {
        words: "{} typically arrives against {}",
        holds: |said, f| through(f).is_none() && arrives(f, said[0], said[1]),
    },
];

const SPEED: Sentences = &[
    Sentence {
        words: "No flight struck what was aimed at",
        holds: |_, f| f.impact_speed.is_none(),
    },
    Sentence {
        words: "The one strike arrives at {}",
        holds: |said, f| {
            let one = f.impact_speed.as_ref().is_some_and(|speed| speed.count == 1);
            one && half(f.impact_speed.as_ref(), said[0], Dimension::Speed)
        },
    },
    Sentence {
        words: "Half of the {} strikes arrive faster than {}",
        holds: |said, f| {
            let few = |speed: &Spread| {
                (2..20).contains(&speed.count) && count(said[0]) == Some(speed.count)
            };
            f.impact_speed.as_ref().is_some_and(few)
                && half(f.impact_speed.as_ref(), said[1], Dimension::Speed)
        },
    },
    Sentence {
        words: "Half of the strikes arrive faster than {}, one in twenty faster than {}",
        holds: |said, f| {
            f.impact_speed.as_ref().is_some_and(|speed| {
                speed.count >= 20
                    && is_quantity(said[0], speed.quantiles[3], Dimension::Speed)
                    && is_quantity(said[1], speed.quantiles[5], Dimension::Speed)
            })
        },
    },
];

const MISS: Sentences = &[
    Sentence {
        words: "No flight came as far as the target",
        holds: |_, f| f.miss_distance.is_none(),
    },
    Sentence {
        words: "All that comes so far passes inside the outline",
        holds: |_, f| f.miss_distance.as_ref().is_some_and(|miss| miss.max <= 0.0),
    },
    Sentence {
        words: "At least half of what comes so far passes inside the outline",
        holds: |_, f| {
            f.miss_distance.as_ref().is_some_and(|miss| miss.quantiles[3] <= 0.0 && miss.max > 0.0)
        },
    },
    Sentence {
        words: "Half of what comes so far misses by {} or more",
        holds: |said, f| {
            let some = f.miss_distance.as_ref().is_some_and(|miss| miss.quantiles[3] > 0.0);
            some && half(f.miss_distance.as_ref(), said[0], Dimension::Length)
        },
    },
];

const OBLIQUITY: Sentences = &[
    Sentence { words: "No flight struck what was aimed at", holds: |_, f| f.obliquity.is_none() },
    Sentence {
        words: "The one strike comes in {} from square on",
        holds: |said, f| {
            let one = f.obliquity.as_ref().is_some_and(|angle| angle.count == 1);
            one && half(f.obliquity.as_ref(), said[0], Dimension::Angle)
        },
    },
    Sentence {
        words: "Half of the strikes come in within {} of square on",
        holds: |said, f| {
            let more = f.obliquity.as_ref().is_some_and(|angle| angle.count > 1);
            more && half(f.obliquity.as_ref(), said[0], Dimension::Angle)
        },
    },
];

/// Inputs above the noise, from the strongest down.
fn standing(block: &GateDrivers) -> Vec<&Driver> {
    let mut clear: Vec<_> = block.ranking.iter().filter(|d| d.separation > d.noise).collect();
    clear.sort_by(|a, b| b.separation.total_cmp(&a.separation));
    clear
}

/// The ranking a title is about: of the whole claim unless it names a gate.
fn ranked<'a, 't>(f: &'a Findings, title: &'t str) -> Option<(&'a GateDrivers, &'t str)> {
    let compared = |d: &&GateDrivers| d.ranking.iter().any(|one| one.separation > 0.0);
    let of = |gate: Option<Gate>| f.drivers.iter().filter(compared).find(|d| d.gate == gate);
    match gaps("At “{}” {}", title) {
        // Only where there is nothing to say of the whole.
        Some(said) if of(None).is_none() => Some((of(Some(named(f, said[0])?.gate))?, said[1])),
        Some(_) => None,
        None => Some((of(None)?, title)),
    }
}

fn leads(f: &Findings, first: &str, second: Option<&str>) -> bool {
    let Some((block, first)) = ranked(f, first) else { return false };
    let clear = standing(block);
    clear.first().is_some_and(|d| d.input == first)
        && clear.get(1).map(|d| d.input.as_str()) == second
}

/// Does it set apart what passes by more than next to nothing?
fn decides(f: &Findings, title: &str) -> bool {
    ranked(f, title).is_some_and(|(block, input)| {
        block.ranking.iter().any(|d| d.input == input && d.separation >= LITTLE)
    })
}

fn none_leads(f: &Findings, title: &str) -> bool {
    ranked(f, title).is_some_and(|(block, _)| standing(block).is_empty())
}

const DRIVERS: Sentences = &[
    Sentence {
        words: "No input can be said to decide the outcome",
        holds: |_, f| f.drivers.iter().flat_map(|d| &d.ranking).all(|one| one.separation <= 0.0),
    },
    Sentence {
        words: "No input stands out: none decides more than chance would show",
        holds: |_, f| none_leads(f, ""),
    },
    Sentence {
        words: "{} no input stands out: none decides more than chance would show",
        holds: |said, f| none_leads(f, &format!("{} ", said[0])),
    },
    Sentence {
        words: "Nothing decides much; {} most, then {}",
        holds: |said, f| leads(f, said[0], Some(said[1])) && !decides(f, said[0]),
    },
    Sentence {
        words: "{} decides; nothing else stands out",
        holds: |said, f| leads(f, said[0], None),
    },
    Sentence {
        words: "{} decides most, then {}",
        holds: |said, f| leads(f, said[0], Some(said[1])) && decides(f, said[0]),
    },
];

/// "3 in 1,000", "all but 1 in 7,700", of a chance.
fn is_odds(text: &str, claim: &Chance) -> bool {
    let (p, bound) = (claim.probability, claim.at_most);
    if text.starts_with("all but ") {
        return is_share(text, p);
    }
    let Some((lit, of)) = text.split_once(" in ") else { return false };
    match (count(lit), count(of)) {
        (Some(0), of) => p <= 0.0 && of == Some(claim.flights),
        #[expect(clippy::cast_precision_loss, reason = "at most 10,000")]
        (Some(lit), Some(of)) if of < 20_000 => {
            // Half a unit of the field, or of N of two digits; a bound is rounded up.
            let said = lit as f64 / of as f64;
            let half = if lit == 1 { 0.051 * p } else { 0.5 / of as f64 };
            let up = if bound { 2.0 } else { 1.0 };
            said - p <= half * up + 1e-12 && p - said <= half + 1e-12
        }
        _ if bound => is_bound(text, p),
        _ => is_share(text, p),
    }
}

fn bounded(f: &Findings) -> bool {
    f.claim.at_most && f.claim.probability > 0.0
}

const ODDS: Sentences = &[
    Sentence {
        words: "At most {} flights bear it out",
        holds: |said, f| bounded(f) && is_odds(said[0], &f.claim),
    },
    Sentence {
        words: "{} flight bears it out",
        holds: |said, f| !bounded(f) && f.claim.flights == 1 && is_odds(said[0], &f.claim),
    },
    Sentence {
        words: "{} flights bear it out",
        holds: |said, f| !bounded(f) && is_odds(said[0], &f.claim),
    },
];

const ENERGY: Sentences = &[
    Sentence {
        words: "{} arrives; it takes {} or more",
        holds: |said, f| arrives(f, said[0], &format!("at least {}", said[1])),
    },
    Sentence { words: "{} arrives; {} breaks it", holds: |said, f| arrives(f, said[0], said[1]) },
];

const STREAM: Sentences = &[
    Sentence {
        words: "none of the flights are left after every gate",
        holds: |_, f| f.claim.probability <= 0.0,
    },
    Sentence {
        words: "{} of the flights are left after every gate",
        holds: |said, f| f.claim.probability > 0.0 && is_estimate(said[0], &f.claim),
    },
];

const FAN: Sentences = &[
    Sentence {
        words: "none of {} does it: a sample of flights from the side",
        holds: |said, f| held_of(f, Some(0), count(said[0])),
    },
    Sentence {
        words: "the one flight does it: a sample of flights from the side",
        holds: |_, f| held_of(f, Some(1), Some(1)),
    },
    Sentence {
        words: "{} of {} do it: a sample of flights from the side",
        holds: |said, f| held_of(f, count(said[0]), count(said[1])),
    },
    Sentence {
        words: "{} do it: a sample of flights from the side",
        holds: |said, f| !said[0].contains("1 in ") && is_estimate(said[0], &f.claim),
    },
    Sentence {
        words: "{} does it: a sample of flights from the side",
        holds: |said, f| said[0].contains("1 in ") && is_estimate(said[0], &f.claim),
    },
];

const CLOSEST: Sentences = &[
    Sentence {
        words: "How it happens: six moments of the likeliest way",
        holds: |_, f| f.most_likely.is_some() && closest(f, None),
    },
    Sentence {
        words: "How it happens: six moments of flight {}",
        holds: |said, f| closest(f, None) && kept(f, said[0]),
    },
    Sentence {
        words: "The closest call: six moments of flight {}",
        holds: |said, f| !closest(f, None) && kept(f, said[0]),
    },
];

fn kept(f: &Findings, draw: &str) -> bool {
    f.most_likely.is_none() && f.flights.iter().any(|flight| Some(flight.draw) == count(draw))
}

/// Every chart of a record with the sentences it may bear.
fn drawn(findings: &Findings) -> Vec<(Picture, Sentences)> {
    let frames = camera::frames(findings, Format::Wide, Ground::Light);
    let charts = pictures(findings).into_iter().chain(frames);
    let with = |picture: Picture| {
        let (_, sentences) = CHARTS.iter().find(|(name, _)| *name == picture.name)?;
        Some((picture, *sentences))
    };
    charts
        .map(|picture| with(picture).expect("a chart without sentences: list them here"))
        .collect()
}

/// Records in which the rarer sentences come up.
fn more() -> Vec<(&'static str, Findings)> {
    let changed = |change: fn(&mut Findings)| {
        let mut findings = sample::ordinary();
        change(&mut findings);
        findings
    };
    let stopped = |gate: Gate| {
        let mut findings = sample::ordinary();
        findings.most_likely = None;
        for flight in &mut findings.flights {
            (flight.stopped_at, flight.struck) = (Some(gate), gate > Gate::Strikes);
        }
        findings
    };
    vec![
        ("bound", changed(spoil::only_a_bound)),
        ("no way found", changed(|f| f.most_likely = None)),
        ("an older record", changed(|f| f.start = None)),
        (
            "straight above",
            changed(|f| {
                let [x, y, _] = f.faces[0].centre;
                let at = f.start.as_mut().map(|start| &mut start.at);
                if let Some(at) = at {
                    (at[0], at[1]) = (x, y);
                }
            }),
        ),
        (
            "bound, in hundredths",
            changed(|f| {
                spoil::only_a_bound(f);
                (f.claim.probability, f.claim.high) = (0.31, 0.35);
            }),
        ),
        (
            "bound, one in many",
            changed(|f| {
                spoil::only_a_bound(f);
                f.claim.probability = 2.3e-5;
            }),
        ),
        (
            "all noise",
            changed(|f| {
                f.drivers.iter_mut().flat_map(|d| &mut d.ranking).for_each(|d| d.noise = 2.0);
            }),
        ),
        (
            "next to nothing decides",
            changed(|f| {
                let all = f.drivers.iter_mut().flat_map(|d| &mut d.ranking);
                all.for_each(|d| (d.separation, d.noise) = (0.01 * d.separation, 0.01 * d.noise));
            }),
        ),
        (
            "one driver",
            changed(|f| {
                f.drivers[0].ranking.iter_mut().skip(1).for_each(|d| d.noise = 2.0);
            }),
        ),
        (
            "gates only",
            changed(|f| {
                f.drivers.remove(0);
            }),
        ),
        (
            "gates only, all noise",
            changed(|f| {
                f.drivers.remove(0);
                f.drivers.iter_mut().flat_map(|d| &mut d.ranking).for_each(|d| d.noise = 2.0);
            }),
        ),
        (
            "most pass inside",
            changed(|f| {
                if let Some(miss) = &mut f.miss_distance {
                    miss.quantiles[..4].fill(0.0);
                }
            }),
        ),
        (
            "two faces, all strike",
            changed(|f| {
                f.faces[1].aim = true;
                f.crossings.iter_mut().for_each(|c| c.struck = true);
            }),
        ),
        (
            "two faces, most pass inside",
            changed(|f| {
                f.faces[1].aim = true;
                if let Some(miss) = &mut f.miss_distance {
                    miss.quantiles[..4].fill(0.0);
                }
            }),
        ),
        (
            "no perforation asked",
            changed(|f| {
                f.gates.pop();
            }),
        ),
        (
            "nothing came",
            changed(|f| {
                f.gates.iter_mut().for_each(|g| (g.came, g.passed) = (0, 0));
            }),
        ),
        (
            "found by search alone",
            changed(|f| {
                spoil::none_held(f);
                f.claim.probability = 2.3e-5;
                let strikes = &mut f.gates[2];
                (strikes.passed, strikes.given_before.probability) = (0, 0.0);
            }),
        ),
        (
            "a few strikes, no barrier",
            changed(|f| {
                f.gates.pop();
                f.barrier = None;
                if let Some(speed) = &mut f.impact_speed {
                    speed.count = 13;
                }
            }),
        ),
        (
            "weak from the start",
            changed(|f| {
                let first = &mut f.gates[0];
                (first.passed, first.given_before.probability) = (70, 0.007);
            }),
        ),
        ("nothing came near", changed(|f| f.crossings.clear())),
        (
            "not one",
            changed(|f| {
                spoil::none_held(f);
                f.impact_speed = None;
                f.most_likely = None;
                f.flights
                    .iter_mut()
                    .for_each(|one| (one.struck, one.stopped_at) = (false, Some(Gate::Strikes)));
            }),
        ),
        ("strikes, not one", changed(spoil::none_held)),
        ("half", changed(|f| (f.claim.held, f.claim.probability) = (5_000, 0.5))),
        ("hardly not", changed(|f| (f.claim.held, f.claim.probability) = (9_998, 0.9998))),
        ("never loose", stopped(Gate::Released)),
        ("short", stopped(Gate::Reaches)),
        ("beside", stopped(Gate::Strikes)),
        ("turned", stopped(Gate::Attitude)),
        ("stopped", stopped(Gate::Perforates)),
        ("weak", stopped(Gate::Harms)),
    ]
}

fn records() -> Vec<(&'static str, Findings)> {
    sample::in_both_units().into_iter().chain(more()).collect()
}

#[test]
fn every_title_says_what_its_chart_shows() {
    for (record, findings) in records() {
        for (picture, sentences) in drawn(&findings) {
            let (name, title) = (&picture.name, &picture.title);
            assert!(
                which(sentences, title).is_some(),
                "{record}/{name}: no such sentence: {title}"
            );
            assert!(is_so(sentences, title, &findings), "{record}/{name}: is not so: {title}");
        }
    }
}

#[test]
fn a_spoilt_finding_makes_a_lie_of_every_title() {
    let spoilers = spoil::findings();
    for (record, findings) in records() {
        let spoilt = spoilers.iter().map(|spoil| {
            let mut spoilt = findings.clone();
            spoil(&mut spoilt);
            spoilt
        });
        let spoilt: Vec<Findings> = spoilt.collect();
        for (picture, sentences) in drawn(&findings) {
            let seen = spoilt.iter().any(|one| !is_so(sentences, &picture.title, one));
            assert!(seen, "{record}/{}: nothing spoils: {}", picture.name, picture.title);
        }
    }
}

#[test]
fn every_sentence_comes_up() {
    let mut seen = BTreeSet::new();
    for (_, findings) in records() {
        for (picture, sentences) in drawn(&findings) {
            seen.extend(
                which(sentences, &picture.title).map(|(one, _)| (picture.name.clone(), one.words)),
            );
        }
    }
    for (name, sentences) in CHARTS {
        for sentence in sentences {
            assert!(
                seen.contains(&(name.to_owned(), sentence.words)),
                "{name}: {}",
                sentence.words
            );
        }
    }
    let fates = Fate::ALL.len();
    assert_eq!(fates, 3, "a new fate needs sentences of its own");
}
