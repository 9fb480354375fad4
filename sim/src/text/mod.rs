//! Text as people write it: read into a tree, checked key by key.
//!
//! [`yaml`] knows the YAML crate and the places, [`reader`] groups of keys and
//! what is wrong with them, [`spread`] the ways to write a number. What the
//! keys mean is for those above: a scenario, a rig.

pub(crate) mod file;
pub(crate) mod measured;
pub(crate) mod reader;
mod sort;
pub(crate) mod spread;
pub(crate) mod what;
pub(crate) mod yaml;

pub use self::sort::Sort;

/// Longest text that is read, in bytes (1 MiB).
pub const LONGEST: usize = 1 << 20;
