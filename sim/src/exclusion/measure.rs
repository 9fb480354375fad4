//! Directions that a distance is taken in.

use crate::math::hypot;
use serde::{Deserialize, Serialize};

/// In which direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// In any direction.
    Away,
    /// Along x.
    Forward,
    /// Against x.
    Back,
    /// Along y, to the left or to the right.
    Sideways,
}

impl Measure {
    /// Every measure, in the order of a table.
    pub const ALL: [Self; 4] = [Self::Away, Self::Forward, Self::Back, Self::Sideways];

    /// As words in a table.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Away => "in any direction",
            Self::Forward => "downrange",
            Self::Back => "backwards",
            Self::Sideways => "to either side",
        }
    }

    /// How far a point of the ground (x, y from the centre, in m) lies in this
    /// direction, in m; negative on the other side.
    #[must_use]
    pub fn of(self, [x, y]: [f64; 2]) -> f64 {
        match self {
            Self::Away => hypot(x, y),
            Self::Forward => x,
            Self::Back => -x,
            Self::Sideways => y.abs(),
        }
    }
}
