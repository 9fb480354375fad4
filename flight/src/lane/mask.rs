//! A yes or no for each flight in a block.

use super::{
    Lane, Processor,
    number::{REGISTERS, each},
};
use core::ops::{BitAnd, BitOr};

/// A yes or no for each flight in a block.
#[derive(Clone, Copy, Debug)]
pub struct Mask<S: Processor> {
    pub(super) simd: S,
    pub(super) value: [S::m64s; REGISTERS],
}

impl<S: Processor> Mask<S> {
    /// `yes` where the answer is yes, else `no`.
    #[inline(always)]
    #[must_use]
    pub fn select(self, yes: Lane<S>, no: Lane<S>) -> Lane<S> {
        let simd = self.simd;
        Lane { simd, value: each!(|i| simd.select_f64s(self.value[i], yes.value[i], no.value[i])) }
    }

    /// 1 where the answer is yes, else 0.
    #[inline(always)]
    #[must_use]
    pub(crate) fn to_number(self) -> Lane<S> {
        let (one, zero) = (Lane::splat(self.simd, 1.0), Lane::splat(self.simd, 0.0));
        self.select(one, zero)
    }
}

impl<S: Processor> BitAnd for Mask<S> {
    type Output = Self;

    #[inline(always)]
    fn bitand(self, other: Self) -> Self {
        Self { value: each!(|i| self.simd.and_m64s(self.value[i], other.value[i])), ..self }
    }
}

impl<S: Processor> BitOr for Mask<S> {
    type Output = Self;

    #[inline(always)]
    fn bitor(self, other: Self) -> Self {
        Self { value: each!(|i| self.simd.or_m64s(self.value[i], other.value[i])), ..self }
    }
}
