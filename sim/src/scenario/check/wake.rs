//! `wake`: the air that a carrier drags along.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{
    quantity::Dimension,
    sampling::slot_of,
    scenario::{CarrierWake, Input, InputId},
    uncertain::Distribution,
};

pub(in crate::scenario) const KEYS: [&str; 5] =
    ["drag_area", "height", "tail", "dead_air", "strength"];

/// How far dead air reaches behind a tail, in heights of the carrier. Source:
/// about 1.4 behind flat-backed models of cars, 1 behind lorries, less behind
/// saloons (from memory).
const DEAD_AIR: [f64; 2] = [0.7, 1.5];
/// Speed of a wake over the published one. A judgement: behind a truck 0.8 to
/// 1.2 times the model was measured (see `flight`'s `wake`), right behind a tail
/// the air flows on towards it at up to 0.3 of the speed (from memory), and no
/// vehicle is a disc.
const STRENGTH: [f64; 2] = [0.6, 1.3];

pub(super) fn read(reader: &mut Reader<'_>, shed: &Table<'_>) -> Option<CarrierWake> {
    let (key, node) = shed.get("wake")?;
    let table = reader.table(node, &key.span, &shed.path_of("wake"), &KEYS)?;
    let area = What::positive(Dimension::Area).within(0.05, 40.0);
    let height = What::positive(Dimension::Length).within(0.3, 10.0);
    let tail = What::any(Dimension::Length).within(-30.0, 30.0).or(0.0);
    Some(CarrierWake {
        drag_area: reader.number(&table, "drag_area", area),
        height: reader.number(&table, "height", height),
        tail: reader.number(&table, "tail", tail),
        dead_air: doubtful(reader, &table, "dead_air", 5.0, DEAD_AIR),
        strength: doubtful(reader, &table, "strength", 2.0, STRENGTH),
    })
}

/// A number up to `most`: as told, or an unknown one within the range that is
/// assumed for it.
fn doubtful(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    name: &str,
    most: f64,
    [low, high]: [f64; 2],
) -> InputId {
    if table.get(name).is_some() {
        let what = What::not_negative(Dimension::Number).within(0.0, most);
        return reader.number(table, name, what);
    }
    let name = table.path_of(name);
    let middle = Distribution::fixed(f64::midpoint(low, high));
    let input = Input {
        slot: slot_of(&name),
        name,
        dimension: Dimension::Number,
        distribution: Distribution::uniform(low, high).unwrap_or(middle),
        unknown: true,
        assumed: true,
        written: format!("anything between {low} and {high}"),
    };
    reader.add(input, table.at.clone())
}
