//! Glass and eye protection, by the impact tests they passed.

use super::{
    Contact, Demand::NormalEnergy, Entry, INCH, Kind, POUND, Strength::AtLeast, fall, shot,
};

/// What a test strikes with, its contact, its mass (kg) and what it is made of.
type Missile = (&'static str, Option<Contact>, f64, &'static str);

/// A guarantee in energy along the normal.
const fn passed(
    name: &'static str,
    words: &'static str,
    energy: f64,
    missile: Missile,
    source: &'static str,
    mark: Kind,
) -> Entry {
    let (missile, contact, mass, made_of) = missile;
    let mass = Some(mass);
    let strength = AtLeast(energy);
    let demand = NormalEnergy;
    Entry { name, words, demand, strength, missile, mass, made_of, contact, source, mark }
}

const HEAVY_BALL: Missile =
    ("a steel ball of 2.26 kg, 82 mm", Some(Contact::Ball(0.082)), 2.26, "hard");
const SMALL_BALL: Missile =
    ("a steel ball of 227 g, 38 mm", Some(Contact::Ball(0.038)), 0.227, "hard");
const HEADFORM: Missile = ("a headform of 10 kg", None, 10.0, "wood");
const SMALL_BAG: Missile = ("a soft bag of shot, 11 lb", None, 4.99, "sandbag");
const BURGLAR_BALL: Missile =
    ("a steel ball of 4.11 kg, 100 mm, three times", Some(Contact::Ball(0.1)), 4.11, "hard");
const TYRES: Missile = ("a soft heavy body (twin-tyre pendulum of 50 kg)", None, 50.0, "tyre");
const BAG: Missile = ("a soft heavy body (leather bag of 100 lb)", None, 100.0 * POUND, "sandbag");
const EYE_BALL: Missile = ("a steel ball of 0.86 g, 6 mm", Some(Contact::Ball(0.006)), EYE, "hard");

/// Mass of the eye protection ball, in kg.
const EYE: f64 = 0.86e-3;

pub(super) const ENTRIES: &[Entry] = &[
    passed(
        "r43_windscreen",
        "a laminated windscreen, passage",
        fall(2.26, 4.0),
        HEAVY_BALL,
        "UN R43 / ISO 3537, 4 m: not through within 5 s",
        Kind::Read,
    ),
    passed(
        "z26_windscreen",
        "a laminated windscreen, passage",
        fall(2.26, 3.66),
        HEAVY_BALL,
        "ANSI Z26.1 / FMVSS 205, 12 ft",
        Kind::Read,
    ),
    passed(
        "r43_windscreen_ball",
        "a laminated windscreen up to 4.5 mm, passage of a small hard ball",
        fall(0.227, 9.0),
        SMALL_BALL,
        "UN R43, 9 m at 40 degC (thicker glass: 10 to 12 m)",
        Kind::Memory,
    ),
    passed(
        "r43_windscreen_head",
        "a laminated windscreen, passage of a headform",
        fall(10.0, 1.5),
        HEADFORM,
        "UN R43, 1.5 m",
        Kind::Memory,
    ),
    passed(
        "z26_windscreen_ball",
        "a laminated windscreen, passage of a small hard ball",
        fall(0.227, 9.14),
        SMALL_BALL,
        "ANSI Z26.1, 30 ft",
        Kind::Memory,
    ),
    passed(
        "z26_glass_bag",
        "car glass, a soft bag of shot",
        fall(4.99, 2.44),
        SMALL_BAG,
        "ANSI Z26.1, 11 lb from 8 ft",
        Kind::Memory,
    ),
    passed(
        "r43_side_glass_thin",
        "toughened side glass up to 3.5 mm, breakage",
        fall(0.227, 2.0),
        SMALL_BALL,
        "UN R43 Annex 5, 2.0 m",
        Kind::Memory,
    ),
    passed(
        "r43_side_glass",
        "toughened side glass above 3.5 mm, breakage",
        fall(0.227, 2.5),
        SMALL_BALL,
        "UN R43 Annex 5, 2.5 m",
        Kind::Memory,
    ),
    passed(
        "z26_side_glass",
        "tempered side glass, breakage",
        fall(0.227, 3.05),
        SMALL_BALL,
        "ANSI Z26.1, 10 ft",
        Kind::Memory,
    ),
    passed(
        "en356_p1a",
        "laminated security glazing P1A, passage",
        fall(4.11, 1.5),
        BURGLAR_BALL,
        "EN 356, 1.5 m; the published 62 J needs a heavier ball",
        Kind::SecondHand,
    ),
    passed(
        "en356_p2a",
        "laminated security glazing P2A, passage",
        fall(4.11, 3.0),
        BURGLAR_BALL,
        "EN 356, 3 m; the published 123 J needs a heavier ball",
        Kind::SecondHand,
    ),
    passed(
        "en356_p3a",
        "laminated security glazing P3A, passage",
        fall(4.11, 6.0),
        BURGLAR_BALL,
        "EN 356, 6 m; the published 247 J needs a heavier ball",
        Kind::SecondHand,
    ),
    passed(
        "en356_p4a",
        "laminated security glazing P4A, passage",
        fall(4.11, 9.0),
        BURGLAR_BALL,
        "EN 356, 9 m; the published 370 J needs a heavier ball",
        Kind::SecondHand,
    ),
    passed(
        "en356_p5a",
        "laminated security glazing P5A, passage",
        fall(4.11, 9.0),
        ("a steel ball of 4.11 kg, 100 mm, nine times", Some(Contact::Ball(0.1)), 4.11, "hard"),
        "EN 356, 9 m, nine hits",
        Kind::SecondHand,
    ),
    passed(
        "en12600_3",
        "flat glass of class 3, unbroken or broken safely",
        fall(50.0, 0.19),
        TYRES,
        "EN 12600, 190 mm",
        Kind::SecondHand,
    ),
    passed(
        "en12600_2",
        "flat glass of class 2, unbroken or broken safely",
        fall(50.0, 0.45),
        TYRES,
        "EN 12600, 450 mm",
        Kind::SecondHand,
    ),
    passed(
        "en12600_1",
        "flat glass of class 1, unbroken or broken safely",
        fall(50.0, 1.2),
        TYRES,
        "EN 12600, 1200 mm",
        Kind::SecondHand,
    ),
    passed(
        "cpsc_1",
        "safety glazing of category I, unbroken or broken safely",
        fall(100.0 * POUND, 18.0 * INCH),
        BAG,
        "16 CFR 1201, 18 in",
        Kind::Memory,
    ),
    passed(
        "cpsc_2",
        "safety glazing of category II, unbroken or broken safely",
        fall(100.0 * POUND, 48.0 * INCH),
        BAG,
        "16 CFR 1201, 48 in",
        Kind::Memory,
    ),
    passed(
        "en166_f",
        "eye protection marked F, passage and breakage",
        shot(EYE, 45.0),
        EYE_BALL,
        "EN 166, 45 m/s",
        Kind::Memory,
    ),
    passed(
        "en166_b",
        "eye protection marked B, passage and breakage",
        shot(EYE, 120.0),
        EYE_BALL,
        "EN 166, 120 m/s",
        Kind::Memory,
    ),
    passed(
        "en166_a",
        "polycarbonate eye protection marked A, passage and breakage",
        shot(EYE, 190.0),
        EYE_BALL,
        "EN 166, 190 m/s",
        Kind::Memory,
    ),
];
