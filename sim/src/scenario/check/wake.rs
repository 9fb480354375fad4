//! `wake`: the air that a carrier drags along.

use crate::{
    quantity::Dimension,
    scenario::CarrierWake,
    text::{
        reader::{Reader, Table},
        row::{Group, Row, number, sub},
        what::What,
    },
};

/// How far dead air reaches behind a tail, in heights of the carrier. Source:
/// about 1.4 behind flat-backed models of cars, 1 behind lorries, less behind
/// saloons (from memory).
const DEAD_AIR: [f64; 2] = [0.7, 1.5];
/// Speed of a wake over the published one. A judgement: behind a truck 0.8 to
/// 1.2 times the model was measured (see `flight`'s `wake`), right behind a tail
/// the air flows on towards it at up to 0.3 of the speed (from memory), and no
/// vehicle is a disc.
const STRENGTH: [f64; 2] = [0.6, 1.3];

pub(super) fn row() -> Row {
    let at_most = |most| What::not_negative(Dimension::Number).within(0.0, most);
    let (area, length) = (What::positive(Dimension::Area), What::any(Dimension::Length));
    let rows = vec![
        number("drag_area", area.within(0.05, 40.0), "Drag coefficient times frontal area: cars about 0.6 to 0.8 m2, vans 1.5 to 2, lorries 5 to 7 (from memory)."),
        number("height", length.within(0.3, 10.0), "Height of the carrier."),
        number("tail", length.within(-30.0, 30.0), "How far its tail is behind the release; negative if the air is sheltered from farther ahead, as behind a cab.")
            .or(0.0),
        number("dead_air", at_most(5.0), "How far behind the tail the air goes along wholly, in heights.")
            .open(DEAD_AIR, false),
        number("strength", at_most(2.0), "Times the published wake; 0 is none.").open(STRENGTH, false),
    ];
    let about = "The air that the carrier drags along: what flies in it keeps more of its speed. \
                 The carrier goes straight on as fast as it was; gusts and eddies are no part of it.";
    sub("wake", Group::new(about, rows)).may("none")
}

pub(super) fn read(reader: &mut Reader<'_>, shed: &Table<'_>) -> Option<CarrierWake> {
    let table = reader.open(shed, "wake")?;
    Some(CarrierWake {
        drag_area: reader.number(&table, "drag_area"),
        height: reader.number(&table, "height"),
        tail: reader.number(&table, "tail"),
        dead_air: reader.number(&table, "dead_air"),
        strength: reader.number(&table, "strength"),
    })
}
