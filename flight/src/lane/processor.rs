//! Which instructions the lanes are made of.

use pulp::{Arch, Scalar, Scalar256b, Simd};

/// A set of vector instructions.
pub trait Processor: Simd {
    /// Whether multiply-add is one instruction. Where it is not, it is a
    /// multiplication and an addition, never a call of a library.
    const FUSED: bool;
}

impl Processor for Scalar {
    const FUSED: bool = false;
}

impl Processor for Scalar256b {
    const FUSED: bool = false;
}

#[cfg(target_arch = "x86_64")]
impl Processor for pulp::x86::V3 {
    const FUSED: bool = true;
}

#[cfg(target_arch = "x86_64")]
impl Processor for pulp::x86::V4 {
    const FUSED: bool = true;
}

/// A processor family. One family gives the same bits everywhere; two families
/// agree within the error budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// AVX-512.
    Avx512,
    /// AVX2 with fused multiply-add.
    Avx2,
    /// Whatever the target always has.
    Plain,
}

impl Family {
    /// The best family that this machine has.
    #[must_use]
    pub fn of_this_machine() -> Self {
        match Arch::new() {
            #[cfg(target_arch = "x86_64")]
            Arch::V4(_) => Self::Avx512,
            #[cfg(target_arch = "x86_64")]
            Arch::V3(_) => Self::Avx2,
            _ => Self::Plain,
        }
    }

    /// Its name in findings.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Avx512 => "avx512",
            Self::Avx2 => "avx2",
            Self::Plain => "plain",
        }
    }

    /// Every family that this machine can run, the best first.
    pub fn available() -> impl Iterator<Item = Self> {
        let best = Self::of_this_machine();
        [Self::Avx512, Self::Avx2, Self::Plain]
            .into_iter()
            .skip_while(move |family| *family != best)
    }

    /// Does `task` on this family, or on the nearest one below it that the
    /// machine has.
    pub fn run<T: Task>(self, task: T) -> T::Output {
        match (self, Arch::new()) {
            #[cfg(target_arch = "x86_64")]
            (Self::Avx512, Arch::V4(simd)) => task.run(simd),
            #[cfg(target_arch = "x86_64")]
            (Self::Avx2, Arch::V4(simd)) => task.run(*simd),
            #[cfg(target_arch = "x86_64")]
            (Self::Avx512 | Self::Avx2, Arch::V3(simd)) => task.run(simd),
            _ => task.run(Scalar256b),
        }
    }
}

/// Something that can be computed on any processor. What is hot in it goes
/// through [`Simd::vectorize`].
pub trait Task {
    /// What comes out.
    type Output;

    /// Does it.
    fn run<S: Processor>(self, simd: S) -> Self::Output;
}
