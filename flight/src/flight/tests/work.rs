//! The work of some flights, to notice when the stepper slows down.

use super::{List, Logbook, bodies::each_shape, neighbours::variety};
use crate::{
    flight::{Family, Settings, fly},
    world::Terrain,
};

/// Evaluations for 20 flights of each shape. A change here is a change of
/// speed and of every last digit: say so in the change log.
#[test]
fn twenty_flights_of_each_shape_take_the_work_they_took() {
    let settings = Settings { family: Family::Plain, ..Settings::default() };
    let counts = each_shape().into_iter().map(|(name, body)| {
        let mut list = List(variety(body, 20, Terrain::Open).into_iter());
        let work = fly(&settings, &mut list, &mut Logbook::default());
        (name, work.steps, work.rejected, work.evaluations)
    });
    let counts: Vec<_> = counts.collect();
    let wanted = [
        ("sphere", 139, 37, 1176),
        ("irregular", 152, 48, 1320),
        ("plate", 1367, 466, 11_118),
        ("disc", 1979, 665, 15_984),
        ("wheel", 303, 9, 1992),
        ("rod", 284, 21, 1950),
        ("cylinder", 454, 95, 3414),
        ("cone", 527, 139, 4116),
        ("tube", 279, 33, 1992),
        ("block", 375, 21, 2496),
        ("bar", 923, 57, 6000),
    ];
    assert_eq!(counts, wanted);
}
