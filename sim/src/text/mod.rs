//! Text as people write it: read into a tree, checked key by key.
//!
//! A language is a table with a row for each key ([`Group`], [`Row`]), kept beside
//! the code that knows what the key means: in `scenario`, in `rig`. The reader
//! goes down the text along the rows, which hold each number's dimension, bounds
//! and default; JSON Schema, reference and [`leaves`] are made from the same rows.

mod deeper;
pub mod file;
pub(crate) mod leaf;
pub(crate) mod measured;
pub(crate) mod nearest;
pub(crate) mod reader;
pub(crate) mod reference;
pub(crate) mod row;
pub(crate) mod schema;
mod sort;
pub(crate) mod spread;
#[cfg(test)]
mod tests;
mod told;
pub(crate) mod what;
pub(crate) mod yaml;

pub use self::{
    leaf::{Leaf, leaves},
    row::{Group, Kind, Row, Unwritten},
    sort::Sort,
    told::{Part, Told},
    what::What,
};

use crate::quantity::Show;

/// Words for the units of results.
pub(crate) const SHOW: [(&str, Show); 2] = [("si", Show::Si), ("imperial", Show::Imperial)];

/// Longest text that is read, in bytes (1 MiB).
pub const LONGEST: usize = 1 << 20;
