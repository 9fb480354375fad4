//! One vector of each flight in a block.

use super::{Lane, Processor};
use core::ops::{Add, Mul, Sub};

/// One vector of each flight in a block.
#[derive(Clone, Copy, Debug)]
pub struct Vector<S: Processor> {
    /// Along x.
    pub x: Lane<S>,
    /// Along y.
    pub y: Lane<S>,
    /// Along z.
    pub z: Lane<S>,
}

impl<S: Processor> Vector<S> {
    /// From its components.
    #[inline(always)]
    pub fn new(x: Lane<S>, y: Lane<S>, z: Lane<S>) -> Self {
        Self { x, y, z }
    }

    /// The same vector for all flights.
    #[inline(always)]
    pub fn splat(simd: S, [x, y, z]: [f64; 3]) -> Self {
        Self::new(Lane::splat(simd, x), Lane::splat(simd, y), Lane::splat(simd, z))
    }

    /// Scalar product.
    #[inline(always)]
    #[must_use]
    pub fn dot(self, other: Self) -> Lane<S> {
        self.x.mul_add(other.x, self.y.mul_add(other.y, self.z * other.z))
    }

    /// Vector product.
    #[inline(always)]
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y.mul_add(other.z, -(self.z * other.y)),
            self.z.mul_add(other.x, -(self.x * other.z)),
            self.x.mul_add(other.y, -(self.y * other.x)),
        )
    }

    /// `self * factor + addend`.
    #[inline(always)]
    #[must_use]
    pub fn mul_add(self, factor: Lane<S>, addend: Self) -> Self {
        Self::new(
            self.x.mul_add(factor, addend.x),
            self.y.mul_add(factor, addend.y),
            self.z.mul_add(factor, addend.z),
        )
    }

    /// This vector turned by the unit quaternion `axis`, `w`.
    ///
    /// Source: standard; v + 2w(q × v) + 2q × (q × v).
    #[inline(always)]
    #[must_use]
    pub fn turned(self, axis: Self, w: Lane<S>) -> Self {
        let once = axis.cross(self);
        let twice = once + once;
        axis.cross(twice) + twice.mul_add(w, self)
    }
}

impl<S: Processor> Add for Vector<S> {
    type Output = Self;

    #[inline(always)]
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl<S: Processor> Sub for Vector<S> {
    type Output = Self;

    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl<S: Processor> Mul<Lane<S>> for Vector<S> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, factor: Lane<S>) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}
