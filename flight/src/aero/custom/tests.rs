use super::*;
use crate::aero::{
    Angles, Block, Six,
    tests::{force_and_moment, still_air},
};
use core::f64::consts::PI;
use glam::DVec3;

const SIDES: [f64; 3] = [0.3, 0.2, 0.1];
const REFERENCE: [f64; 2] = [0.06, 0.3];

/// A table all round in steps of so many degrees, by what the air does to the
/// shape at 1 m/s in air of 2 kg/m³ over area and length.
fn tabulated(step: u16, of: impl Fn(DVec3) -> (DVec3, DVec3)) -> &'static Table {
    let step = f64::from(step).to_radians();
    let angles = |from: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small")]
        let count = (-2.0 * from / step).round() as usize + 1;
        Angles { from, step, count }
    };
    let (attack, slip) = (angles(-PI), angles(-PI / 2.0));
    let mut rows: Vec<Six> = Vec::new();
    for i in 0..attack.count {
        for j in 0..slip.count {
            #[expect(clippy::cast_precision_loss, reason = "small")]
            let [a, s] = [(attack.from, i), (slip.from, j)].map(|(from, n)| from + step * n as f64);
            let ((sa, ca), (ss, cs)) = (libm::sincos(a), libm::sincos(s));
            let (force, moment) = of(DVec3::new(ca * cs, ss, -sa * cs));
            let [area, length] = REFERENCE;
            let (c, m) = (force / area, moment / (area * length));
            rows.push([c.x, c.y, c.z, m.x, m.y, m.z]);
        }
    }
    Box::leak(Box::new(Table::new(attack, slip, &rows, [0.0, f64::INFINITY]).unwrap()))
}

fn block_table(step: u16) -> &'static Table {
    let air = Air { density: 2.0, ..still_air() };
    let block = Block::new(SIDES, &air, 1.0);
    tabulated(step, |u| force_and_moment(block, u.to_array(), [0.0; 3]))
}

/// Source: the block's own curve, tabulated every 5 deg. Stated error: 0.2 % of
/// the largest force and moment (a block's curve is smooth).
#[test]
fn a_block_by_its_table_feels_what_the_block_feels() {
    let (air, table) = (still_air(), block_table(5));
    let block = Block::new(SIDES, &air, 1.1);
    let custom = Custom::new(SIDES, REFERENCE, table, &air, 1.1);
    let flows = [[20.0, 3.0, -4.0], [-7.0, 11.0, 2.0], [0.1, -30.0, 0.2], [1.0, 2.0, 18.0]];
    for flow in flows {
        let rates = [3.0, -8.0, 5.0];
        let (force, moment) = force_and_moment(block, flow, rates);
        let (got, turning) = force_and_moment(custom, flow, rates);
        assert!((got - force).length() < 2e-3 * force.length(), "{flow:?}: {got} {force}");
        assert!((turning - moment).length() < 2e-3 * moment.length(), "{turning} {moment}");
    }
}

/// Source: closed form, ½ ρ V² A Cd against the flow.
#[test]
fn a_table_of_one_drag_is_that_drag_in_every_direction() {
    let table = tabulated(15, |u| (-0.8 * REFERENCE[0] * u, DVec3::ZERO));
    let air = still_air();
    let custom = Custom::new(SIDES, REFERENCE, table, &air, 1.0);
    for flow in [[20.0, 3.0, -4.0], [-7.0, 11.0, 2.0], [1.0, -19.0, 18.0]] {
        let u = DVec3::from_array(flow);
        let wanted = -0.5 * air.density * 0.8 * REFERENCE[0] * u.length() * u;
        let (force, moment) = force_and_moment(custom, flow, [0.0; 3]);
        assert!((force - wanted).length() < 1e-3 * wanted.length(), "{force} {wanted}");
        assert!(moment.length() < 1e-12);
    }
}

/// Source: symmetry of the table.
#[test]
fn a_symmetric_table_gives_symmetric_forces() {
    let custom = Custom::new(SIDES, REFERENCE, block_table(10), &still_air(), 1.0);
    let (force, moment) = force_and_moment(custom, [14.0, 5.0, -3.0], [0.0; 3]);
    let (mirror, turned) = force_and_moment(custom, [14.0, -5.0, -3.0], [0.0; 3]);
    let flip = DVec3::new(1.0, -1.0, 1.0);
    assert!((mirror - force * flip).length() < 1e-6 * force.length());
    assert!((turned + moment * flip).length() < 1e-6 * moment.length());
}
