//! Where to aim: a density that is easy to draw from, fitted to successes.

use super::space::{Points, spread};
use crate::{
    math::{exp, ln},
    uncertain::{normal_cdf, normal_quantile, open_unit},
};

/// Widest bell, in the inputs' own standard deviations.
const WIDEST: f64 = 3.0;
/// Narrowest.
const NARROWEST: f64 = 1e-6;
/// Most bells whose oblique directions are looked for.
const OBLIQUE: usize = 60;

/// What one coordinate is drawn from, if not from the inputs' own.
#[derive(Clone, Debug)]
enum Shape {
    /// A bell of its own.
    Bell { mean: f64, sd: f64 },
    /// The inputs' own, between two ends, of which successes were seen so far.
    Window { ends: [f64; 2], seen: f64 },
}

/// A direction, in the bells' own units, in which they are stretched.
#[derive(Clone, Debug)]
struct Oblique {
    along: Vec<f64>,
    factor: f64,
}

/// A density with a shape in some coordinates, the inputs' own in all others.
#[derive(Clone, Debug)]
pub(super) struct Density {
    bells: Vec<(usize, [f64; 2])>,
    windows: Vec<(usize, [f64; 3])>,
    oblique: Vec<Oblique>,
}

impl Density {
    /// Fits successes with weights. `worth`: how many independent ones they are
    /// worth. A coordinate that does not differ from the inputs' own by more
    /// than such a number can show is left as it is; one that looks like the
    /// inputs' own between two ends is drawn from there; all others get a bell.
    ///
    /// `slack`: how much farther than the successes ends are put, as a share of
    /// their range (less where many coordinates have ends).
    pub(super) fn fit(
        points: &Points,
        chosen: &[usize],
        weights: &[f64],
        worth: f64,
        slack: f64,
    ) -> Self {
        let (mean, sd) = spread(points, chosen, weights);
        let mut shapes = Vec::new();
        for (i, (m, s)) in mean.into_iter().zip(sd).enumerate() {
            let centred = m.abs() < 3.5 / worth.sqrt();
            let usual = (s - 1.0).abs() < 3.5 / (2.0 * worth).sqrt();
            if centred && usual {
                continue;
            }
            let shape = shape(m, s, range(points, chosen, i), worth);
            shapes.push((
                i,
                match shape {
                    // In many coordinates a little noise in each would add up.
                    Shape::Bell { mean, .. } if usual => Shape::Bell { mean, sd: 1.0 },
                    other => other,
                },
            ));
        }
        let ended = shapes.iter().filter(|(_, s)| matches!(s, Shape::Window { .. })).count();
        // Of all that is drawn one in e^3 at least shall lie within all ends.
        let slack = (slack + 4.0 / worth).min(1.5 / ended.max(1) as f64);
        let bells = shapes.iter().filter(|(_, s)| matches!(s, Shape::Bell { sd, .. } if *sd < 1.0));
        let bells = bells.count();
        // In many coordinates a little too wide in each is far too wide.
        let wider = 1.0 + 0.15 / (bells as f64 / 4.0).max(1.0).sqrt();
        let mut density = Self { bells: Vec::new(), windows: Vec::new(), oblique: Vec::new() };
        for (i, shape) in shapes {
            match shape {
                Shape::Bell { mean, sd } => {
                    density.bells.push((i, [mean, sd.max(NARROWEST)]));
                }
                Shape::Window { ends, seen } => {
                    let more = slack * seen;
                    let (low, high) = (ends[0] - more, ends[1] + more);
                    density.windows.push((i, [low, high, mass(low, high)]));
                }
            }
        }
        density.oblique = density.directions(points, chosen, weights, worth);
        for (_, [_, sd]) in &mut density.bells {
            *sd = if *sd < 1.0 { (wider * *sd).min(1.0) } else { sd.min(WIDEST) };
        }
        density
    }

    /// Coordinates with a shape of their own.
    pub(super) fn shapes(&self) -> usize {
        self.bells.len() + self.windows.len()
    }

    /// The same middle with the inputs' own width at least, and no ends.
    pub(super) fn widened(&self) -> Self {
        let bells = self.bells.iter().map(|(i, [m, s])| (*i, [*m, s.max(1.0)])).collect();
        Self { bells, windows: Vec::new(), oblique: Vec::new() }
    }

    /// The unit normal around a point.
    #[cfg(test)]
    pub(super) fn around(mean: &[f64]) -> Self {
        let bells = mean.iter().enumerate().map(|(i, m)| (i, [*m, 1.0])).collect();
        Self { bells, windows: Vec::new(), oblique: Vec::new() }
    }

    /// Directions in which the bells' coordinates move together or against each
    /// other by more than chance explains.
    fn directions(
        &self,
        points: &Points,
        chosen: &[usize],
        weights: &[f64],
        worth: f64,
    ) -> Vec<Oblique> {
        let n = self.bells.len();
        if !(2..=OBLIQUE).contains(&n) || worth < 3.0 * n as f64 {
            return Vec::new();
        }
        let total: f64 = weights.iter().sum();
        let mut together = vec![0.0; n * n];
        let mut own = vec![0.0; n];
        for (i, w) in chosen.iter().zip(weights) {
            self.standard(points.point(*i), &mut own);
            for a in 0..n {
                for b in 0..=a {
                    together[a * n + b] += w / total * own[a] * own[b];
                }
            }
        }
        for a in 0..n {
            for b in 0..a {
                together[b * n + a] = together[a * n + b];
            }
        }
        let noise = (n as f64 / worth).sqrt();
        let (least, most) = (0.5 * (1.0 - noise).max(0.0).powi(2), 1.6 * (1.0 + noise).powi(2));
        eigen(together, n)
            .into_iter()
            .filter(|(value, _)| *value < least || *value > most)
            .map(|(value, along)| Oblique { along, factor: value.max(1e-12).sqrt() })
            .collect()
    }

    /// A point in the bells' own units.
    fn standard(&self, point: &[f64], own: &mut [f64]) {
        for (y, (i, [mean, sd])) in own.iter_mut().zip(&self.bells) {
            *y = (point[*i] - mean) / sd;
        }
    }

    /// Makes a point, in place, of uniform numbers, one for each coordinate.
    pub(super) fn draw(&self, point: &mut [f64]) {
        for (i, [low, high, mass]) in &self.windows {
            point[*i] = between(*low, *high, *mass, point[*i]);
        }
        for (i, u) in point.iter_mut().enumerate() {
            if !self.windows.iter().any(|(w, _)| *w == i) {
                *u = normal_quantile(*u);
            }
        }
        for oblique in &self.oblique {
            let terms = oblique.along.iter().zip(&self.bells);
            let along: f64 = terms.map(|(e, (i, _))| e * point[*i]).sum();
            for (e, (i, _)) in oblique.along.iter().zip(&self.bells) {
                point[*i] += (oblique.factor - 1.0) * along * e;
            }
        }
        for (i, [mean, sd]) in &self.bells {
            point[*i] = mean + sd * point[*i];
        }
    }

    /// ln of this density over the inputs' own.
    pub(super) fn ln_ratio(&self, point: &[f64]) -> f64 {
        let mut ln_ratio = 0.0;
        for (i, [low, high, mass]) in &self.windows {
            if point[*i] < *low || point[*i] > *high {
                return f64::NEG_INFINITY;
            }
            ln_ratio -= ln(*mass);
        }
        let mut own = vec![0.0; self.bells.len()];
        self.standard(point, &mut own);
        for (y, (i, [_, sd])) in own.iter().zip(&self.bells) {
            let u = point[*i];
            ln_ratio += 0.5 * (u * u - y * y) - ln(*sd);
        }
        for oblique in &self.oblique {
            let along: f64 = oblique.along.iter().zip(&own).map(|(e, y)| e * y).sum();
            let squared = oblique.factor * oblique.factor;
            ln_ratio -= 0.5 * (1.0 / squared - 1.0) * along * along + ln(oblique.factor);
        }
        ln_ratio
    }
}

/// Smallest and largest value of a coordinate.
fn range(points: &Points, chosen: &[usize], coordinate: usize) -> [f64; 2] {
    chosen.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], i| {
        let u = points.point(*i)[coordinate];
        [low.min(u), high.max(u)]
    })
}

/// What describes successes of this mean and deviation, seen in a range, better:
/// a bell of a little more than their width, or the inputs' own between ends.
fn shape(mean: f64, sd: f64, [low, high]: [f64; 2], worth: f64) -> Shape {
    let seen = high - low;
    // An end beyond which there is next to nothing is none.
    let gained = 5.0 / worth * mass(low, high);
    let low = if mass(f64::NEG_INFINITY, low) < gained { f64::NEG_INFINITY } else { low };
    let high = if mass(high, f64::INFINITY) < gained { f64::INFINITY } else { high };
    let between = mass(low, high);
    let nothing = (low.is_infinite() && high.is_infinite()) || seen <= 0.0 || between <= 0.0;
    // Mean ln of either density over the successes, less what both have.
    let window = -0.5 * (mean * mean + sd * sd) - ln(between.max(f64::MIN_POSITIVE));
    let wide = 1.15;
    let bell = -ln(wide * sd.max(NARROWEST)) - 0.5 / (wide * wide);
    if nothing || bell > window {
        Shape::Bell { mean, sd }
    } else {
        Shape::Window { ends: [low, high], seen }
    }
}

/// P(low < Z < high), from the nearer tail.
fn mass(low: f64, high: f64) -> f64 {
    if low > 0.0 {
        normal_cdf(-low) - normal_cdf(-high)
    } else {
        normal_cdf(high) - normal_cdf(low)
    }
}

/// The standard normal between two ends, at a share `u` of its mass there.
fn between(low: f64, high: f64, mass: f64, u: f64) -> f64 {
    let z = if low > 0.0 {
        -normal_quantile(open_unit(normal_cdf(-low) - u * mass))
    } else {
        normal_quantile(open_unit(normal_cdf(low) + u * mass))
    };
    z.clamp(low, high)
}

/// Eigenvalues and unit vectors of a symmetric matrix, by Jacobi's rotations.
///
/// Source: Golub & Van Loan, Matrix Computations, 8.5. (From memory.)
fn eigen(mut a: Vec<f64>, n: usize) -> Vec<(f64, Vec<f64>)> {
    let mut vectors = vec![0.0; n * n];
    for i in 0..n {
        vectors[i * n + i] = 1.0;
    }
    for _ in 0..30 {
        let off: f64 = (0..n)
            .flat_map(|p| (0..p).map(move |q| (p, q)))
            .map(|(p, q)| a[p * n + q].powi(2))
            .sum();
        if off < 1e-20 {
            break;
        }
        for p in 0..n {
            for q in p + 1..n {
                if a[p * n + q].abs() < 1e-300 {
                    continue;
                }
                let theta = 0.5 * (a[q * n + q] - a[p * n + p]) / a[p * n + q];
                let t = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
                let c = 1.0 / (t * t + 1.0).sqrt();
                let s = t * c;
                for k in 0..n {
                    let (x, y) = (a[k * n + p], a[k * n + q]);
                    a[k * n + p] = c * x - s * y;
                    a[k * n + q] = s * x + c * y;
                }
                for k in 0..n {
                    let (x, y) = (a[p * n + k], a[q * n + k]);
                    a[p * n + k] = c * x - s * y;
                    a[q * n + k] = s * x + c * y;
                    let (x, y) = (vectors[p * n + k], vectors[q * n + k]);
                    vectors[p * n + k] = c * x - s * y;
                    vectors[q * n + k] = s * x + c * y;
                }
            }
        }
    }
    (0..n).map(|i| (a[i * n + i], vectors[i * n..(i + 1) * n].to_vec())).collect()
}

/// Sum of exponentials of some logarithms, each times a number.
pub(super) fn sum_exp(terms: impl Iterator<Item = (f64, f64)>) -> f64 {
    terms.map(|(count, ln_ratio)| count * exp(ln_ratio.min(700.0))).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{estimate::rare::space::Normals, sampling::Domain};

    fn drawn(density: &Density, d: usize, count: u64) -> Points {
        let normals = Normals::new(3, Domain::DRAWS, d);
        let mut points = Points::new(d);
        let mut at = vec![0.0; d];
        for draw in 0..count {
            normals.uniforms(draw, &mut at);
            density.draw(&mut at);
            points.push(&at, 0.0);
        }
        points
    }

    /// The inputs' own, of which only what lies in a thin oblique slab above a
    /// half-space of the third is kept.
    fn slab() -> Points {
        let normals = Normals::new(9, Domain::DRAWS, 4);
        let mut points = Points::new(4);
        let mut at = vec![0.0; 4];
        let mut draw = 0;
        while points.len() < 1500 {
            normals.fill(draw, &mut at);
            draw += 1;
            let oblique = 0.6 * at[0] + 0.8 * at[1];
            if at[2] > 1.0 && (oblique - 0.5).abs() < 0.02 {
                points.push(&at, 0.0);
            }
        }
        points
    }

    #[test]
    fn a_fit_knows_ends_oblique_directions_and_what_is_idle() {
        let hits = slab();
        let all: Vec<usize> = (0..hits.len()).collect();
        let density = Density::fit(&hits, &all, &vec![1.0; all.len()], 1500.0, 0.0);
        assert_eq!(density.bells.iter().map(|(i, _)| *i).collect::<Vec<_>>(), vec![0, 1]);
        assert_eq!(density.windows.len(), 1);
        let (place, [low, high, _]) = density.windows[0];
        assert!(place == 2 && (0.9..1.001).contains(&low) && high.is_infinite());
        assert!(density.oblique.iter().any(|oblique| oblique.factor < 0.1));
        let again = drawn(&density, 4, 4000);
        let inside = (0..4000).filter(|i| {
            let u = again.point(*i);
            u[2] > 1.0 && (0.6 * u[0] + 0.8 * u[1] - 0.5).abs() < 0.02
        });
        // A bell of a flat slab's width, a little wider: 87 % less the ends.
        assert!(inside.count() > 3000);
    }

    /// E over the density of 1 / ratio is the share of the inputs' own that it
    /// reaches: all but what lies outside its ends.
    #[test]
    fn the_ratio_is_that_of_the_densities() {
        let hits = slab();
        let all: Vec<usize> = (0..hits.len()).collect();
        let density = Density::fit(&hits, &all, &vec![1.0; all.len()], 1500.0, 0.0).widened();
        let points = drawn(&density, 4, 20_000);
        let mean = (0..20_000).map(|i| exp(-density.ln_ratio(points.point(i)))).sum::<f64>();
        assert!((mean / 20_000.0 - 1.0).abs() < 0.05, "{mean}");
    }

    #[test]
    fn eigenvectors_are_those_of_the_matrix() {
        let matrix = vec![2.0, 1.0, 0.5, 1.0, 3.0, -0.4, 0.5, -0.4, 1.0];
        let found = eigen(matrix.clone(), 3);
        assert!((found.iter().map(|(value, _)| value).sum::<f64>() - 6.0).abs() < 1e-12);
        for (value, e) in found {
            for i in 0..3 {
                let row: f64 = (0..3).map(|k| matrix[3 * i + k] * e[k]).sum();
                assert!((row - value * e[i]).abs() < 1e-10);
            }
        }
    }
}
