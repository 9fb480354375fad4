//! `wake`: the air that a carrier drags along.

use super::{
    reader::{Reader, Table},
    what::What,
};
use crate::{quantity::Dimension, scenario::CarrierWake};

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
    let at_most = |most| What::not_negative(Dimension::Number).within(0.0, most);
    Some(CarrierWake {
        drag_area: reader.number(&table, "drag_area", area),
        height: reader.number(&table, "height", height),
        tail: reader.number(&table, "tail", tail),
        dead_air: reader.open(&table, "dead_air", at_most(5.0), DEAD_AIR, false),
        strength: reader.open(&table, "strength", at_most(2.0), STRENGTH, false),
    })
}
