//! `object.made_of`: by name, or the pressure at which it crushes.

use crate::{
    diagnostic::Span,
    quantity::Dimension,
    sampling::slot_of,
    scenario::{
        Input, InputId, MadeOf,
        library::stuff::{Gives, STUFFS, Stuff, TOLD_STUFF},
    },
    text::{
        reader::{Reader, Table},
        row::{Group, Kind, Row, number},
        what::What,
        yaml::{Node, Value},
    },
    uncertain::Distribution,
};

pub(super) fn row() -> Row {
    let what = What::positive(Dimension::Pressure).within(1e3, 1e9);
    let told = vec![number("crush", what, "The pressure at which it crushes.").like("2 MPa")];
    let told = Group::new("As told.", told);
    let doc = "What is softer than what a barrier was tested with goes through at most as often \
               as is shown, and never where it crushes first.";
    Row::new("made_of", Kind::Either(vec![stuffs(), Kind::Group(told)]), doc).may("hard")
}

/// The stuffs of the library.
pub(super) fn stuffs() -> Kind {
    Kind::names(STUFFS.iter().map(|stuff| stuff.name))
}

/// What it is made of; hard where nobody says.
pub(super) fn read(reader: &mut Reader<'_>, object: &Table<'_>) -> MadeOf {
    let Some((key, node)) = object.get("made_of") else { return MadeOf::default() };
    let path = object.path_of("made_of");
    if let Value::Map(_) = node.value {
        return as_told(reader, object).unwrap_or_default();
    }
    let Some(stuff) = by_name(reader, node, &key.span) else { return MadeOf::default() };
    let soft = stuff.gives != Gives::Not;
    let pressure = soft.then(|| share(reader, stuff, path, key.span.clone()));
    MadeOf { stuff, pressure, range: stuff.gives.range(), told: true }
}

/// One of the stuffs of the library.
pub(super) fn by_name(reader: &mut Reader<'_>, node: &Node, at: &Span) -> Option<&'static Stuff> {
    let names: Vec<(&str, &'static Stuff)> =
        STUFFS.iter().map(|stuff| (stuff.name, stuff)).collect();
    reader.word(node, at, "what something is made of", &names)
}

/// Where between its ends its pressure lies: nobody knows.
fn share(reader: &mut Reader<'_>, stuff: &Stuff, name: String, place: Span) -> InputId {
    let input = Input {
        slot: slot_of(&name),
        name,
        dimension: Dimension::Number,
        distribution: Distribution::uniform(0.0, 1.0).unwrap_or(Distribution::fixed(0.5)),
        unknown: true,
        assumed: false,
        written: format!("{}: 0 as soft as such things are, 1 as hard", stuff.name),
    };
    reader.add(input, place)
}

fn as_told(reader: &mut Reader<'_>, object: &Table<'_>) -> Option<MadeOf> {
    let table = reader.open(object, "made_of")?;
    let crush = reader.number(&table, "crush");
    let ends = [0.01, 0.99].map(|share| reader.inputs[crush.0].distribution.quantile(share));
    Some(MadeOf { stuff: TOLD_STUFF, pressure: Some(crush), range: ends, told: true })
}
