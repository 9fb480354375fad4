//! Seats flights in the lanes of a block and follows them to their ends.

use super::{
    Ending, Flight, Last, Scene, Settings, Source, State, Step, Verdict, Work,
    motion::{Given, Inertia, Numbers, SIZE, Shared},
    near::Bounds,
    step::spun,
    tableau::{STAGES, powers_of},
    turn::{Block, SMALLEST_STEP, Trace, Turn},
};
use crate::{
    aero::{Extremes, Model, each_model},
    lane::{Lane, Processor, Task},
    world::{AirNow, Disturbed, Profiled, Terrain, WindModel},
};
use core::marker::PhantomData;

/// Flies every flight of `source`, shows `scene` what it watches, and tells
/// the work that it took.
///
/// # Panics
///
/// If the flights of one source differ in shape family, in terrain, or in
/// whether the air has gusts or a wake: that is settled once for a loop.
pub fn fly<Src: Source, Sc: Scene>(settings: &Settings, source: &mut Src, scene: &mut Sc) -> Work {
    // The step loop knows neither source nor scene. They are called a few times
    // a flight, so they share one compiled loop per family.
    let Some(first) = source.next_flight() else { return Work::default() };
    Call { settings, first, source, scene }.work()
}

/// What [`fly`] was called with.
struct Call<'a> {
    settings: &'a Settings,
    first: Flight,
    source: &'a mut dyn Source,
    scene: &'a mut dyn Scene,
}

impl Call<'_> {
    /// Not generic, so that the loops are built with this crate and not again with
    /// each that calls it.
    fn work(self) -> Work {
        each_model!(self.first.coefficients, |model| self.of(model))
    }

    fn of<M: Model>(self, _: M) -> Work {
        if self.first.air.is_disturbed() {
            self.in_wind::<M, Disturbed>()
        } else {
            self.in_wind::<M, Profiled>()
        }
    }

    fn in_wind<M: Model, W: WindModel>(self) -> Work {
        self.settings.family.run(Run::<'_, M, W>(self, PhantomData))
    }
}

/// A call whose models are chosen.
struct Run<'a, M, W>(Call<'a>, PhantomData<(M, W)>);

impl<M: Model, W: WindModel> Task for Run<'_, M, W> {
    type Output = Work;

    fn run<S: Processor>(self, simd: S) -> Work {
        let Call { settings, first, source, scene } = self.0;
        let mut cabin = Cabin::<S, M, W>::new(simd, settings, &first);
        cabin.sit(0, first);
        for lane in 1..Lane::<S>::COUNT {
            cabin.refill(lane, source);
        }
        while cabin.flying > 0 {
            if cabin.turn(simd) {
                cabin.attend(source, scene);
            }
        }
        cabin.work
    }
}

/// A block of lanes with a flight in each.
struct Cabin<S: Processor, M: Model, W: WindModel> {
    block: Block<S, M, W>,
    trace: Trace<S>,
    seats: Vec<Option<Seat>>,
    flying: usize,
    shared: Shared<M, W>,
    kind: Kind,
    tolerance: f64,
    step_scale: f64,
    most_steps: f64,
    work: Work,
}

/// What the airs of all flights have in common: terrain, gusts, a wake.
type Kind = (Terrain, bool, bool);

fn kind(air: &AirNow) -> Kind {
    (air.wind.terrain, air.gusts.is_some(), air.wake.is_some())
}

/// One flight in its lane.
struct Seat {
    flight: Flight,
    /// When it last began anew: at release or after a redirection.
    since: f64,
    /// How often it began.
    beginnings: u64,
}

/// Puts one flight's row in its lane.
fn put<S: Processor>(numbers: &mut Numbers<S>, lane: usize, row: &[f64; SIZE]) {
    for (number, value) in numbers.iter_mut().zip(row) {
        number.set(lane, *value);
    }
}

/// One flight's row.
fn row<S: Processor>(numbers: &Numbers<S>, lane: usize) -> [f64; SIZE] {
    numbers.each_ref().map(|number| number.get(lane))
}

impl<S: Processor, M: Model, W: WindModel> Cabin<S, M, W> {
    /// Empty seats that fly a harmless copy of `first` in steps of 0.
    fn new(simd: S, settings: &Settings, first: &Flight) -> Self {
        let zero = Lane::splat(simd, 0.0);
        let numbers = first.start.to_array().map(|number| Lane::splat(simd, number));
        let model = model_of::<M>(first);
        let block = Block {
            given: Given {
                inertia: Inertia::new(&first.body, &first.air.air).spread(simd),
                model: model.spread(simd),
                wind: W::of(&first.air).spread(simd),
            },
            bounds: Bounds::new(first).spread(simd),
            state: numbers,
            first: [zero; SIZE],
            time: zero,
            step: zero,
            opening: zero,
            deadline: zero,
            fastest: zero,
            stray: zero,
            seated: zero,
            turns: zero,
            taken: zero,
        };
        let trace = Trace {
            from: zero,
            to: zero,
            start: numbers,
            end: numbers,
            stages: [[zero; SIZE]; STAGES],
            wanted: zero,
            over: zero,
        };
        let scale = settings.step_scale;
        Self {
            block,
            trace,
            seats: (0..Lane::<S>::COUNT).map(|_| None).collect(),
            flying: 0,
            shared: Shared { model: model.shared(), wind: W::shared(&first.air) },
            kind: kind(&first.air),
            // The error of a step goes with its fifth power.
            tolerance: settings.tolerance * scale * scale * scale * scale * scale,
            step_scale: scale,
            most_steps: settings.most_steps / scale,
            work: Work::default(),
        }
    }

    /// One turn of the step loop; true if a flight wants attention.
    fn turn(&mut self, simd: S) -> bool {
        simd.vectorize(Turn {
            shared: self.shared,
            tolerance: self.tolerance,
            most_steps: self.most_steps,
            block: &mut self.block,
            trace: &mut self.trace,
        })
    }

    /// Looks after every flight that wants it.
    #[inline(never)]
    fn attend(&mut self, source: &mut dyn Source, scene: &mut dyn Scene) {
        for lane in 0..Lane::<S>::COUNT {
            let (wanted, over) =
                (self.trace.wanted.get(lane) > 0.0, self.trace.over.get(lane) > 0.0);
            if !(wanted || over) {
                continue;
            }
            let Some(seat) = &self.seats[lane] else { continue };
            let verdict = if wanted {
                scene.look(&seat.flight, &self.step(lane, seat))
            } else {
                Verdict::Continue
            };
            match verdict {
                Verdict::Redirect { time, state } => self.redirect(lane, time, &state),
                Verdict::Continue if !over => {}
                Verdict::Continue => {
                    let (ending, last) = self.last(lane, seat);
                    scene.ended(&seat.flight, ending, last);
                    self.leave(lane, source);
                }
                Verdict::Stop => self.leave(lane, source),
            }
        }
    }

    /// The step that a scene wants to see.
    fn step(&self, lane: usize, seat: &Seat) -> Step {
        let trace = &self.trace;
        let (from, to) = (trace.from.get(lane), trace.to.get(lane));
        let start = row(&trace.start, lane);
        let stages = trace.stages.each_ref().map(|stage| row(stage, lane));
        Step {
            from,
            to,
            powers: powers_of(&start, &stages, to - from),
            end: row(&trace.end, lane),
            spinning_since: (!M::TURNS).then_some(seat.since),
            extremes: self.extremes(lane),
        }
    }

    /// Where a flight is that ended by itself.
    fn last(&self, lane: usize, seat: &Seat) -> (Ending, Last) {
        let block = &self.block;
        let time = block.time.get(lane);
        let state = State::from_array(&row(&block.state, lane));
        let state = if M::TURNS { state } else { spun(state, time - seat.since) };
        let ending = if seat.flight.deadline - time < SMALLEST_STEP {
            Ending::Deadline
        } else if self.most_steps <= block.turns.get(lane) {
            Ending::Spent
        } else {
            Ending::Failed
        };
        (ending, Last { time, state, extremes: self.extremes(lane) })
    }

    /// How far a flight has gone to the models' limits.
    fn extremes(&self, lane: usize) -> Extremes {
        let block = &self.block;
        Extremes { fastest: block.fastest.get(lane), stray: block.stray.get(lane) }
    }

    /// Lets a flight go on from another state.
    fn redirect(&mut self, lane: usize, time: f64, state: &State) {
        if let Some(seat) = &mut self.seats[lane] {
            seat.since = time;
            seat.beginnings += 1;
        }
        self.begin(lane, time, state, self.block.step.get(lane));
    }

    /// Counts the work of a flight that is over and seats the next one.
    fn leave(&mut self, lane: usize, source: &mut dyn Source) {
        let beginnings = self.seats[lane].as_ref().map_or(0, |seat| seat.beginnings);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "small whole numbers"
        )]
        let count = |lanes: &Lane<S>| lanes.get(lane) as u64;
        let (turns, taken) = (count(&self.block.turns), count(&self.block.taken));
        self.work.steps += taken;
        self.work.rejected += turns - taken - beginnings;
        self.work.evaluations += turns * (STAGES as u64 - 1);
        self.flying -= 1;
        self.refill(lane, source);
    }

    /// Seats the next flight, if there is one, or leaves the seat empty.
    fn refill(&mut self, lane: usize, source: &mut dyn Source) {
        if let Some(flight) = source.next_flight() {
            self.sit(lane, flight);
        } else {
            self.seats[lane] = None;
            self.block.seated.set(lane, 0.0);
            self.block.step.set(lane, 0.0);
            self.block.opening.set(lane, 0.0);
            put(&mut self.block.first, lane, &[0.0; SIZE]);
        }
    }

    /// Seats a flight.
    fn sit(&mut self, lane: usize, flight: Flight) {
        assert!(kind(&flight.air) == self.kind, "one terrain, gusts and wakes for all or for none");
        let block = &mut self.block;
        Inertia::new(&flight.body, &flight.air.air).put(&mut block.given.inertia, lane);
        model_of::<M>(&flight).put::<S>(&mut block.given.model, lane);
        W::of(&flight.air).put::<S>(&mut block.given.wind, lane);
        Bounds::new(&flight).put(&mut block.bounds, lane);
        block.deadline.set(lane, flight.deadline);
        block.fastest.set(lane, 0.0);
        block.stray.set(lane, 0.0);
        block.seated.set(lane, 1.0);
        block.turns.set(lane, 0.0);
        block.taken.set(lane, 0.0);
        let opening = self.step_scale / (50.0 + 2.0 * flight.start.rates.length());
        self.begin(lane, 0.0, &flight.start, opening);
        self.seats[lane] = Some(Seat { flight, since: 0.0, beginnings: 1 });
        self.work.flights += 1;
        self.flying += 1;
    }

    /// Lets a lane begin at this time in this state, with a step of 0 first.
    fn begin(&mut self, lane: usize, time: f64, state: &State, opening: f64) {
        let block = &mut self.block;
        let numbers = state.to_array();
        put(&mut block.state, lane, &numbers);
        // What does not move is not carried from stage to stage: it stays as it is put here.
        put(&mut self.trace.end, lane, &numbers);
        put(&mut block.first, lane, &[0.0; SIZE]);
        block.time.set(lane, time);
        block.step.set(lane, 0.0);
        block.opening.set(lane, opening.max(SMALLEST_STEP));
    }
}

/// The flight's numbers for the loop's shape family.
fn model_of<M: Model>(flight: &Flight) -> M {
    let model = M::of(&flight.coefficients);
    #[expect(clippy::expect_used, reason = "sources promise one family; documented as a panic")]
    model.expect("one shape family per call of `fly`")
}
