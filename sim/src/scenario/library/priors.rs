//! Planning priors: engineering judgement on published pass and fail points.

use super::{Contact, Demand::NormalEnergy, Entry, Kind, PLANK, POUND, Strength::Prior};

pub(super) const ENTRIES: &[Entry] = &[
    Entry {
        name: "laminated_windscreen",
        words: "a laminated windscreen, passage",
        demand: NormalEnergy,
        strength: Prior { median: 130.0, factor: 2.0, beta: 0.4 },
        missile: "a rigid blunt object of about 80 mm",
        mass: Some(2.26),
        made_of: "hard",
        contact: Some(Contact::Flat(0.08)),
        source: "UN R43 / ISO 3537: a 2.26 kg ball from 4 m (88.65 J) must not pass",
        mark: Kind::Read,
    },
    Entry {
        name: "toughened_glass",
        words: "toughened glass of 4 mm, breakage",
        demand: NormalEnergy,
        strength: Prior { median: 10.0, factor: 3.0, beta: 0.6 },
        missile: "a rigid ball of about 40 mm on 4 mm glass; hard points break it far lower",
        mass: Some(0.227),
        made_of: "hard",
        contact: Some(Contact::Ball(0.04)),
        source: "UN R43: a 227 g ball from 2 to 2.5 m (4.45 to 5.57 J) must not break it",
        mark: Kind::Memory,
    },
    Entry {
        name: "osb_wall",
        words: "a stud wall with 1/2 in board, passage",
        demand: NormalEnergy,
        strength: Prior { median: 300.0, factor: 2.0, beta: 0.4 },
        missile: "a 2x4 plank end on, against 1/2 in board on studs",
        mass: Some(9.0 * POUND),
        made_of: "wood",
        contact: PLANK,
        source: "Building Science RR-0603: every wall failed a 9 lb 2x4 at 50 ft/s (474 J)",
        mark: Kind::Read,
    },
    Entry {
        name: "body_panel",
        words: "a car's outer sheet of 0.8 mm steel, passage",
        demand: NormalEnergy,
        strength: Prior { median: 400.0, factor: 2.0, beta: 0.4 },
        missile: "a rigid blunt object of about 50 mm on 0.8 mm steel",
        mass: None,
        made_of: "hard",
        contact: Some(Contact::Flat(0.05)),
        source: "between the BRL (354 J) and SRI (448 J) formulas for steel plate, both outside \
                 their range",
        mark: Kind::Memory,
    },
    Entry {
        name: "hollow_block_wall",
        words: "an unreinforced wall of hollow block, its first face shell",
        demand: NormalEnergy,
        strength: Prior { median: 2872.0, factor: 1.5, beta: 0.4 },
        missile: "a 15 lb 2x4 plank end on",
        mass: Some(15.0 * POUND),
        made_of: "wood",
        contact: PLANK,
        source: "impact resistance of common building materials to tornado missiles: perforates \
                 the face shell at about 65 mph",
        mark: Kind::Read,
    },
];
