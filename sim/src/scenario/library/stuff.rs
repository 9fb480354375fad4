//! What things are made of, as far as it decides what they do to a barrier.
//!
//! A barrier's figure was found with some missile, most often a ball of steel or
//! the end of a plank. What is softer crushes or flows and pushes with no more
//! than its own pressure: its blow is no harder, so that a figure found with
//! something harder still is a bound. What pressure it is lies between two ends,
//! and where, nobody knows.

use super::Kind;

/// How something gives way under a blow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gives {
    /// Not before the barrier does.
    Not,
    /// It crushes, at a pressure between these, in Pa.
    At([f64; 2]),
    /// It crushes likewise while it is slow; faster, its own inertia is the
    /// stronger and it splashes at ½ρv².
    Splashes {
        /// At a pressure between these, in Pa.
        at: [f64; 2],
        /// In kg/m³.
        density: f64,
    },
    /// It flows like water: at something between ½ρv², and the pressure of the
    /// first instant, ρ(c + 2v)v.
    Flows {
        /// In kg/m³.
        density: f64,
    },
    /// At the pressure that the scenario tells.
    AsTold,
}

/// Speed of a shock in water at no strength, in m/s. Source: gelatine and water
/// after Wilbeck (read second-hand).
const SHOCK: f64 = 1482.9;
/// What it gains over the speed of the blow (same source).
const SHOCK_SLOPE: f64 = 2.0;
/// Least pressure that what counts as hard stands, in Pa: below the hardness of
/// mild steel and of stone (from memory: 1 to 2 `GPa`).
const HARD: f64 = 1e9;
/// Fastest blow that ranges are compared for, in m/s.
const FAST: f64 = 60.0;

impl Gives {
    /// Pressure at the contact in a blow of this speed (m/s), in Pa. `share`,
    /// 0..=1: where between its ends it lies, on a scale of ratios.
    #[must_use]
    pub fn pressure(self, share: f64, speed: f64) -> f64 {
        let between = |[low, high]: [f64; 2]| low * crate::math::pow(high / low, share);
        match self {
            Self::Not | Self::AsTold => f64::INFINITY,
            Self::At(ends) => between(ends),
            Self::Splashes { at, density } => between(at).max(stagnation(density, speed)),
            Self::Flows { density } if speed > 0.0 => {
                between([stagnation(density, speed), hammer(density, speed)])
            }
            Self::Flows { .. } => 0.0,
        }
    }

    /// The least and the most it can be, in Pa.
    #[must_use]
    pub fn range(self) -> [f64; 2] {
        match self {
            Self::Not | Self::AsTold => [HARD, f64::INFINITY],
            Self::At(ends) => ends,
            Self::Splashes { at, density } => [at[0], at[1].max(stagnation(density, FAST))],
            Self::Flows { density } => [0.0, hammer(density, FAST)],
        }
    }
}

fn stagnation(density: f64, speed: f64) -> f64 {
    0.5 * density * speed * speed
}

fn hammer(density: f64, speed: f64) -> f64 {
    density * (SHOCK + SHOCK_SLOPE * speed) * speed
}

/// Something that things are made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stuff {
    /// Name in a scenario.
    pub name: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// How it gives way.
    pub gives: Gives,
    /// What that rests on.
    pub source: &'static str,
    /// How well it is known here.
    pub mark: Kind,
}

/// What does not give: metal, stone, brick, glass. Taken where nothing is told.
pub(crate) const HARD_STUFF: &Stuff = &STUFFS[0];

/// What crushes at a pressure that the scenario tells.
pub(crate) const TOLD_STUFF: &Stuff = &Stuff {
    name: "as told",
    words: "something that crushes at the pressure told",
    gives: Gives::AsTold,
    source: "the scenario",
    mark: Kind::Read,
};

const fn at(
    name: &'static str,
    words: &'static str,
    ends: [f64; 2],
    source: &'static str,
    mark: Kind,
) -> Stuff {
    Stuff { name, words, gives: Gives::At(ends), source, mark }
}

/// Everything known by name, the hard first.
pub(crate) const STUFFS: &[Stuff] = &[
    Stuff {
        name: "hard",
        words: "metal, stone, brick, glass",
        gives: Gives::Not,
        source: "it does not give before the barrier does",
        mark: Kind::Memory,
    },
    at(
        "plastic",
        "hard plastic: trims, housings, crates",
        [20e6, 120e6],
        "yield of common plastics, 20 to 100 MPa, widened",
        Kind::Memory,
    ),
    at(
        "wood",
        "planks, poles, boards",
        [3e6, 50e6],
        "30 to 50 MPa along the grain, 3 to 8 across",
        Kind::Memory,
    ),
    at(
        "ice",
        "hailstones, test ice balls, icicles",
        [10e6, 40e6],
        "peak pressures of 25 to 41 MPa measured at 1.8 to 3.9 m/s, less on the whole contact \
         (Gagnon & Gammon 1997, abstract read)",
        Kind::SecondHand,
    ),
    at(
        "rubber",
        "solid rubber: mats, blocks, balls",
        [1e6, 30e6],
        "no source found: stiffness of soft to hard rubber, widened",
        Kind::Memory,
    ),
    at(
        "tyre",
        "a tyre that meets with its tread, full of air; its rim is hard",
        [0.15e6, 3e6],
        "no source found: filled to 0.2 to 0.9 MPa, and its carcass, widened",
        Kind::Memory,
    ),
    at(
        "foam",
        "packaging and insulation foam",
        [0.03e6, 0.62e6],
        "expanded polystyrene of 11 to 38 kg/m³ at 10 % strain, 40 to 414 kPa (ASTM D6817), by \
         0.8 to 1.5",
        Kind::SecondHand,
    ),
    Stuff {
        name: "fruit",
        words: "apples, pumpkins, vegetables",
        gives: Gives::Splashes { at: [0.3e6, 1.5e6], density: 850.0 },
        source: "apples 0.32 to 0.37 MPa, pumpkin flesh 0.54 and skin 1.45 MPa (abstracts read)",
        mark: Kind::SecondHand,
    },
    Stuff {
        name: "bag_of_water",
        words: "balloons and bags of water, birds, meat",
        gives: Gives::Flows { density: 1000.0 },
        source: "between ½ρv² and ρ(1483 m/s + 2v)v (after Wilbeck)",
        mark: Kind::SecondHand,
    },
    at(
        "sandbag",
        "bags of sand, shot, grain",
        [0.05e6, 2e6],
        "no source found: what loose grain bears, widened",
        Kind::Memory,
    ),
];

/// What is called this.
#[must_use]
pub fn stuff(name: &str) -> Option<&'static Stuff> {
    STUFFS.iter().find(|stuff| stuff.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn gives(name: &str) -> Gives {
        stuff(name).expect("it is listed").gives
    }

    /// Source: ρ(c₀ + k u)u and ½ρu² for ρ 950, c₀ 1482.9, k 2 at 15, 30 and 60
    /// m/s: 21.6, 44.0, 91.4 MPa and 0.107, 0.428, 1.71 MPa (after Wilbeck, read
    /// second-hand).
    #[test]
    fn water_hammers_first_and_flows_then() {
        let water = Gives::Flows { density: 950.0 };
        for (speed, first, then) in
            [(15.0, 21.6e6, 0.107e6), (30.0, 44.0e6, 0.428e6), (60.0, 91.4e6, 1.71e6)]
        {
            assert!((water.pressure(1.0, speed) / first - 1.0).abs() < 5e-3, "{speed}");
            assert!((water.pressure(0.0, speed) / then - 1.0).abs() < 5e-3, "{speed}");
        }
    }

    /// Source: an apple of 0.34 MPa flows from √(2σ/ρ), 28 m/s for 850 kg/m³, on.
    #[test]
    fn fruit_splashes_once_it_is_fast() {
        let apple = Gives::Splashes { at: [0.34e6, 0.34e6], density: 850.0 };
        assert!((apple.pressure(0.5, 20.0) - 0.34e6).abs() < 1.0);
        assert!((apple.pressure(0.5, 28.284) / 0.34e6 - 1.0).abs() < 1e-3);
        assert!(apple.pressure(0.5, 56.57) > 1.3e6);
    }

    #[test]
    fn whatever_is_no_harder_pushes_no_harder() {
        for stuff in STUFFS {
            let [least, most] = stuff.gives.range();
            assert!(least <= most, "{}", stuff.name);
            for (share, speed) in [(0.0, 1.0), (0.5, 10.0), (1.0, 50.0)] {
                let pressure = stuff.gives.pressure(share, speed);
                assert!(pressure <= most && pressure >= least.min(pressure), "{}", stuff.name);
            }
            if stuff.gives != Gives::Not {
                assert!(most < HARD, "{} is as hard as stone", stuff.name);
            }
        }
        assert!(gives("foam").range()[1] < gives("wood").range()[0]);
    }

    #[test]
    fn names_are_unique() {
        let names: BTreeSet<&str> = STUFFS.iter().map(|stuff| stuff.name).collect();
        assert_eq!(names.len(), STUFFS.len());
    }
}
