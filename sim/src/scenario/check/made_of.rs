//! `object.made_of`: by name, or the pressure at which it crushes.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    diagnostic::Span,
    quantity::Dimension,
    sampling::slot_of,
    scenario::{
        Input, InputId, MadeOf,
        library::stuff::{Gives, STUFFS, Stuff, TOLD_STUFF},
    },
    text::yaml::{Node, Value},
    uncertain::Distribution,
};

pub(in crate::scenario) const KEYS: [&str; 1] = ["crush"];

/// What it is made of; hard where nobody says.
pub(super) fn read(reader: &mut Reader<'_>, object: &Table<'_>) -> MadeOf {
    let Some((key, node)) = object.get("made_of") else { return MadeOf::default() };
    let path = object.path_of("made_of");
    if let Value::Map(_) = node.value {
        return as_told(reader, node, &key.span, &path).unwrap_or_default();
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

fn as_told(reader: &mut Reader<'_>, node: &Node, at: &Span, path: &str) -> Option<MadeOf> {
    let table = reader.table(node, at, path, &KEYS)?;
    let what = What::positive(Dimension::Pressure).within(1e3, 1e9);
    let crush = reader.number(&table, "crush", what);
    let ends = [0.01, 0.99].map(|share| reader.inputs[crush.0].distribution.quantile(share));
    Some(MadeOf { stuff: TOLD_STUFF, pressure: Some(crush), range: ends, told: true })
}
