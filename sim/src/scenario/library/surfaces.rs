//! Surfaces known by name: how they throw back a hard, compact thing.
//!
//! Restitution and friction belong to a pair, and to a speed: the figures are
//! ranges for wood, metal or stone that comes down at some metres a second.
//! What is soft or breaks comes back less; a rubber ball more (0.6-0.85, from
//! memory). They are there so that nobody has to start from nothing, and to be
//! replaced by a drop test: restitution is the square root of the height of
//! the rebound over that of the drop.

use crate::note::{Kind, Note, Subject};

/// Its section of the page of trust.
const SUBJECT: Subject =
    Subject { key: "surfaces", claims: "How lively and how rough grounds and faces are" };

/// What it says of itself.
pub(crate) const NOTE: Note = Note {
    subject: &SUBJECT,
    what: "surface",
    how: "restitution, friction and rolling resistance",
    source: "orders of magnitude (from memory), friction about the cargo code's (CTU Code, read)",
    kind: Kind::Memory,
    range: "hard, compact things at some metres a second",
    leaves_out: "",
};

/// Lowest and highest; anything in between is taken to be as likely.
pub type Range = [f64; 2];

/// A surface known by name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Name in a scenario.
    pub name: &'static str,
    /// Coefficient of restitution.
    pub restitution: Range,
    /// Coefficient of sliding friction.
    pub friction: Range,
    /// Coefficient of rolling resistance.
    pub rolling: Range,
    /// What the figures rest on.
    pub source: &'static str,
}

/// What a surface is taken for where nobody says.
pub const UNTOLD: &str = "hard";

const MEMORY: &str = "order of magnitude, from memory; replace by a drop and a drag test";
/// Source: CTU Code, appendix on friction factors (read): steel crate on
/// plywood 0.45, on steel 0.2; rough concrete on sawn wood 0.7. `OpenStax` College
/// Physics, table of friction (read), sliding: steel on steel 0.3, wood on wood
/// 0.3, rubber on concrete 0.5 to 0.7, steel, shoes and ice on ice 0.02 to 0.05.
/// Engineering Toolbox, rolling resistance (read), car tyres: concrete 0.01 to
/// 0.015, asphalt 0.02, loose gravel and soil 0.04 to 0.08, loose sand 0.2 to
/// 0.4; a mine planner's manual after Carvill: sand 0.1 to 0.2.
const CARGO: &str = "restitution an order of magnitude, from memory; friction about the cargo code's and a textbook's tables, rolling about a handbook's (read); replace by a drop and a drag test";
/// Source: Wyllie, Int. J. Rock Mech. Min. Sci. 67 (2014), abstract (read): rocks
/// on rock, talus, soil, asphalt and concrete come back with about 0.2 from steep
/// blows, with more from flat ones. The rest as [`CARGO`].
const ROCKS: &str = "restitution about that of falling rocks (Wyllie 2014, abstract read), friction and rolling about a textbook's and a handbook's tables (read); replace by a drop and a drag test";
/// Rolling as [`CARGO`].
const LOOSE: &str = "restitution and friction an order of magnitude, from memory; rolling about a handbook's table (read); replace by a drop and a drag test";

const fn of(name: &'static str, figures: [Range; 3], source: &'static str) -> Surface {
    let [restitution, friction, rolling] = figures;
    Surface { name, restitution, friction, rolling, source }
}

const SURFACES: [Surface; 12] = [
    of(UNTOLD, [[0.15, 0.4], [0.3, 0.6], [0.01, 0.03]], MEMORY),
    of("asphalt", [[0.1, 0.45], [0.5, 0.8], [0.02, 0.05]], ROCKS),
    of("concrete", [[0.2, 0.4], [0.5, 0.8], [0.01, 0.02]], ROCKS),
    of("masonry", [[0.2, 0.4], [0.5, 0.8], [0.01, 0.03]], CARGO),
    of("steel", [[0.3, 0.6], [0.2, 0.4], [0.002, 0.01]], CARGO),
    of("timber", [[0.2, 0.4], [0.3, 0.6], [0.01, 0.03]], CARGO),
    of("glass", [[0.2, 0.5], [0.2, 0.5], [0.005, 0.02]], MEMORY),
    of("grass", [[0.05, 0.25], [0.35, 0.7], [0.05, 0.15]], MEMORY),
    of("earth", [[0.05, 0.3], [0.4, 0.8], [0.04, 0.12]], ROCKS),
    of("gravel", [[0.05, 0.2], [0.4, 0.7], [0.04, 0.2]], LOOSE),
    of("sand", [[0.0, 0.1], [0.4, 0.7], [0.1, 0.4]], LOOSE),
    of("ice", [[0.2, 0.4], [0.02, 0.1], [0.002, 0.01]], CARGO),
];

/// Every surface known by name.
pub fn surfaces() -> impl Iterator<Item = &'static Surface> {
    SURFACES.iter()
}

/// The surface of this name.
#[must_use]
pub fn surface(name: &str) -> Option<&'static Surface> {
    surfaces().find(|surface| surface.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_is_a_range_within_its_physics() {
        for surface in surfaces() {
            let Surface { restitution, friction, rolling, .. } = surface;
            for [low, high] in [restitution, friction, rolling] {
                assert!(0.0 <= *low && low < high, "{}", surface.name);
            }
            assert!(restitution[1] < 1.0 && rolling[1] < friction[1] * 10.0);
        }
        assert!(surface(UNTOLD).is_some());
    }

    /// Source: CTU Code, appendix on friction factors (read): steel on plywood
    /// 0.45, on steel 0.2; concrete on sawn wood 0.7.
    #[test]
    fn the_cargo_codes_factors_lie_in_the_ranges() {
        for (name, factor) in [("timber", 0.45), ("steel", 0.2), ("concrete", 0.7)] {
            let [low, high] = surface(name).unwrap().friction;
            assert!((low..=high).contains(&factor), "{name}");
        }
    }
}
