//! One `f64` of each flight in a block.

use super::{Mask, Processor};
use core::{
    fmt,
    ops::{Add, AddAssign, Div, Mul, Neg, Sub},
};
use pulp::bytemuck;

/// Registers in a lane number. Two independent registers hide the latency of
/// the arithmetic.
pub(crate) const REGISTERS: usize = 2;

/// The same operation on every register.
macro_rules! each {
    (|$i:ident| $operation:expr) => {
        [
            {
                let $i = 0;
                $operation
            },
            {
                let $i = 1;
                $operation
            },
        ]
    };
}
pub(super) use each;

/// One number of each flight in a block.
#[derive(Clone, Copy)]
pub struct Lane<S: Processor> {
    pub(super) simd: S,
    pub(super) value: [S::f64s; REGISTERS],
}

impl<S: Processor> fmt::Debug for Lane<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.as_slice()).finish()
    }
}

impl<S: Processor> Lane<S> {
    /// How many flights there are in a block.
    pub const COUNT: usize = REGISTERS * S::F64_LANES;

    /// The same number for all.
    #[inline(always)]
    pub fn splat(simd: S, number: f64) -> Self {
        Self { simd, value: [simd.splat_f64s(number); REGISTERS] }
    }

    /// The same number for all, on this lane's processor.
    #[inline(always)]
    #[must_use]
    pub fn of(self, number: f64) -> Self {
        Self::splat(self.simd, number)
    }

    /// The numbers, one per flight.
    #[inline(always)]
    pub fn as_slice(&self) -> &[f64] {
        bytemuck::cast_slice(&self.value)
    }

    /// The numbers, one per flight, to be changed.
    #[inline(always)]
    pub(crate) fn as_mut_slice(&mut self) -> &mut [f64] {
        bytemuck::cast_slice_mut(&mut self.value)
    }

    /// One flight's number.
    #[inline(always)]
    #[must_use]
    pub fn get(&self, lane: usize) -> f64 {
        self.as_slice()[lane]
    }

    /// Changes one flight's number.
    #[inline(always)]
    pub fn set(&mut self, lane: usize, number: f64) {
        self.as_mut_slice()[lane] = number;
    }

    /// `self * factor + addend`, fused where the processor can.
    #[inline(always)]
    #[must_use]
    pub fn mul_add(self, factor: Self, addend: Self) -> Self {
        if S::FUSED {
            let simd = self.simd;
            let value =
                each!(|i| simd.mul_add_e_f64s(self.value[i], factor.value[i], addend.value[i]));
            Self { simd, value }
        } else {
            self * factor + addend
        }
    }

    /// Exact square root.
    #[inline(always)]
    #[must_use]
    pub fn sqrt(self) -> Self {
        Self { value: each!(|i| self.simd.sqrt_f64s(self.value[i])), ..self }
    }

    /// Absolute value.
    #[inline(always)]
    #[must_use]
    pub fn abs(self) -> Self {
        Self { value: each!(|i| self.simd.abs_f64s(self.value[i])), ..self }
    }

    /// The larger one; where one of the two is not a number, either.
    #[inline(always)]
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self { value: each!(|i| self.simd.max_f64s(self.value[i], other.value[i])), ..self }
    }

    /// The smaller one; where one of the two is not a number, either.
    #[inline(always)]
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self { value: each!(|i| self.simd.min_f64s(self.value[i], other.value[i])), ..self }
    }

    /// The largest of the numbers.
    #[inline(always)]
    #[must_use]
    pub fn largest(self) -> f64 {
        let larger = self.simd.max_f64s(self.value[0], self.value[1]);
        self.simd.reduce_max_f64s(larger)
    }

    /// Where `self <= other`; false where one of them is not a number.
    #[inline(always)]
    #[must_use]
    pub fn at_most(self, other: Self) -> Mask<S> {
        let simd = self.simd;
        Mask { simd, value: each!(|i| simd.less_than_or_equal_f64s(self.value[i], other.value[i])) }
    }

    /// Where `self < other`; false where one of them is not a number.
    #[inline(always)]
    #[must_use]
    pub fn below(self, other: Self) -> Mask<S> {
        let simd = self.simd;
        Mask { simd, value: each!(|i| simd.less_than_f64s(self.value[i], other.value[i])) }
    }

    /// `self` to the power of -1/10, within 7 %, for step control only.
    ///
    /// Reads the logarithm off the bits. Finite for any `self`, even one that
    /// is not a number.
    #[inline(always)]
    #[must_use]
    pub fn rough_inverse_tenth_root(self) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "exact for this number")]
        const ONE: f64 = 1.0_f64.to_bits() as f64;
        let mut result = self;
        for number in result.as_mut_slice() {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_precision_loss,
                reason = "meant to be rough"
            )]
            #[expect(
                clippy::cast_sign_loss,
                reason = "the result's bits are those of a positive number"
            )]
            {
                let bits = (number.to_bits() & (u64::MAX >> 1)) as i64 as f64;
                *number = f64::from_bits((1.1 * ONE - 0.1 * bits) as i64 as u64);
            }
        }
        result
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $simd_method:ident) => {
        impl<S: Processor> $trait for Lane<S> {
            type Output = Self;

            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                let simd = self.simd;
                Self { simd, value: each!(|i| simd.$simd_method(self.value[i], other.value[i])) }
            }
        }

        impl<S: Processor> $trait<f64> for Lane<S> {
            type Output = Self;

            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.$method(self.of(other))
            }
        }
    };
}

operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

impl<S: Processor> AddAssign for Lane<S> {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl<S: Processor> Neg for Lane<S> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        Self { value: each!(|i| self.simd.neg_f64s(self.value[i])), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pulp::Scalar;

    /// Source: closed form.
    #[test]
    fn the_rough_root_is_within_seven_percent_and_never_fails() {
        for x in [1e-30, 1e-9, 0.3, 1.0, 1.5, 7.0, 1e6, 1e40] {
            let rough = Lane::splat(Scalar, x).rough_inverse_tenth_root().get(0);
            assert!((rough / libm::pow(x, -0.1) - 1.0).abs() < 0.07, "{x}: {rough}");
        }
        for x in [0.0, f64::NAN, f64::INFINITY] {
            assert!(Lane::splat(Scalar, x).rough_inverse_tenth_root().get(0).is_finite());
        }
    }

    #[test]
    fn lanes_do_not_see_each_other() {
        let mut x = Lane::splat(Scalar, 2.0);
        x.set(1, f64::NAN);
        let y = (x * 3.0).mul_add(x, x.of(1.0)).max(x.of(0.5));
        assert_eq!(y.get(0).to_bits(), 13.0_f64.to_bits());
    }
}
