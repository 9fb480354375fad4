//! Barriers known by name.
//!
//! Every entry is a planning prior, to be replaced by a test of the real
//! thing: a round figure built on the pass and fail points that standards and
//! reports publish, for the missile it names. Its median is an unknown of the
//! scenario, so that its doubt stands in every answer.

use super::Demand;

/// A barrier known by name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Name in a scenario.
    pub name: &'static str,
    /// What its strength is measured in.
    pub demand: Demand,
    /// The blow that half of the tries go through at, in J or m/s.
    pub median: f64,
    /// Nine times out of ten the true median lies within this factor of
    /// `median`, either way.
    pub factor: f64,
    /// Shot-to-shot spread: standard deviation of the log of the resistance.
    pub beta: f64,
    /// The missile that the figure holds for.
    pub missile: &'static str,
    /// What the figure rests on.
    pub source: &'static str,
}

/// Every barrier known by name.
pub const LIBRARY: &[Entry] = &[
    Entry {
        name: "laminated_windscreen",
        demand: Demand::NormalEnergy,
        median: 130.0,
        factor: 2.0,
        beta: 0.4,
        missile: "a rigid blunt object of about 80 mm",
        source: "UN R43 / ISO 3537: a 2.26 kg ball from 4 m (88.65 J) must not pass",
    },
    Entry {
        name: "toughened_glass",
        demand: Demand::NormalEnergy,
        median: 10.0,
        factor: 3.0,
        beta: 0.6,
        missile: "a rigid ball of about 40 mm on 4 mm glass; hard points break it far lower",
        source: "UN R43: a 227 g ball from 2 to 2.5 m (4.45 to 5.57 J) must not break it \
                 (from memory)",
    },
    Entry {
        name: "osb_wall",
        demand: Demand::NormalEnergy,
        median: 300.0,
        factor: 2.0,
        beta: 0.4,
        missile: "a 2x4 plank end on, against 1/2 in board on studs",
        source: "Building Science RR-0603: every wall failed a 9 lb 2x4 at 50 ft/s (474 J)",
    },
    Entry {
        name: "body_panel",
        demand: Demand::NormalEnergy,
        median: 400.0,
        factor: 2.0,
        beta: 0.4,
        missile: "a rigid blunt object of about 50 mm on 0.8 mm steel",
        source: "between the BRL (354 J) and SRI (448 J) formulas for steel plate, both outside \
                 their range",
    },
];

/// The barrier of this name.
#[must_use]
pub fn entry(name: &str) -> Option<&'static Entry> {
    LIBRARY.iter().find(|entry| entry.name == name)
}
