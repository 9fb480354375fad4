//! Ways that the score does not lead to, and inputs with few values.

use super::{
    Problem,
    exact::{above, averaged, within},
};
use longodds_sim::uncertain::normal_quantile;

pub(super) fn problems() -> Vec<Problem> {
    let rare = 2e-5;
    let gate = -normal_quantile(rare);
    let branch = (1.0 - rare) * above(4.9) + rare * above(-0.1);
    let scored = move |u: &[f64]| if u[0] > gate { -0.1 - u[1] } else { 4.9 - u[1] };
    vec![
        Problem::new("hidden behind an unscored branch", 3, branch, scored),
        Problem::new("the same branch, known as a choice", 3, branch, scored)
            .choosing(&[&[1.0 - rare, rare]]),
        speck(),
        Problem::new("deceptive slope", 3, above(5.0) + above(3.4) * within(-0.5, 0.5), |u| {
            let hidden = u[0] < -3.4 && u[1].abs() < 0.5;
            if hidden { -1.0 } else { (5.0 - u[0]).min(3.0) }
        }),
        {
            let (a, b) = (above(4.0), above(5.0));
            Problem::new("a score that turns round", 2, a + b - a * b, |u| {
                let first = if u[0] <= 3.5 { 0.85 - 0.1 * u[0] } else { 4.0 - u[0] };
                let second = if u[1] <= 2.0 { 2.3 - u[1] } else { 0.5 - 0.1 * u[1] };
                first.min(second)
            })
        },
        Problem::new(
            "an island far from the slope",
            6,
            above(4.7) + within(3.0, 3.2) * within(3.0, 3.2),
            |u| {
                let island = (3.0..3.2).contains(&u[2]) && (3.0..3.2).contains(&u[3]);
                if island { -1.0 } else { 4.7 - u[0] }
            },
        ),
        Problem::new("flat steps", 5, above(4.5), |u| (2.0 * (4.5 - u[0])).ceil()),
        Problem::new("high flat steps", 5, above(5.0), |u| match u[0] {
            u if u > 5.0 => 0.0,
            u if u > 4.0 => 1.0,
            u if u > 3.0 => 2.0,
            _ => 3.0,
        }),
        // Quadrature at 15 digits; a published challenge.
        Problem::new("either of two, by a switch", 3, 2.690_843_952_198_62e-7, |u| {
            let (x, y, z) = (10.0 + 0.5 * u[0], u[1], 4.0 + u[2]);
            if z <= 5.0 { x - y - z } else { z - y }
        }),
        {
            let formula = [0.7, 0.29, 0.01];
            let takes = [4.6, 4.0, 2.5];
            let side = [0.4, -0.4];
            let chance = formula
                .iter()
                .zip(takes)
                .map(|(p, b)| side.iter().map(|s| 0.5 * p * above(b - s)).sum::<f64>());
            let upto = [0.7, 0.99].map(normal_quantile);
            Problem::new("which of three formulas, which of two sides", 5, chance.sum(), move |u| {
                let b = if u[0] <= upto[0] {
                    4.6
                } else if u[0] <= upto[1] {
                    4.0
                } else {
                    2.5
                };
                let s = if u[1] <= 0.0 { 0.4 } else { -0.4 };
                b - s - u[2]
            })
            .choosing(&[&[0.7, 0.29, 0.01], &[0.5, 0.5]])
        },
        eight_switches(),
        {
            // An input that is one unknown value moves the aim by four of its own.
            let chance = averaged(-9.0, 9.0, |t| above(12.0 - 4.0 * t) * within(-0.5, 0.5));
            Problem::new("an unknown moves a narrow aim", 6, chance, |u| {
                (12.0 - 4.0 * u[0] - u[1]).max(u[2].abs() - 0.5)
            })
        },
    ]
}

/// A target out of reach but for one event in 100,000.
fn speck() -> Problem {
    let rare = 1e-5;
    let gate = -normal_quantile(rare);
    let hit = |aside: f64| within((aside - 0.05) / 0.1, (aside + 0.05) / 0.1) * within(-2.0, 2.0);
    let chance = (1.0 - rare) * hit(0.62) + rare * hit(0.0);
    Problem::new("a target that one event in 100,000 brings near", 4, chance, move |u| {
        let aside = if u[0] > gate { 0.0 } else { 0.62 };
        ((0.1 * u[1] - aside).abs() - 0.05).max(0.1 * (u[2].abs() - 2.0))
    })
    .choosing(&[&[1.0 - rare, rare]])
}

/// Eight inputs that seldom take another value; any of them opens a way.
fn eight_switches() -> Problem {
    let rare = 1e-4;
    let gate = -normal_quantile(rare);
    let none = (1.0_f64 - rare).powi(8);
    let one = 8.0 * rare * (1.0_f64 - rare).powi(7);
    let rest = 1.0 - none - one;
    let chance = none * above(5.0) + one * above(2.0) + rest * above(-1.0);
    let chances: [&[f64]; 8] = [&[0.9999, 0.0001]; 8];
    Problem::new("eight switches that are seldom thrown", 10, chance, move |u| {
        let thrown = u[..8].iter().filter(|x| **x > gate).count();
        let takes = match thrown {
            0 => 5.0,
            1 => 2.0,
            _ => -1.0,
        };
        takes - u[8]
    })
    .choosing(&chances)
}
