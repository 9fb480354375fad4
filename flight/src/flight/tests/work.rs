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
    let counts = each_shape().map(|(name, body)| {
        let mut list = List(variety(body, 20, Terrain::Open).into_iter());
        let work = fly(&settings, &mut list, &mut Logbook::default());
        (name, work.steps, work.rejected, work.evaluations)
    });
    let wanted = [
        ("sphere", 153, 54, 1362),
        ("plate", 1384, 489, 11_358),
        ("rod", 288, 24, 1992),
        ("block", 375, 21, 2496),
        ("irregular", 154, 47, 1326),
        ("disc", 1970, 636, 15756),
        ("wheel", 303, 9, 1992),
        ("cylinder", 456, 88, 3384),
        ("cone", 555, 174, 4494),
        ("tube", 287, 36, 2058),
    ];
    assert_eq!(counts, wanted);
}
