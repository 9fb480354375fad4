//! Elementary functions that give the same bits on every platform.
//!
//! The standard library's `sin`, `exp`, `ln`, ... call the platform's own
//! mathematics, whose last bits differ; clippy refuses them (see
//! `clippy.toml`). Everything here is the `libm` crate. Square roots are exact
//! everywhere and need no stand-in.

pub use libm::{
    acos, asin, atan, atan2, cbrt, cos, cosh, erfc, exp, expm1, hypot, lgamma, log as ln, log1p,
    log2, log10, pow, sin, sincos, sinh, tan, tanh,
};
