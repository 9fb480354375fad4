//! The least that a stepper over lanes could do: the mark for our own.
//!
//! The reference problem with a simple right-hand side (a normal force at a
//! centre of pressure, and damping that grows with the speed), the same method
//! and step control, lanes that take the next flight when theirs is over, the
//! end of a flight on a cubic of the last step. Nothing else: no watching, no
//! validity, no second shape, no attention to neighbours' bits.

#![expect(
    clippy::needless_range_loop,
    reason = "iterators may stay out of line, where lanes fall back to the baseline"
)]

use longodds_sim::{
    flight::{Flight, GRAVITY, Settings},
    lane::{Lane, Processor, Task, Vector},
};
use pulp::{Simd, WithSimd};

const SIZE: usize = 13;
const STAGES: usize = 7;

/// Weights of the stages and of the error (Tsitouras 2011, as the engine's).
const WEIGHTS: [[f64; 6]; STAGES] = [
    [0.0; 6],
    [0.161, 0.0, 0.0, 0.0, 0.0, 0.0],
    [-0.008_480_655_492_356_989, 0.335_480_655_492_357, 0.0, 0.0, 0.0, 0.0],
    [2.897_153_057_105_493_5, -6.359_448_489_975_075, 4.362_295_432_869_581_5, 0.0, 0.0, 0.0],
    [
        5.325_864_828_439_257,
        -11.748_883_564_062_828,
        7.495_539_342_889_836_5,
        -0.092_495_066_361_755_25,
        0.0,
        0.0,
    ],
    [
        5.861_455_442_946_42,
        -12.920_969_317_847_11,
        8.159_367_898_576_159,
        -0.071_584_973_281_401,
        -0.028_269_050_394_068_383,
        0.0,
    ],
    [
        0.096_460_766_818_065_23,
        0.01,
        0.479_889_650_414_499_6,
        1.379_008_574_103_742,
        -3.290_069_515_436_081,
        2.324_710_524_099_774,
    ],
];
const ERROR: [f64; STAGES] = [
    -0.001_780_011_052_225_777,
    -0.000_816_434_459_656_746_9,
    0.007_880_878_010_261_995,
    -0.144_711_007_173_262_9,
    0.582_357_165_452_555_2,
    -0.458_082_105_929_186_97,
    1.0 / 66.0,
];

/// Half density times area, lead of the centre of pressure, and damping about
/// the three axes, of the reference plate.
const NORMAL: f64 = 0.432;
const CHORD: f64 = 0.3;
const DAMPING: [f64; 3] = [0.02, 0.08, 0.004];
/// Mass and principal moments of the reference plate.
const MASS: f64 = 6.0;
const INERTIA: [f64; 3] = [0.180_072, 0.720_072, 0.9];
/// Where the flight ends, in m.
const PLANE: f64 = 20.0;

/// One flight of the bare stepper.
#[derive(Clone, Copy, Debug)]
pub struct BareFlight {
    state: [f64; SIZE],
    wind: [f64; 2],
}

impl BareFlight {
    /// Where a flight begins, and its wind.
    #[must_use]
    pub fn of(flight: &Flight) -> Self {
        let (p, v) = (flight.start.position, flight.start.velocity);
        let (q, w) = (flight.start.attitude, flight.start.rates);
        let state = [p.x, p.y, p.z, v.x, v.y, v.z, q.x, q.y, q.z, q.w, w.x, w.y, w.z];
        Self { state, wind: [flight.air.wind.x, flight.air.wind.y] }
    }
}

/// Flies them all; tells how often the right-hand side was computed.
///
/// `rows`: as many as there are flights, or none; code, time and place of each.
pub fn fly_bare(flights: &[BareFlight], settings: &Settings, rows: &mut [[f64; 6]]) -> u64 {
    settings.family.run(All { flights, tolerance: settings.tolerance, rows })
}

struct All<'a> {
    flights: &'a [BareFlight],
    tolerance: f64,
    rows: &'a mut [[f64; 6]],
}

type Numbers<S> = [Lane<S>; SIZE];

struct Block<S: Processor> {
    state: Numbers<S>,
    end: Numbers<S>,
    stages: [Numbers<S>; STAGES],
    wind: [Lane<S>; 2],
    time: Lane<S>,
    step: Lane<S>,
    error: Lane<S>,
    over: Lane<S>,
}

impl Task for All<'_> {
    type Output = u64;

    fn run<S: Processor>(self, simd: S) -> u64 {
        let Self { flights, tolerance, rows } = self;
        let zero = Lane::splat(simd, 0.0);
        let mut block = Block {
            state: [zero; SIZE],
            end: [zero; SIZE],
            stages: [[zero; SIZE]; STAGES],
            wind: [zero; 2],
            time: zero,
            step: zero,
            error: zero,
            over: zero,
        };
        let mut waiting = flights.iter().enumerate();
        let mut seats: Vec<Option<usize>> = vec![None; Lane::<S>::COUNT];
        let (mut flying, mut turns) = (0_u64, 0_u64);
        for (lane, seat) in seats.iter_mut().enumerate() {
            *seat = block.refill(simd, lane, &mut waiting);
            flying += u64::from(seat.is_some());
        }
        while flying > 0 {
            turns += flying;
            if !simd.vectorize(Turn { block: &mut block, tolerance }) {
                continue;
            }
            for (lane, seat) in seats.iter_mut().enumerate() {
                if let Some(flight) = *seat
                    && block.over.get(lane) > 0.0
                {
                    let row = block.landing(lane);
                    if let Some(place) = rows.get_mut(flight) {
                        *place = row;
                    }
                    *seat = block.refill(simd, lane, &mut waiting);
                    flying -= u64::from(seat.is_none());
                }
            }
        }
        turns * (STAGES as u64 - 1)
    }
}

impl<S: Processor> Block<S> {
    fn refill<'f>(
        &mut self,
        simd: S,
        lane: usize,
        waiting: &mut impl Iterator<Item = (usize, &'f BareFlight)>,
    ) -> Option<usize> {
        let (place, flight) = waiting.next()?;
        for (number, value) in self.state.iter_mut().zip(flight.state) {
            number.set(lane, value);
        }
        for (number, value) in self.wind.iter_mut().zip(flight.wind) {
            number.set(lane, value);
        }
        let mut first = self.stages[0];
        simd.vectorize(First { state: &self.state, wind: self.wind, out: &mut first });
        for (number, new) in self.stages[0].iter_mut().zip(first) {
            number.set(lane, new.get(lane));
        }
        let spin: f64 = flight.state[10..].iter().map(|w| w * w).sum();
        self.time.set(lane, 0.0);
        self.step.set(lane, 1.0 / (50.0 + 2.0 * spin.sqrt()));
        Some(place)
    }

    /// The end of a flight on the cubic of its last step, by halving.
    fn landing(&self, lane: usize) -> [f64; 6] {
        let h = self.step.get(lane);
        let at = |i: usize, theta: f64| {
            let (y, z) = (self.state[i].get(lane), self.end[i].get(lane));
            let (f, g) = (self.stages[0][i].get(lane), self.stages[STAGES - 1][i].get(lane));
            let s = 1.0 - theta;
            (1.0 + 2.0 * theta) * s * s * y
                + theta * s * s * h * f
                + theta * theta * (3.0 - 2.0 * theta) * z
                - theta * theta * s * h * g
        };
        let inside = |theta: f64| at(0, theta) < PLANE && at(2, theta) > 0.0;
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..45 {
            let middle = f64::midpoint(low, high);
            if inside(middle) { low = middle } else { high = middle }
        }
        let code = if at(0, high) >= PLANE { 1.0 } else { 2.0 };
        [code, self.time.get(lane) + high * h, at(0, high), at(1, high), at(2, high), 0.0]
    }
}

struct First<'a, S: Processor> {
    state: &'a Numbers<S>,
    wind: [Lane<S>; 2],
    out: &'a mut Numbers<S>,
}

impl<S: Processor> WithSimd for First<'_, S> {
    type Output = ();

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) {
        *self.out = rate(self.state, self.wind);
    }
}

struct Turn<'a, S: Processor> {
    block: &'a mut Block<S>,
    tolerance: f64,
}

impl<S: Processor> WithSimd for Turn<'_, S> {
    type Output = bool;

    #[inline(always)]
    fn with_simd<T: Simd>(self, _: T) -> bool {
        let Self { block, tolerance } = self;
        keep(block);
        let step = block.step;
        for stage in 1..STAGES {
            for i in 0..SIZE {
                let mut slope = block.stages[0][i] * WEIGHTS[stage][0];
                for earlier in 1..stage {
                    slope =
                        block.stages[earlier][i].mul_add(step.of(WEIGHTS[stage][earlier]), slope);
                }
                block.end[i] = slope.mul_add(step, block.state[i]);
            }
            block.stages[stage] = rate(&block.end, block.wind);
        }
        block.error = error(block, tolerance);
        let (zero, one) = (step.of(0.0), step.of(1.0));
        let beyond = block.end[0].at_most(step.of(PLANE)).select(zero, one);
        let below = block.end[2].at_most(zero).select(one, zero);
        block.over = block.error.at_most(one).select(beyond.max(below), zero);
        block.over.largest() > 0.0
    }
}

/// Goes on from the last step where it was accepted, and sets the next one. A
/// seat that was just taken has an error of nothing and a step of its own.
#[inline(always)]
fn keep<S: Processor>(block: &mut Block<S>) {
    let (step, error) = (block.step, block.error);
    let (zero, one) = (step.of(0.0), step.of(1.0));
    let flown = zero.below(error);
    let fresh = block.over.at_most(zero);
    let accepted = error.at_most(one) & flown & fresh;
    for i in 0..SIZE {
        block.state[i] = accepted.select(block.end[i], block.state[i]);
        block.stages[0][i] = accepted.select(block.stages[STAGES - 1][i], block.stages[0][i]);
    }
    block.time += accepted.select(step, zero);
    let factor = (error.rough_inverse_tenth_root() * 0.9).max(step.of(0.2)).min(step.of(5.0));
    block.step = (flown & fresh).select(step * factor, step);
}

#[inline(always)]
fn error<S: Processor>(block: &Block<S>, tolerance: f64) -> Lane<S> {
    let step = block.step;
    let mut squares = [step.of(0.0); SIZE];
    for (i, square) in squares.iter_mut().enumerate() {
        let mut slope = block.stages[0][i] * ERROR[0];
        for stage in 1..STAGES {
            slope = block.stages[stage][i].mul_add(step.of(ERROR[stage]), slope);
        }
        *square = slope * slope;
    }
    let y = &block.end;
    let of = |i: usize| squares[i] + squares[i + 1] + squares[i + 2];
    let size = |i: usize| y[i].mul_add(y[i], y[i + 1].mul_add(y[i + 1], y[i + 2] * y[i + 2])) + 1.0;
    let sum = of(0) + of(3) / size(3) + of(6) + squares[9] + of(10) / size(10);
    sum * (step * step) * (1.0 / (tolerance * tolerance))
}

#[inline(always)]
fn rate<S: Processor>(state: &Numbers<S>, wind: [Lane<S>; 2]) -> Numbers<S> {
    let [_, _, _, vx, vy, vz, qx, qy, qz, qw, wx, wy, wz] = *state;
    let axis = Vector::new(qx, qy, qz);
    let u = Vector::new(vx - wind[0], vy - wind[1], vz).turned(axis, -qw);
    let squared = u.dot(u);
    let speed = (squared + 1e-30).sqrt();
    let inverse = speed.of(1.0) / speed;
    let sine = u.z * inverse;
    let s = sine.abs();
    let s2 = s * s;
    let s4 = s2 * s2;
    let s8 = s4 * s4;
    let top = s8.mul_add(s.of(20.7), s.of(2.7));
    let coefficient = sine * top / (s8 * s).mul_add(s.of(18.0), s.of(1.0));
    let pressure = -(squared * coefficient * NORMAL);
    let lead = (s.of(1.0) - s) * inverse * pressure * CHORD;
    let slow = |k: usize| speed * DAMPING[k];
    let force = pressure * (1.0 / MASS);
    let zero = s.of(0.0);
    let a = Vector::new(zero, zero, force).turned(axis, qw);
    let moment = [
        (lead * u.y - slow(0) * wx) * (1.0 / INERTIA[0]),
        (-(lead * u.x) - slow(1) * wy) * (1.0 / INERTIA[1]),
        -(slow(2) * wz) * (1.0 / INERTIA[2]),
    ];
    let [ix, iy, iz] = INERTIA;
    let (hx, hy, hz) = (wx * 0.5, wy * 0.5, wz * 0.5);
    [
        vx,
        vy,
        vz,
        a.x,
        a.y,
        a.z - s.of(GRAVITY),
        qw.mul_add(hx, qy.mul_add(hz, -(qz * hy))),
        qw.mul_add(hy, qz.mul_add(hx, -(qx * hz))),
        qw.mul_add(hz, qx.mul_add(hy, -(qy * hx))),
        -(qx.mul_add(hx, qy.mul_add(hy, qz * hz))),
        (wy * wz).mul_add(s.of((iy - iz) / ix), moment[0]),
        (wz * wx).mul_add(s.of((iz - ix) / iy), moment[1]),
        (wx * wy).mul_add(s.of((ix - iy) / iz), moment[2]),
    ]
}
