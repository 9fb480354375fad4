//! What a run keeps of its outcomes: whole numbers and small samples only, so
//! that tallies merge exactly, in any order, in memory that does not grow.

use super::{Draws, Measure, Nearest};
use crate::{
    chain::{Breach, Claim, Outcome},
    estimate::{BottomK, InputTally, Settled},
    flight::Work,
    scenario::Gate,
};

/// How many draws are kept of each fate, for drawing their flights.
const KEPT_PER_FATE: usize = 24;

/// How many draws are kept that came nearest to the claim without holding.
const KEPT_NEAREST: usize = 6;

/// How many crossings of the aimed plane are kept.
const KEPT_CROSSINGS: usize = 1500;

/// How many crossings are kept of claims that held, which may be rare.
const KEPT_HELD: usize = 300;

/// A crossing of the aimed plane, kept for the hit map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Right and up from the centre of the aimed face that it struck, or of the
    /// first one, in m.
    pub at: [f64; 2],
    /// Which face that is, by its place in the target's list.
    pub face: usize,
    /// Did it strike an aimed face?
    pub struck: bool,
    /// Did the claim hold?
    pub held: bool,
}

/// The strikes on one of several aimed faces.
#[derive(Clone, Debug)]
pub struct OnFace {
    /// Which face, by its place in the target's list.
    pub face: usize,
    /// Strikes by how many gates they passed: gates + 1 counts.
    pub fates: Vec<u64>,
    /// Demand on its barrier, in the barrier's own measure.
    pub demand: Measure,
    /// Resistance met there, in the same measure.
    pub resistance: Measure,
    /// What was missing where it held, in the same measure.
    pub margin: Measure,
}

impl OnFace {
    /// How many strikes there are on it.
    #[must_use]
    pub fn strikes(&self) -> u64 {
        self.fates.iter().sum()
    }
}

/// The tally of a run or of a part of it.
#[derive(Clone, Debug)]
pub struct Tally {
    /// Flights by how many gates they passed: gates + 1 counts.
    pub fates: Vec<u64>,
    /// By how much each gate's failures failed, in the gate's own measure.
    pub margins: Vec<Measure>,
    /// Speed of the centre of mass relative to the face at a strike, in m/s.
    pub impact_speed: Measure,
    /// Distance beside the outline of all that cross the aimed plane, in m.
    pub miss: Measure,
    /// Speed of coming off a carrier that shook it loose, in m/s, and that by
    /// the carrier's speed before.
    pub left_with: [Measure; 2],
    /// Angle of the path from the normal at a strike, in rad.
    pub obliquity: Measure,
    /// Demand on the barrier, in its own measure.
    pub demand: Measure,
    /// The same in units of the barrier's median.
    pub blow: Measure,
    /// Resistance met, in the same measure.
    pub resistance: Measure,
    /// Energy of what arrives, in J.
    pub arriving: Measure,
    /// How often flights touch something and go on.
    pub contacts: Measure,
    /// Strikes before which something else was touched.
    pub after_contact: u64,
    /// Flights that were let go as they rolled on, away from everything.
    pub let_go: u64,
    /// Distance on the ground of where flights came to rest from below the
    /// origin, in m.
    pub rest: Measure,
    /// Flights by validity range left, in the order of [`Breach::ALL`].
    pub breaches: [u64; Breach::ALL.len()],
    /// Flights that each of them could befall, in the same order.
    pub concerned: [u64; Breach::ALL.len()],
    /// Flights that were cut off before their fate was known, by how many gates
    /// they had passed.
    pub open: Vec<u64>,
    /// A sample of the draws of those.
    pub cut_off: BottomK<()>,
    /// Blows on a barrier of which no bound says that they cannot go through.
    pub could: u64,
    /// The strikes on each aimed face, in the order of the target's list; none
    /// where one alone is aimed at.
    pub faces: Vec<OnFace>,
    /// The first aimed face.
    first: usize,
    /// A sample of draws of each fate.
    pub kept: Vec<BottomK<()>>,
    /// The draws that came nearest to the claim without holding.
    pub nearest: Nearest,
    /// A sample of crossings.
    pub crossings: BottomK<Crossing>,
    /// A sample of crossings of claims that held.
    pub held: BottomK<Crossing>,
    /// Where in their distributions the inputs of each fate lay.
    pub inputs: InputTally,
    /// What the stepper did.
    pub work: Work,
}

impl Tally {
    /// An empty tally for a claim.
    #[must_use]
    pub fn new(claim: &Claim, draws: &Draws) -> Self {
        let gates = claim.gates().len();
        let new = Measure::default;
        let seed = draws.seed();
        let aimed = claim.aimed();
        let on_face = |face: &usize| OnFace {
            face: *face,
            fates: vec![0; gates + 1],
            demand: new(),
            resistance: new(),
            margin: new(),
        };
        Self {
            faces: if aimed.len() > 1 { aimed.iter().map(on_face).collect() } else { Vec::new() },
            first: aimed[0],
            fates: vec![0; gates + 1],
            margins: vec![new(); gates],
            impact_speed: new(),
            miss: new(),
            left_with: [new(), new()],
            obliquity: new(),
            demand: new(),
            blow: new(),
            resistance: new(),
            arriving: new(),
            contacts: new(),
            after_contact: 0,
            let_go: 0,
            rest: new(),
            breaches: [0; Breach::ALL.len()],
            concerned: [0; Breach::ALL.len()],
            open: vec![0; gates + 1],
            could: 0,
            kept: vec![BottomK::new(KEPT_PER_FATE, seed, 0); gates + 1],
            cut_off: BottomK::new(KEPT_PER_FATE, seed, 0),
            nearest: Nearest::new(KEPT_NEAREST),
            crossings: BottomK::new(KEPT_CROSSINGS, seed, 1),
            held: BottomK::new(KEPT_HELD, seed, 1),
            inputs: InputTally::new(draws.uncertain().len(), gates),
            work: Work::default(),
        }
    }

    /// How many flights it holds.
    #[must_use]
    pub fn flights(&self) -> u64 {
        self.fates.iter().sum()
    }

    /// The least known of the quantiles that are printed of what strikes, of
    /// its speed and of its blow; `None` of too few strikes.
    #[must_use]
    pub(crate) fn least_settled(&self) -> Option<Settled> {
        let [speed, blow] = [&self.impact_speed, &self.demand].map(Measure::settled);
        let both = speed.into_iter().chain(blow);
        both.max_by(|a, b| a.ratio().total_cmp(&b.ratio()))
    }

    /// How many flights came to gate `place` of the chain.
    #[must_use]
    pub fn came(&self, place: usize) -> u64 {
        self.fates[place..].iter().sum()
    }

    /// How many flights passed gate `place` of the chain.
    #[must_use]
    pub fn passed(&self, place: usize) -> u64 {
        self.came(place + 1)
    }

    /// Adds one outcome; `ranks`: where in its distribution each uncertain
    /// input of the draw lay, 0..1.
    pub fn add(&mut self, outcome: &Outcome, ranks: &[f64]) {
        let held = outcome.stopped_at.is_none();
        self.fates[outcome.passed] += 1;
        self.inputs.record(ranks.iter().copied(), outcome.passed);
        self.kept[outcome.passed].offer(outcome.draw, || ());
        if !held {
            // What never struck has no margin where a strike is asked for.
            let has_one = outcome.struck || outcome.stopped_at <= Some(Gate::Strikes);
            if has_one {
                self.margins[outcome.passed].push(outcome.margin);
            }
            self.nearest.offer(outcome.score(self.margins.len()), outcome.draw);
        }
        if let Some(touch) = outcome.touch.filter(|_| outcome.struck) {
            self.impact_speed.push(touch.relative_velocity.length());
            self.obliquity.push(touch.obliquity);
        }
        for (measure, value) in
            self.left_with.iter_mut().zip(outcome.left_with.into_iter().flatten())
        {
            measure.push(value);
        }
        if outcome.contacts > 0 {
            self.contacts.push(f64::from(outcome.contacts));
        }
        self.after_contact += u64::from(outcome.struck && outcome.contacts_before > 0);
        self.let_go += u64::from(outcome.let_go);
        let rest = outcome.rest.map(|rest| crate::math::hypot(rest.x, rest.y));
        let measures = [
            (&mut self.rest, rest),
            (&mut self.miss, outcome.miss),
            (&mut self.demand, outcome.demand),
            (&mut self.blow, outcome.blow),
            (&mut self.resistance, outcome.resistance),
            (&mut self.arriving, outcome.arriving_energy),
        ];
        for (measure, value) in measures {
            if let Some(value) = value {
                measure.push(value);
            }
        }
        if let Some(at) = outcome.crossing {
            let face = outcome.face().unwrap_or(self.first);
            let crossing = Crossing { at, face, struck: outcome.struck, held };
            self.crossings.offer(outcome.draw, || crossing);
            if held {
                self.held.offer(outcome.draw, || crossing);
            }
        }
        let face = outcome.face();
        if let Some(on) = self.faces.iter_mut().find(|on| Some(on.face) == face) {
            on.fates[outcome.passed] += 1;
            if outcome.stopped_at == Some(Gate::Perforates) {
                on.margin.push(outcome.margin);
            }
            for (measure, value) in
                [(&mut on.demand, outcome.demand), (&mut on.resistance, outcome.resistance)]
            {
                if let Some(value) = value {
                    measure.push(value);
                }
            }
        }
        let counts = self.breaches.iter_mut().zip(&mut self.concerned);
        for ((left, concerned), breach) in counts.zip(Breach::ALL) {
            *left += u64::from(outcome.breaches.has(breach));
            *concerned += u64::from(outcome.concerns(breach));
        }
        if outcome.is_open() {
            self.open[outcome.passed] += 1;
            self.cut_off.offer(outcome.draw, || ());
        }
        self.could += u64::from(outcome.could);
    }

    /// Counts what the stepper did.
    pub fn count_work(&mut self, work: &Work) {
        let mine = &mut self.work;
        mine.flights += work.flights;
        mine.steps += work.steps;
        mine.rejected += work.rejected;
        mine.evaluations += work.evaluations;
    }

    /// The tally of both parts: the same whichever comes first.
    #[must_use]
    pub fn merged(mut self, other: Self) -> Self {
        add(&mut self.fates, &other.fates);
        add(&mut self.breaches, &other.breaches);
        add(&mut self.concerned, &other.concerned);
        add(&mut self.open, &other.open);
        self.could += other.could;
        for (mine, theirs) in self.faces.iter_mut().zip(&other.faces) {
            add(&mut mine.fates, &theirs.fates);
            mine.demand.merge(&theirs.demand);
            mine.resistance.merge(&theirs.resistance);
            mine.margin.merge(&theirs.margin);
        }
        for (mine, theirs) in self.margins.iter_mut().zip(&other.margins) {
            mine.merge(theirs);
        }
        self.impact_speed.merge(&other.impact_speed);
        self.miss.merge(&other.miss);
        for (mine, theirs) in self.left_with.iter_mut().zip(&other.left_with) {
            mine.merge(theirs);
        }
        self.obliquity.merge(&other.obliquity);
        self.demand.merge(&other.demand);
        self.blow.merge(&other.blow);
        self.resistance.merge(&other.resistance);
        self.arriving.merge(&other.arriving);
        self.contacts.merge(&other.contacts);
        self.after_contact += other.after_contact;
        self.let_go += other.let_go;
        self.rest.merge(&other.rest);
        for (mine, theirs) in self.kept.iter_mut().zip(other.kept) {
            mine.merge(theirs);
        }
        self.cut_off.merge(other.cut_off);
        self.nearest.merge(&other.nearest);
        self.crossings.merge(other.crossings);
        self.held.merge(other.held);
        self.inputs.merge(&other.inputs);
        self.count_work(&other.work);
        self
    }
}

fn add(mine: &mut [u64], theirs: &[u64]) {
    for (mine, theirs) in mine.iter_mut().zip(theirs) {
        *mine += theirs;
    }
}
