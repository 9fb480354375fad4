//! Where in a step a flight meets the plane or the ground, and what it leaves.

use crate::problem::Problem;

/// Code, time, place, energy: see `problem.py`.
pub type Ending = [f64; 6];

/// A cubic through both ends of a step with their slopes.
fn cubic(theta: f64, h: f64, [y0, f0, y1, f1]: [f64; 4]) -> f64 {
    let s = 1.0 - theta;
    (1.0 + 2.0 * theta) * s * s * y0
        + theta * s * s * h * f0
        + theta * theta * (3.0 - 2.0 * theta) * y1
        - theta * theta * s * h * f1
}

fn root(h: f64, ends: [f64; 4]) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..45 {
        let middle = 0.5 * (low + high);
        if (cubic(middle, h, ends) > 0.0) == (ends[0] > 0.0) { low = middle } else { high = middle }
    }
    high
}

/// One end of a step: time, state, and its rate of change.
#[derive(Clone, Copy)]
pub struct End<const N: usize> {
    pub time: f64,
    pub state: [f64; N],
    pub rate: [f64; N],
}

/// Whether a step meets the plane or the ground: no more than two comparisons.
pub fn meets<const N: usize>(problem: &Problem, from: &[f64; N], to: &[f64; N]) -> bool {
    (from[0] < problem.plane && to[0] >= problem.plane) || (from[2] > 0.0 && to[2] <= 0.0)
}

/// What the flight leaves at the end of its last step.
pub fn ending<const N: usize>(
    problem: &Problem,
    rates: [f64; 3],
    from: &End<N>,
    to: &End<N>,
) -> Ending {
    let h = to.time - from.time;
    let four = |i: usize, less: f64| {
        [from.state[i] - less, from.rate[i], to.state[i] - less, to.rate[i]]
    };
    let crossed = from.state[0] < problem.plane && to.state[0] >= problem.plane;
    let landed = from.state[2] > 0.0 && to.state[2] <= 0.0;
    let first = if crossed { root(h, four(0, problem.plane)) } else { 2.0 };
    let second = if landed { root(h, four(2, 0.0)) } else { 2.0 };
    let theta = first.min(second).min(1.0);
    let y: [f64; N] = std::array::from_fn(|i| cubic(theta, h, four(i, 0.0)));
    let w = if N == 13 { [y[10], y[11], y[12]] } else { rates };
    let turning: f64 = problem.inertia.iter().zip(w).map(|(i, w)| i * w * w).sum();
    let energy = 0.5 * (problem.mass * (y[3] * y[3] + y[4] * y[4] + y[5] * y[5]) + turning);
    let code = match (crossed, landed) {
        (false, false) => 0.0,
        _ if first <= second => 1.0,
        _ => 2.0,
    };
    [code, from.time + theta * h, y[0], y[1], y[2], energy]
}
