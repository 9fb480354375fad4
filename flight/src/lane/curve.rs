//! A smooth function as a table without branches or library calls.

use super::{Lane, Processor};

/// Cells per doubling of the argument.
const PER_OCTAVE: u32 = 16;
/// Bits of a number below those that name its cell.
const SHIFT: u32 = 52 - PER_OCTAVE.trailing_zeros();

/// A function of one positive argument that may span many powers of ten, as a
/// cubic in each of 16 cells per doubling.
///
/// A cell is found from the leading bits of the argument itself, so that no
/// logarithm is needed. Outside the range the value at its end is taken: the
/// owner of the curve says what that means and reports it.
#[derive(Clone, Debug)]
pub struct Curve {
    lowest: f64,
    highest: f64,
    first: usize,
    /// Powers of two from one row to the next.
    octaves: i32,
    cells: Vec<[f64; 4]>,
}

impl Curve {
    /// Tabulates `function` from `2^from` to `2^to`.
    ///
    /// Each cell's cubic meets the function at both ends and at thirds.
    pub fn new(from: i32, to: i32, function: impl Fn(f64) -> f64) -> Self {
        let lowest = libm::ldexp(1.0, from);
        let highest = libm::ldexp(1.0, to);
        let mut cells = Vec::new();
        for octave in from..to {
            for part in 0..PER_OCTAVE {
                let unit = libm::ldexp(1.0, octave);
                let width = unit / f64::from(PER_OCTAVE);
                let left = unit + width * f64::from(part);
                cells.push(cubic([0.0, 1.0, 2.0, 3.0].map(|i| function(left + width * i / 3.0))));
            }
        }
        Self {
            lowest,
            highest: highest.next_down(),
            first: cell_of(lowest),
            octaves: to - from,
            cells,
        }
    }

    /// Tabulates `count` functions of `2^from` to `2^to`, one after the other:
    /// the argument times [`factor`](Self::factor) finds the function's own row,
    /// at no cost in the loop. Arguments below the range find the end of the row
    /// before.
    ///
    /// The rows have to fit into the powers of two that there are.
    pub fn rows([from, to]: [i32; 2], count: u16, function: impl Fn(u16, f64) -> f64) -> Self {
        let octaves = to - from;
        let mut all = Self::new(from, to, |x| function(0, x));
        for row in 1..count {
            let shift = octaves * i32::from(row);
            let own = |x: f64| function(row, libm::ldexp(x, -shift));
            let next = Self::new(from + shift, to + shift, own);
            all.cells.extend(next.cells);
            all.highest = next.highest;
        }
        Self { octaves, ..all }
    }

    /// What to multiply arguments by that are meant for one of the rows.
    #[must_use]
    pub fn factor(&self, row: u16) -> f64 {
        libm::ldexp(1.0, self.octaves * i32::from(row))
    }

    /// The range of arguments, of the first row.
    #[must_use]
    pub fn range(&self) -> [f64; 2] {
        [self.lowest, libm::ldexp(self.lowest, self.octaves).next_down()]
    }

    /// The function at each lane's argument.
    #[inline(always)]
    pub fn at<S: Processor>(&self, argument: Lane<S>) -> Lane<S> {
        let inside = argument.max(argument.of(self.lowest)).min(argument.of(self.highest));
        let zero = argument.of(0.0);
        let (mut place, mut coefficients) = (zero, [zero; 4]);
        let last = self.cells.len() - 1;
        for lane in 0..Lane::<S>::COUNT {
            let number = inside.get(lane);
            place.set(lane, place_in_cell(number));
            let cell = &self.cells[cell_of(number).wrapping_sub(self.first).min(last)];
            coefficients[0].set(lane, cell[0]);
            coefficients[1].set(lane, cell[1]);
            coefficients[2].set(lane, cell[2]);
            coefficients[3].set(lane, cell[3]);
        }
        let [c0, c1, c2, c3] = coefficients;
        c3.mul_add(place, c2).mul_add(place, c1).mul_add(place, c0)
    }
}

/// The leading bits of a positive number.
#[inline(always)]
fn cell_of(number: f64) -> usize {
    (number.to_bits() >> SHIFT) as usize
}

/// Where in its cell a number is, from 0 to 1.
#[inline(always)]
fn place_in_cell(number: f64) -> f64 {
    let below = number.to_bits() & ((1 << SHIFT) - 1);
    (f64::from_bits(below | 1.0_f64.to_bits()) - 1.0) * f64::from(PER_OCTAVE)
}

/// The cubic in 0..1 through four values at 0, 1/3, 2/3 and 1.
fn cubic([a, b, c, d]: [f64; 4]) -> [f64; 4] {
    [
        a,
        (-11.0 * a + 18.0 * b - 9.0 * c + 2.0 * d) / 2.0,
        9.0 * (2.0 * a - 5.0 * b + 4.0 * c - d) / 2.0,
        9.0 * (-a + 3.0 * b - 3.0 * c + d) / 2.0,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use pulp::Scalar;

    /// Source: closed form.
    #[test]
    fn a_logarithm_comes_back_within_a_few_parts_in_ten_million() {
        let curve = Curve::new(-2, 10, libm::log);
        let mut x = 0.25;
        while x < 1024.0 {
            let got = curve.at(Lane::splat(Scalar, x)).get(0);
            assert!((got - libm::log(x)).abs() < 2e-7, "{x}: {got}");
            x *= 1.003;
        }
    }

    /// Source: closed form.
    #[test]
    fn each_row_has_its_own_function() {
        let curve = Curve::rows([-2, 4], 5, |row, x| x * f64::from(row + 1));
        for row in 0..5 {
            for x in [0.25, 1.0, 3.7, 15.9] {
                let got = curve.at(Lane::splat(Scalar, x * curve.factor(row))).get(0);
                assert!((got / (x * f64::from(row + 1)) - 1.0).abs() < 1e-12, "{row} {x}: {got}");
            }
        }
    }

    #[test]
    fn outside_the_range_the_end_value_is_taken() {
        let curve = Curve::new(0, 2, |x| x * x);
        let at = |x| curve.at(Lane::splat(Scalar, x)).get(0);
        assert!((at(0.1) - 1.0).abs() < 1e-12);
        assert!((at(1e9) - 16.0).abs() < 1e-9);
        assert!(at(f64::NAN).is_finite());
    }
}
