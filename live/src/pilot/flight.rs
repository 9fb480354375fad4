//! One version, flown: a number at once, then sharper ones, then the one that
//! `longodds run` prints.

use super::{
    Job,
    clock::Pace,
    crew::Crew,
    print::print,
    queue::{Next, Queue},
    scene::Scene,
    screen::Screen,
    slices::{Flown, SLICE},
    watch::Watch,
};
use crate::{
    form::fields,
    lines::{Gone, Line, Phase},
    version::{Version, version},
};
use longodds_sim::{
    answer::understood,
    chain::Claim,
    engine::{Progress, Stop, Tally},
    findings::{Findings, Origin, findings, sketch},
    scenario::Scenario,
    study::{Ask, Study, asked_further, counted},
    sweep::FLIGHTS,
};
use std::{
    ops::ControlFlow,
    panic::{AssertUnwindSafe, catch_unwind},
    sync::atomic::{AtomicBool, Ordering},
};

/// Flights of each fate that are drawn at first, and in the end.
const FEW: usize = 6;
const MANY: usize = 24;

/// Flies what comes, until the end. `first`: the claim as it is in the file.
pub(super) fn fly(seed: u64, first: Option<&Scenario>, pool: &rayon::ThreadPool, queue: &Queue) {
    let mut crew = Crew::new(seed);
    if let Some(scenario) = first {
        // Before anybody asks: then the first number need not wait for it.
        let _kept = catch_unwind(AssertUnwindSafe(|| pool.install(|| crew.ready(scenario))));
    }
    loop {
        match queue.next() {
            (Next::End, _) => return,
            (Next::Fly(job), mark) => {
                let mut trip =
                    Trip { crew: &mut crew, job: &job, queue, mark, pace: Pace::default() };
                // What is wrong with one version, even with the engine, ends no other.
                let done = catch_unwind(AssertUnwindSafe(|| pool.install(|| trip.fly())));
                if matches!(done, Ok(Err(End::Newer))) {
                    queue.back(job);
                }
            }
            (Next::Print(sheet), mark) => {
                let watch = Watch { queue, mark, out: None, seen: |_: &Tally| {} };
                let page = AssertUnwindSafe(|| pool.install(|| print(&mut crew, &sheet, &watch)));
                match catch_unwind(page) {
                    Ok(Some(page)) => drop(sheet.back.send(page)),
                    Ok(None) => queue.print_again(sheet),
                    Err(_) => {}
                }
            }
        }
    }
}

/// What two claims of one scenario may be flown by otherwise.
fn tolerance(claim: &Claim) -> u64 {
    claim.settings().tolerance.to_bits()
}

/// Why a version is flown no further.
enum End {
    /// There is something newer to do.
    Newer,
    /// Nobody reads it.
    Gone,
}

impl From<Gone> for End {
    fn from(_: Gone) -> Self {
        Self::Gone
    }
}

/// One version on its way.
struct Trip<'a> {
    crew: &'a mut Crew,
    job: &'a Job,
    queue: &'a Queue,
    mark: u64,
    pace: Pace,
}

impl Trip<'_> {
    fn fly(&mut self) -> Result<(), End> {
        let job = self.job;
        let Version { scenario, doubts } = match version(&job.base, &job.edit.sets, &job.folder) {
            Ok(version) => version,
            Err(problems) => return Ok(job.out.send(&Line::Problems { problems })?),
        };
        job.out.send(&Line::Form {
            fields: fields(&scenario),
            understood: understood(&scenario),
            doubts,
        })?;
        if self.job.edit.pinned.is_none() {
            self.screen().no_difference(None)?;
        }
        let scene = Scene::of(&scenario, &self.job.edit);
        if let ControlFlow::Break(done) = self.remembered(&scenario, &scene)? {
            return Ok(done);
        }
        let claim = self.crew.quick(&scenario);
        let mut flown = Flown::none(&claim, self.crew.seed);
        flown.first(&claim, self.crew.seed);
        let _begun = self.pace.is_due();
        self.screen().numbers(&claim, &flown.tally, Phase::First)?;
        self.wanted()?;
        if flown.tally.flights() < SLICE {
            // Each flight takes long: so will those that are drawn.
            self.screen().set_up(&scene)?;
        }
        self.screen().flights(&claim, &flown.tally, (&scene, FEW), Phase::First)?;
        self.against(&scenario, &flown, Phase::First)?;
        self.sharper(&scenario, &claim, &mut flown)?;
        self.settle((&scenario, &scene), &claim, flown)
    }

    fn screen(&self) -> Screen<'_> {
        Screen { job: self.job, seed: self.crew.seed }
    }

    fn watch(&self) -> Watch<'_, impl Fn(&Tally) + Sync + use<>> {
        Watch { queue: self.queue, mark: self.mark, out: Some(&self.job.out), seen: |_: &Tally| {} }
    }

    fn wanted(&self) -> Result<(), End> {
        match (self.job.out.is_closed(), self.watch().stop()) {
            (true, _) => Err(End::Gone),
            (_, true) => Err(End::Newer),
            _ => Ok(()),
        }
    }

    /// Slice by slice to where `longodds run` looks first.
    fn sharper(
        &mut self,
        scenario: &Scenario,
        claim: &Claim,
        flown: &mut Flown,
    ) -> Result<(), End> {
        let look = Ask::new(self.crew.seed).rule().first;
        while flown.tally.flights() < look {
            let end = (flown.tally.flights() / SLICE + 1) * SLICE;
            flown.until(claim, self.crew.seed, end.min(look), &self.watch());
            self.wanted()?;
            if self.pace.is_due() || flown.tally.flights() == look {
                self.screen().numbers(claim, &flown.tally, Phase::Sharper)?;
                self.against(scenario, flown, Phase::Sharper)?;
            }
        }
        Ok(())
    }

    /// The number of `longodds run`, and then all that it says.
    fn settle(
        &mut self,
        (scenario, scene): (&Scenario, &Scene),
        quick: &Claim,
        flown: Flown,
    ) -> Result<(), End> {
        let seed = self.crew.seed;
        let claim = self.crew.ready(scenario);
        self.wanted()?;
        let same = tolerance(&claim) == tolerance(quick);
        let Flown { tally, held } = if same { flown } else { Flown::none(&claim, seed) };
        let study = {
            let screen = self.screen();
            let rule = Ask::new(seed).rule();
            let third = AtomicBool::new(false);
            let seen = |tally: &Tally| {
                // Known to a third: what follows settles the speeds and blows that are told.
                let known = rule.is_exact(tally.passed(claim.gates().len() - 1), tally.flights());
                let news = known && !third.swap(true, Ordering::Relaxed);
                if news || self.pace.is_due() {
                    let phase = if known { Phase::Settled } else { Phase::Sharper };
                    // Who is gone is noticed at the next flights.
                    let _told = screen.numbers(&claim, tally, phase);
                }
            };
            if same {
                seen(&tally);
            }
            let watch =
                Watch { queue: self.queue, mark: self.mark, out: Some(&self.job.out), seen };
            counted(&claim, &Ask::new(seed), tally, &watch)
        };
        self.whole(&study)?;
        // Too few held to lean on: the search that follows settles it.
        let phase = if study.is_searched() { Phase::Sharper } else { Phase::Settled };
        let found = sketch(&claim, &study, &Origin::default(), MANY);
        self.screen().told(&found, phase)?;
        self.screen().drawn(&found, scene, phase)?;
        self.screen().noted(&found, phase)?;
        let mut flown = Flown { tally: Flown::none(&claim, seed).tally, held };
        if self.job.edit.pinned.is_some() {
            flown.until(&claim, seed, FLIGHTS, &self.watch());
            self.wanted()?;
            self.against(scenario, &flown, Phase::Settled)?;
        }
        let study = asked_further(&claim, study, &self.watch());
        self.whole(&study)?;
        let found = findings(&claim, &study, &self.origin());
        self.all(&found, scene)?;
        self.crew.keep(scenario, found);
        Ok(self.job.out.send(&Line::Done { phase: Phase::Settled })?)
    }

    fn origin(&self) -> Origin {
        Origin { scenario_name: self.job.name.clone() }
    }

    fn whole(&self, study: &Study) -> Result<(), End> {
        self.wanted()?;
        if study.stop == Stop::Interrupted { Err(End::Newer) } else { Ok(()) }
    }

    /// All that is shown of a settled record.
    fn all(&self, found: &Findings, scene: &Scene) -> Result<(), Gone> {
        let screen = self.screen();
        screen.told(found, Phase::Search)?;
        screen.drawn(found, scene, Phase::Search)?;
        screen.noted(found, Phase::Search)
    }

    /// Shows what is known of a version already.
    fn remembered(&mut self, scenario: &Scenario, scene: &Scene) -> Result<ControlFlow<()>, End> {
        let Some(found) = self.crew.found(scenario) else {
            return Ok(ControlFlow::Continue(()));
        };
        self.all(found, scene)?;
        if self.job.edit.pinned.is_some() {
            let claim = self.crew.quick(scenario);
            let mut flown = Flown::none(&claim, self.crew.seed);
            flown.held = match self.other(&self.job.edit.sets, FLIGHTS)? {
                Ok(held) => held,
                Err(_) => return Ok(ControlFlow::Continue(())),
            };
            self.against(scenario, &flown, Phase::Settled)?;
        }
        self.job.out.send(&Line::Done { phase: Phase::Settled })?;
        Ok(ControlFlow::Break(()))
    }

    /// Another version's draws: held, or why it cannot be flown.
    fn other(
        &mut self,
        sets: &crate::asked::Sets,
        flights: u64,
    ) -> Result<Result<longodds_sim::sweep::Held, String>, End> {
        let job = self.job;
        let watch =
            Watch { queue: self.queue, mark: self.mark, out: Some(&job.out), seen: |_: &Tally| {} };
        match self.crew.other(&job.base, sets, &job.folder, flights, &watch) {
            Ok(Some(held)) => Ok(Ok(held)),
            Ok(None) => Err(if job.out.is_closed() { End::Gone } else { End::Newer }),
            Err(problems) => Ok(Err(problems
                .first()
                .map_or_else(String::new, |problem| problem.message.clone()))),
        }
    }

    /// Holds the flights so far against the same draws of the pinned version.
    fn against(&mut self, scenario: &Scenario, flown: &Flown, phase: Phase) -> Result<(), End> {
        let Some(pinned) = &self.job.edit.pinned else { return Ok(()) };
        match self.other(pinned, flown.held.flights())? {
            Ok(before) => match before.against(&flown.held) {
                Some(found) => Ok(self.screen().differs(&found, scenario.show, phase)?),
                None => Ok(()),
            },
            Err(why) => Ok(self.screen().no_difference(Some(&why))?),
        }
    }
}
