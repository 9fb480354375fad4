//! Which inputs move together: rank correlation by a Gaussian copula.
//!
//! Each uniform becomes a standard normal number, the normals are mixed by the
//! Cholesky factor of their correlation matrix, and go back to uniforms: every
//! input keeps its own distribution. Beyond the rank correlation this assumes
//! that extremes do not cling together (the Gaussian copula has no tail
//! dependence); where they do, tie the inputs by a common cause instead.

use super::normal::{normal_cdf, normal_quantile, open_unit};
use crate::math::sin;
use std::{f64::consts::PI, fmt};

/// The rank correlation between inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Copula {
    /// The inputs that are tied to another, rising.
    members: Vec<usize>,
    /// Their Cholesky factor, lower triangle row by row.
    factor: Vec<f64>,
}

/// Why correlations cannot be used.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum CopulaError {
    /// There is no such input.
    Index(usize),
    /// An input is tied to itself.
    Itself(usize),
    /// The pair is given twice.
    Repeated(usize, usize),
    /// The correlation is not a number between -1 and 1, both excluded.
    Range {
        /// The pair.
        pair: (usize, usize),
        /// What was given.
        rho: f64,
    },
    /// No inputs can have these correlations together, but changing this pair
    /// alone mends it; of all such pairs the one with the least change.
    Impossible {
        /// The pair.
        pair: (usize, usize),
        /// What was given.
        rho: f64,
        /// The nearest value, in hundredths, that is possible with the others.
        nearest: f64,
    },
    /// No inputs can have these correlations together, and no single pair is
    /// at fault.
    TooStrong {
        /// Multiplied by this, in hundredths, all together are possible.
        factor: f64,
    },
}

impl fmt::Display for CopulaError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Index(i) => write!(f, "there is no input number {i}"),
            Self::Itself(_) => f.write_str("an input cannot be correlated with itself"),
            Self::Repeated(..) => f.write_str("this pair is already correlated"),
            Self::Range { rho, .. } => {
                write!(f, "a rank correlation lies between -1 and 1, not at {rho}")
            }
            Self::Impossible { rho, nearest, .. } => write!(
                f,
                "a rank correlation of {rho} cannot go together with the others; {nearest} can"
            ),
            Self::TooStrong { factor } => write!(
                f,
                "these rank correlations cannot go together; each multiplied by {factor} they can"
            ),
        }
    }
}

impl std::error::Error for CopulaError {}

impl Copula {
    /// Nothing is tied to anything, for any number of inputs.
    #[must_use]
    pub fn independent(_inputs: usize) -> Self {
        Self { members: Vec::new(), factor: Vec::new() }
    }

    /// From Spearman's rank correlations between some pairs of `inputs`
    /// inputs; all other pairs are uncorrelated.
    ///
    /// A rank correlation rho becomes a correlation 2 sin(pi rho / 6) of the
    /// normals.
    ///
    /// Source: Pearson 1907; Nelsen, An Introduction to Copulas (2006). (From
    /// memory.)
    ///
    /// # Errors
    /// See [`CopulaError`]: the first pair that cannot be.
    pub fn new(inputs: usize, pairs: &[(usize, usize, f64)]) -> Result<Self, CopulaError> {
        let mut members: Vec<usize> = Vec::new();
        for (k, &(i, j, rho)) in pairs.iter().enumerate() {
            let pair = (i, j);
            if let Some(missing) = [i, j].into_iter().find(|m| *m >= inputs) {
                return Err(CopulaError::Index(missing));
            }
            if i == j {
                return Err(CopulaError::Itself(i));
            }
            if pairs[..k].iter().any(|p| (p.0, p.1) == pair || (p.1, p.0) == pair) {
                return Err(CopulaError::Repeated(i, j));
            }
            let proper = rho > -1.0 && rho < 1.0;
            if !proper {
                return Err(CopulaError::Range { pair, rho });
            }
            members.extend([i, j]);
        }
        members.sort_unstable();
        members.dedup();
        let place = |i: usize| members.partition_point(|m| *m < i);
        let placed: Vec<_> = pairs.iter().map(|&(i, j, rho)| (place(i), place(j), rho)).collect();
        match factor(members.len(), &placed) {
            Some(factor) => Ok(Self { members, factor }),
            None => Err(advice(members.len(), &placed, pairs)),
        }
    }

    /// The inputs that are tied to another, rising.
    #[must_use]
    pub fn members(&self) -> &[usize] {
        &self.members
    }

    /// Whether two inputs move together.
    #[must_use]
    pub fn ties(&self, a: usize, b: usize) -> bool {
        let row = |input: usize| {
            let place = self.members.iter().position(|member| *member == input)?;
            let start = place * (place + 1) / 2;
            self.factor.get(start..=start + place)
        };
        let (Some(a), Some(b)) = (row(a), row(b)) else { return false };
        // Rows of the factor: their product is the pair's correlation.
        a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>().abs() > 1e-9
    }

    /// Turns independent uniforms in (0, 1), one per input, into correlated
    /// ones in place. Inputs that are not tied keep their number untouched.
    pub fn apply(&self, row: &mut [f64]) {
        let Some((first, others)) = self.members.split_first() else { return };
        let kept = row[*first];
        for m in &self.members {
            row[*m] = normal_quantile(open_unit(row[*m]));
        }
        self.mix(row);
        for m in others {
            row[*m] = open_unit(normal_cdf(row[*m]));
        }
        row[*first] = kept;
    }

    /// From the last member to the first, so that each still finds the others'
    /// independent numbers.
    fn mix(&self, row: &mut [f64]) {
        for k in (0..self.members.len()).rev() {
            let start = k * (k + 1) / 2;
            let weights = &self.factor[start..=start + k];
            let mixed = weights.iter().zip(&self.members).map(|(w, m)| w * row[*m]).sum();
            row[self.members[k]] = mixed;
        }
    }
}

/// Cholesky factor of the normals' correlation matrix, lower triangle row by
/// row, or `None` if it is not (safely) positive definite.
fn factor(n: usize, pairs: &[(usize, usize, f64)]) -> Option<Vec<f64>> {
    let at = |i: usize, j: usize| i * (i + 1) / 2 + j;
    let mut l = vec![0.0; n * (n + 1) / 2];
    for &(i, j, rho) in pairs {
        l[at(i.max(j), i.min(j))] = 2.0 * sin(PI * rho / 6.0);
    }
    for i in 0..n {
        l[at(i, i)] = 1.0;
        for j in 0..=i {
            let dot: f64 = (0..j).map(|k| l[at(i, k)] * l[at(j, k)]).sum();
            let rest = l[at(i, j)] - dot;
            if i > j {
                l[at(i, j)] = rest / l[at(j, j)];
            } else if rest > 1e-10 {
                l[at(i, i)] = rest.sqrt();
            } else {
                return None;
            }
        }
    }
    Some(l)
}

/// How impossible correlations can be mended with the least change.
fn advice(n: usize, placed: &[(usize, usize, f64)], pairs: &[(usize, usize, f64)]) -> CopulaError {
    let mut best: Option<(f64, CopulaError)> = None;
    for (k, &(i, j, rho)) in pairs.iter().enumerate() {
        for hundredths in -99..=99 {
            let nearest = f64::from(hundredths) / 100.0;
            let change = (nearest - rho).abs();
            let closer = best.as_ref().is_none_or(|(least, _)| change < *least);
            let mut tried = placed.to_vec();
            tried[k].2 = nearest;
            if closer && factor(n, &tried).is_some() {
                best = Some((change, CopulaError::Impossible { pair: (i, j), rho, nearest }));
            }
        }
    }
    if let Some((_, error)) = best {
        return error;
    }
    let shrunk = |by: f64| -> Vec<_> { placed.iter().map(|p| (p.0, p.1, p.2 * by)).collect() };
    let hundredths = (0..100).rev().find(|h| factor(n, &shrunk(f64::from(*h) / 100.0)).is_some());
    CopulaError::TooStrong { factor: f64::from(hundredths.unwrap_or(0)) / 100.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::{Domain, Stream};

    fn spearman(x: &[f64], y: &[f64]) -> f64 {
        let ranks = |v: &[f64]| {
            let mut order: Vec<usize> = (0..v.len()).collect();
            order.sort_by(|a, b| v[*a].total_cmp(&v[*b]));
            let mut rank = vec![0.0; v.len()];
            for (r, i) in order.into_iter().enumerate() {
                rank[i] = r as f64;
            }
            rank
        };
        let n = x.len() as f64;
        let squares: f64 = ranks(x).iter().zip(ranks(y)).map(|(a, b)| (a - b) * (a - b)).sum();
        1.0 - 6.0 * squares / (n * (n * n - 1.0))
    }

    #[test]
    fn ranks_are_correlated_as_asked() {
        let copula = Copula::new(4, &[(0, 2, 0.6), (2, 3, -0.4)]).unwrap();
        let stream = Stream::new(7, Domain::DRAWS);
        let mut columns = vec![Vec::new(); 4];
        for draw in 0..20_000 {
            let mut row = [0.0; 4];
            stream.fill(draw, &[0, 1, 2, 3], &mut row);
            let before = row;
            copula.apply(&mut row);
            assert_eq!(row[0].to_bits(), before[0].to_bits(), "the first member stays");
            assert_eq!(row[1].to_bits(), before[1].to_bits(), "who is not tied stays");
            for (column, value) in columns.iter_mut().zip(row) {
                column.push(value);
            }
        }
        // Standard error about 1/sqrt(n) = 0.007; five of them pass 0.035:
        // false alarm 6e-7 each.
        for (i, j, rho) in [(0, 2, 0.6), (2, 3, -0.4), (0, 3, 0.0), (0, 1, 0.0)] {
            let found = spearman(&columns[i], &columns[j]);
            assert!((found - rho).abs() < 0.035, "{i} {j}: {found}");
        }
        // Each input is still uniform: mean 1/2 within 5 * 0.289/sqrt(n).
        for column in columns {
            let mean = column.iter().sum::<f64>() / column.len() as f64;
            assert!((mean - 0.5).abs() < 0.0102);
        }
    }

    /// Source: three variables need 1 - a^2 - b^2 - c^2 + 2abc > 0; with
    /// a = b = r(0.3) = 2 sin(0.05 pi) = 0.312869 the third lies above
    /// 2 a^2 - 1 = -0.804226, whose rank correlation is -0.7904.
    #[test]
    fn what_cannot_be_names_the_pair_and_a_way_out() {
        let pairs = [(4, 1, 0.3), (1, 2, 0.3), (4, 2, -0.9)];
        let error = Copula::new(5, &pairs).unwrap_err();
        assert_eq!(error, CopulaError::Impossible { pair: (4, 2), rho: -0.9, nearest: -0.79 });
        assert!(Copula::new(5, &[(4, 1, 0.3), (1, 2, 0.3), (4, 2, -0.79)]).is_ok());
    }

    #[test]
    fn where_no_single_pair_is_at_fault_all_are_shrunk() {
        // Five inputs, each against each other: 1 + 4 r > 0 is needed.
        let mut pairs = Vec::new();
        for i in 0..5 {
            for j in 0..i {
                pairs.push((i, j, -0.6));
            }
        }
        let error = Copula::new(5, &pairs).unwrap_err();
        assert_eq!(error, CopulaError::TooStrong { factor: 0.39 });
    }

    #[test]
    fn free_inputs_pass_through() {
        let copula = Copula::independent(2);
        let mut row = [0.25, 0.75];
        copula.apply(&mut row);
        assert_eq!(row.map(f64::to_bits), [0.25_f64, 0.75].map(f64::to_bits));
        assert_eq!(copula.members(), &[] as &[usize]);
    }

    #[test]
    fn mistakes_are_told_apart() {
        assert_eq!(Copula::new(2, &[(0, 2, 0.1)]), Err(CopulaError::Index(2)));
        assert_eq!(Copula::new(2, &[(1, 1, 0.1)]), Err(CopulaError::Itself(1)));
        let twice = [(0, 1, 0.1), (1, 0, 0.2)];
        assert_eq!(Copula::new(2, &twice), Err(CopulaError::Repeated(1, 0)));
        assert!(matches!(Copula::new(2, &[(0, 1, 1.0)]), Err(CopulaError::Range { .. })));
    }
}
