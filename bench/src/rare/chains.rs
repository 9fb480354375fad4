//! Narrow windows one after another, scored step by step as a claim is.

use super::{
    Problem,
    exact::{outside, within},
};
use longodds_sim::{math::exp, uncertain::normal_quantile};

/// Windows of an input each; the first eight make a shorter chain.
const PAIRS: [[f64; 2]; 10] = [
    [-1.0, 1.0],
    [-1.0, 1.0],
    [0.5, 1.0],
    [-2.0, 0.0],
    [1.5, 2.5],
    [-0.2, 0.2],
    [-0.1, 0.1],
    [2.0, 9.0],
    [1.0, 1.2],
    [-3.0, -1.0],
];

pub(super) fn problems() -> Vec<Problem> {
    let mut all = vec![
        stages(
            "four narrow windows",
            5,
            &[[2.0, 2.05], [-1.52, -1.47], [0.3, 0.34], [1.2, 9.0]],
            1,
        ),
        stages("four windows of two inputs", 10, &PAIRS[..8], 2),
        stages("five windows of two inputs", 30, &PAIRS, 2),
    ];
    for (name, inputs, each) in [
        ("30 windows of one half", 30, 0.5),
        ("60 windows of three quarters", 60, 0.75),
        ("100 windows of four fifths", 100, 0.8),
    ] {
        let half = normal_quantile(0.5 + 0.5 * each);
        all.push(stages(name, inputs, &vec![[-half, half]; inputs], 1));
    }
    all
}

/// A chain of windows, so many inputs each.
fn stages(name: &'static str, inputs: usize, windows: &[[f64; 2]], each: usize) -> Problem {
    let chance = windows.iter().map(|[low, high]| within(*low, *high)).product();
    let windows = windows.to_vec();
    Problem::new(name, inputs, chance, move |u| {
        let steps = windows.len() / each;
        for (step, window) in windows.chunks(each).enumerate() {
            let off = u[step * each..].iter().zip(window);
            let off: f64 = off.map(|(u, [low, high])| outside(*u, *low, *high).powi(2)).sum();
            if off > 0.0 {
                return (steps - step) as f64 - exp(-off.sqrt());
            }
        }
        -1.0
    })
}
