//! Published public-risk criteria, each as it was published.
//!
//! Population screening numbers of public safety standards and of tests with
//! cadavers; none is a line below which nobody is hurt, and none is our own.

use super::Kind;
use crate::scenario::InputId;

/// What a criterion compares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    /// Kinetic energy, in J.
    Energy,
    /// Kinetic energy over the area of the contact, in J/cm².
    PerArea,
    /// The blunt criterion `ln(E/(W^⅓ T D))` on the chest.
    Blunt {
        /// Mass of the person struck, in kg.
        mass: f64,
        /// Body wall over the cube root of the mass, in cm/kg^⅓.
        wall: f64,
    },
    /// The head injury criterion over 15 ms of an assumed pulse.
    HeadHic {
        /// Shape of the pulse.
        pulse: HeadPulse,
        /// How long it lasts, in s.
        lasts: InputId,
        /// Mass of the head, in kg.
        head: InputId,
        /// Restitution of the blow, 0..=1.
        restitution: InputId,
    },
}

impl Quantity {
    /// What is compared, in words.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self {
            Self::Energy => "kinetic energy of what arrives against a threshold",
            Self::PerArea => "kinetic energy of what arrives over the area of its contact",
            Self::Blunt { .. } => {
                "the blunt criterion: energy of what arrives against the size of its contact and \
                 of the person"
            }
            Self::HeadHic { .. } => {
                "the head injury criterion over 15 ms: momentum of what arrives given to a free \
                 head, in an assumed pulse"
            }
        }
    }
}

/// Shape of the blow that a head is thought to feel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadPulse {
    /// Half a sine.
    HalfSine,
    /// A sine squared.
    Haversine,
    /// A triangle.
    Triangle,
}

/// A published criterion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Criterion {
    /// Name in a scenario.
    pub name: &'static str,
    /// What is compared.
    pub quantity: Quantity,
    /// With what, in the quantity's own unit.
    pub value: f64,
    /// What it stands for, in its own field's words.
    pub meaning: &'static str,
    /// Whom or what it was made for.
    pub population: &'static str,
    /// Where it stops.
    pub limits: &'static str,
    /// Where it is from.
    pub source: &'static str,
    /// How well it is known here.
    pub mark: Kind,
}

impl Criterion {
    /// All of it in one sentence.
    #[must_use]
    pub fn standing(&self) -> String {
        let Self { meaning, population, limits, source, mark, .. } = self;
        format!(
            "{meaning}; for {population}; {limits}; {source} ({}); a screening value: below it is \
             not safe",
            mark.words()
        )
    }
}

const FOOT_POUND: f64 = 1.355_817_948_331_4;

/// What every threshold on energy leaves out.
const ENERGY_LIMITS: &str = "knows neither contact area nor give: what crushes or is broad is \
                             overstated, what is pointed or small understated";

/// Limit of the head injury criterion over 15 ms, what it stands for, and where
/// it stops.
pub(crate) const HEAD_LIMIT: f64 = 700.0;
/// See [`HEAD_LIMIT`].
pub(crate) const HEAD_STANDING: &str = "head injury criterion over 15 ms (HIC15) against its limit for a \
    dummy of a mean adult man in a car's frontal collision; for blunt, broad blows to the head: not \
    for what is small and fast, whose load on the skull is local; the pulse is ASSUMED, and half its \
    length makes the criterion 2.8 times as large; the object's whole mass counts, its turning does \
    not; 49 CFR 571.208 S6 (read second-hand); a screening value: below it is not safe";

/// How well that is known here.
pub const HEAD_KIND: Kind = Kind::SecondHand;

/// What the skin criteria leave out.
const SKIN_LIMITS: &str = "for compact projectiles; the area is that of the contact as it struck \
                           the face; eyes and thin skin go far below";

/// Every criterion: energies in rising order, then those that know the contact.
pub const CRITERIA: &[Criterion] = &[
    Criterion {
        name: "launch_debris",
        quantity: Quantity::Energy,
        value: 11.0 * FOOT_POUND,
        meaning: "inert debris that may cause a casualty (11 ft-lbf)",
        population: "people in the open near a launch",
        limits: ENERGY_LIMITS,
        source: "Range Commanders Council 321, value quoted from an FAA workshop of 2003",
        mark: Kind::SecondHand,
    },
    Criterion {
        name: "reentry_debris",
        quantity: Quantity::Energy,
        value: 15.0,
        meaning: "debris that counts towards the casualty area of a re-entry",
        population: "people in the open, as a disc of 0.3 m radius",
        limits: ENERGY_LIMITS,
        source: "NASA-STD-8719.14, 4.7",
        mark: Kind::Memory,
    },
    Criterion {
        name: "drone_over_people",
        quantity: Quantity::Energy,
        value: 25.0 * FOOT_POUND,
        meaning: "small unmanned aircraft over people, category 3: injury less than that of a \
                  rigid object of 25 ft-lbf",
        population: "people in the open",
        limits: ENERGY_LIMITS,
        source: "14 CFR 107.130(a)(1)",
        mark: Kind::Read,
    },
    Criterion {
        name: "hazardous_fragment",
        quantity: Quantity::Energy,
        value: 79.0,
        meaning: "hazardous fragment of explosives safety (58 ft-lbf): a hit counts as a \
                  casualty, not necessarily a death",
        population: "a standing adult",
        limits: ENERGY_LIMITS,
        source: "58 ft-lbf also in a US ordnance table of 1944, read second-hand; DoD 6055.09",
        mark: Kind::Memory,
    },
    Criterion {
        name: "skin_penetration",
        quantity: Quantity::PerArea,
        value: 10.0,
        meaning: "conservative threshold of skin penetration, 10 J/cm2",
        population: "bare skin of adults",
        limits: SKIN_LIMITS,
        source: "Sellier and Kneubuehl",
        mark: Kind::Memory,
    },
    Criterion {
        name: "skin_penetration_chest",
        quantity: Quantity::PerArea,
        value: 23.99,
        meaning: "even chance of penetration at the front of the chest, 23.99 J/cm2",
        population: "8 cadavers, 12-gauge rubber rounds",
        limits: SKIN_LIMITS,
        source: "Bir et al. 2005",
        mark: Kind::Read,
    },
    Criterion {
        name: "chest_blunt",
        quantity: Quantity::Blunt { mass: 70.0, wall: 0.711 },
        value: 0.37,
        meaning: "blunt criterion of the chest 0.37: even chance of AIS 2 to 3",
        population: "an adult man of 70 kg",
        limits: "for rigid blunt objects of 2 to 12 cm at 20 to 100 m/s, never for what is sharp \
                 or crushes",
        source: "Clare et al. 1975; Sturdivan, Viano and Champion 2004; 0.37: Bir and Viano 2004",
        mark: Kind::Memory,
    },
];

/// The criterion of this name.
#[must_use]
pub fn criterion(name: &str) -> Option<&'static Criterion> {
    CRITERIA.iter().find(|criterion| criterion.name == name)
}
