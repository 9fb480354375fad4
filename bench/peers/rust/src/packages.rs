//! One flight with each package, as its documentation shows it.

use crate::{
    ending::{End, Ending, ending, meets},
    model::{Load, Rigid, Sphere},
    problem::{Draw, Problem},
};
use differential_equations::prelude::*;
use ode_solvers::{Dopri5, OutputType, SVector, System};
use std::cell::Cell;

/// Equations of motion as a package calls them.
pub trait Motion<const N: usize>: Clone + Send + Sync {
    fn new(problem: &Problem) -> Self;
    fn rate(&self, wind: [f64; 2], state: &[f64; N]) -> [f64; N];
}

impl Motion<6> for Sphere {
    fn new(problem: &Problem) -> Self {
        Self::new(problem)
    }

    #[inline(always)]
    fn rate(&self, wind: [f64; 2], state: &[f64; 6]) -> [f64; 6] {
        Self::rate(self, wind, state)
    }
}

impl<L: Load> Motion<13> for Rigid<L> {
    fn new(problem: &Problem) -> Self {
        Self::new(problem)
    }

    #[inline(always)]
    fn rate(&self, wind: [f64; 2], state: &[f64; 13]) -> [f64; 13] {
        Self::rate(self, wind, state)
    }
}

/// One flight as the packages see it.
struct Trip<'a, M, const N: usize> {
    problem: &'a Problem,
    motion: &'a M,
    wind: [f64; 2],
    last: Cell<(f64, [f64; N])>,
    met: Cell<Option<(f64, [f64; N])>>,
}

impl<'a, M: Motion<N>, const N: usize> Trip<'a, M, N> {
    fn new(problem: &'a Problem, motion: &'a M, draw: &Draw) -> Self {
        let start = std::array::from_fn(|i| draw[i]);
        let wind = [draw[13], draw[14]];
        let (last, met) = (Cell::new((0.0, start)), Cell::new(None));
        Self { problem, motion, wind, last, met }
    }

    fn start(&self) -> [f64; N] {
        self.last.get().1
    }

    /// Notes a step; true at the last one.
    fn step(&self, time: f64, state: [f64; N]) -> bool {
        if meets(self.problem, &self.last.get().1, &state) {
            self.met.set(Some((time, state)));
            return true;
        }
        self.last.set((time, state));
        false
    }

    fn ending(&self, draw: &Draw) -> Ending {
        let end = |(time, state): (f64, [f64; N])| End {
            time,
            state,
            rate: self.motion.rate(self.wind, &state),
        };
        let from = end(self.last.get());
        let to = self.met.get().map_or(from, end);
        ending(self.problem, [draw[10], draw[11], draw[12]], &from, &to)
    }
}

impl<M: Motion<N>, const N: usize> System<f64, SVector<f64, N>> for &Trip<'_, M, N> {
    fn system(&self, _: f64, y: &SVector<f64, N>, dy: &mut SVector<f64, N>) {
        dy.data.0[0] = self.motion.rate(self.wind, &y.data.0[0]);
    }

    fn solout(&mut self, time: f64, y: &SVector<f64, N>, _: &SVector<f64, N>) -> bool {
        self.step(time, y.data.0[0])
    }
}

/// `ode_solvers`, Dormand-Prince 5(4), every step looked at.
pub fn ode_solvers<M: Motion<N>, const N: usize>(
    problem: &Problem,
    motion: &M,
    draw: &Draw,
    tolerance: f64,
) -> Ending {
    let trip = Trip::new(problem, motion, draw);
    let end = problem.deadline;
    let start = SVector::from(trip.start());
    let mut stepper = Dopri5::from_param(
        &trip, 0.0, end, end, start, tolerance, tolerance, 0.9, 0.04, 0.2, 10.0, end, 0.0, 100_000,
        1000, OutputType::Sparse,
    );
    stepper.integrate().expect("the flight integrates");
    trip.ending(draw)
}

impl<M: Motion<N>, const N: usize> ODE<f64, [f64; N]> for &Trip<'_, M, N> {
    fn diff(&self, _: f64, y: &[f64; N], dydt: &mut [f64; N]) {
        *dydt = self.motion.rate(self.wind, y);
    }
}

struct Watch<'a, 'b, M, const N: usize>(&'a Trip<'b, M, N>);

impl<M: Motion<N>, const N: usize> Solout<f64, [f64; N]> for Watch<'_, '_, M, N> {
    fn solout<I>(
        &mut self,
        time: f64,
        _: f64,
        y: &[f64; N],
        _: &[f64; N],
        _: &mut I,
        _: &mut Solution<f64, [f64; N]>,
    ) -> ControlFlag<f64, [f64; N]>
    where
        I: Interpolation<f64, [f64; N]> + ?Sized,
    {
        if self.0.step(time, *y) { ControlFlag::Terminate } else { ControlFlag::Continue }
    }
}

/// `differential-equations`, Dormand-Prince 5(4), every step looked at.
pub fn differential_equations<M: Motion<N>, const N: usize>(
    problem: &Problem,
    motion: &M,
    draw: &Draw,
    tolerance: f64,
) -> Ending {
    let trip = Trip::new(problem, motion, draw);
    let method = ExplicitRungeKutta::dopri5().rtol(tolerance).atol(tolerance);
    let told = IVP::ode(&&trip, 0.0, problem.deadline, trip.start())
        .method(method)
        .solout(Watch(&trip))
        .solve();
    if let Err(error) = told {
        panic!("the flight integrates: {error:?}");
    }
    trip.ending(draw)
}
