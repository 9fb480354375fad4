//! One way, of many shapes.

use super::{
    Problem,
    exact::{above, averaged, disc, length, mean, within},
};
use longodds_sim::math::{exp, ln, pow};
use longodds_sim::uncertain::normal_cdf;

pub(super) fn problems() -> Vec<Problem> {
    vec![
        Problem::new("one way, 5 inputs alike", 5, above(2.326_347_874_040_841), |u| {
            2.326_347_874_040_841 - mean(u)
        }),
        Problem::new("one way, 30 inputs alike, 1 in 4,300", 30, above(3.5), |u| 3.5 - mean(u)),
        Problem::new("one way, 30 inputs alike, 1 in a billion", 30, above(6.0), |u| 6.0 - mean(u)),
        Problem::new("disc among 28 idle inputs", 30, disc(0.25, 4.0), |u| {
            length(&[u[0] - 4.0, u[1]]) - 0.25
        }),
        Problem::new("one unknown decides", 8, above(4.5), |u| {
            4.5 - (10.0 * u[0] + 0.1 * u[1]) / 100.01_f64.sqrt()
        }),
        Problem::new("thin oblique slab", 4, within(4.0, 4.08) * above(1.0), |u| {
            let slab = ((3.0 * u[0] + 4.0 * u[1] - 20.2).abs() - 0.2).max(0.0);
            let rest = (u[2] + 1.0).max(0.0);
            if slab > 0.0 { 1.0 + slab } else { rest / (1.0 + rest) }
        }),
        crossed_slabs(),
        Problem::new("curved away", 3, averaged(-9.0, 9.0, |v| above(4.0 + 0.5 * v * v)), |u| {
            4.0 + 0.5 * u[1] * u[1] - u[0]
        }),
        Problem::new("curved towards", 3, averaged(-9.0, 9.0, |v| above(4.5 - 0.2 * v * v)), |u| {
            4.5 - 0.2 * u[1] * u[1] - u[0]
        }),
        banana(),
        Problem::new("ring", 3, exp(-8.82) - exp(-9.68), |u| (length(&u[..2]) - 4.3).abs() - 0.1),
        // Chi-square with six degrees of freedom.
        Problem::new("beyond a sphere, 6 inputs", 6, exp(-18.0) * 181.0, |u| 6.0 - length(u)),
        // Quadrature at 15 digits; a published challenge.
        Problem::new("ball-shaped, 100 inputs", 100, 3.769_436_118_330_52e-4, |u| {
            -(0.1 * u[1..].iter().map(|x| x * x).sum::<f64>() - u[0] - 4.5) - 0.0
        })
        .turned(),
        // Gamma distribution, 20 and 8.951.
        Problem::new("sum of 20 exponentials", 20, 9.906_030_725_172_15e-4, |u| {
            u.iter().map(|x| -ln(normal_cdf(-x))).sum::<f64>() - 8.951
        }),
        // 1e10 flights at random with a general-purpose library: +- 0.6 %.
        Problem::new("two masses on springs", 8, 3.789e-7, oscillator),
    ]
}

impl Problem {
    /// Happens where the score is above 0.
    fn turned(self) -> Self {
        let score = self.score;
        Self { score: Box::new(move |u| -score(u)), ..self }
    }
}

/// Two narrow conditions on different mixtures of the same ten inputs.
fn crossed_slabs() -> Problem {
    let chance = within(3.9, 3.94) * within(0.95, 1.05);
    Problem::new("two thin slabs across, 10 inputs", 10, chance, |u| {
        let even = mean(u);
        let odd = u.iter().enumerate().map(|(i, x)| if i % 2 == 0 { *x } else { -x });
        let odd = odd.sum::<f64>() / 10.0_f64.sqrt();
        length(&[(even - 3.92) / 0.02, (odd - 1.0) / 0.05])
            .max((even - 3.92).abs() / 0.02)
            .max((odd - 1.0).abs() / 0.05)
            .min(f64::MAX)
            * f64::from(u8::from((even - 3.92).abs() > 0.02 || (odd - 1.0).abs() > 0.05))
    })
}

/// A thin curved strip.
fn banana() -> Problem {
    let chance = averaged(3.5, 10.0, |u| {
        let middle = 0.2 * u * u - 2.0;
        within(middle - 0.1, middle + 0.1)
    });
    Problem::new("thin curved strip", 5, chance, |u| {
        let off = ((u[1] - 0.2 * u[0] * u[0] + 2.0).abs() - 0.1).max(0.0);
        let short = (3.5 - u[0]).max(0.0);
        off + short
    })
}

/// Source: Der Kiureghian & De Stefano (1990): two masses on springs, shaken;
/// force capacity 27.5. Eight log-normal inputs.
fn oscillator(u: &[f64]) -> f64 {
    const INPUTS: [[f64; 2]; 8] = [
        [1.5, 0.1],
        [0.01, 0.1],
        [1.0, 0.2],
        [0.01, 0.2],
        [0.05, 0.4],
        [0.02, 0.5],
        [27.5, 0.1],
        [100.0, 0.1],
    ];
    let value = |i: usize| {
        let [mean, variation] = INPUTS[i];
        let squared = ln(1.0 + variation * variation);
        mean * exp(squared.sqrt() * u[i] - 0.5 * squared)
    };
    let [mp, ms, kp, ks] = [0, 1, 2, 3].map(value);
    let [zp, zs, capacity, shaking] = [4, 5, 6, 7].map(value);
    let (wp, ws) = ((kp / mp).sqrt(), (ks / ms).sqrt());
    let (za, wa) = (0.5 * (zp + zs), 0.5 * (wp + ws));
    let (ratio, off) = (ms / mp, (wp - ws) / wa);
    let first = std::f64::consts::PI * shaking / (4.0 * zs * pow(ws, 3.0));
    let second = za * zs / (zp * zs * (4.0 * za * za + off * off) + ratio * za * za);
    let third = (zp * pow(wp, 3.0) + zs * pow(ws, 3.0)) * wp / (4.0 * za * pow(wa, 4.0));
    capacity - 3.0 * ks * (first * second * third).sqrt()
}
