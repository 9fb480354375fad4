//! The air that a carrier drags along.

use super::row::{Kind, Row, Said, Tolerance};
use glam::DVec3;
use longodds_sim::world::{Carrier, Wake};

pub(super) fn rows() -> Vec<Row> {
    let said = Said {
        model: "wake",
        source: "Nuszkowski et al., Proc. IMechE D (2017), 10.1177/0954407017703233 (abstract read; the truck's drag area and height from memory)",
        kind: Kind::SecondHand,
        unit: "share of the speed",
        tolerance: Tolerance::Share(0.3),
        range: "from ten heights behind the tail",
    };
    let truck = Carrier {
        velocity: [25.0, 0.0],
        tail: [0.0; 2],
        height: 3.4,
        drag_area: 5.3,
        dead_air: 3.7,
        strength: 1.0,
    };
    [(3.1, 0.085), (4.7, 0.065), (6.3, 0.038)]
        .into_iter()
        .map(|(lengths, published)| {
            let behind = 10.7 * lengths;
            let wake = Wake::behind(&truck, [0.0; 2]);
            let air = wake.at(DVec3::new(-behind, 0.0, 1.7), 0.0);
            said.row(format!("air {behind:.0} m behind a truck"), published, air[0] / 25.0)
        })
        .collect()
}
