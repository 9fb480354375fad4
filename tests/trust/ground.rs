//! How lively and how rough grounds and faces are.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::scenario::library::surface;

pub(super) fn rows() -> Vec<Row> {
    let said = |kind, source| Said {
        model: "surfaces",
        source,
        kind,
        unit: "",
        tolerance: Tolerance::By(0.0),
        range: "ours is the middle of a range that an unknown spans: allowed is half of the range",
    };
    let cargo = said(Kind::Read, "CTU Code, appendix on friction factors");
    let roads =
        said(Kind::SecondHand, "rolling resistance of car tyres by road, a published table");
    let rocks = said(Kind::Memory, "defaults of rockfall reckoning");
    let friction = |name: &str| surface(name).unwrap().friction;
    let rolling = |name: &str| surface(name).unwrap().rolling;
    let restitution = |name: &str| surface(name).unwrap().restitution;
    vec![
        over(cargo, "friction of steel on steel", 0.2, friction("steel")),
        over(cargo, "friction of steel on plywood", 0.45, friction("timber")),
        over(cargo, "friction of concrete on sawn wood", 0.7, friction("concrete")),
        over(roads, "rolling on concrete", 0.0125, rolling("concrete")),
        over(roads, "rolling on soil", 0.06, rolling("earth")),
        over(roads, "rolling on loose sand", 0.3, rolling("sand")),
        over(rocks, "restitution on asphalt", 0.40, restitution("asphalt")),
        over(rocks, "restitution on soft soil", 0.30, restitution("earth")),
    ]
}

/// A row that holds where the range does.
fn over(said: Said, claim: &str, published: f64, [low, high]: [f64; 2]) -> Row {
    let tolerance = Tolerance::By(0.5 * (high - low) + 1e-12);
    Said { tolerance, ..said }.row(claim, published, 0.5 * (low + high))
}
