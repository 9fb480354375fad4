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
    let book = said(Kind::Read, "OpenStax College Physics, table of friction, sliding");
    let roads = said(
        Kind::Read,
        "Engineering Toolbox, rolling friction and rolling resistance: car tyres, by the middle of its range",
    );
    let rocks = said(
        Kind::Read,
        "Wyllie, Int. J. Rock Mech. Min. Sci. 67 (2014), abstract: about 0.2 at steep impacts on rock, talus, soil, asphalt and concrete alike",
    );
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
        over(roads, "rolling on asphalt", 0.02, rolling("asphalt")),
        over(roads, "rolling on loose gravel", 0.06, rolling("gravel")),
        over(cargo, "friction of rough metal on the same", 0.4, friction("steel")),
        over(cargo, "friction of planed wood on plywood", 0.3, friction("timber")),
        over(book, "steel on steel, dry", 0.3, friction("steel")),
        over(book, "wood on wood", 0.3, friction("timber")),
        over(book, "rubber on dry concrete", 0.7, friction("concrete")),
        over(book, "rubber on wet concrete", 0.5, friction("concrete")),
        over(book, "shoes on ice", 0.05, friction("ice")),
        over(book, "ice on ice", 0.03, friction("ice")),
        over(book, "steel on ice", 0.02, friction("ice")),
        over(rocks, "restitution on asphalt", 0.2, restitution("asphalt")),
        over(rocks, "restitution on concrete", 0.2, restitution("concrete")),
        over(rocks, "restitution on soil", 0.2, restitution("earth")),
    ]
}

/// A row that holds where the range does.
fn over(said: Said, claim: &str, published: f64, [low, high]: [f64; 2]) -> Row {
    let tolerance = Tolerance::By(0.5 * (high - low) + 1e-12);
    Said { tolerance, ..said }.row(claim, published, 0.5 * (low + high))
}
