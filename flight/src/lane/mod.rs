//! Numbers of many flights side by side: one source for scalar and vector code.
//!
//! A [`Lane`] holds one `f64` of each flight in a block. All that the step
//! loop computes is written once, generic over the [`Processor`], and turned
//! into AVX-512, AVX2 with fused multiply-add, or plain code. Each lane is
//! computed by itself: what stands in the other lanes never changes its bits.
//!
//! Every method is `#[inline(always)]` and there are no closures in what the
//! step loop calls, since code that is not inlined into the function chosen at
//! run time falls back to the baseline instructions (measured: half the speed).

mod cosine;
mod curve;
mod mask;
mod number;
mod per_flight;
mod processor;
mod vector;

pub(crate) use self::per_flight::per_flight;
pub use self::{
    curve::Curve,
    mask::Mask,
    number::Lane,
    processor::{Family, Processor, Task},
    vector::Vector,
};
