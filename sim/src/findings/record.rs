//! The record itself. Field names are those of `findings.json`.

use super::Start;
use crate::{
    body::{Body, Form, Look},
    chain::Breach,
    engine::Stop,
    note,
    quantity::Show,
    scenario::{Demand, Gate, Outline, SolidShape},
    study::Part,
    trials::judgement::Strength,
    words::{Interval, Likelihood, Spoken, interval, likelihood},
};
use serde::{Deserialize, Serialize};

/// Everything that a run found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Findings {
    /// Layout version, [`super::VERSION`].
    pub version: u32,
    /// Program version that wrote it.
    pub program: String,
    /// The claim in the user's words.
    pub claim_text: String,
    /// `si` or `imperial`.
    pub show: Show,
    /// The scenario's file name, as typed.
    pub scenario_name: String,
    /// The scenario's text, whole.
    pub scenario_text: String,
    /// The seed.
    pub seed: u64,
    /// `true` if the run was stopped before its flights were done.
    pub partial: bool,
    /// Flights asked for; `None`: as many as it took.
    #[serde(default)]
    pub flights_asked: Option<u64>,
    /// Why no more flights were flown.
    #[serde(default)]
    pub enough: Option<Enough>,
    /// The search for how rare it is, where there was one.
    #[serde(default)]
    pub search: Option<SearchFinding>,
    /// Processor family whose bits these are (`avx512`, `avx2`, `plain`).
    pub family: String,
    /// The chance of the claim.
    pub claim: Chance,
    /// How often it happens, as far as the unknown inputs leave it open.
    #[serde(default)]
    pub band: Option<BandFinding>,
    /// The most likely way it happens.
    #[serde(default)]
    pub most_likely: Option<MostLikely>,
    /// Assumptions whose change within reason would change the words of the
    /// answer, the strongest first.
    #[serde(default)]
    pub shaky: Vec<ShakyFinding>,
    /// The chain, gate by gate.
    pub gates: Vec<GateFinding>,
    /// The chain from the strike on, for each of several aimed faces.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub by_face: Vec<FaceChain>,
    /// Inputs as used, uncertain ones first.
    pub inputs: Vec<InputFinding>,
    /// What was taken from a shelf.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartFinding>,
    /// The target's aimed and other faces, at the means of their inputs.
    pub faces: Vec<FaceFinding>,
    /// Solids of the target, at the means of their inputs.
    pub solids: Vec<SolidFinding>,
    /// The object, at the means of its inputs.
    pub object: ObjectFinding,
    /// How the object begins; `None` in records from before it was kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<Start>,
    /// Target motion: position at release and velocity, world frame, m and m/s.
    pub target_at: [f64; 3],
    /// See `target_at`.
    pub target_velocity: [f64; 3],
    /// What a strike does to the speed of a target of known mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub target_moved: Option<MovedFinding>,
    /// A deterministic sample of flights with their paths, for drawing.
    pub flights: Vec<FlightFinding>,
    /// A deterministic sample of crossings of the aimed face's plane.
    pub crossings: Vec<CrossingFinding>,
    /// Arriving speed (centre of mass relative to the face) of all strikes, m/s.
    pub impact_speed: Option<Spread>,
    /// Speed over the ground of all that a carrier shook off, m/s.
    #[serde(default)]
    pub left_with: Option<Spread>,
    /// The same by the carrier's speed before, 0..1 and above.
    #[serde(default)]
    pub left_share: Option<Spread>,
    /// Miss distance at the aimed face's plane of all flights that reach it, m.
    pub miss_distance: Option<Spread>,
    /// Obliquity of all strikes, rad.
    pub obliquity: Option<Spread>,
    /// Demand against resistance at the barrier, if the aimed face has one.
    pub barrier: Option<BarrierFinding>,
    /// Energy that arrives behind, J, of all that perforate (or strike, where
    /// the chain has no barrier).
    pub arriving_energy: Option<Spread>,
    /// Harm threshold, J (at the mean of its input), and its source.
    pub harm: Option<HarmFinding>,
    /// What flights touched and went on from; absent where they end at their
    /// first touch.
    #[serde(default)]
    pub contacts: Option<ContactFinding>,
    /// Discretisation error measured in this run.
    pub step_error: StepError,
    /// Whether energy adds up; absent in records from before it was looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub energy_audit: Option<EnergyAudit>,
    /// Which inputs decide, per gate.
    pub drivers: Vec<GateDrivers>,
    /// Validity ranges that were left, with the share of flights.
    pub breaches: Vec<BreachFinding>,
    /// Models used, with their sources and validity in words.
    pub models: Vec<ModelNote>,
    /// Cautions to be shown with every answer.
    pub cautions: Vec<String>,
    /// Warnings of `check`.
    pub warnings: Vec<String>,
}

/// A probability with its interval.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Chance {
    /// Best estimate.
    pub probability: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// Confidence level of the interval.
    pub level: f64,
    /// Flights it rests on.
    pub flights: u64,
    /// How many of them held.
    pub held: u64,
    /// How it was found.
    pub method: Method,
    /// Whether it is an upper bound: the barrier is only known to withstand a
    /// standard's test, not what it breaks at.
    #[serde(default)]
    pub at_most: bool,
    /// How many flights were cut off before their fate was known: none of them
    /// counts as held, and the upper end leaves room for all of them.
    #[serde(default)]
    pub open: u64,
    /// Ends of the interval by the ways that a search found, alone; `high`
    /// allows for ways that nobody has seen, too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_ways: Option<[f64; 2]>,
}

impl Chance {
    /// Whether it is a share of independent draws, counted.
    #[must_use]
    pub fn is_counted(&self) -> bool {
        self.method == Method::Plain
    }

    /// The interval, to the end where nothing was seen but the bound.
    #[must_use]
    pub fn ends(&self) -> [f64; 2] {
        let (low, high) = (self.low.min(self.probability), self.high.max(self.probability));
        match self.held {
            _ if !self.is_counted() => [low, high],
            0 => [0.0, high],
            held if held == self.flights => [low, 1.0],
            _ => [low, high],
        }
    }

    /// The interval as it is said: of a search by the ways that it found; what
    /// nobody has seen stands beside the number.
    #[must_use]
    pub fn interval(&self) -> Interval {
        let [low, high] = self.ways_alone().unwrap_or_else(|| self.ends());
        interval(if self.at_most { 0.0 } else { low }, high)
    }

    /// The best estimate as it is said, to digits that lie in the interval; of
    /// what is known from above only, rounded up.
    #[must_use]
    pub fn spoken(&self) -> Spoken {
        let [low, high] = self.by_ways.unwrap_or([self.low, self.high]);
        match self.probability {
            p if self.at_most => Spoken::at_most(p),
            p => Spoken::inside(p, low, high),
        }
    }

    /// The IPCC term for it, from its whole interval.
    #[must_use]
    pub fn likelihood(&self) -> Likelihood {
        match self.ends() {
            _ if self.is_counted() && self.flights == 0 => Likelihood::Unknown,
            [low, high] => likelihood(low, high),
        }
    }

    /// Ends of the interval by the ways that were found, where ways that nobody
    /// has seen could matter more than those.
    #[must_use]
    pub fn ways_alone(&self) -> Option<[f64; 2]> {
        self.by_ways.filter(|[_, high]| self.high > crate::estimate::rare::OPEN * high)
    }

    /// Its best estimate as the bound that it is; `None` where it is none. A bound
    /// of 1 bounds nothing.
    #[must_use]
    pub fn bound(&self) -> Option<Interval> {
        (self.at_most && self.probability > 0.0).then(|| match self.spoken() {
            Spoken::Always => Interval::Anything,
            bound => Interval::AtMost(bound),
        })
    }
}

/// How a chance was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// A count of independent draws.
    Plain,
    /// Subset simulation.
    Subset,
    /// Subset simulation, then importance sampling.
    Importance,
}

impl Method {
    /// Its name in the trade.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Plain => "plain sampling",
            Self::Subset => "subset simulation",
            Self::Importance => "subset simulation, then importance sampling",
        }
    }
}

/// The search for how rare it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SearchFinding {
    /// Flights of its own.
    pub calls: u64,
    /// Why its method speaks, or why none of it stands.
    pub why: String,
    /// How ways were looked for.
    pub looked: String,
    /// Ends of the interval that plain flights give by themselves.
    pub plain: [f64; 2],
    /// Plain flights that would rule out as much again in ways that nobody has
    /// seen; `None` where those do not matter.
    #[serde(default)]
    pub flights_to_close: Option<f64>,
}

/// Why no more flights were flown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Enough {
    /// Why the run ended.
    pub stop: Stop,
    /// The chance below which flying on at random would teach little.
    pub floor: f64,
    /// What strikes, as far as it is not known as exactly as it is printed.
    #[serde(default)]
    pub strikes: Option<Rough>,
    /// Whether a band over the unknown inputs was wanted and could not be had.
    #[serde(default)]
    pub no_band: bool,
    /// The time that there was, s, and what was not done in it; `None`: it was enough.
    #[serde(default)]
    pub time_up: Option<TimeUp>,
}

/// What a run's time was too short for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TimeUp {
    /// The time, in s.
    pub seconds: f64,
    /// About how many times that it would take; `None` where that cannot be told.
    pub times: Option<f64>,
    /// What there was no time for.
    pub left_out: Vec<Part>,
}

/// Strikes of which too little is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rough {
    /// How many there were.
    pub strikes: u64,
    /// The share below the quantile of their speed that is known least, and
    /// its 95 % interval, m/s; `None`: too few for any.
    pub unsettled: Option<[f64; 3]>,
}

/// How often it happens, as far as the unknown inputs leave it open. A record
/// without `mean_interval` is older than these numbers: nothing is said of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BandFinding {
    /// Frequency exceeded for all but the lowest part of the unknowns.
    pub low: f64,
    /// Frequency not exceeded for all but the highest part.
    pub high: f64,
    /// 95 % interval of `low`.
    pub low_interval: [f64; 2],
    /// 95 % interval of `high`.
    pub high_interval: [f64; 2],
    /// Share of the unknowns between the two.
    pub share: f64,
    /// Names of the unknown inputs.
    pub unknown: Vec<String>,
    /// Mean frequency over the unknowns: the chance of the claim, found by the
    /// flights behind the band.
    #[serde(default)]
    pub mean: f64,
    /// 95 % interval of `mean`; from 2 to 2 in records from before it was kept.
    #[serde(default = "not_kept")]
    pub mean_interval: [f64; 2],
    /// Share of the unknowns with a frequency below 1 in 100, and the mean
    /// frequency there.
    #[serde(default)]
    pub never: f64,
    /// See `never`.
    #[serde(default)]
    pub never_chance: f64,
    /// Share of the unknowns with a frequency above 99 in 100, and the mean
    /// frequency there.
    #[serde(default)]
    pub always: f64,
    /// See `always`.
    #[serde(default)]
    pub always_chance: f64,
    /// Flights that each part of it rests on.
    #[serde(default)]
    pub flights: u64,
    /// The unknown inputs, those that decide most first.
    #[serde(default)]
    pub decides: Vec<DecidesFinding>,
}

fn not_kept() -> [f64; 2] {
    [2.0; 2]
}

/// How much of the band one unknown input decides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DecidesFinding {
    /// Its name.
    pub input: String,
    /// Its dimension.
    pub dimension: String,
    /// Share of the variance of the frequency that goes with it alone, 0..1.
    pub part: f64,
    /// Where the claim always holds, then where it never does, if this input
    /// alone tells the two apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sides: Option<[SideFinding; 2]>,
    /// What it is the strength of, if it is that of a barrier: low values are a weak
    /// one, high values a strong one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<StrengthFinding>,
}

/// A thing whose strength is not known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct StrengthFinding {
    /// Its name in the scenario.
    pub thing: String,
    /// Whether the claim is that it is gone through, and no more.
    pub gone_through: bool,
}

/// A side of the range of an unknown input, SI.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SideFinding {
    /// These values, of few.
    Values(Vec<f64>),
    /// Up to this one.
    UpTo(f64),
    /// From this one on.
    From(f64),
}

/// The most likely way it happens.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MostLikely {
    /// The inputs that are out of the ordinary, the farthest first.
    pub inputs: Vec<LikelyInput>,
    /// Distance from everyday values, in standard deviations.
    pub distance: f64,
    /// Shares of distinct ways among all the ways it happens, largest first.
    pub ways: Vec<f64>,
    /// The flight.
    pub flight: FlightFinding,
    /// Its strike; absent where the claim asks for none.
    #[serde(default)]
    pub strike: Option<StrikeFinding>,
}

/// How a flight strikes an aimed face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StrikeFinding {
    /// s after release.
    pub time: f64,
    /// Name of the face.
    pub face: String,
    /// Speed of the contact point relative to the face, m/s.
    pub speed: f64,
    /// Angle from square on, rad.
    pub obliquity: f64,
    /// Place on the face from its centre, m to the right and up.
    pub on_face: [f64; 2],
    /// Does the face lie, so that it has no top?
    pub lying: bool,
    /// What it touched and went on from before.
    pub touched_before: u64,
    /// What the blow demands of the barrier and what that resists with, if the
    /// claim asks for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blow: Option<[f64; 2]>,
    /// What the blow is measured in.
    pub demand: Demand,
    /// Whether the barrier resists with at least so much.
    pub lower_bound: bool,
}

/// An input in the most likely way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LikelyInput {
    /// Name.
    pub name: String,
    /// Dimension.
    pub dimension: String,
    /// Its value, SI.
    pub value: f64,
    /// Its median, SI.
    pub middle: f64,
    /// Share of its distribution below the value.
    pub below: f64,
}

/// An assumption that carries the answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShakyFinding {
    /// Name of the input.
    pub input: String,
    /// Its dimension.
    pub dimension: String,
    /// Where it was held, SI.
    pub to: f64,
    /// Chance of the claim then, with its 95 % interval.
    pub probability: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Flights behind it.
    pub flights: u64,
    /// Whether it was assumed, and not told to be unknown.
    pub assumed: bool,
}

/// One gate of the chain.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GateFinding {
    /// Which gate.
    pub gate: Gate,
    /// What it means in this scenario, in words.
    pub meaning: String,
    /// Flights that came to it.
    pub came: u64,
    /// Flights that passed it.
    pub passed: u64,
    /// P(gate | the gates before).
    pub given_before: Chance,
    /// P(this gate and all before).
    pub so_far: Chance,
    /// Of a barrier with a formula: P(all gates before, and a blow of which no bound
    /// says that it cannot go through, as that it takes less than a dent).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub could: Option<Chance>,
    /// Why and by how much the others failed here; none where the barriers of
    /// several faces are weighed in different measures (see [`FaceGate::margin`]).
    pub margin: Option<Spread>,
    /// The margin's dimension (`length`, `angle`, `energy`, `speed`, `force`).
    pub margin_dimension: String,
}

/// What became of the strikes on one of several aimed faces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FaceChain {
    /// Name of the face.
    pub face: String,
    /// Strikes on it.
    pub strikes: u64,
    /// The gates behind the strike, in order: which, how many came to it, and
    /// how many of them passed.
    pub gates: Vec<FaceGate>,
}

/// One gate behind the strike on one face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FaceGate {
    /// Which gate.
    pub gate: Gate,
    /// What it means for this face, in words.
    pub meaning: String,
    /// P(gate | the gates before), of the strikes on this face.
    pub given_before: Chance,
    /// Of its barrier, where those of several faces are weighed in different measures:
    /// by how much it held, where it did.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<Spread>,
    /// The margin's dimension (`energy`, `speed`); empty of other gates.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub margin_dimension: String,
}

/// A distribution seen in the run: quantiles and a histogram.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// How many values.
    pub count: u64,
    /// Arithmetic mean.
    pub mean: f64,
    /// Smallest and largest value.
    pub min: f64,
    /// See `min`.
    pub max: f64,
    /// Quantiles at 1, 5, 25, 50, 75, 95, 99 %.
    pub quantiles: [f64; 7],
    /// Histogram: edges (one more than counts), equal widths.
    pub edges: Vec<f64>,
    /// Counts between the edges.
    pub counts: Vec<u64>,
}

/// An input as used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct InputFinding {
    /// Path in the scenario.
    pub name: String,
    /// Dimension (`length`, `speed`, ...), for display.
    pub dimension: String,
    /// As it was written or assumed, in words ("uniform from 14 m/s to 24 m/s").
    pub written: String,
    /// 5, 50 and 95 % in SI.
    pub quantiles: [f64; 3],
    /// Fixed?
    pub fixed: bool,
    /// One unknown value rather than a varying one?
    pub unknown: bool,
    /// Not written by the user: the model's default.
    pub assumed: bool,
    /// Differs of itself (the gust that a flight starts in, one pane from the
    /// next): no number that anybody could tell.
    #[serde(default)]
    pub of_itself: bool,
    /// The part whose number it is, by name; `None`: the scenario's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
}

/// A part that the scenario takes from a shelf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartFinding {
    /// `object` or `target`.
    pub side: String,
    /// Its name.
    pub name: String,
    /// What it is, in its own words.
    pub about: String,
    /// Where its figures are from, in its own words.
    pub source: String,
    /// The weakest kind of its sources.
    #[serde(with = "by_word")]
    pub kind: Option<note::Kind>,
    /// Its file, from the scenario's folder; `None`: it is on the program's shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
}

/// A face where it stands at time 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FaceFinding {
    /// Name.
    pub name: String,
    /// Centre, world frame, m.
    pub centre: [f64; 3],
    /// Outward normal.
    pub normal: [f64; 3],
    /// Unit vector to the right as seen from outside.
    pub right: [f64; 3],
    /// Unit vector up the slope.
    pub up: [f64; 3],
    /// Outline, m.
    pub outline: Outline<f64>,
    /// Aimed at?
    pub aim: bool,
}

/// A solid where it stands at time 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SolidFinding {
    /// Name.
    pub name: String,
    /// What of the box about it it fills.
    #[serde(default)]
    pub shape: SolidShape,
    /// Centre, world frame, m.
    pub centre: [f64; 3],
    /// Extents, m.
    pub size: [f64; 3],
    /// Turn about the vertical, rad.
    pub turn: f64,
}

/// What flies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ObjectFinding {
    /// Shape's name.
    pub shape: String,
    /// What to call it in a sentence; empty in records from before it was kept.
    #[serde(default)]
    pub noun: String,
    /// Its outer surface, for drawing; a box of its extents in records from before
    /// it was kept.
    #[serde(default)]
    pub silhouette: Silhouette,
    /// Extents along the body axes, m.
    pub extents: [f64; 3],
    /// Diameter of what is hollow (a tube's bore, a wheel's hub), m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inner: Option<f64>,
    /// Mass, kg.
    pub mass: f64,
}

/// The outer surface of an object about its centre of mass, for drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Silhouette {
    /// A ball as wide as its extents.
    Ball,
    /// A lump within the ball of its extents.
    Lump,
    /// A box of its extents.
    Boxed,
    /// The same without its edges: a thin sheet, or a box that stands for something
    /// else.
    #[default]
    Bare,
    /// What spans two circles across a body axis.
    Round {
        /// That axis: 0, 1 or 2.
        axis: usize,
        /// The circles: where each is along the axis, and its radius, m.
        rings: [[f64; 2]; 2],
    },
}

impl From<&Body> for ObjectFinding {
    fn from(body: &Body) -> Self {
        let (form, family) = (body.shape.form(), body.shape.family());
        let hole = 2.0 * body.shape.hole();
        Self {
            shape: body.shape.name().to_owned(),
            noun: family.noun.to_owned(),
            silhouette: match (form, family.look) {
                (Form::Ball { .. }, Look::Broken) => Silhouette::Lump,
                (Form::Ball { .. }, Look::Plain | Look::Bare) => Silhouette::Ball,
                (Form::Boxed { .. }, Look::Bare) => Silhouette::Bare,
                (Form::Boxed { .. }, Look::Plain | Look::Broken) => Silhouette::Boxed,
                (Form::Revolved { axis, rings }, _) => {
                    Silhouette::Round { axis, rings: rings.map(|ring| [ring.offset, ring.radius]) }
                }
            },
            extents: (2.0 * form.half_extents()).to_array(),
            inner: (hole > 0.0).then_some(hole),
            mass: body.mass,
        }
    }
}

/// One flight for drawing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlightFinding {
    /// The draw.
    pub draw: u64,
    /// The gate it stopped at; `None`: the claim held.
    pub stopped_at: Option<Gate>,
    /// Did it strike an aimed face?
    pub struck: bool,
    /// When it did, s after release; absent where it did not, or where the
    /// record is older.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strike: Option<f64>,
    /// One of the flights that came nearest where none held?
    #[serde(default)]
    pub closest: bool,
    /// Speed over the ground at the end, m/s.
    pub end_speed: f64,
    /// What it touched and went on from, in order (those that took most, where
    /// there are many).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub contacts: Vec<FlightContact>,
    /// Where its centre came to rest on the ground, world frame, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest: Option<[f64; 3]>,
    /// The path.
    pub path: Vec<PathPoint>,
}

/// What flights touched and went on from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ContactFinding {
    /// Flights that touched something and went on.
    pub touched: u64,
    /// Of how many.
    pub flights: u64,
    /// Strikes on the aimed face.
    pub strikes: u64,
    /// Strikes before which something else was touched.
    pub strikes_after: u64,
    /// Contacts of a flight that has any.
    pub number: Option<Spread>,
    /// Flights that rolled on, away from everything, and were followed no further.
    #[serde(default)]
    pub let_go: u64,
    /// Distance on the ground from below the origin to where flights came to
    /// rest, m; `None` if none did, or some were let go before.
    pub rest: Option<Spread>,
}

/// One contact of a flight.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlightContact {
    /// s after release.
    pub time: f64,
    /// Centre of mass then, world frame, m.
    pub position: [f64; 3],
    /// `ground`, or the name of the face or the solid.
    pub surface: String,
    /// `bounced`, `went_through` or `slid`.
    pub what: String,
    /// Speed over the ground just before, m/s.
    pub before: f64,
    /// Speed over the ground just after (of a slide, at its end), m/s.
    pub after: f64,
    /// Energy lost, J (below 0: a moving thing pushed it on).
    pub lost: f64,
    /// End of a slide, s after release.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<f64>,
}

/// One moment of a flight.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PathPoint {
    /// s after release.
    pub time: f64,
    /// Centre of mass, world frame, m.
    pub position: [f64; 3],
    /// The same as this draw's own target sees it, put where the middling
    /// target of the record stands at release, m; absent where the target
    /// neither moves nor stands elsewhere in this draw.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<[f64; 3]>,
    /// Velocity, world frame, m/s.
    pub velocity: [f64; 3],
    /// Attitude quaternion x, y, z, w (body to world).
    pub attitude: [f64; 4],
}

/// Where a flight crossed the plane of the aimed face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrossingFinding {
    /// Right of the face's centre as seen from outside, m.
    pub right: f64,
    /// Up the slope from the face's centre, m.
    pub up: f64,
    /// Which of `faces`.
    pub face: usize,
    /// Did it strike the face?
    pub struck: bool,
    /// Did the whole claim hold?
    pub held: bool,
}

/// Demand against resistance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BarrierFinding {
    /// Name of the face.
    pub face: String,
    /// Name of the barrier.
    pub name: String,
    /// What it is measured in.
    pub demand: Demand,
    /// What the strikes demand.
    pub demanded: Spread,
    /// What the barrier resists with, over the same strikes.
    pub resisted: Spread,
    /// Where its numbers come from.
    pub source: String,
    /// Whether it resists with at least so much: a standard's test, passed.
    #[serde(default)]
    pub lower_bound: bool,
    /// What is unknown of its strength and what varies, for shots to be weighed
    /// against; absent where several barriers are aimed at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<Strength>,
    /// The blows that came to it, in the units of that strength: (size, share).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blows: Vec<(f64, f64)>,
    /// Whether what strikes is softer than what it was tested with.
    #[serde(default)]
    pub softer: bool,
    /// What the object counts as, since the scenario does not say what it is made
    /// of; empty where it does.
    #[serde(default)]
    pub counts_as: String,
}

/// The harm criterion.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HarmFinding {
    /// Threshold in the criterion's own unit: J, J/cm² or a pure number.
    pub threshold: f64,
    /// Name of the criterion.
    #[serde(default)]
    pub name: String,
    /// What it stands for, for whom, its limits and its source.
    pub source: String,
    /// What the middle of what arrives comes to, where the criterion has more to
    /// say than whether it is reached.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading: Option<HeadReading>,
}

/// The head injury criterion of the middle of what arrives.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HeadReading {
    /// Mass of the head, kg.
    pub mass: f64,
    /// How long the assumed pulse lasts, s.
    pub lasts: f64,
    /// HIC15.
    pub hic: f64,
    /// Chances of an injury of AIS 2, 3, 4 or worse by the lognormal curves.
    pub lognormal: [f64; 3],
    /// The same by the logistic curves.
    pub logistic: [f64; 3],
}

/// What a strike does to the speed of a target of known mass.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MovedFinding {
    /// Mass of the target, kg.
    pub mass: f64,
    /// 5, 50 and 95 % of the change, m/s, if the object stays with it.
    pub change: [f64; 3],
}

/// Discretisation error, measured by re-flying a fixed subset at half the step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StepError {
    /// How many flights were flown again: those of the draws that left.
    pub flights: u64,
    /// Largest and median shift of the end point, m per 50 m flown.
    pub point_max: f64,
    /// See `point_max`.
    pub point_median: f64,
    /// Largest and median relative change of the energy at the end.
    pub energy_max: f64,
    /// See `energy_max`.
    pub energy_median: f64,
    /// Flights outside the budget (1 mm per 50 m, 0.1 %).
    pub outside: u64,
    /// Flights whose fate (gate) changed.
    pub changed: u64,
}

/// Energy lost set beside the work done, on the subset that is flown again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct EnergyAudit {
    /// Flights looked at.
    pub flights: u64,
    /// Touches among them.
    pub touches: u64,
    /// Largest gap, as a share of the flight's largest kinetic energy.
    pub worst: f64,
    /// Flights whose gap is beyond 0.1 %.
    pub outside: u64,
    /// Flights in which a contact gave energy, which it can only take.
    #[serde(default)]
    pub gained: u64,
    /// Does it add up?
    pub holds: bool,
}

/// Which inputs decide one gate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GateDrivers {
    /// The gate; `None`: the whole claim.
    pub gate: Option<Gate>,
    /// Ranked, strongest first.
    pub ranking: Vec<Driver>,
}

/// One input's part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Driver {
    /// Input's name.
    pub input: String,
    /// Chance that a success has a larger value than a failure (0.5: no matter).
    pub auc: f64,
    /// Whether it helps to be within a window (or outside of one), rather than
    /// larger or smaller.
    #[serde(default)]
    pub window: bool,
    /// Largest gap between the successes' and everybody's distribution, 0..1.
    pub separation: f64,
    /// Gap that chance alone would show (95 %).
    pub noise: f64,
    /// Share of the doubt about the gate that would go if this input were held
    /// at a known value, on average, 0..1.
    pub settles: f64,
}

/// A validity range that was left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BreachFinding {
    /// Which.
    pub breach: Breach,
    /// How many flights.
    pub flights: u64,
    /// Share of those whom it could befall.
    pub share: f64,
    /// How many these are.
    pub of: u64,
}

/// A model and where it comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ModelNote {
    /// Its section of the page of trust (`tests/TRUST.md`), as a link ends; empty
    /// in records from before there was one.
    #[serde(default)]
    pub key: String,
    /// What it is for ("drag and lift of the plate").
    pub what: String,
    /// The model in words.
    pub model: String,
    /// Source.
    pub source: String,
    /// The weakest of its sources; `None` where the scenario tells it.
    #[serde(default, with = "by_word")]
    pub kind: Option<note::Kind>,
    /// Range of validity in words.
    pub valid: String,
    /// What it leaves out, in words; may be empty.
    #[serde(default)]
    pub leaves_out: String,
}

/// A kind of source as its words.
mod by_word {
    use crate::note::Kind;
    use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

    pub(super) fn serialize<S: Serializer>(kind: &Option<Kind>, to: S) -> Result<S::Ok, S::Error> {
        kind.map(Kind::words).serialize(to)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<Kind>, D::Error> {
        let Some(word) = Option::<String>::deserialize(from)? else { return Ok(None) };
        let known = Kind::ALL.into_iter().find(|kind| kind.words() == word);
        known.map(Some).ok_or_else(|| D::Error::custom(format!("no kind of source: {word}")))
    }
}
