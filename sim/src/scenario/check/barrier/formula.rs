//! `barrier: {steel: …}`, `{concrete: …}`, `{board: …}`,
//! `{polycarbonate: …}`, `{pane: …}`: by published formula.

use super::{BETA, PANES, scatter};
use crate::{
    diagnostic::{Diagnostic, Span},
    quantity::Dimension,
    sampling::slot_of,
    scenario::{
        Barrier, Demand, Formula, Input, InputId, MadeOf, Tested,
        library::stuff::{HARD_STUFF, Stuff, stuff},
    },
    text::{
        reader::{Reader, Table},
        row::{Group, Row, Unwritten, number, sub, word},
        what::What,
    },
    uncertain::Distribution,
};

/// Spread of the log of a steel plate's resistance in energy: 0.15 on speed
/// (judgement).
const STEEL_BETA: f64 = 0.3;

/// Ultimate tensile strength of mild steel, in Pa (from memory: 360-510 MPa).
const MILD_STEEL: f64 = 400e6;
/// Density of concrete, in kg/m³ (common practice, no source).
const CONCRETE: f64 = 2400.0;
/// Reinforcement each way on each face, a share of the section (common
/// practice, no source).
const REINFORCED: f64 = 0.01;
/// The board's prior holds within this factor, nine times in ten (judgement).
const BOARD_FACTOR: f64 = 2.0;
/// So do the dart's energies for another make of polycarbonate, another frame
/// and another missile (judgement).
const SHEET_FACTOR: f64 = 1.5;
/// Spread of the log of a sheet's resistance in energy (judgement: half of what
/// walls have, since all of them broke by stretching).
const SHEET_BETA: f64 = 0.2;

/// A pane breaks at a speed within this factor of its kind's, and so at an energy
/// within its square, nine times in ten (judgement).
const PANE_FACTOR: f64 = 4.0;
/// Spread of the log of the energy that breaks a pane: 0.25 on speed (from
/// memory).
const PANE_BETA: f64 = 0.5;

/// Reads the keys of one kind; with the sides of its face.
type Read = fn(&mut Reader<'_>, &Table<'_>, Option<[InputId; 2]>) -> Option<Told>;

/// The row of every kind beside what reads it.
fn kinds() -> [(Row, Read); 5] {
    let length = What::positive(Dimension::Length);
    let thickness = || number("thickness", length, "Its thickness.").like("12 mm");
    let stress = What::positive(Dimension::Pressure).within(1e6, 3e9);
    let density = What::positive(Dimension::Density).within(500.0, 8000.0);
    let share = What::any(Dimension::Ratio).within(0.0, 0.1);
    let steel = vec![
        thickness(),
        number("span", length, "Free span between supports.").like("30 cm"),
        number("strength", stress, "Ultimate tensile strength.").or(MILD_STEEL),
    ];
    let concrete = vec![
        thickness(),
        number("strength", stress, "Strength of its cylinders.").like("30 MPa"),
        number("density", density, "Its density.").or(CONCRETE),
        number("reinforcement", share, "Each way on each face, a share of the section.")
            .or(REINFORCED),
    ];
    let pane = vec![
        word("kind", &PANES, "How the glass was made.").like("toughened"),
        number("thickness", length.within(1e-3, 0.05), "Its thickness.").like("6 mm"),
    ];
    let group = |name, about, rows| sub(name, Group::new(about, rows));
    let board = vec![thickness()];
    [
        (group("steel", "A plate of mild steel.", steel), |r, t, _| Some(self::steel(r, t))),
        (group("concrete", "A wall of reinforced concrete.", concrete), |r, t, _| {
            Some(self::concrete(r, t))
        }),
        (group("board", "Plywood or oriented strand board on studs.", board), |r, t, _| {
            Some(self::board(r, t))
        }),
        (group("polycarbonate", "A sheet of polycarbonate.", vec![thickness()]), |r, t, _| {
            Some(polycarbonate(r, t))
        }),
        (
            group("pane", "A pane of glass as large as its face: when it breaks.", pane),
            |r, t, s| self::pane(r, t, s?),
        ),
    ]
}

pub(super) fn rows() -> Vec<Row> {
    kinds().into_iter().map(|(row, _)| row).collect()
}

/// The keys by which a formula is chosen.
pub(super) fn names() -> [&'static str; 5] {
    kinds().map(|(row, _)| row.name)
}

/// What a kind of barrier says of itself.
struct Told {
    formula: Formula,
    /// What its tests struck with.
    tested: &'static Stuff,
    beta: f64,
    /// Nine times in ten the truth lies within this factor of the formula, 1
    /// where nothing is said of it.
    factor: f64,
    source: &'static str,
    valid: &'static str,
}

/// Reads the barrier of this kind.
pub(super) fn read(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    kind: &str,
    sides: Option<[InputId; 2]>,
) -> Option<Barrier> {
    let others = ["energy", "speed", "measured_as", "contact", "tested_with", "shots"].into_iter();
    let kinds = names().into_iter().filter(|other| *other != kind);
    for other in others.chain(kinds) {
        if let Some((key, _)) = table.get(other) {
            reader.report(
                Diagnostic::error("scenario::alternatives", "a barrier is told in one way")
                    .at(key.span.clone(), format!("`{kind}` is already there"))
                    .help(format!(
                        "keep `{kind}`, with `factor` and `spread` if you like, or this"
                    )),
            );
        }
    }
    let (key, node) = table.get(kind)?;
    let inner = reader.opened(table, key, node)?;
    let (_, read) = self::kinds().into_iter().find(|(row, _)| row.name == kind)?;
    let told = read(reader, &inner, sides)?;
    let factor = factor(reader, table, told.factor, &key.span);
    Some(Barrier {
        demand: Demand::NormalEnergy,
        median: factor,
        formula: Some(told.formula),
        contact: None,
        beta: reader.number_or(table, "spread", Unwritten::Value(told.beta)),
        scatter: scatter(reader, &key.span, &table.path),
        hardest: None,
        lower_bound: false,
        tested: Tested { stuff: told.tested, ..Tested::default() },
        object: MadeOf::default(),
        source: told.source.to_owned(),
        valid: told.valid.to_owned(),
        name: kind.to_owned(),
    })
}

/// The factor on the formula: as told, or the formula's own doubt.
fn factor(reader: &mut Reader<'_>, table: &Table<'_>, within: f64, place: &Span) -> InputId {
    if let Some(told) = reader.told(table, "factor") {
        return told;
    }
    let name = table.path_of("factor");
    match Distribution::lognormal_between(1.0 / within, within) {
        Ok(doubt) if within > 1.0 => {
            let written = format!("within a factor of {within} of the prior, 9 times in 10");
            unknown(reader, name, doubt, written, place)
        }
        _ => reader.assume(name, Dimension::Number, Distribution::fixed(1.0), place.clone()),
    }
}

fn unknown(
    reader: &mut Reader<'_>,
    name: String,
    distribution: Distribution,
    written: String,
    place: &Span,
) -> InputId {
    let slot = slot_of(&name);
    let dimension = Dimension::Number;
    let input =
        Input { name, dimension, distribution, slot, unknown: true, assumed: false, written };
    reader.add(input, place.clone())
}

/// Which of several published formulas is right: nobody knows.
fn which(reader: &mut Reader<'_>, table: &Table<'_>, formulas: &[(f64, &str)]) -> InputId {
    let values: Vec<f64> = formulas.iter().map(|(value, _)| *value).collect();
    let weights = vec![1.0; values.len()];
    let choice = Distribution::choice(&values, &weights).unwrap_or(Distribution::fixed(0.0));
    let names: Vec<String> =
        formulas.iter().map(|(value, name)| format!("{value} {name}")).collect();
    let written = format!("{}: equally likely, only one is right", names.join(", "));
    unknown(reader, table.path_of("formula"), choice, written, &table.at)
}

/// How wide a corner, an edge or a ball bears when a sheet fails: nobody knows.
fn contact(reader: &mut Reader<'_>, table: &Table<'_>) -> InputId {
    let anything = Distribution::uniform(0.0, 1.0).unwrap_or(Distribution::fixed(0.0));
    let written = "0 as far as a dent of 5 mm lets it, 1 all that is seen from the plate: a corner, \
                   an edge or a ball bears somewhere in between";
    unknown(reader, table.path_of("contact"), anything, written.to_owned(), &table.at)
}

fn steel(reader: &mut Reader<'_>, table: &Table<'_>) -> Told {
    Told {
        formula: Formula::Steel {
            thickness: reader.number(table, "thickness"),
            span: reader.number(table, "span"),
            strength: reader.number(table, "strength"),
            which: which(reader, table, &[(0.0, "BRL"), (1.0, "SRI")]),
            contact: contact(reader, table),
        },
        tested: HARD_STUFF,
        beta: STEEL_BETA,
        factor: 1.0,
        source: "formulas of the Ballistic Research Laboratory (as quoted in DOE-STD-3014 and \
                 BC-TOP-9A) and of the Stanford Research Institute (Gwaltney, ORNL-NSIC-22, 1968), \
                 both from memory",
        valid: "rigid blunt missiles, end first and square on; BRL: plates of 0.1 to 0.6 missile \
                diameters at 46 to 122 m/s; SRI: 0.1 to 0.8 diameters, missiles of 10 to 50 \
                diameters' length, spans of 5 to 8, 21 to 122 m/s (ranges from memory): no lump is \
                inside it on sheet thinner than 1 mm; corners, edges and balls bear with what a \
                dent of 5 mm lets in, with all that is seen of them, or anything between; what \
                takes less than the dent leaves a mark; planks, sheets and what crushes go through \
                less",
    }
}

fn concrete(reader: &mut Reader<'_>, table: &Table<'_>) -> Told {
    let formulas = [(0.0, "NDRC"), (1.0, "Degen"), (2.0, "CEA-EDF"), (3.0, "UKAEA")];
    Told {
        formula: Formula::Concrete {
            thickness: reader.number(table, "thickness"),
            strength: reader.number(table, "strength"),
            density: reader.number(table, "density"),
            reinforcement: reader.number(table, "reinforcement"),
            which: which(reader, table, &formulas),
        },
        tested: HARD_STUFF,
        beta: BETA,
        factor: 1.0,
        source: "modified NDRC (Kennedy 1976, read second-hand), Degen 1980 (in DOE-STD-3014, \
                 read), CEA-EDF (Berriaud et al. 1978) and UKAEA (Barr 1990), the last two from \
                 memory; for one shot they differ by a third in thickness",
        valid: "hard flat-nosed missiles, square on: NDRC and Degen 40 to 1000 m/s and 25 to 400 \
                mm, CEA-EDF 20 to 200 m/s and 20 to 300 kg on 23 to 46 MPa, UKAEA 11 to 300 m/s; \
                not hollow block; planks, sheets and what crushes go through less",
    }
}

fn board(reader: &mut Reader<'_>, table: &Table<'_>) -> Told {
    Told {
        formula: Formula::Board { thickness: reader.number(table, "thickness") },
        tested: stuff("wood").unwrap_or(HARD_STUFF),
        beta: BETA,
        factor: BOARD_FACTOR,
        source: "planning prior, replace by a test: 300 J for the end of a 2x4 plank on 1/2 in \
                 board on studs (Building Science RR-0603: every wall failed at 474 J, read), moved \
                 to this thickness and contact by De Marre's exponents (second-hand)",
        valid: "plywood and oriented strand board on studs, struck square on; thickness and \
                contact within a factor of 2 of 12.7 mm and 66 mm",
    }
}

fn polycarbonate(reader: &mut Reader<'_>, table: &Table<'_>) -> Told {
    Told {
        formula: Formula::Polycarbonate { thickness: reader.number(table, "thickness") },
        tested: HARD_STUFF,
        beta: SHEET_BETA,
        factor: SHEET_FACTOR,
        source: "planning prior, replace by a test: what a falling dart of 8 kg with a round head \
                 of 20 mm takes to break sheets of 2 to 6 mm (a sheet maker's manual, to ISO \
                 6603-1:1985, read), moved to this contact by De Marre's exponents (second-hand)",
        valid: "new polycarbonate of 2 to 6 mm that is firmly held, struck square on away from \
                its edge by something hard and blunt, contact within a factor of 2 of 20 mm; sun \
                and cutting oils make it weaker, sharp edges go through less",
    }
}

fn pane(reader: &mut Reader<'_>, table: &Table<'_>, sides: [InputId; 2]) -> Option<Told> {
    let kind = reader.word_of(table, "kind", "a kind of glass", &PANES)?;
    let thickness = reader.number(table, "thickness");
    Some(Told {
        formula: Formula::Pane { kind, thickness, sides },
        tested: HARD_STUFF,
        beta: PANE_BETA,
        factor: PANE_FACTOR,
        source: "planning prior, replace by a test: the speed at which something small and hard \
                 breaks glass of this kind, whatever its thickness (drop tests of the 1870s, read: \
                 ordinary glass broke at 2.8 to 3.1 m/s, toughened at 5.4 and over 6.3; 227 g from 2 \
                 to 2.5 m, 6.3 to 7.0 m/s, must not break toughened car glass, UN R43, from memory), \
                 or the energy that bends a pane of this thickness and of the face's shorter side to \
                 the same stress, if that is less (plate theory, derived)",
        valid: "breaking, not passing; it orders cases and does not predict: compact hard things of \
                50 g to 5 kg on panes of 3 to 12 mm, away from the edge and from scratches (at an edge \
                half the stress is enough); laminated glass breaks like its plies and is gone through \
                far later: for that the classes `en356_…`",
    })
}
