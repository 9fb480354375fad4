//! What a strike means for whoever or whatever is struck.

use super::{HeadReading, MovedFinding};
use crate::{
    engine::Measure,
    harm::{
        Quantity,
        head::{Curve, Head, injury_chance},
    },
    release::collide,
    scenario::Scenario,
};

/// The head injury criterion of the middle of what arrives, and the chances that
/// both published families of curves give it; `None` for other criteria, and
/// where nothing arrives.
pub(super) fn head(scenario: &Scenario, middle: &[f64], arriving: &Measure) -> Option<HeadReading> {
    let Quantity::HeadHic { pulse, lasts, head, restitution } = scenario.harm.quantity else {
        return None;
    };
    let (lasts, mass) = (middle[lasts.0], middle[head.0]);
    let head = Head { mass, pulse, lasts, restitution: middle[restitution.0] };
    let object = middle[scenario.object.mass.0];
    let energy = arriving.quantile(0.5).filter(|energy| *energy > 0.0)?;
    let hic = head.hic15(object, (2.0 * energy / object).sqrt());
    let chances = |curve| [2, 3, 4].map(|n| injury_chance(hic, n, curve).unwrap_or_default());
    let (lognormal, logistic) = (chances(Curve::Lognormal), chances(Curve::Logistic));
    Some(HeadReading { mass, lasts, hic, lognormal, logistic })
}

/// What a strike does to the speed of a target of known mass; `None` where
/// nobody told its mass, and where nothing strikes.
///
/// Source: conservation of momentum; that a thrown object's push does not hurt
/// who rides in the target is plain from its size.
pub(super) fn moved(scenario: &Scenario, middle: &[f64], speed: &Measure) -> Option<MovedFinding> {
    let mass = middle[scenario.target.mass?.0];
    let object = middle[scenario.object.mass.0];
    let given = |share: f64| {
        let closing = speed.quantile(share)?;
        Some(collide([object, mass], [closing, 0.0], 0.0).after[1])
    };
    Some(MovedFinding { mass, change: [given(0.05)?, given(0.5)?, given(0.95)?] })
}
