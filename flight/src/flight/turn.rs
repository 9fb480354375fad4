//! One turn of the step loop: a step of every flight in a block.

#![expect(
    clippy::needless_range_loop,
    reason = "iterators' closures are not compiled for the processor"
)]

use super::{
    motion::{Given, Numbers, SIZE, Shared},
    near::{Bounds, Leap},
    tableau::{ERROR, STAGES, TIMES, WEIGHTS},
};
use crate::{
    aero::Model,
    lane::{Lane, Processor},
    world::WindModel,
};
use pulp::{Simd, WithSimd};

/// Smallest step, in s. A flight that needs less has failed.
pub(super) const SMALLEST_STEP: f64 = 1e-9;
/// A step may grow and shrink by these factors at once.
const GROWTH: [f64; 2] = [0.2, 2.0];
/// Square of the share of a speed or rate that is allowed beside 1 m/s, 1 rad/s.
const SHARE: f64 = 0.01;
/// Share of the step that the estimate promises which is taken.
const CAUTION: f64 = 0.8;

/// A block of flights, each with its own time and step.
///
/// A fresh flight has a step of 0: its first turn changes nothing but works
/// out its first stage, in company with its neighbours' full steps, so that no
/// flight's bits depend on when its neighbours began.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block<S: Processor, M: Model, W: WindModel> {
    pub(super) given: Given<S, M, W>,
    pub(super) bounds: Bounds<Lane<S>>,
    pub(super) state: Numbers<S>,
    /// Rate of change at `state`.
    pub(super) first: Numbers<S>,
    pub(super) time: Lane<S>,
    pub(super) step: Lane<S>,
    /// The step after a step of 0.
    pub(super) opening: Lane<S>,
    pub(super) deadline: Lane<S>,
    pub(super) fastest: Lane<S>,
    /// Largest of what the model calls a stray.
    pub(super) stray: Lane<S>,
    /// 1 where there is a flight, 0 in an empty seat.
    pub(super) seated: Lane<S>,
    /// Turns since the flight began.
    pub(super) turns: Lane<S>,
    /// Accepted steps since the flight began.
    pub(super) taken: Lane<S>,
}

/// What a turn did, kept until the next one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trace<S: Processor> {
    pub(super) from: Lane<S>,
    pub(super) to: Lane<S>,
    pub(super) start: Numbers<S>,
    /// State at the end, and before that at each stage: its numbers that do not move
    /// are those of the flight's beginning.
    pub(super) end: Numbers<S>,
    pub(super) stages: [Numbers<S>; STAGES],
    /// 1 where the scene wants to see it.
    pub(super) wanted: Lane<S>,
    /// 1 where the deadline is reached or the flight has failed.
    pub(super) over: Lane<S>,
}

/// A turn to be compiled for a processor.
pub(super) struct Turn<'a, S: Processor, M: Model, W: WindModel> {
    pub(super) shared: Shared<M, W>,
    pub(super) tolerance: f64,
    pub(super) most_steps: f64,
    pub(super) block: &'a mut Block<S, M, W>,
    pub(super) trace: &'a mut Trace<S>,
}

/// How many numbers of the state move.
const fn moving<M: Model>() -> usize {
    match (M::TURNS, M::SPINS) {
        (true, _) => SIZE,
        (false, true) => 9,
        (false, false) => 6,
    }
}

/// Which number of the state is the one that moves in this place.
const fn place<M: Model>(i: usize) -> usize {
    if M::TURNS || i < 6 { i } else { i + 4 }
}

impl<S: Processor, M: Model, W: WindModel> Turn<'_, S, M, W> {
    /// Does the turn; true if a flight wants attention.
    #[inline(always)]
    fn run(self) -> bool {
        let Self { shared, tolerance, most_steps, block, trace } = self;
        let step = block.step;
        trace.from = block.time;
        trace.start = block.state;
        trace.stages[0] = block.first;
        for stage in 1..STAGES - 1 {
            combined::<S, M>(trace, stage, step);
            let time = step.mul_add(step.of(TIMES[stage]), trace.from);
            block.given.rate(shared, &trace.end, time, &mut trace.stages[stage]);
        }
        trace.to = trace.from + step;
        combined::<S, M>(trace, STAGES - 1, step);
        if M::TURNS {
            normalize(&mut trace.end);
        }
        let last = &mut trace.stages[STAGES - 1];
        let seen = block.given.rate(shared, &trace.end, trace.to, last);
        let error = error_square::<S, M>(trace, step, tolerance);
        settle(block, trace, error, seen, most_steps)
    }
}

/// State at a stage, in place of the end.
#[inline(always)]
fn combined<S: Processor, M: Model>(trace: &mut Trace<S>, stage: usize, step: Lane<S>) {
    for i in 0..moving::<M>() {
        let i = place::<M>(i);
        let mut slope = trace.stages[0][i] * WEIGHTS[stage][0];
        for earlier in 1..stage {
            let weight = step.of(WEIGHTS[stage][earlier]);
            slope = trace.stages[earlier][i].mul_add(weight, slope);
        }
        trace.end[i] = slope.mul_add(step, trace.start[i]);
    }
}

/// One Newton step towards a unit quaternion, exact to the square of the tiny
/// distance from it.
#[inline(always)]
fn normalize<S: Processor>(state: &mut Numbers<S>) {
    let [x, y, z, w] = [state[6], state[7], state[8], state[9]];
    let square = x.mul_add(x, y.mul_add(y, z.mul_add(z, w * w)));
    let factor = square.mul_add(square.of(-0.5), square.of(1.5));
    for part in &mut state[6..10] {
        *part = *part * factor;
    }
}

/// Square of the estimated error over what is allowed.
///
/// Allowed is `tolerance` in m, in rad, in m/s or a tenth of the speed's share,
/// in rad/s or a tenth of the rate's share: norms of vectors, so that turning
/// the world changes nothing. (Measured on tumbling sheets: the same accuracy
/// for fewer steps than with the full share.)
#[inline(always)]
fn error_square<S: Processor, M: Model>(
    trace: &Trace<S>,
    step: Lane<S>,
    tolerance: f64,
) -> Lane<S> {
    let mut squares = [step.of(0.0); SIZE];
    for i in 0..moving::<M>() {
        let i = place::<M>(i);
        let mut slope = trace.stages[0][i] * ERROR[0];
        for stage in 1..STAGES {
            slope = trace.stages[stage][i].mul_add(step.of(ERROR[stage]), slope);
        }
        squares[i] = slope * slope;
    }
    let mut sum = three(&squares, 0) + three(&squares, 3) / (square(&trace.end, 3) * SHARE + 1.0);
    if M::TURNS {
        sum += three(&squares, 6) + squares[9];
    }
    if M::TURNS || M::SPINS {
        sum += three(&squares, 10) / (square(&trace.end, 10) * SHARE + 1.0);
    }
    sum * (step * step) * (1.0 / (tolerance * tolerance))
}

/// Sum of three numbers of a state.
#[inline(always)]
fn three<S: Processor>(numbers: &Numbers<S>, i: usize) -> Lane<S> {
    numbers[i] + numbers[i + 1] + numbers[i + 2]
}

/// Square of the vector that three numbers of a state make.
#[inline(always)]
fn square<S: Processor>(y: &Numbers<S>, i: usize) -> Lane<S> {
    y[i].mul_add(y[i], y[i + 1].mul_add(y[i + 1], y[i + 2] * y[i + 2]))
}

/// Accepts or refuses each flight's step, and chooses the next; true if a
/// flight wants attention.
#[inline(always)]
fn settle<S: Processor, M: Model, W: WindModel>(
    block: &mut Block<S, M, W>,
    trace: &mut Trace<S>,
    error: Lane<S>,
    [speed, stray]: [Lane<S>; 2],
    most_steps: f64,
) -> bool {
    let step = block.step;
    let (zero, one) = (step.of(0.0), step.of(1.0));
    let accepted = error.at_most(one);
    for i in 0..moving::<M>() {
        let i = place::<M>(i);
        block.state[i] = accepted.select(trace.end[i], trace.start[i]);
        block.first[i] = accepted.select(trace.stages[STAGES - 1][i], trace.stages[0][i]);
    }
    block.time = accepted.select(trace.to, trace.from);
    block.fastest = accepted.select(block.fastest.max(speed), block.fastest);
    if M::STRAYS {
        block.stray = accepted.select(block.stray.max(stray), block.stray);
    }

    let factor = (error.rough_inverse_tenth_root() * CAUTION)
        .max(step.of(GROWTH[0]))
        .min(step.of(GROWTH[1]));
    let fresh = step.at_most(zero);
    let next = fresh.select(block.opening, step * factor);
    let left = block.deadline - block.time;
    block.step = next.min(left);

    let smallest = step.of(SMALLEST_STEP);
    // Written so that a step that is not a number counts as too small.
    let enough = smallest.at_most(next) & smallest.at_most(left);
    let leap =
        Leap { from: trace.from, step, ends: [&trace.start, &trace.end], stages: &trace.stages };
    let moved = zero.below(step);
    trace.wanted = (accepted & moved & block.bounds.wants(&leap)).to_number();
    block.turns += one;
    let spent = step.of(most_steps).at_most(block.turns);
    trace.over = spent.select(one, enough.select(zero, one));
    block.taken += (accepted & moved).to_number();
    trace.wanted.max(trace.over * block.seated).largest() > 0.0
}

/// The function boundary at which the processor's instructions begin.
impl<S: Processor, M: Model, W: WindModel> WithSimd for Turn<'_, S, M, W> {
    type Output = bool;

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) -> bool {
        self.run()
    }
}
